//! Plots: their ticks, their size, and what strange figures do to them.

use super::scale::{ticks, widened};
use super::spread::{apart, grouped};
use super::thin::thinned;
use super::{Along, Chart, Line, Point, calendar, draw, ink};
use crate::site::words::Words;
use proptest::prelude::*;
use std::sync::LazyLock;

/// Most bytes of a plot.
const LARGEST: usize = 6 * 1024;

static WORDS: LazyLock<Words> =
    LazyLock::new(|| Words::parse("en", include_str!("../../../themes/jobsheet/words/en.yaml")).expect("words"));

fn chart(along: Along<'_>, lines: Vec<Line>) -> Chart<'_> {
    let limit = |value: f64| Some((value, format!("limit {value}")));
    Chart { label: "oil pressure".to_owned(), along, lines, low: limit(2.5), high: limit(5.0), numbered: Vec::new(), height: 190.0 }
}

fn line(end: &str, points: &[Point]) -> Line {
    Line { end: end.to_owned(), runs: vec![points.to_vec()], dashed: None, dotted: None }
}

fn texts(svg: &str) -> Vec<String> {
    let page = scraper::Html::parse_fragment(svg);
    let selector = scraper::Selector::parse("text").expect("a selector");
    page.select(&selector).map(|text| text.text().collect()).collect()
}

#[test]
fn figures_are_ticked_at_one_two_or_five() {
    #[track_caller]
    fn case(range: (f64, f64), at_most: usize, expected: &[&str]) {
        let texts: Vec<String> = ticks(range, at_most).into_iter().map(|tick| tick.text).collect();
        assert_eq!(texts, expected, "{range:?}");
    }
    case((0.0, 1.0), 5, &["0.0", "0.5", "1.0"]);
    case((0.0, 10.0), 6, &["0", "2", "4", "6", "8", "10"]);
    case((2.3, 5.2), 5, &["3", "4", "5"]);
    case((12.34, 12.81), 5, &["12.4", "12.5", "12.6", "12.7", "12.8"]);
    case((-30.0, 10.0), 5, &["−30", "−20", "−10", "0", "10"]);
    case((0.0, 9e11), 5, &["0", "2.00e11", "4.00e11", "6.00e11", "8.00e11"]);
    case((1.0, 1.0), 5, &[]);
    case((f64::NAN, 1.0), 5, &[]);
    case((0.0, f64::INFINITY), 5, &[]);
}

#[test]
fn days_are_ticked_at_years_months_or_days() {
    #[track_caller]
    fn case(from: &str, to: &str, expected: &[&str]) {
        let number = |text: &str| {
            let date: jiff::civil::Date = text.parse().expect("a date");
            f64::from(date.since(jiff::civil::date(1970, 1, 1)).expect("a span").get_days())
        };
        let ticks = calendar::ticks((number(from), number(to)), 5, &WORDS);
        let texts: Vec<String> =
            ticks.into_iter().map(|tick| [tick.text, tick.below.unwrap_or_default()].join(" ").trim().to_owned()).collect();
        assert_eq!(texts, expected);
    }
    case("2022-04-16", "2026-10-10", &["2023", "2024", "2025", "2026"]);
    case("2008-04-16", "2026-10-10", &["2010", "2015", "2020", "2025"]);
    case("2025-10-20", "2026-05-20", &["Nov 2025", "Jan 2026", "Mar", "May"]);
    case("2025-12-30", "2026-01-08", &["30 Dec 2025", "1 Jan 2026", "3", "5", "7"]);
    case("0001-01-01", "9999-12-31", &["2000", "4000", "6000", "8000"]);
}

#[test]
fn a_range_of_nothing_is_widened() {
    assert_eq!(widened((3.0, 3.0), 0.5), (2.5, 3.5));
    assert_eq!(widened((0.0, 0.0), 0.5), (-0.5, 0.5));
    assert_eq!(widened((0.02, 0.02), 0.5), (0.019, 0.021));
    assert_eq!(widened((1.0, 2.0), 0.5), (1.0, 2.0));
}

#[test]
fn figures_in_the_picture_have_one_decimal_at_most() {
    let shown: Vec<String> = [12.34, 7.0, -0.04, 0.05, f64::NAN, 1.0 / 3.0].into_iter().map(ink::number).collect();
    assert_eq!(shown, ["12.3", "7", "0", "0.1", "0", "0.3"]);
}

#[test]
fn words_at_the_ends_are_pushed_apart_and_stay_within() {
    assert_eq!(apart(&[10.0, 50.0], 16.0, (0.0, 100.0)), [10.0, 50.0]);
    assert_eq!(apart(&[10.0, 12.0, 14.0], 16.0, (0.0, 100.0)), [10.0, 26.0, 42.0]);
    assert_eq!(apart(&[95.0, 99.0], 16.0, (0.0, 100.0)), [84.0, 100.0]);
    assert_eq!(apart(&[], 16.0, (0.0, 100.0)), [] as [f64; 0]);
    // Four in a space for three: evenly.
    assert_eq!(apart(&[5.0, 5.0, 5.0, 5.0], 16.0, (0.0, 30.0)), [0.0, 10.0, 20.0, 30.0]);
    let groups = grouped(&[(1.0, 0.0), (3.0, 0.0), (9.0, 0.0)], 4.0);
    assert_eq!(groups.iter().map(super::spread::Group::text).collect::<Vec<_>>(), ["1–2", "3"]);
}

#[test]
fn a_plot_says_what_it_shows_and_names_its_lines() {
    let lines = vec![line("house 1", &[(19_000.0, 3.8), (19_400.0, 3.6)]), line("house 2", &[(19_000.0, 3.7), (19_400.0, 2.4)])];
    let svg = draw(&chart(Along::Days(&WORDS), lines));
    assert!(svg.starts_with("<svg class=\"plot\" viewBox=\"0 0 320 "), "{svg}");
    assert!(svg.contains("role=\"img\" aria-label=\"oil pressure\""));
    let texts = texts(&svg);
    for text in ["limit 2.5", "limit 5", "house 1", "house 2", "3", "4"] {
        assert!(texts.iter().any(|found| found == text), "{text} in {texts:?}");
    }
    // Two lines are two dashes and two marks.
    assert!(svg.contains("stroke-dasharray=\"7 3\"") && svg.contains("class=\"d\"") && svg.contains("class=\"s\""));
    assert_eq!(
        svg,
        draw(&chart(
            Along::Days(&WORDS),
            vec![line("house 1", &[(19_000.0, 3.8), (19_400.0, 3.6)]), line("house 2", &[(19_000.0, 3.7), (19_400.0, 2.4)])]
        ))
    );
}

#[test]
fn what_the_crew_wrote_is_escaped() {
    let mut chart = chart(Along::Figures("<b>hours</b>".to_owned()), vec![line("\"><script>", &[(1.0, 3.0), (2.0, 4.0)])]);
    chart.label = "\"<i>".to_owned();
    let svg = draw(&chart);
    assert!(!svg.contains("<b>") && !svg.contains("<script>") && !svg.contains("<i>"), "{svg}");
}

#[test]
fn nothing_to_draw_is_no_picture() {
    assert_eq!(draw(&chart(Along::Days(&WORDS), Vec::new())), "");
    assert_eq!(draw(&chart(Along::Days(&WORDS), vec![line("a", &[(f64::NAN, 1.0)])])), "");
}

#[test]
fn one_day_and_equal_values_are_drawn() {
    for points in [vec![(19_000.0, 3.0), (19_000.0, 3.0)], vec![(19_000.0, 0.0)], vec![(19_000.0, 3.0), (19_001.0, 3.0)]] {
        let svg = draw(&chart(Along::Days(&WORDS), vec![line("", &points)]));
        assert!(!svg.contains("NaN") && !svg.contains("inf") && svg.len() > 200, "{svg}");
    }
}

#[test]
fn ten_thousand_readings_stay_small_and_keep_their_peaks() {
    let mut points: Vec<Point> = (0_i32..10_000).map(|at| (f64::from(at), 3.0 + f64::from(at % 7) * 0.1)).collect();
    points[7_777].1 = 4.9;
    points[1_234].1 = 2.6;
    let kept = thinned(&points, 240);
    assert!(kept.len() <= 244, "{}", kept.len());
    assert!(kept.contains(&points[7_777]) && kept.contains(&points[1_234]));
    assert_eq!((kept.first(), kept.last()), (points.first(), points.last()));
    assert!(kept.is_sorted_by(|a, b| a.0 <= b.0));
    let one = draw(&chart(Along::Days(&WORDS), vec![line("", &points)]));
    assert!(one.len() <= LARGEST, "{} bytes", one.len());
    let six = (0..6).map(|at| line(&format!("cylinder {at}"), &points)).collect();
    let six = draw(&chart(Along::Days(&WORDS), six));
    assert!(six.len() <= LARGEST, "{} bytes", six.len());
}

#[test]
fn as_many_marked_points_as_there_may_be_stay_small() {
    for count in [40, 140, 240] {
        let own = count / 6;
        let points = |line: i32| (0..own).map(move |at| (19_000.123 + f64::from(at) * 7.3, 3.0 + f64::from((at * 7 + line) % 11) * 0.173));
        let lines = (0..6).map(|at| line("cylinder 1", &points(at).collect::<Vec<Point>>())).collect();
        let svg = draw(&chart(Along::Days(&WORDS), lines));
        assert!(svg.len() <= LARGEST, "{count} points are {} bytes", svg.len());
    }
}

proptest! {
    #[test]
    fn no_figures_make_it_panic_or_grow(
        points in prop::collection::vec((prop::num::f64::ANY, prop::num::f64::ANY), 0..30),
        near in prop::collection::vec((-1e5_f64..1e5, -1e3_f64..1e3), 0..30),
    ) {
        let mut near = near;
        near.sort_by(|a, b| a.0.total_cmp(&b.0));
        let stretch = near.first().copied().zip(near.last().copied());
        for points in [points, near] {
            let lines = || vec![
                Line { end: "a".to_owned(), runs: vec![points.clone()], dashed: stretch, dotted: stretch },
                line("b", &points),
            ];
            for along in [Along::Days(&WORDS), Along::Figures("h".to_owned())] {
                let mut chart = chart(along, lines());
                chart.numbered = points.iter().copied().filter(|point| point.0.is_finite()).take(8).collect();
                let svg = draw(&chart);
                prop_assert!(svg.len() <= LARGEST + 1024);
                prop_assert!(!svg.contains("NaN") && !svg.contains("inf"));
            }
        }
    }
}

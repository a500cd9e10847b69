//! Readings on the pages: plots with their trends, values outside their limits among the defects,
//! meters with the jobs that fall due by them, intervals that were kept.

use crate::support::Book;
use scraper::{Html, Selector};
use std::fmt::Write as _;

const BOAT: &str = "name: Anna\nsystems: [{id: engine, title: Engine}]\n\
    meters: [{id: engine, title: Engine hours, unit: h}]\n";

fn guide(every: &str, readings: &str) -> String {
    format!("---\ntitle: Measure\nevery: {every}\nhazards: [hot-liquids]\nreadings: {readings}\n---\n## Work\n\n1. Read it.\n")
}

fn text_of(html: &str, selector: &str) -> Vec<String> {
    let page = Html::parse_document(html);
    let selector = Selector::parse(selector).expect("a selector");
    let texts = page.select(&selector).map(|element| element.text().collect::<String>());
    texts.map(|text| text.split_whitespace().collect::<Vec<_>>().join(" ")).collect()
}

fn plots(html: &str) -> Vec<String> {
    let page = Html::parse_document(html);
    let selector = Selector::parse("svg.plot[role=img]").expect("a selector");
    page.select(&selector).map(|plot| plot.html()).collect()
}

/// A book with one guide that asks for a pressure of 2.5 to 5.0 bar, and an entry for each value.
fn pressures(every: &str, values: &[(&str, &str)]) -> Book {
    let asked = guide(every, "{oil-pressure: {unit: bar, limits: 2.5..5.0}}");
    let book = Book::new().file("boat.yaml", BOAT).file("guides/engine/measure.md", asked);
    for (day, value) in values {
        let entry = format!("---\njobs: [measure]\ndate: {day}\nreadings: {{oil-pressure: {value} bar}}\n---\n");
        book.put(&format!("content/log/2026/{day}-measure.md"), entry.as_bytes());
    }
    book
}

/// Falls by 0.01 bar a day.
const FALLING: [(&str, &str); 5] =
    [("2026-01-01", "3.8"), ("2026-01-11", "3.7"), ("2026-01-21", "3.6"), ("2026-01-31", "3.5"), ("2026-02-10", "3.4")];

#[test]
fn a_reading_that_goes_somewhere_says_when_it_will_be_at_its_limit() {
    // 3.4 bar - 0.01 bar a day: 2.5 bar 90 days after 2026-02-10, which is 2026-05-11; 3.6525 bar a year.
    let book = pressures("{calendar: 10 days}", &FALLING);
    book.run(["publish", "--on", "2026-02-20"]).status(0);
    let page = book.text("site/guides/measure.html");
    assert_eq!(plots(&page).len(), 1);
    let said = "falls by 3.7 bar a year; by this trend it meets the limit of 2.5 bar about May 2026";
    assert_eq!(text_of(&page, ".plotted > p"), [said]);
    assert!(page.contains(&format!(
        "aria-label=\"Oil pressure, bar: 5 values from January 2026 to February 2026, from 3.4 to 3.8. limits 2.5 to 5.0 bar. {said}\""
    )));
    // Later, and not read since.
    book.run(["publish", "--on", "2026-06-01"]).status(0);
    let said = text_of(&book.text("site/guides/measure.html"), ".plotted > p");
    assert_eq!(said, ["falls by 3.7 bar a year; by this trend it passed the limit of 2.5 bar about 11 May 2026: read it again"]);
}

#[test]
fn few_readings_are_no_plot_or_no_trend() {
    #[track_caller]
    fn case(values: &[(&str, &str)], plots_made: usize, said: &[&str]) {
        let page = pressures("{calendar: 10 days}", values).published().text("site/guides/measure.html");
        assert_eq!(plots(&page).len(), plots_made);
        assert_eq!(text_of(&page, ".plotted > p"), said);
    }
    case(&[], 0, &[]);
    case(&FALLING[..1], 0, &[]);
    case(&FALLING[..2], 1, &[]);
    case(&FALLING[..3], 1, &["no trend yet"]);
    case(&[("2026-01-01", "3.0"), ("2026-01-02", "3.0"), ("2026-01-03", "3.0"), ("2026-01-04", "3.0")], 1, &["no trend yet"]);
}

#[test]
fn a_latest_value_outside_its_limits_is_a_defect_until_a_later_one_is_inside() {
    let book = pressures("{calendar: 10 days}", &[("2026-01-01", "3.8"), ("2026-02-01", "2.1"), ("2026-03-01", "2.6")]);
    book.run(["publish", "--on", "2026-02-15"]).status(0);
    let words = "Oil pressure 2.1 bar, limits 2.5 to 5.0 bar";
    for page in ["index.html", "defects.html"] {
        let page = book.text(&format!("site/{page}"));
        assert_eq!(text_of(&page, ".finding.is-act .name"), [words]);
        assert!(page.contains("href=\"log/2026.html#2026-02-01-measure\""));
    }
    for page in ["guides/measure.html", "systems/engine.html"] {
        assert_eq!(text_of(&book.text(&format!("site/{page}")), ".finding.is-act .name"), [words], "{page}");
    }
    book.run(["publish", "--on", "2026-03-15"]).status(0);
    for page in ["index.html", "defects.html", "guides/measure.html"] {
        assert_eq!(text_of(&book.text(&format!("site/{page}")), ".finding.is-act .name"), [] as [&str; 0], "{page}");
    }
    let problems = book.run(["survey", "--format", "json", "--on", "2026-02-15"]).json();
    let told = problems.as_array().expect("a list").iter().find(|problem| problem["rule"] == "reading-outside-limits").expect("a warning");
    assert_eq!((&told["severity"], &told["line"], &told["column"]), (&"warning".into(), &4.into(), &26.into()));
}

#[test]
fn the_list_of_a_passage_says_limits_as_the_survey_does() {
    let readings = "{pressure: {unit: bar, limits: 2.5..5.0}, force: {unit: kg, limits: ..8}, charge: {unit: \"%\", limits: 75..}}";
    let book = Book::new()
        .file("boat.yaml", BOAT)
        .file("passages.yaml", "- {id: north, title: To the north, depart: 2026-06-01, days: 5}\n")
        .file("guides/engine/measure.md", guide("{calendar: 10 years}", readings))
        .file(
            "log/2026/2026-05-01-measure.md",
            "---\njobs: [measure]\ndate: 2026-05-01\nreadings: {pressure: 2.1 bar, force: 8.5 kg, charge: 73 %}\n---\n",
        );
    book.run(["due", "--passage", "north", "--on", "2026-05-02"])
        .status(0)
        .stdout_has("  act  pressure: 2.1 bar, limits 2.5 to 5.0 bar (2026-05-01-measure)\n")
        .stdout_has("  act  force: 8.5 kg, limit at most 8 kg (2026-05-01-measure)\n")
        .stdout_has("  act  charge: 73 %, limit at least 75 % (2026-05-01-measure)\n");
    let survey = book.run(["survey", "--on", "2026-05-02"]).status(0);
    for limits in ["`measure`: 2.5 to 5.0 bar", "`measure`: at most 8 kg", "`measure`: at least 75 %"] {
        assert!(survey.stdout.contains(limits), "{limits}: {}", survey.stdout);
    }
}

#[test]
fn points_stand_in_one_plot_and_gear_in_plots_of_its_own() {
    let boat = format!(
        "{BOAT}gear: [{{id: port, title: Port engine, system: engine}}, {{id: starboard, title: Starboard engine, system: engine}}]\n"
    );
    let asked = guide("{calendar: 12 months}", "{compression: {unit: bar, limits: 20.., at: [cylinder 1, cylinder 2]}, oil: {unit: bar}}");
    let book = Book::new().file("boat.yaml", boat);
    let book = book.file("guides/engine/measure.md", asked.replace("hazards", "for: [port, starboard]\nhazards"));
    for year in 2023..=2025 {
        for gear in ["port", "starboard"] {
            let entry = format!(
                "---\njobs: [measure/{gear}]\ndate: {year}-04-01\nreadings: {{compression: {{cylinder 1: 27 bar, cylinder 2: 26 bar}}, oil: 3 bar}}\n---\n"
            );
            book.put(&format!("content/log/{year}/{year}-04-01-{gear}.md"), entry.as_bytes());
        }
    }
    let page = book.published().text("site/guides/measure.html");
    let titles = ["Compression, Port engine, bar", "Compression, Starboard engine, bar", "Oil, bar"];
    assert_eq!(text_of(&page, ".plotted figcaption"), titles);
    let lines = text_of(&page, ".plotted:last-child > p");
    assert_eq!(lines, ["a Port engine: no trend yet", "b Starboard engine: no trend yet"]);
    // Three times in three years each: 366 and 365 days.
    let kept = text_of(&page, "#history p.strung").into_iter().filter(|line| line.contains("Usually done")).collect::<Vec<_>>();
    let rule = "Usually done every 12 months (2 spans in the log) the rule: every 12 months";
    assert_eq!(kept, [format!("Port engine: {rule}"), format!("Starboard engine: {rule}")]);
}

#[test]
fn a_meter_is_carried_on_to_the_jobs_that_fall_due_by_it() {
    // 100 h in 100 days; done at 50 h, due again at 250 h, so 150 days after 2026-04-11.
    let book = Book::new().file("boat.yaml", BOAT);
    let book = book.file("guides/engine/measure.md", guide("{engine: 200 h}", "{oil: {unit: bar}}"));
    let book = book.file("meters.csv", "date,meter,value\n2026-01-01,engine,0\n2026-02-20,engine,50\n2026-04-11,engine,100\n");
    let book = book.file("log/2026/2026-02-20-measure.md", "---\njobs: [measure]\ndate: 2026-02-20\n---\n").published();
    let page = book.text("site/meters.html");
    assert_eq!(plots(&page).len(), 1);
    let rows = text_of(&page, "#engine table:first-of-type tbody tr");
    assert_eq!(rows.first().map(String::as_str), Some("1 Measure250 h8 September 2026 by estimate"));
    assert!(plots(&page).first().is_some_and(|plot| plot.contains("class=\"c\"") && plot.contains(">1</text>")));
}

#[test]
fn a_meter_without_two_readings_has_no_plot() {
    for rows in ["", "2026-01-01,engine,0\n"] {
        let book = Book::new().file("boat.yaml", BOAT).file("meters.csv", format!("date,meter,value\n{rows}")).published();
        assert_eq!(plots(&book.text("site/meters.html")), [] as [&str; 0]);
    }
    // One that never moves has.
    let book = Book::new().file("boat.yaml", BOAT);
    let book = book.file("meters.csv", "date,meter,value\n2026-01-01,engine,7\n2026-02-01,engine,7\n").published();
    assert_eq!(plots(&book.text("site/meters.html")).len(), 1);
}

#[test]
fn ten_thousand_readings_make_small_plots() {
    let mut rows = "date,meter,value\n".to_owned();
    let mut day = jiff::civil::date(1995, 1, 1);
    let book = Book::new().file("boat.yaml", BOAT);
    let book = book.file("guides/engine/measure.md", guide("{engine: 200 h}", "{oil: {unit: bar, limits: 2..}}"));
    for at in 0..10_000 {
        let _ = writeln!(rows, "{day},engine,{}", at * 2);
        let entry = format!("---\njobs: [measure]\ndate: {day}\nreadings: {{oil: {}.{} bar}}\n---\n", 3 + at % 2, at % 10);
        book.put(&format!("content/log/{}/{day}-measure.md", day.year()), entry.as_bytes());
        day = day.tomorrow().expect("a day");
    }
    let book = book.file("meters.csv", rows).published();
    for page in ["site/meters.html", "site/guides/measure.html"] {
        let plots = plots(&book.text(page));
        assert_eq!(plots.len(), 1, "{page}");
        for plot in plots {
            assert!(plot.len() <= 6 * 1024, "{} bytes in {page}", plot.len());
        }
    }
}

#[test]
fn a_value_in_another_unit_than_the_guide_asks_for_is_shown_in_both() {
    // 1 psi is 6.894757 kPa (NIST SP 811, appendix B.8): 50 psi are 3.447 bar, 30 psi 2.068 bar.
    // B.7.2: no coarser than was written. 50 psi are good to 1 %, 3.4 bar to 1.5 %, 3.45 bar to 0.1 %; 30 psi to 1.7 %, 2.1 bar to 2.4 %.
    let book = pressures("{calendar: 10 days}", &[("2026-01-01", "3.8")]);
    for (day, value) in [("2026-01-11", "50 psi"), ("2026-01-21", "30 psi")] {
        let entry = format!("---\njobs: [measure]\ndate: {day}\nreadings: {{oil-pressure: {value}}}\n---\n");
        book.put(&format!("content/log/2026/{day}-measure.md"), entry.as_bytes());
    }
    book.run(["publish", "--on", "2026-02-20"]).status(0);
    let (page, log) = (book.text("site/guides/measure.html"), book.text("site/log/2026.html"));
    for shown in ["50 psi (3.45 bar)", "30 psi (2.07 bar)"] {
        assert!(page.contains(shown) && log.contains(shown), "{shown}");
    }
    assert!(log.contains("3.8 bar") && !log.contains("3.8 bar ("));
    assert!(book.text("site/defects.html").contains("30 psi (2.07 bar)"));
}

//! Torques against published tables, and what is told of them.

use super::{Case, K_UNKNOWN, USUAL_SHARE, check, digits};
use crate::book::diagnostic::Severity;
use crate::book::model::{Book, Surface, Torque};
use crate::book::source::{Placed, Source, Span};
use crate::quantity::{Fastener, Figure, pounds_force};
use crate::reckon::places::Findings;
use crate::reckon::testing::{Writing, guide};

/// Newton metres in a pound-force foot.
const POUND_FOOT: f64 = 1.355_817_948_331_400_4;

fn torque(value: &str, fastener: &str, surface: Option<Surface>) -> Torque {
    Torque {
        id: "bolt".to_owned(),
        at: "bolt".to_owned(),
        value: Figure::parse(value).unwrap_or_else(|error| panic!("{value}: {error}")),
        steps: Vec::new(),
        then: None,
        fastener: Some(Placed::new(Fastener::parse(fastener).unwrap_or_else(|error| panic!("{fastener}: {error}")), Span::default())),
        surface,
        source: None,
        span: Span::default(),
        value_span: Span::default(),
    }
}

#[track_caller]
fn within(found: f64, expected: f64, share: f64, what: &str) {
    assert!((found / expected - 1.0).abs() <= share, "{what}: {found} against {expected}");
}

/// T = K·f·As·Sp·d in N·m.
fn reckoned(fastener: &str, k: f64, f: f64) -> f64 {
    let torque = torque("1 N·m", fastener, None);
    let case = Case::of(&torque).expect("a known strength");
    case.usual_torque(k) / USUAL_SHARE * f
}

#[test]
fn torques_of_the_short_form() {
    // Fastener, K, f, then F in N and T in N·m, reckoned apart from this program from tabulated stress areas (Shigley, chapter 8,
    // T = K·F·d with F = f·As·Sp; for stainless steel Sp = 0.85·Rp0.2).
    for (fastener, k, f, force, expected) in [
        ("M6 8.8", 0.20, 0.75, 8743.5, 10.492),
        ("M8 8.8", 0.20, 0.75, 15921.0, 25.474),
        ("M8 8.8", 0.16, 0.75, 15921.0, 20.379),
        ("M10 8.8", 0.20, 0.75, 25230.0, 50.460),
        ("M10 8.8", 0.12, 0.75, 25230.0, 30.276),
        ("M12 8.8", 0.30, 0.75, 36670.5, 132.014),
        ("M12 10.9", 0.20, 0.75, 52476.7, 125.944),
        ("M16 4.6", 0.20, 0.75, 26493.8, 84.780),
        ("M20 8.8", 0.20, 0.75, 110250.0, 441.000),
        ("M8 12.9", 0.18, 0.90, 31951.8, 46.011),
        ("M6 A4-70", 0.20, 0.75, 5766.2, 6.919),
        ("M8 A4-70", 0.20, 0.75, 10499.6, 16.799),
        ("M10 A4-80", 0.20, 0.75, 22185.0, 44.370),
    ] {
        within(reckoned(fastener, k, f), expected, 0.005, fastener);
        // And back: that torque pulls with that force.
        let torque = torque(&format!("{expected} N·m"), fastener, None);
        within(Case::of(&torque).expect("a known strength").force(k), force, 0.005, fastener);
    }
}

#[test]
fn torques_of_inch_fasteners() {
    // Thread, then T in lbf·ft at K 0.20 and f 0.75 for grades 2, 5 and 8; proof strengths of SAE J429.
    for (thread, expected) in [
        ("1/4-20 UNC", [5.47, 8.45, 11.93]),
        ("1/4-28 UNF", [6.25, 9.66, 13.64]),
        ("5/16-18 UNC", [11.26, 17.41, 24.58]),
        ("3/8-16 UNC", [19.98, 30.87, 43.59]),
        ("3/8-24 UNF", [22.64, 34.99, 49.40]),
        ("1/2-13 UNC", [48.78, 75.38, 106.42]),
        ("1/2-20 UNF", [54.98, 84.97, 119.96]),
        ("3/4-10 UNC", [172.46, 266.52, 376.27]),
    ] {
        for (grade, expected) in [2, 5, 8].into_iter().zip(expected) {
            let fastener = format!("{thread} grade {grade}");
            within(reckoned(&fastener, 0.20, 0.75) / POUND_FOOT, expected, 0.005, &fastener);
        }
    }
}

/// The force in pounds on a thread, whatever its strength.
fn pull(torque_text: &str, thread: &str, k: f64) -> f64 {
    // Grade 8 is only there so that there is a case: the force does not depend on it.
    let torque = torque(torque_text, &format!("{thread} grade 8"), None);
    pounds_force(Case::of(&torque).expect("a known strength").force(k))
}

#[test]
fn published_worked_results() {
    // 3/8-24 pulled with 5788 lbf: 28.9 lbf·ft cadmium-plated and dry (K 0.16), 19.9 lbf·ft with molybdenum paste (K 0.11). Of
    // three digits, so half of the last one is 0.25 %.
    within(pull("28.9 lbf·ft", "3/8-24", 0.16), 5788.0, 0.0025, "cadmium");
    within(pull("19.9 lbf·ft", "3/8-24", 0.11), 5788.0, 0.0025, "paste");
    // A number 10 screw, 0.190 in, pulled with 1275 lbf (Mechanical Fastening, Joining, and Assembly, page 85; last digit ±0.1).
    let diameter = Fastener::parse("#10-32").expect("a thread").diameter() / 25.4;
    for (k, expected) in [(0.30, 72.7), (0.25, 60.6), (0.20, 48.5), (0.15, 36.3), (0.10, 24.2)] {
        let found: f64 = k * 1275.0 * diameter;
        assert!((found - expected).abs() <= 0.1, "{k}: {found} against {expected}");
    }
}

#[test]
fn guideline_torques_of_stainless_bolts_are_plausible() {
    // Guideline torques for A2-70 and A4-70 from another side: they lie within a tenth of K 0.20, and are passed over in silence.
    for (fastener, published) in [("M3 A4-70", 0.9), ("M4 A4-70", 2.2), ("M5 A4-70", 4.3), ("M6 A4-70", 7.3), ("M8 A4-70", 17.7)] {
        if fastener.starts_with("M6") || fastener.starts_with("M8") {
            within(published, reckoned(fastener, K_UNKNOWN, USUAL_SHARE), 0.07, fastener);
        }
        silent(&format!("{published} N·m"), fastener, None);
    }
}

/// What is told of a torque: gravity and rule of each.
fn told(torque: Torque) -> Vec<(Severity, &'static str, String)> {
    let mut guide = guide("job");
    guide.source = Source::new("guides/engine/job.md", "");
    guide.torques.push(torque);
    let book = Book::default().guide(guide);
    let mut findings = Findings::new(&book);
    check(&book, &mut findings);
    findings.found.into_iter().map(|problem| (problem.severity, problem.rule, format!("{}; {}", problem.message, problem.remedy))).collect()
}

#[track_caller]
fn case(value: &str, fastener: &str, surface: Option<Surface>, expected: &[(Severity, &str)]) {
    let found = told(torque(value, fastener, surface));
    let short: Vec<(Severity, &str)> = found.iter().map(|(severity, rule, _)| (*severity, *rule)).collect();
    assert_eq!(short, expected, "{value} on {fastener}: {found:?}");
}

#[track_caller]
fn silent(value: &str, fastener: &str, surface: Option<Surface>) {
    case(value, fastener, surface, &[]);
}

const OVER: (Severity, &str) = (Severity::Warning, "torque-over-proof");
const OVER_USUALLY: (Severity, &str) = (Severity::Advice, "torque-over-proof");
const SLIP: (Severity, &str) = (Severity::Advice, "torque-unit-slip");

#[test]
fn what_no_thread_can_carry_is_a_warning_and_what_most_cannot_is_advice() {
    // M8 8.8: As 36.6 mm² × 580 N/mm² = 21 228 N. At K 0.20: 0.20 × 21 228 × 0.008 = 33.96 N·m; at 0.30: 50.95 N·m.
    silent("25 N·m", "M8 8.8", None);
    silent("33.9 N·m", "M8 8.8", None);
    case("34 N·m", "M8 8.8", None, &[OVER_USUALLY]);
    case("34 N·m", "M8 8.8", Some(Surface::Dry), &[OVER_USUALLY]);
    case("50.9 N·m", "M8 8.8", Some(Surface::Threadlock), &[OVER_USUALLY]);
    case("51 N·m", "M8 8.8", None, &[OVER]);
    // Oiled: usual 0.18 × 21 228 × 0.008 = 30.57, most 33.96 N·m.
    silent("30.5 N·m", "M8 8.8", Some(Surface::Oiled));
    case("31 N·m", "M8 8.8", Some(Surface::Oiled), &[OVER_USUALLY]);
    case("34 N·m", "M8 8.8", Some(Surface::Oiled), &[OVER]);
    // Anti-seize: usual 0.12 × 21 228 × 0.008 = 20.38, most 0.18: 30.57 N·m.
    silent("20 N·m", "M8 8.8", Some(Surface::AntiSeize));
    case("21 N·m", "M8 8.8", Some(Surface::AntiSeize), &[OVER_USUALLY]);
    case("31 N·m", "M8 8.8", Some(Surface::AntiSeize), &[OVER]);
    // 3/8-16 grade 5: 6587 lbf × 0.375 in / 12 × 0.30 = 61.8 lbf·ft.
    silent("30 lbf·ft", "3/8-16 UNC grade 5", None);
    case("62 lbf·ft", "3/8-16 UNC grade 5", None, &[OVER, SLIP]);
}

#[test]
fn the_upper_end_of_a_range_counts() {
    silent("20..30 N·m", "M8 8.8", None);
    case("20..51 N·m", "M8 8.8", None, &[OVER]);
    case("..51 N·m", "M8 8.8", None, &[OVER]);
    case("51.. N·m", "M8 8.8", None, &[OVER]);
    case("45 ± 6 N·m", "M8 8.8", None, &[OVER]);
    silent("25 ± 3 N·m", "M8 8.8", None);
}

#[test]
fn before_an_angle_only_what_no_thread_can_carry_is_told() {
    let then = |value: &str| Torque { then: Some(Figure::parse("90°").expect("an angle")), ..torque(value, "M8 8.8", None) };
    assert!(told(then("40 N·m")).is_empty());
    assert_eq!(told(then("51 N·m")).len(), 1);
}

#[test]
fn too_little_is_never_told() {
    for value in ["0 N·m", "0.1 N·m", "1 N·m", "8 N·m", "3 lbf·ft", "5 lbf·in", "0.5 kgf·m"] {
        silent(value, "M8 8.8", None);
    }
    // Drain plugs in soft sumps: little for the bolt, and right.
    silent("20 N·m", "M14x1.5 8.8", None);
    silent("35 N·m", "M14x1.5 8.8", Some(Surface::Oiled));
}

#[test]
fn a_thread_of_unknown_strength_is_not_judged() {
    for fastener in ["M8", "M8 5.8", "M8 A4", "M42 8.8", "1/4-20 UNC"] {
        silent("900 N·m", fastener, None);
    }
}

#[test]
fn a_value_that_fits_in_another_unit_is_asked_about() {
    // 90 lbf·in is 10.2 N·m; written as 90 N·m on 1/4-20 grade 5 it is 8.85 times as much.
    case("90 N·m", "1/4-20 UNC grade 5", None, &[OVER, SLIP]);
    case("75 lbf·ft", "1/4-20 UNC grade 5", None, &[OVER, SLIP]);
    case("220 N·m", "M8 8.8", None, &[OVER, SLIP]);
    // In every unit too much: no question, only the warning.
    case("2000 N·m", "M8 8.8", None, &[OVER]);
    // 2.6 kgf·m is 25.5 N·m, the usual torque of M8 8.8; written as 2.6 N·m it is a tenth.
    case("2.6 N·m", "M8 8.8", None, &[SLIP]);
    // 4.5 N·m would be 44 N·m: too much in the other unit, so it is left in peace.
    silent("4.5 N·m", "M8 8.8", None);
    // Such a value in another unit is not asked about: only kgf·m is commonly taken for N·m.
    silent("2 lbf·ft", "M8 8.8", None);
}

#[test]
fn the_sum_is_shown() {
    let (_, _, said) = told(torque("60 N·m", "M8 8.8", None)).remove(0);
    // 60 / (0.30 × 0.008) = 25 000 N; 36.6 × 580 = 21 228 N.
    assert!(said.contains("60 N·m / (0.30 × 8 mm) = 25.0 kN, and its proof load is 36.6 mm² × 580 N/mm² = 21.2 kN"), "{said}");
    let (_, _, said) = told(torque("70 lbf·ft", "3/8-16 UNC grade 5", Some(Surface::Oiled))).remove(0);
    // 840 lbf·in / (0.20 × 0.375 in) = 11 200 lbf; 0.0775 in² × 85 000 psi = 6587 lbf.
    assert!(said.contains("840 lbf·in / (0.20 × 0.375 in) = 11200 lbf, and its proof load is 0.0775 in² × 85000 psi = 6587 lbf"), "{said}");
    let (_, _, said) = told(torque("90 N·m", "1/4-20 UNC grade 5", None)).remove(1);
    assert!(said.contains("is `90 N·m` in the right unit? `90 lbf·in` (10.2 N·m) would be usual for `1/4-20 UNC grade 5`"), "{said}");
}

#[test]
fn numbers_are_shown_with_the_digits_asked_for() {
    for (value, many, expected) in
        [(21228.0, 3, "21228"), (21.228, 3, "21.2"), (9.996, 3, "10.0"), (0.07749, 3, "0.0775"), (382.5, 4, "382.5"), (0.0, 3, "0")]
    {
        assert_eq!(digits(value, many), expected, "{value}");
    }
}

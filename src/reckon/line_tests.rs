//! Fits against published ones, and what a line must never do.

use super::{Line, student_t};
use proptest::prelude::*;

/// NIST StRD linear regression, data set "Norris": (x, y).
const NORRIS: [(f64, f64); 36] = [
    (0.2, 0.1),
    (337.4, 338.8),
    (118.2, 118.1),
    (884.6, 888.0),
    (10.1, 9.2),
    (226.5, 228.1),
    (666.3, 668.5),
    (996.3, 998.5),
    (448.6, 449.1),
    (777.0, 778.9),
    (558.2, 559.2),
    (0.4, 0.3),
    (0.6, 0.1),
    (775.5, 778.1),
    (666.9, 668.8),
    (338.0, 339.3),
    (447.5, 448.9),
    (11.6, 10.8),
    (556.0, 557.7),
    (228.1, 228.3),
    (995.8, 998.0),
    (887.6, 888.8),
    (120.2, 119.6),
    (0.3, 0.3),
    (0.3, 0.6),
    (556.8, 557.6),
    (339.1, 339.3),
    (887.2, 888.0),
    (999.0, 998.5),
    (779.0, 778.9),
    (11.1, 10.2),
    (118.3, 117.6),
    (229.2, 228.9),
    (669.1, 668.4),
    (448.9, 449.2),
    (0.5, 0.2),
];

/// Hours by days from 2025-04-06; the fit was made with numpy 2.4.6 and scipy 1.17.1.
const HOURS: [(f64, f64); 5] = [(0.0, 1204.0), (42.0, 1221.5), (86.0, 1249.0), (131.0, 1290.5), (189.0, 1318.0)];

#[track_caller]
fn near(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{found} is not {expected}");
}

#[test]
fn the_fit_is_that_of_the_certified_data() {
    let line = Line::fit(&NORRIS).expect("a line");
    near(line.slope, 1.002_116_818_020_45, 1e-10);
    near(line.intercept, -0.262_323_073_774_029, 1e-10);
    near(line.r_squared, 0.999_993_745_883_712, 1e-10);
    near(line.slope_error, 0.000_429_796_848_199_937, 1e-10);
    assert!(line.stands_out());
}

#[test]
fn the_fit_is_that_of_the_worked_figures() {
    let line = Line::fit(&HOURS).expect("a line");
    near(line.slope, 0.635_476_594_889_777_7, 1e-9);
    near(line.intercept, 1_199.661_297_097_875_8, 1e-6);
    near(line.r_squared, 0.985_368_562_306_835_1, 1e-9);
    near(line.reaches(1354.0).expect("a day"), 242.8708, 5e-5);
    for ((x, y), rest) in HOURS.into_iter().zip([4.338_703, -4.851_314, -5.312_284, 7.591_269, -1.766_374]) {
        near(y - line.at(x), rest, 1e-6);
    }
    // Standard error by hand from those residuals: √(132.9 / 3 / 21 969.2) = 0.0447, so t = 14.2 against 3.182.
    near(line.slope_error, 0.0447, 1e-4);
    assert!(line.stands_out());
}

#[test]
fn the_critical_points_are_those_of_the_distribution() {
    // With one degree of freedom t is the Cauchy distribution, with two it has a closed form too:
    // t(1) = tan(0.475 π), t(2) = 0.95 √(2 / (4 · 0.975 · 0.025)).
    near(student_t(1).expect("a row"), (0.475 * std::f64::consts::PI).tan(), 5e-4);
    near(student_t(2).expect("a row"), 0.95 * (2.0_f64 / (4.0 * 0.975 * 0.025)).sqrt(), 5e-4);
    // scipy 1.17.1, stats.t.ppf(0.975, df), to three decimals.
    for (freedom, point) in [(3, 3.182), (4, 2.776), (8, 2.306), (13, 2.160), (20, 2.086), (30, 2.042), (40, 2.021), (60, 2.0), (120, 1.98)]
    {
        assert_eq!(student_t(freedom), Some(point), "{freedom} degrees of freedom");
    }
    assert_eq!(student_t(0), None);
    assert_eq!((student_t(39), student_t(59), student_t(100_000)), (Some(2.042), Some(2.021), Some(1.98)));
}

#[test]
fn a_slope_within_the_scatter_does_not_stand_out() {
    // x 0, 1, 2, 3 and y 1, 3, 2, 4: slope 0.8, residual sum 1.8, s.e. √(0.9 / 5) = 0.4243, t = 1.886 below 4.303.
    let line = Line::fit(&[(0.0, 1.0), (1.0, 3.0), (2.0, 2.0), (3.0, 4.0)]).expect("a line");
    near(line.slope, 0.8, 1e-12);
    near(line.slope_error, 0.424_264_068_711_928_5, 1e-12);
    assert!(!line.stands_out());
    // y 0, 1, 2, 3.5: slope 1.15, residual sum 0.075, s.e. √(0.0375 / 5) = 0.0866, t = 13.28.
    let line = Line::fit(&[(0.0, 0.0), (1.0, 1.0), (2.0, 2.0), (3.0, 3.5)]).expect("a line");
    near(line.slope_error, 0.086_602_540_378_443_86, 1e-12);
    assert!(line.stands_out());
}

#[test]
fn what_cannot_be_fitted_is_no_line() {
    assert_eq!(Line::fit(&[]), None);
    assert_eq!(Line::fit(&[(0.0, 1.0), (1.0, 2.0)]), None);
    assert_eq!(Line::fit(&[(0.1, 1.0), (0.1, 2.0), (0.1, 3.0)]), None);
    assert_eq!(Line::fit(&[(0.0, f64::MAX), (1.0, f64::MAX), (2.0, -f64::MAX)]), None);
    assert_eq!(Line::fit(&[(0.0, f64::NAN), (1.0, 1.0), (2.0, 2.0)]), None);
}

#[test]
fn equal_values_are_level() {
    // A tenth has no exact binary float, and neither has the mean of three.
    let line = Line::fit(&[(0.0, 0.1), (1.0, 0.1), (2.0, 0.1), (7.0, 0.1)]).expect("a line");
    assert_eq!((line.slope, line.slope_error, line.stands_out(), line.reaches(1.0)), (0.0, 0.0, false, None));
}

proptest! {
    #[test]
    fn points_on_a_line_give_that_line(
        slope in -1000.0_f64..1000.0,
        intercept in -1e6_f64..1e6,
        xs in prop::collection::btree_set(-20_000_i32..80_000, 4..40),
    ) {
        let points: Vec<(f64, f64)> = xs.iter().map(|x| f64::from(*x)).map(|x| (x, intercept + slope * x)).collect();
        let line = Line::fit(&points).expect("a line");
        let size = intercept.abs() + 1e5 * slope.abs() + 1.0;
        prop_assert!((line.slope - slope).abs() <= 1e-9 * size);
        prop_assert!((line.intercept - intercept).abs() <= 1e-6 * size);
        if slope.abs() > 1e-3 {
            prop_assert!(line.stands_out());
        }
    }

    #[test]
    fn no_points_make_it_panic(points in prop::collection::vec((prop::num::f64::ANY, prop::num::f64::ANY), 0..20)) {
        if let Some(line) = Line::fit(&points) {
            prop_assert!(line.slope.is_finite() && line.intercept.is_finite());
            prop_assert!((0.0..=1.0).contains(&line.r_squared));
            let _ = (line.stands_out(), line.reaches(0.0), line.at(0.0));
        }
    }
}

//! Quartiles of Hyndman and Fan's type 7.

use crate::quantity::Exact;
use crate::reckon::quantile;

#[track_caller]
fn case(sample: &[i128], expected: [(i128, i128); 3]) {
    let sample: Vec<Exact> = sample.iter().map(|value| Exact::from_integer(*value)).collect();
    for (quarter, (above, below)) in (1..).zip(expected) {
        let found = quantile(&sample, &Exact::new(quarter, 4));
        assert_eq!(found, Some(Exact::new(above, below)), "quartile {quarter} of {sample:?}");
    }
}

#[test]
fn quartiles_are_those_of_type_seven() {
    // Python's statistics.quantiles(method="inclusive") and numpy's default.
    case(&[1, 2, 3, 4], [(7, 4), (5, 2), (13, 4)]);
    case(&[15, 20, 35, 40, 50], [(20, 1), (35, 1), (40, 1)]);
    case(&[3, 5, 7, 8, 12, 13, 14, 18, 21], [(7, 1), (12, 1), (14, 1)]);
    case(&[9], [(9, 1), (9, 1), (9, 1)]);
}

#[test]
fn there_are_no_quantiles_of_nothing_or_beyond_everything() {
    let one = [Exact::from_integer(9)];
    assert_eq!(quantile(&[], &Exact::new(1, 2)), None);
    assert_eq!(quantile(&one, &Exact::new(1, 1)), Some(one[0]));
    let two = [Exact::from_integer(9), Exact::from_integer(11)];
    assert_eq!(quantile(&two, &Exact::new(1, 1)), Some(two[1]));
    assert_eq!(quantile(&two, &Exact::new(3, 2)), None);
    assert_eq!(quantile(&two, &Exact::new(-1, 2)), None);
}

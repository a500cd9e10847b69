//! Long lines with fewer points: the least and the greatest of each stretch stand for it, so that
//! no peak is lost.

use super::Point;
use super::scale::float;

/// At most so many points and four more, in order; the first and the last stay. Points come in
/// order along the axis.
pub(super) fn thinned(points: &[Point], most: usize) -> Vec<Point> {
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return Vec::new();
    };
    if points.len() <= most.max(4) {
        return points.to_vec();
    }
    let stretches = (most / 2).max(1);
    let width = (last.0 - first.0) / float(stretches);
    let mut kept = vec![*first];
    let mut rest = points;
    for stretch in 1..=stretches {
        let end = if stretch == stretches { f64::INFINITY } else { first.0 + width * float(stretch) };
        let count = rest.partition_point(|point| point.0 < end);
        let (own, later) = rest.split_at_checked(count).unwrap_or((rest, &[]));
        rest = later;
        let least = own.iter().enumerate().min_by(|a, b| a.1.1.total_cmp(&b.1.1));
        let greatest = own.iter().enumerate().max_by(|a, b| a.1.1.total_cmp(&b.1.1));
        if let (Some(least), Some(greatest)) = (least, greatest) {
            let (early, late) = if least.0 <= greatest.0 { (least, greatest) } else { (greatest, least) };
            kept.push(*early.1);
            if late.0 != early.0 {
                kept.push(*late.1);
            }
        }
    }
    kept.push(*last);
    kept.dedup();
    kept
}

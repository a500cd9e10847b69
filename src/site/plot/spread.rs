//! Words beside lines, so that none lies on another.

use super::Point;
use super::scale::float;

/// Places in order, moved as little as needs be to stand at least so far apart between two edges.
/// Where there is no room for all, they are spaced evenly.
pub(super) fn apart(wanted: &[f64], gap: f64, edges: (f64, f64)) -> Vec<f64> {
    let (low, high) = edges;
    let gap = gap.min((high - low) / float(wanted.len().saturating_sub(1).max(1)));
    let mut places: Vec<f64> = Vec::with_capacity(wanted.len());
    for place in wanted {
        let free = places.last().map_or(low, |last| last + gap);
        places.push(place.max(free));
    }
    // Back from the far edge, those that were pushed beyond it.
    let mut free = high;
    for place in places.iter_mut().rev() {
        *place = place.min(free);
        free = *place - gap;
    }
    places
}

/// Numbered points that share their number.
pub(super) struct Group {
    pub(super) at: Point,
    first: usize,
    last: usize,
}

impl Group {
    /// `3`, or `3–5`.
    pub(super) fn text(&self) -> String {
        if self.first == self.last { self.first.to_string() } else { format!("{}–{}", self.first, self.last) }
    }
}

/// Points numbered from 1, those gathered that lie within a distance of each other along the axis.
pub(super) fn grouped(points: &[Point], near: f64) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for (at, point) in points.iter().enumerate() {
        match groups.last_mut() {
            Some(group) if point.0 - group.at.0 <= near => group.last = at + 1,
            _ => groups.push(Group { at: *point, first: at + 1, last: at + 1 }),
        }
    }
    groups
}

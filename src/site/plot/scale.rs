//! From figures to places in the picture, with ticks at round figures.

/// From a range of figures to a stretch of the picture.
pub(super) struct Scale {
    low: f64,
    span: f64,
    from: f64,
    to: f64,
}

/// A figure on an axis, with the words for it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Tick {
    pub(super) at: f64,
    pub(super) text: String,
    /// On a second line.
    pub(super) below: Option<String>,
}

impl Scale {
    pub(super) fn new(range: (f64, f64), edges: (f64, f64)) -> Self {
        Self { low: range.0, span: range.1 - range.0, from: edges.0, to: edges.1 }
    }

    pub(super) fn at(&self, value: f64) -> f64 {
        let share = (value - self.low) / self.span;
        let share = if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.5 };
        self.from + (self.to - self.from) * share
    }

    /// Where it begins and ends in the picture.
    pub(super) fn edges(&self) -> (f64, f64) {
        (self.from, self.to)
    }
}

/// The least and the greatest. `None`: there are none.
pub(super) fn range(values: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    let values = values.filter(|value| value.is_finite());
    values.fold(None, |range: Option<(f64, f64)>, value| match range {
        None => Some((value, value)),
        Some((low, high)) => Some((low.min(value), high.max(value))),
    })
}

/// A range that has some width: one of a single figure reaches so far to either side of it, or a
/// twentieth of the figure where that is more than it.
pub(super) fn widened(range: (f64, f64), by: f64) -> (f64, f64) {
    let size = range.0.abs().max(range.1.abs());
    if range.1 - range.0 > size * 1e-9 {
        return range;
    }
    let by = if size > 0.0 && size < by { size / 20.0 } else { by.max(size * 1e-6) };
    (range.0 - by, range.1 + by)
}

/// At most so many ticks at steps of 1, 2 or 5 times a power of ten.
pub(super) fn ticks(range: (f64, f64), at_most: usize) -> Vec<Tick> {
    let span = range.1 - range.0;
    if !(span.is_finite() && span > 0.0) {
        return Vec::new();
    }
    let coarse = span / float(at_most);
    let mut power = coarse.log10().floor();
    let mut step = 10.0_f64.powf(power);
    let fits = |step: f64| (range.1 / step).floor() - (range.0 / step).ceil() < float(at_most);
    if let Some(times) = [1.0, 2.0, 5.0].into_iter().find(|times| fits(step * times)) {
        step *= times;
    } else {
        step *= 10.0;
        power += 1.0;
    }
    let decimals = if power < 0.0 { (-power).min(12.0) } else { 0.0 };
    let mut ticks = Vec::new();
    let mut count = (range.0 / step).ceil();
    while count * step <= range.1 && ticks.len() < at_most {
        let at = count * step;
        ticks.push(Tick { at, text: figure(at, decimals), below: None });
        count += 1.0;
    }
    ticks
}

/// A figure as an axis writes it; a long one by its power of ten.
fn figure(value: f64, decimals: f64) -> String {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most 12 and never below zero")]
    let plain = format!("{value:.*}", decimals as usize);
    let plain = if plain.trim_start_matches(['-', '0', '.']).is_empty() { plain.trim_start_matches('-').to_owned() } else { plain };
    if plain.len() > 9 { format!("{value:.2e}") } else { plain.replace('-', "−") }
}

#[expect(clippy::cast_precision_loss, reason = "counts of letters and ticks")]
pub(super) fn float(count: usize) -> f64 {
    count as f64
}

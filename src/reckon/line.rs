//! A straight line through points by least squares, and whether its slope says anything.
//!
//! This is statistics, so it works in binary floats: sums are taken about the means, so that neither
//! large dates nor large counters cost digits.

/// A line fitted to points by ordinary least squares.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// Points it was fitted to.
    pub points: usize,
    /// Change of y for each unit of x.
    pub slope: f64,
    /// Value at x = 0.
    pub intercept: f64,
    /// Standard error of the slope; 0 where the points lie on the line.
    pub slope_error: f64,
    /// Share of the scatter of y that the line explains, from 0 to 1.
    pub r_squared: f64,
    middle: (f64, f64),
}

/// The two-sided 95 % points of Student's t by degrees of freedom: of 1 to 30, then of 40, 60, 120.
///
/// NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.6.7.2, "Critical values of the
/// Student's t distribution", column 0.975.
const T_95: [f64; 30] = [
    12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.160, 2.145, 2.131, 2.120, 2.110, 2.101, 2.093,
    2.086, 2.080, 2.074, 2.069, 2.064, 2.060, 2.056, 2.052, 2.048, 2.045, 2.042,
];
const T_95_BEYOND: [(usize, f64); 3] = [(120, 1.980), (60, 2.000), (40, 2.021)];

/// The two-sided 95 % point of Student's t. Between two rows of the table that of the lower one,
/// which is the stricter. `None`: no degrees of freedom.
///
/// ```
/// use garboard::reckon::student_t;
///
/// assert_eq!(student_t(9), Some(2.262));
/// assert_eq!(student_t(35), student_t(30));
/// ```
#[must_use]
pub fn student_t(freedom: usize) -> Option<f64> {
    let row = freedom.checked_sub(1)?;
    let beyond = T_95_BEYOND.iter().find(|(from, _)| freedom >= *from).map(|(_, point)| *point);
    beyond.or_else(|| T_95.get(row).copied()).or_else(|| T_95.last().copied())
}

impl Line {
    /// The line through at least three points. `None`: fewer, all at one x, or figures too large
    /// to reckon with.
    ///
    /// ```
    /// use garboard::reckon::Line;
    ///
    /// let line = Line::fit(&[(0.0, 3.0), (1.0, 5.0), (2.0, 7.0)]).expect("a line");
    /// assert_eq!((line.slope, line.intercept, line.slope_error), (2.0, 3.0, 0.0));
    /// assert_eq!(Line::fit(&[(1.0, 3.0), (1.0, 5.0), (1.0, 7.0)]), None);
    /// ```
    #[must_use]
    pub fn fit(points: &[(f64, f64)]) -> Option<Self> {
        let count = as_float(points.len());
        if points.len() < 3 {
            return None;
        }
        let mean_of = |of: fn(&(f64, f64)) -> f64| points.iter().map(of).sum::<f64>() / count;
        let middle = (mean_of(|point| point.0), mean_of(|point| point.1));
        let (mut across, mut up, mut together) = (0.0_f64, 0.0_f64, 0.0_f64);
        for (x, y) in points {
            let (dx, dy) = (x - middle.0, y - middle.1);
            across += dx * dx;
            up += dy * dy;
            together += dx * dy;
        }
        let first = points.first()?;
        if points.iter().all(|point| same(point.0, first.0)) || across <= 0.0 {
            return None;
        }
        // A mean of equal values may differ from them in its last digit, which would be taken for a slope.
        let level = points.iter().all(|point| same(point.1, first.1));
        let slope = if level { 0.0 } else { together / across };
        let left: f64 = points.iter().map(|(x, y)| y - middle.1 - slope * (x - middle.0)).map(|rest| rest * rest).sum();
        let left = if level { 0.0 } else { left };
        let line = Self {
            points: points.len(),
            slope,
            intercept: middle.1 - slope * middle.0,
            slope_error: (left / (count - 2.0) / across).sqrt(),
            r_squared: if up > 0.0 && !level { (1.0 - left / up).clamp(0.0, 1.0) } else { 1.0 },
            middle,
        };
        [line.slope, line.intercept, line.slope_error, line.r_squared].into_iter().all(f64::is_finite).then_some(line)
    }

    /// Whether the slope is more than chance would often give: |slope| over its standard error is
    /// above the two-sided 95 % point of Student's t with n − 2 degrees of freedom. Points that lie
    /// on a line stand out unless it is level.
    #[must_use]
    pub fn stands_out(&self) -> bool {
        let critical = self.points.checked_sub(2).and_then(student_t);
        self.slope != 0.0 && critical.is_some_and(|critical| self.slope.abs() > critical * self.slope_error)
    }

    /// The value of the line at x.
    #[must_use]
    pub fn at(&self, x: f64) -> f64 {
        self.middle.1 + self.slope * (x - self.middle.0)
    }

    /// The x at which the line has the value y. `None`: it is level.
    #[must_use]
    pub fn reaches(&self, y: f64) -> Option<f64> {
        let x = self.middle.0 + (y - self.middle.1) / self.slope;
        (self.slope != 0.0 && x.is_finite()).then_some(x)
    }
}

/// The very same figure; neither is ever the result of a sum.
#[expect(clippy::float_cmp, reason = "equal inputs give equal floats, and only those are asked about")]
fn same(one: f64, other: f64) -> bool {
    one == other
}

#[expect(clippy::cast_precision_loss, reason = "nobody takes so many readings")]
fn as_float(count: usize) -> f64 {
    count as f64
}

#[cfg(test)]
#[path = "line_tests.rs"]
mod tests;

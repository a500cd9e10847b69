//! A machine that moves a volume at a rate, and must rest between stretches of running.
//!
//! Run = volume / rate; rests = stretches − 1, since nothing rests after the last stretch. All of
//! it in fractions: in binary floats 4.2 L at 0.6 L/min takes seven minutes and a trifle, and the
//! trifle costs a rest.

use std::fmt;

use num_traits::{CheckedAdd, CheckedDiv, CheckedMul};

use super::Exact;
use super::dimension::Dimension;
use super::duration::{Duration, DurationError};
use super::measure::Quantity;
use super::measure_error::QuantityError;
use super::text::{quoted, tidy};
use super::unit::Unit;

/// More rests than any pump has had in one job; beyond it a unit is wrong.
const MOST_RESTS: u32 = 10_000;
/// Longest elapsed time taken, in minutes: a year.
const LONGEST_MINUTES: i128 = 366 * 24 * 60;

/// `run 7.5 L at 0.25 L/min, 15 min on, 10 min off`, as written and reckoned.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct DutyCycle {
    volume: Quantity,
    rate: Quantity,
    on: Duration,
    off: Duration,
    unattended: bool,
    run_minutes: Exact,
    rests: u32,
    elapsed_minutes: Exact,
}

/// Why a duty cycle was refused.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum DutyCycleError {
    /// Not of the form `V at R, A on, B off`.
    Shape { written: String },
    /// The volume or the rate is wrong.
    Quantity(QuantityError),
    /// The time on or off is wrong.
    Duration(DurationError),
    /// A rate of nothing moves nothing.
    NoRate { written: String },
    /// A machine that is on for no time never runs.
    NeverOn { written: String },
    /// Longer than a year, or more rests than there is sense in.
    TooLong { written: String },
}

impl fmt::Display for DutyCycleError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Shape { written } => {
                write!(formatter, "{} does not say how it runs", quoted(written))
            }
            Self::Quantity(error) => error.fmt(formatter),
            Self::Duration(error) => error.fmt(formatter),
            Self::NoRate { written } => {
                write!(formatter, "at {} nothing is moved", quoted(written))
            }
            Self::NeverOn { written } => {
                write!(formatter, "with {} on, it never runs", quoted(written))
            }
            Self::TooLong { written } => {
                write!(formatter, "{} would not end within a year", quoted(written))
            }
        }
    }
}

impl std::error::Error for DutyCycleError {}

impl From<QuantityError> for DutyCycleError {
    fn from(error: QuantityError) -> Self {
        Self::Quantity(error)
    }
}

impl From<DurationError> for DutyCycleError {
    fn from(error: DurationError) -> Self {
        Self::Duration(error)
    }
}

impl DutyCycleError {
    /// How to mend it, as one sentence.
    #[must_use]
    pub fn remedy(&self) -> String {
        match self {
            Self::Shape { .. } => "write `run 7.5 L at 0.25 L/min, 15 min on, 10 min off`, \
                                   with `, unattended` at the end where nobody need stay"
                .to_owned(),
            Self::Quantity(error) => error.remedy(),
            Self::Duration(error) => error.remedy(),
            Self::NoRate { .. } => "write a rate above zero, such as `0.25 L/min`".to_owned(),
            Self::NeverOn { .. } => "write how long it may run before it rests, such as `15 min on`".to_owned(),
            Self::TooLong { .. } => "check the volume, the rate and their units".to_owned(),
        }
    }
}

impl DutyCycle {
    /// Reads `run V at R, A on, B off` with `, unattended` at the end where nobody need stay; the
    /// word `run` may be left out.
    ///
    /// # Errors
    /// Another form, a part that cannot be read, a rate or a time on of nothing, or a run that
    /// would not end within a year.
    pub fn parse(text: &str) -> Result<Self, DutyCycleError> {
        let text = tidy(text);
        let shape = || DutyCycleError::Shape { written: text.to_string() };
        let body = text.strip_prefix("run ").unwrap_or(&text);
        let mut parts = split_at_commas(body).into_iter();
        let (volume, rate) = parts.next().and_then(|first| first.split_once(" at ")).ok_or_else(shape)?;
        let (mut on, mut off, mut unattended) = (None, None, false);
        for part in parts {
            if part == "unattended" && !unattended {
                unattended = true;
            } else if let Some(time) = part.strip_suffix("on").and_then(ends_cleanly)
                && on.is_none()
            {
                on = Some(time);
            } else if let Some(time) = part.strip_suffix("off").and_then(ends_cleanly)
                && off.is_none()
            {
                off = Some(time);
            } else {
                return Err(shape());
            }
        }
        let (Some(on), Some(off)) = (on, off) else {
            return Err(shape());
        };
        Self::new(
            Quantity::parse_in(volume, Dimension::Volume)?,
            Quantity::parse_in(rate, Dimension::Rate)?,
            Duration::parse(on)?,
            Duration::parse(off)?,
            unattended,
        )
    }

    /// # Errors
    /// A rate or a time on of nothing, units of another kind, or a run that would not end within a
    /// year.
    pub fn new(volume: Quantity, rate: Quantity, on: Duration, off: Duration, unattended: bool) -> Result<Self, DutyCycleError> {
        let litres = in_base(&volume, Dimension::Volume, Unit::Litre)?;
        let litres_per_minute = in_base(&rate, Dimension::Rate, Unit::LitrePerMinute)?;
        if litres_per_minute <= Exact::from_integer(0) {
            return Err(DutyCycleError::NoRate { written: rate.written().to_owned() });
        }
        if on.is_zero() {
            return Err(DutyCycleError::NeverOn { written: on.to_string() });
        }
        let Some((run_minutes, rests, elapsed_minutes)) = reckon(&litres, &litres_per_minute, on, off) else {
            return Err(DutyCycleError::TooLong { written: format!("{volume} at {rate}") });
        };
        Ok(Self { volume, rate, on, off, unattended, run_minutes, rests, elapsed_minutes })
    }

    #[must_use]
    pub fn volume(&self) -> &Quantity {
        &self.volume
    }

    #[must_use]
    pub fn rate(&self) -> &Quantity {
        &self.rate
    }

    /// Longest it may run before it rests.
    #[must_use]
    pub fn on(&self) -> Duration {
        self.on
    }

    /// How long it then rests.
    #[must_use]
    pub fn off(&self) -> Duration {
        self.off
    }

    /// Whether nobody need stay with it.
    #[must_use]
    pub fn unattended(&self) -> bool {
        self.unattended
    }

    /// Minutes it runs, rests not counted.
    #[must_use]
    pub fn run_minutes(&self) -> Exact {
        self.run_minutes
    }

    /// How often it rests; never after the last stretch.
    #[must_use]
    pub fn rests(&self) -> u32 {
        self.rests
    }

    /// Minutes from start to end, rests included.
    #[must_use]
    pub fn elapsed_minutes(&self) -> Exact {
        self.elapsed_minutes
    }
}

impl fmt::Display for DutyCycle {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "run {} at {}, {} on, {} off", self.volume, self.rate, self.on, self.off)?;
        if self.unattended {
            formatter.write_str(", unattended")?;
        }
        Ok(())
    }
}

/// Run, rests and elapsed; `None` beyond the bounds.
fn reckon(litres: &Exact, litres_per_minute: &Exact, on: Duration, off: Duration) -> Option<(Exact, u32, Exact)> {
    let run = litres.checked_div(litres_per_minute)?;
    if run > Exact::from_integer(LONGEST_MINUTES) {
        return None;
    }
    let stretches = run.checked_div(&on.minutes())?.ceil().to_integer();
    let rests = u32::try_from((stretches - 1).max(0)).ok()?;
    if rests > MOST_RESTS {
        return None;
    }
    let resting = off.minutes().checked_mul(&Exact::from_integer(i128::from(rests)))?;
    let elapsed = run.checked_add(&resting)?;
    (elapsed <= Exact::from_integer(LONGEST_MINUTES)).then_some((run, rests, elapsed))
}

fn in_base(quantity: &Quantity, wanted: Dimension, base: Unit) -> Result<Exact, DutyCycleError> {
    if quantity.dimension() != wanted {
        return Err(QuantityError::DoesNotFit { written: quantity.written().to_owned(), found: quantity.dimension(), wanted }.into());
    }
    quantity.in_unit(base).ok_or_else(|| DutyCycleError::TooLong { written: quantity.written().to_owned() })
}

/// Parts between commas, but `7,5 L` stays whole so that its comma can be complained of.
fn split_at_commas(text: &str) -> Vec<&str> {
    let mut parts = Vec::new();
    let mut start = 0;
    let bytes = text.as_bytes();
    let digit = |position: Option<usize>| position.and_then(|position| bytes.get(position)).is_some_and(u8::is_ascii_digit);
    for (offset, _) in text.match_indices(',') {
        if digit(offset.checked_sub(1)) && digit(offset.checked_add(1)) {
            continue;
        }
        parts.push(text.get(start..offset).unwrap_or_default().trim());
        start = offset + 1;
    }
    parts.push(text.get(start..).unwrap_or_default().trim());
    parts
}

/// `15 min on`, not `15 minon`.
fn ends_cleanly(time: &str) -> Option<&str> {
    (time.is_empty() || time.ends_with(' ')).then(|| time.trim())
}

#[cfg(test)]
#[path = "duty_cycle_tests.rs"]
mod tests;

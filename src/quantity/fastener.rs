//! A fastener: its thread, and how strong it is.
//!
//! Stress areas, and the load up to which a fastener springs back (its proof load). Stress areas hold
//! π and are binary floats; they judge whether a torque is plausible and decide nothing else.

use std::f64::consts::PI;
use std::fmt;

use super::fastener_error::FastenerError;
use super::fastener_parse::read;
use super::fastener_strength::{Strength, proof_stress};
use super::text::tidy;
use super::{Exact, to_f64};

/// Newtons in a pound-force: 0.45359237 × 9.80665, exactly.
const NEWTONS_PER_POUND_FORCE: f64 = 4.448_221_615_260_5;
/// Millimetres in an inch, exactly.
const MILLIMETRES_PER_INCH: f64 = 25.4;

/// A thread with its strength, as written: `M8 8.8`, `M10x1.25 10.9`, `1/4-20 UNC grade 5`.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Fastener {
    pub(super) thread: Thread,
    pub(super) strength: Option<Strength>,
    pub(super) written: String,
}

/// A thread by its size.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Thread {
    /// Nominal diameter and pitch in millimetres (ISO 261).
    Metric { diameter: Exact, pitch: Exact },
    /// Nominal diameter in inches, and threads an inch (ASME B1.1).
    Inch { diameter: Exact, threads: Exact },
}

impl Fastener {
    /// Reads `M8 8.8`, `M10x1.25 10.9`, `M6 A4-70`, `1/4-20 UNC grade 5`; spaces, capitals and the
    /// sign `×` do not matter. A thread alone is one of unknown strength.
    ///
    /// # Errors
    /// A thread or a strength that cannot be read; the error says what to write.
    ///
    /// ```
    /// use garboard::quantity::Fastener;
    ///
    /// let bolt = Fastener::parse("M8 8.8").expect("a fastener");
    /// // ISO 898-1: the proof load of M8 in class 8.8 is 21 200 N.
    /// assert!((bolt.proof_load().expect("a known strength") - 21_200.0).abs() < 106.0);
    /// assert_eq!(Fastener::parse("M8").expect("a thread").proof_load(), None);
    /// ```
    pub fn parse(text: &str) -> Result<Self, FastenerError> {
        read(&tidy(text))
    }

    #[must_use]
    pub fn thread(&self) -> Thread {
        self.thread
    }

    /// As the crew wrote it, tidied.
    #[must_use]
    pub fn written(&self) -> &str {
        &self.written
    }

    /// Nominal diameter in millimetres.
    #[must_use]
    pub fn diameter(&self) -> f64 {
        match self.thread {
            Thread::Metric { diameter, .. } => to_f64(&diameter),
            Thread::Inch { diameter, .. } => to_f64(&diameter) * MILLIMETRES_PER_INCH,
        }
    }

    /// Stress area in square millimetres: π/4·(d − 0.938194·P)², to three digits as ISO 898-1
    /// tabulates it and reckons its proof loads from it; of inch threads π/4·(d − 0.9743/n)²
    /// (ASME B1.1).
    #[must_use]
    pub fn stress_area(&self) -> f64 {
        let area = |across: f64| PI / 4.0 * across * across;
        match self.thread {
            Thread::Metric { diameter, pitch } => three_digits(area(to_f64(&diameter) - 0.938_194 * to_f64(&pitch))),
            Thread::Inch { diameter, threads } => area((to_f64(&diameter) - 0.9743 / to_f64(&threads)) * MILLIMETRES_PER_INCH),
        }
    }

    /// Stress in newtons a square millimetre up to which it springs back. `None`: its strength is
    /// not given, or no table has one for this size.
    #[must_use]
    pub fn proof_stress(&self) -> Option<f64> {
        proof_stress(self.strength?, &self.thread)
    }

    /// Load in newtons up to which it springs back. `None` as for [`Fastener::proof_stress`].
    #[must_use]
    pub fn proof_load(&self) -> Option<f64> {
        Some(self.proof_stress()? * self.stress_area())
    }
}

impl fmt::Display for Fastener {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.written)
    }
}

fn three_digits(value: f64) -> f64 {
    let scale = 10_f64.powf(2.0 - value.log10().floor());
    (value * scale).round() / scale
}

/// Newtons as pounds-force.
#[must_use]
pub fn pounds_force(newtons: f64) -> f64 {
    newtons / NEWTONS_PER_POUND_FORCE
}

#[cfg(test)]
#[path = "fastener_tests.rs"]
mod tests;

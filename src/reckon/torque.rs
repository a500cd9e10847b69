//! Whether a torque can be right for its fastener.
//!
//! T = K·F·d: a torque T on a thread of nominal diameter d pulls the fastener with the force F,
//! where K says how much of the torque goes into friction. A pull beyond the proof load is told; a
//! value that fits better in another unit is asked about. Too little is never told (plugs and soft
//! threads want little), and nothing here says that a value is right.

use super::places::Findings;
use crate::book::model::{Book, Guide, Surface, Torque};
use crate::quantity::{Exact, Fastener, Thread, Unit, convert, plain_decimal, pounds_force, to_f64};

/// Share of the proof load to which joints are tightened that are undone again (Shigley, chapter 8).
const USUAL_SHARE: f64 = 0.75;
/// K where nothing is said of the thread (Shigley, chapter 8).
const K_UNKNOWN: f64 = 0.20;

/// A value in this band, as a multiple of the torque at K 0.20 and three quarters of the proof load, is
/// plausible. A convention, not a standard: 0.12·0.5/0.15 = 0.4 and 0.30·0.90/0.15 = 1.8.
const BAND: std::ops::RangeInclusive<f64> = 0.4..=1.8;
/// A value in kgf·m taken for N·m is asked about where it would come so near to the usual torque. A
/// convention; narrow, because little is right for many a thread.
const NEAR: std::ops::RangeInclusive<f64> = 0.8..=1.2;

/// How much of a torque goes into friction, for a thread prepared in this way.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Friction {
    usual: f64,
    /// The most that is plausible: as if the thread had been prepared one step worse.
    most: f64,
    /// How the thread is, as it stands in a message.
    said: &'static str,
}

/// The values of K are those of Shigley, *Mechanical Engineering Design*, chapter 8: bare black
/// steel 0.30, zinc-plated 0.20, lubricated 0.18, anti-seize 0.12, and 0.20 where nothing is said.
/// Which of them is the most for which thread is a convention; of threadlock none is given, and it
/// counts as a dry thread.
fn friction(surface: Option<Surface>) -> Friction {
    match surface {
        None => Friction { usual: K_UNKNOWN, most: 0.30, said: "a dry, rough thread" },
        Some(Surface::Dry) => Friction { usual: K_UNKNOWN, most: 0.30, said: "a rough dry thread" },
        Some(Surface::Threadlock) => Friction { usual: K_UNKNOWN, most: 0.30, said: "a rough thread with threadlock" },
        Some(Surface::Oiled) => Friction { usual: 0.18, most: 0.20, said: "a badly oiled thread" },
        Some(Surface::AntiSeize) => Friction { usual: 0.12, most: 0.18, said: "a thread with hardly any paste" },
    }
}

/// Looks at every torque whose fastener is known with its strength.
pub(super) fn check(book: &Book, findings: &mut Findings<'_>) {
    for guide in &book.guides {
        for torque in &guide.torques {
            if let Some(case) = Case::of(torque) {
                over_proof(guide, torque, &case, findings);
                unit_slip(guide, torque, &case, findings);
            }
        }
    }
}

/// A torque with all that is needed to judge it.
struct Case<'b> {
    fastener: &'b Fastener,
    friction: Friction,
    /// The most that the value allows, in its own unit.
    value: Exact,
    unit: Unit,
    /// The same in newton metres.
    torque: f64,
    /// In newtons.
    proof_load: f64,
    /// In metres.
    diameter: f64,
}

impl<'b> Case<'b> {
    /// `None`: the strength is not known, or the value is too large to hold.
    fn of(torque: &'b Torque) -> Option<Self> {
        let fastener = &torque.fastener.as_ref()?.value;
        let (low, high) = torque.value.bounds();
        let (value, unit) = (high.or(low)?, torque.value.unit()?);
        Some(Self {
            fastener,
            friction: friction(torque.surface),
            value,
            unit,
            torque: to_f64(&convert(&value, unit, Unit::NewtonMetre)?),
            proof_load: fastener.proof_load()?,
            diameter: fastener.diameter() / 1000.0,
        })
    }

    /// The force in newtons with so much friction.
    fn force(&self, k: f64) -> f64 {
        self.torque / (k * self.diameter)
    }

    /// The usual torque in newton metres with so much friction.
    fn usual_torque(&self, k: f64) -> f64 {
        k * USUAL_SHARE * self.proof_load * self.diameter
    }

    /// The number of the value read in another unit, in newton metres.
    fn read_in(&self, unit: Unit) -> Option<f64> {
        Some(to_f64(&convert(&self.value, unit, Unit::NewtonMetre)?))
    }

    fn written(&self, unit: Unit) -> String {
        format!("{} {}", plain_decimal(&self.value, 3), unit.symbol())
    }
}

/// With an angle after the torque the fastener may be meant to be stretched beyond its proof load,
/// but not by the torque before it: then only what is too much for any thread is told.
fn over_proof(guide: &Guide, torque: &Torque, case: &Case<'_>, findings: &mut Findings<'_>) {
    let place = || guide.source.place(torque.value_span);
    let Friction { usual, most, said } = case.friction;
    let (value, fastener) = (case.written(case.unit), case.fastener.written());
    if case.force(most) > case.proof_load {
        findings.warning(
            "torque-over-proof",
            place(),
            format!("`{value}` is more than `{fastener}` can carry, even on {said}: {}", sum(case, most)),
            "check the figure, its unit and the fastener against the maker’s table, whose value rules".to_owned(),
        );
    } else if case.force(usual) > case.proof_load && torque.then.is_none() {
        let remedy = match torque.surface {
            None => "check it against the maker’s table, whose value rules, and say with `surface` how the thread is prepared",
            Some(_) => "check it and the `surface` against the maker’s table, whose value rules",
        };
        findings.advice(
            "torque-over-proof",
            place(),
            format!("`{value}` is more than `{fastener}` can usually carry: {}", sum(case, usual)),
            remedy.to_owned(),
        );
    }
}

/// `60 N·m / (0.30 × 8 mm) = 25.0 kN, and its proof load is 36.6 mm² × 580 N/mm² = 21.2 kN`, for inch
/// threads in pounds and inches.
fn sum(case: &Case<'_>, k: f64) -> String {
    let force = case.force(k);
    let stress = case.fastener.proof_stress().unwrap_or_default();
    let area = case.fastener.stress_area();
    match case.fastener.thread() {
        Thread::Metric { diameter, .. } => {
            let (force, load) = apart(force / 1000.0, case.proof_load / 1000.0);
            let torque = in_unit(case, Unit::NewtonMetre);
            let (diameter, area, stress) = (plain_decimal(&diameter, 2), digits(area, 3), whole_or_digits(stress));
            format!("{torque} / ({k:.2} × {diameter} mm) = {force} kN, and its proof load is {area} mm² × {stress} N/mm² = {load} kN")
        }
        Thread::Inch { diameter, .. } => {
            let (force, load) = apart(pounds_force(force), pounds_force(case.proof_load));
            let torque = in_unit(case, Unit::PoundInch);
            // A newton a square millimetre is so many pounds a square inch.
            let psi = pounds_force(stress) * 25.4 * 25.4;
            let (diameter, area, stress) = (plain_decimal(&diameter, 4), digits(area / (25.4 * 25.4), 3), whole_or_digits(psi));
            format!("{torque} / ({k:.2} × {diameter} in) = {force} lbf, and its proof load is {area} in² × {stress} psi = {load} lbf")
        }
    }
}

/// The torque in the unit the sum goes on with.
fn in_unit(case: &Case<'_>, unit: Unit) -> String {
    let shown = convert(&case.value, case.unit, unit).map_or(0.0, |value| to_f64(&value));
    if unit == case.unit { case.written(unit) } else { format!("{} {}", digits(shown, 3), unit.symbol()) }
}

/// Two numbers with three digits, or as many as tell them apart.
fn apart(one: f64, other: f64) -> (String, String) {
    let shown = |many| (digits(one, many), digits(other, many));
    (3..9).map(shown).find(|(one, other)| one != other).unwrap_or_else(|| shown(9))
}

/// `580`, `382.5`.
fn whole_or_digits(value: f64) -> String {
    let shown = digits(value, 4);
    if shown.contains('.') { shown.trim_end_matches('0').trim_end_matches('.').to_owned() } else { shown }
}

/// A number rounded to so many significant digits, never shortened before its point.
fn digits(value: f64, many: i32) -> String {
    if !value.is_normal() {
        return "0".to_owned();
    }
    // Written with an exponent first: rounding can add a digit, 9.99 becomes 10.0.
    let before = many.unsigned_abs().saturating_sub(1);
    let rounded = format!("{value:.*e}", usize::try_from(before).unwrap_or(2));
    let exponent: i32 = rounded.rsplit_once('e').and_then(|(_, exponent)| exponent.parse().ok()).unwrap_or(0);
    let after = (many - 1 - exponent).max(0);
    format!("{value:.*}", usize::try_from(after).unwrap_or(0))
}

fn unit_slip(guide: &Guide, torque: &Torque, case: &Case<'_>, findings: &mut Findings<'_>) {
    let usual = case.usual_torque(K_UNKNOWN);
    let share = case.torque / usual;
    let meant = if share > *BAND.end() {
        likely_unit(case, usual)
    } else if share < *BAND.start() && case.unit == Unit::NewtonMetre {
        let as_kgf = case.read_in(Unit::KilogramForceMetre);
        as_kgf.filter(|read| NEAR.contains(&(read / case.usual_torque(case.friction.usual)))).map(|read| (Unit::KilogramForceMetre, read))
    } else {
        None
    };
    let Some((unit, read)) = meant else { return };
    let meant = case.written(unit);
    let converted = if unit == Unit::NewtonMetre { String::new() } else { format!(" ({} N·m)", digits(read, 3)) };
    findings.advice(
        "torque-unit-slip",
        guide.source.place(torque.value_span),
        format!(
            "is `{}` in the right unit? `{meant}`{converted} would be usual for `{}`",
            case.written(case.unit),
            case.fastener.written()
        ),
        format!(
            "look it up again: write `{meant}` if it is a slip, and leave it if the maker gives it so, as for many plugs and soft threads"
        ),
    );
}

/// Of the other units of torque the one in which a value that is too large comes nearest to the usual
/// torque, if it is plausible then; with the value in newton metres.
fn likely_unit(case: &Case<'_>, usual: f64) -> Option<(Unit, f64)> {
    let others = Unit::of(case.unit.dimension()).filter(|unit| *unit != case.unit);
    let plausible = others.filter_map(|unit| Some((unit, case.read_in(unit)?))).filter(|(_, read)| BAND.contains(&(read / usual)));
    plausible.min_by(|(_, a), (_, b)| (a / usual).ln().abs().total_cmp(&(b / usual).ln().abs()))
}

#[cfg(test)]
#[path = "torque_tests.rs"]
mod tests;

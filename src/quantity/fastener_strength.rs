//! How strong fasteners are: the classes and grades that tables list.
//!
//! A class that is real but not in these tables is read and not judged by.

use super::fastener::Thread;
use super::{Exact, to_f64};

/// Newtons a square millimetre in a thousand pounds a square inch.
const MEGAPASCALS_PER_KSI: f64 = 6.894_757_293_168_361;

/// Largest share of the yield stress that counts as proof stress where none is tabulated: Shigley,
/// *Mechanical Engineering Design*, chapter 8, "Sp ≈ 0.85·Sy".
const PROOF_OF_YIELD: f64 = 0.85;

/// How strong a fastener is made.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Strength {
    /// Property class 4.6 of ISO 898-1, and so on.
    Class4_6,
    Class5_6,
    Class8_8,
    Class10_9,
    Class12_9,
    /// A2-50 or A4-50 of ISO 3506-1, and so on.
    Stainless50,
    Stainless70,
    Stainless80,
    /// Grade 2 of SAE J429, and so on.
    Grade2,
    Grade5,
    Grade8,
    /// A class or grade of these standards that the tables here leave out.
    Untabled,
}

/// Classes of metric steel fasteners, as written.
pub(super) const STEEL: [(&str, Strength); 9] = [
    ("4.6", Strength::Class4_6),
    ("4.8", Strength::Untabled),
    ("5.6", Strength::Class5_6),
    ("5.8", Strength::Untabled),
    ("6.8", Strength::Untabled),
    ("8.8", Strength::Class8_8),
    ("9.8", Strength::Untabled),
    ("10.9", Strength::Class10_9),
    ("12.9", Strength::Class12_9),
];

/// Classes of stainless fasteners, as written after A2 or A4.
pub(super) const STAINLESS: [(&str, Strength); 4] =
    [("50", Strength::Stainless50), ("70", Strength::Stainless70), ("80", Strength::Stainless80), ("100", Strength::Untabled)];

/// Grades of inch fasteners, as written after `grade`.
pub(super) const GRADES: [(&str, Strength); 10] = [
    ("1", Strength::Untabled),
    ("2", Strength::Grade2),
    ("4", Strength::Untabled),
    ("5", Strength::Grade5),
    ("5.1", Strength::Untabled),
    ("5.2", Strength::Untabled),
    ("7", Strength::Untabled),
    ("8", Strength::Grade8),
    ("8.1", Strength::Untabled),
    ("8.2", Strength::Untabled),
];

/// Proof stress in newtons a square millimetre, of a strength in a size.
///
/// Sources: ISO 898-1 (M1.6 to M39; class 8.8 is 580 up to M16 and 600 above); ISO 3506-1, which
/// gives the 0.2 % proof strength Rp0.2 of stainless steel, of which 0.85 is taken; SAE J429 (1/4 to
/// 1 1/2 in), by the table of Shigley and Mischke. Stainless classes 70 and 80 are left alone above
/// M24, where older editions of ISO 3506-1 stop. `None`: the table has no such size.
pub(super) fn proof_stress(strength: Strength, thread: &Thread) -> Option<f64> {
    match *thread {
        Thread::Metric { diameter, .. } => metric(strength, &diameter),
        Thread::Inch { diameter, .. } => inch(strength, &diameter).map(|ksi| ksi * MEGAPASCALS_PER_KSI),
    }
}

fn metric(strength: Strength, diameter: &Exact) -> Option<f64> {
    let diameter = to_f64(diameter);
    if !(1.6..=39.0).contains(&diameter) {
        return None;
    }
    let stainless = |yields: f64, largest: f64| (diameter <= largest).then_some(PROOF_OF_YIELD * yields);
    match strength {
        Strength::Class4_6 => Some(225.0),
        Strength::Class5_6 => Some(280.0),
        Strength::Class8_8 => Some(if diameter <= 16.0 { 580.0 } else { 600.0 }),
        Strength::Class10_9 => Some(830.0),
        Strength::Class12_9 => Some(970.0),
        Strength::Stainless50 => stainless(210.0, 39.0),
        Strength::Stainless70 => stainless(450.0, 24.0),
        Strength::Stainless80 => stainless(600.0, 24.0),
        Strength::Grade2 | Strength::Grade5 | Strength::Grade8 | Strength::Untabled => None,
    }
}

/// In thousands of pounds a square inch.
fn inch(strength: Strength, diameter: &Exact) -> Option<f64> {
    let within = |low: (i128, i128), high: (i128, i128)| *diameter >= Exact::new(low.0, low.1) && *diameter <= Exact::new(high.0, high.1);
    if !within((1, 4), (3, 2)) {
        return None;
    }
    match strength {
        Strength::Grade2 => Some(if within((1, 4), (3, 4)) { 55.0 } else { 33.0 }),
        Strength::Grade5 => Some(if within((1, 4), (1, 1)) { 85.0 } else { 74.0 }),
        Strength::Grade8 => Some(120.0),
        _ => None,
    }
}

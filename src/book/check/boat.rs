//! Names in `boat.yaml`, `passages.yaml`, `meters.csv`.

use super::{Aside, Index, source_of};
use crate::book::diagnostic::{Diagnostic, Notes};

pub(super) fn check(index: &Index<'_>, aside: &Aside) -> Vec<Diagnostic> {
    let mut problems = Vec::new();
    if let Some(source) = source_of(index, "boat.yaml") {
        let mut notes = Notes::new(source);
        for gear in &index.book.boat.gear {
            if let Some(system) = &gear.system {
                index.system(&mut notes, system);
            }
            if let Some(guide) = &gear.guide {
                index.job(&mut notes, guide);
            }
            let unit = gear.meter.as_ref().and_then(|meter| index.meter(&mut notes, meter));
            if let Some(fitted) = &gear.fitted
                && let Some(at) = &fitted.at
            {
                match (unit, &gear.meter) {
                    (None, None) => notes.error(
                        "no-meter",
                        gear.id.span,
                        format!("`{}` was fitted `at: {}`, but has no meter", gear.id.value, at.written()),
                        "name its counter with `meter:`",
                    ),
                    (Some(unit), _) if unit.dimension() != at.unit().dimension() => notes.error(
                        "unit",
                        gear.id.span,
                        format!("`at: {}` does not fit the meter, which counts in {}", at.written(), unit.symbol()),
                        format!("give it in {}", unit.symbol()),
                    ),
                    _ => {}
                }
            }
        }
        problems.extend(notes.found);
    }
    if let Some(source) = source_of(index, "passages.yaml") {
        let mut notes = Notes::new(source);
        let dated = index.book.passages.iter().flat_map(|passage| &passage.meters);
        for (meter, quantity) in dated.chain(&aside.passage_meters) {
            if let Some(unit) = index.meter(&mut notes, meter)
                && unit.dimension() != quantity.unit().dimension()
            {
                notes.error(
                    "unit",
                    meter.span,
                    format!("`{}` does not fit the meter `{}`, which counts in {}", quantity.written(), meter.value, unit.symbol()),
                    format!("give it in {}", unit.symbol()),
                );
            }
        }
        problems.extend(notes.found);
    }
    if let Some(source) = source_of(index, "meters.csv") {
        let mut notes = Notes::new(source);
        for row in &index.book.readings {
            index.meter(&mut notes, &row.meter);
        }
        problems.extend(notes.found);
    }
    problems
}

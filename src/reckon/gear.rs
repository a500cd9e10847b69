//! Gear: since when it has been aboard, and until when it is good.
//!
//! An entry that fits new gear starts its life again: what was done to the old one no longer
//! counts, and its expiry and serial number are gone with it, whether or not new ones were noted.

use std::collections::HashMap;

use jiff::civil::Date;

use super::days;
use crate::book::date::{BookDate, Month};
use crate::book::model::{Boat, Entry, Gear};

/// A piece of gear as of a date.
#[derive(Debug, Clone)]
pub struct GearState<'b> {
    pub gear: &'b Gear,
    /// When its present life began.
    pub fitted: Option<BookDate>,
    pub expires: Option<Month>,
    /// Private.
    pub serial: Option<&'b str>,
    /// Entries that renewed it, newest first.
    pub renewals: Vec<&'b Entry>,
    /// Days from the date of the reckoning to the last day it is good; below zero: expired.
    pub days_left: Option<i64>,
}

impl GearState<'_> {
    /// Whether its last good day is over.
    #[must_use]
    pub fn expired(&self) -> bool {
        self.days_left.is_some_and(|days| days < 0)
    }

    /// Whether an entry renewed it, so that what `boat.yaml` says of its fitting is of the old one.
    #[must_use]
    pub fn renewed(&self) -> bool {
        !self.renewals.is_empty()
    }
}

/// All gear in the order of `boat.yaml`; entries come oldest first.
pub(super) fn states<'b>(boat: &'b Boat, entries: &[&'b Entry], on: Date) -> Vec<GearState<'b>> {
    let mut states: Vec<GearState<'b>> = boat
        .gear
        .iter()
        .map(|gear| GearState {
            gear,
            fitted: gear.fitted.as_ref().map(|fitted| fitted.on),
            expires: gear.expires,
            serial: gear.serial.as_deref(),
            renewals: Vec::new(),
            days_left: None,
        })
        .collect();
    let index: HashMap<&str, usize> = by_id(boat);
    for &entry in entries {
        for (at_list, renewal) in entry.fitted.iter().enumerate() {
            let at = index.get(renewal.gear.value.as_str());
            let Some(state) = at.and_then(|at| states.get_mut(*at)) else {
                continue;
            };
            state.fitted = Some(*entry.when.day());
            state.expires = renewal.expires;
            state.serial = entry.kept().serial_of(at_list);
            state.renewals.push(entry);
        }
    }
    for state in &mut states {
        state.renewals.reverse();
        state.days_left = state.expires.map(|month| days::between(on, month.last_day));
    }
    states
}

/// Where each gear stands in `boat.yaml`; the first of two with one id.
pub(super) fn by_id(boat: &Boat) -> HashMap<&str, usize> {
    let gear = boat.gear.iter().enumerate().rev();
    gear.map(|(at, gear)| (gear.id.value.as_str(), at)).collect()
}

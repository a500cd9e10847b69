//! The files of a book as plain structs, for the bare YAML crate to fill.
//!
//! Figures and dates stay text: no program could take less of them.

use serde::Deserialize;
use std::collections::BTreeMap;

/// What may stand above a guide or an entry; each field is in the words of the file.
#[derive(Debug, Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
#[allow(dead_code, reason = "they are filled, which is what is measured")]
pub struct Guide {
    title: String,
    summary: String,
    every: BTreeMap<String, String>,
    first: BTreeMap<String, String>,
    notice: String,
    occasions: Vec<String>,
    covers: Vec<String>,
    crew: u32,
    r#where: Vec<String>,
    conditions: Vec<String>,
    wear: Vec<String>,
    dispose: Vec<String>,
    hazards: Vec<String>,
    safety: Vec<String>,
    tools: Vec<String>,
    r#for: Vec<String>,
    parts: Vec<Amount>,
    torque: Vec<Torque>,
    values: BTreeMap<String, String>,
    readings: BTreeMap<String, Reading>,
    routine: bool,
    applies_to: String,
    source: String,
    licence: String,
    revised: String,
    checked: String,
}

#[derive(Debug, Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
#[allow(dead_code, reason = "they are filled, which is what is measured")]
pub struct Entry {
    jobs: Vec<String>,
    work: Vec<String>,
    system: String,
    gear: String,
    date: String,
    started: String,
    done: String,
    reached: String,
    left: Vec<String>,
    time: String,
    meters: BTreeMap<String, String>,
    parts: Vec<Amount>,
    readings: BTreeMap<String, String>,
    findings: Vec<Finding>,
    clears: Vec<String>,
    costs: Vec<Cost>,
    fitted: Vec<Fitted>,
    done_by: String,
    by: String,
    place: String,
    basis: String,
    except: Vec<String>,
    private: bool,
}

#[derive(Debug, Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
#[allow(dead_code, reason = "they are filled, which is what is measured")]
struct Amount {
    item: String,
    qty: String,
    if_worn: bool,
    cost: String,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
#[allow(dead_code, reason = "they are filled, which is what is measured")]
struct Torque {
    at: String,
    value: String,
    fastener: String,
    surface: String,
    source: String,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
#[allow(dead_code, reason = "they are filled, which is what is measured")]
struct Reading {
    unit: String,
    limits: String,
    when: String,
}

#[derive(Debug, Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
#[allow(dead_code, reason = "they are filled, which is what is measured")]
struct Finding {
    what: String,
    grade: String,
    guide: String,
    gear: String,
    before: String,
    limits_use: String,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
#[allow(dead_code, reason = "they are filled, which is what is measured")]
struct Cost {
    what: String,
    cost: String,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
#[allow(dead_code, reason = "they are filled, which is what is measured")]
struct Fitted {
    gear: String,
    expires: String,
    serial: String,
}

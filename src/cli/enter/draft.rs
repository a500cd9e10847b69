//! An entry in the making: every name looked up, every value read.

use crate::book::date::BookDate;
use crate::book::keys::ENTRY;
use crate::book::model::Guide;
use crate::enter::{Value, entry_text};

/// When it was done.
#[derive(Debug, Clone)]
pub enum Days {
    Done(BookDate),
    Finished { started: BookDate, done: BookDate },
    Open { started: BookDate },
}

/// A value of a reading, at a point where there are several.
#[derive(Debug, Clone)]
pub struct DraftReading {
    pub id: String,
    pub point: Option<String>,
    pub value: String,
}

/// What an entry will say, spelled as the format has it.
#[derive(Debug, Clone)]
pub struct Draft<'b> {
    /// With the gear where it is named.
    pub jobs: Vec<(&'b Guide, Option<String>)>,
    pub work: Vec<String>,
    pub days: Days,
    pub reached: Option<String>,
    pub left: Vec<String>,
    pub meters: Vec<(String, String)>,
    pub time: Option<String>,
    /// Item, amount, cost.
    pub parts: Vec<(String, Option<String>, Option<String>)>,
    pub readings: Vec<DraftReading>,
    /// Keys of a finding with their values.
    pub findings: Vec<Vec<(String, String)>>,
    pub note: String,
    /// All other keys, which are only told by options.
    pub other: Vec<(&'static str, Value)>,
}

impl<'b> Draft<'b> {
    /// Nothing but a day.
    pub fn new(days: Days) -> Self {
        Self {
            jobs: Vec::new(),
            work: Vec::new(),
            days,
            reached: None,
            left: Vec::new(),
            meters: Vec::new(),
            time: None,
            parts: Vec::new(),
            readings: Vec::new(),
            findings: Vec::new(),
            note: String::new(),
            other: Vec::new(),
        }
    }

    /// The guides of its jobs.
    pub fn guides(&self) -> impl Iterator<Item = &'b Guide> + Clone + '_ {
        self.jobs.iter().map(|(guide, _)| *guide)
    }

    /// The text of the entry.
    pub fn text(&self) -> String {
        let mut keys: Vec<(&str, Value)> = self.other.clone();
        let jobs = self.jobs.iter().map(|(guide, gear)| match gear {
            Some(gear) => Value::words(format!("{}/{gear}", guide.id)),
            None => Value::words(&guide.id),
        });
        keys.push(("jobs", Value::List(jobs.collect())));
        keys.push(("work", Value::List(self.work.iter().map(Value::words).collect())));
        match &self.days {
            Days::Done(day) => keys.push(("date", Value::figure(day.to_string()))),
            Days::Finished { started, done } => {
                keys.push(("started", Value::figure(started.to_string())));
                keys.push(("done", Value::figure(done.to_string())));
            }
            Days::Open { started } => keys.push(("started", Value::figure(started.to_string()))),
        }
        keys.push(("reached", Value::words(self.reached.clone().unwrap_or_default())));
        keys.push(("left", Value::all_words(&self.left)));
        keys.push(("meters", Value::Map(self.meters.iter().map(|(id, value)| (id.clone(), Value::figure(value))).collect())));
        keys.push(("time", Value::figure(self.time.clone().unwrap_or_default())));
        keys.push(("parts", Value::List(self.parts.iter().map(part).collect())));
        keys.push(("readings", Value::Map(self.readings())));
        let finding =
            |pairs: &Vec<(String, String)>| Value::Map(pairs.iter().map(|(key, value)| (key.clone(), said(key, value))).collect());
        keys.push(("findings", Value::List(self.findings.iter().map(finding).collect())));
        // As the format lists them.
        keys.sort_by_key(|(key, _)| ENTRY.names().position(|known| known == *key));
        entry_text(&keys, &self.note)
    }

    /// Those of one reading together, in the order told.
    fn readings(&self) -> Vec<(String, Value)> {
        let mut pairs: Vec<(String, Value)> = Vec::new();
        for reading in &self.readings {
            let value = Value::figure(&reading.value);
            let Some(point) = &reading.point else {
                pairs.push((reading.id.clone(), value));
                continue;
            };
            match pairs.iter_mut().find(|(id, _)| *id == reading.id) {
                Some((_, Value::Map(points))) => points.push((point.clone(), value)),
                _ => pairs.push((reading.id.clone(), Value::Map(vec![(point.clone(), value)]))),
            }
        }
        pairs
    }
}

fn part((item, amount, cost): &(String, Option<String>, Option<String>)) -> Value {
    let mut pairs = vec![("item".to_owned(), Value::words(item))];
    pairs.extend(amount.iter().map(|amount| ("qty".to_owned(), Value::figure(amount))));
    pairs.extend(cost.iter().map(|cost| ("cost".to_owned(), Value::figure(cost))));
    Value::Map(pairs)
}

/// A date stands without quotes.
fn said(key: &str, value: &str) -> Value {
    if matches!(key, "before" | "expires") { Value::figure(value) } else { Value::words(value) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::date::Precision;

    #[test]
    fn keys_stand_in_the_order_of_the_format() {
        let day = BookDate { date: jiff::civil::date(2026, 3, 14), about: false, precision: Precision::Day };
        let mut draft = Draft::new(Days::Done(day));
        draft.work = vec!["Washed the deck".to_owned()];
        draft.time = Some("2 h".to_owned());
        draft.other = vec![("private", Value::True), ("place", Value::words("Ansker")), ("system", Value::words("hull"))];
        assert_eq!(
            draft.text(),
            "---\nwork:\n  - Washed the deck\nsystem: hull\ndate: 2026-03-14\ntime: 2 h\nplace: Ansker\nprivate: true\n---\n"
        );
    }
}

//! From options to an entry in the making. All slips are gathered, so that they are mended in one go.

use super::draft::{Days, Draft, DraftReading};
use super::options::EntryOptions;
use super::{known, values};
use crate::book::date::{BookDate, parse_month};
use crate::book::diagnostic::nearest;
use crate::book::model::Book;
use crate::cli::reckoned::{Slip, occasion};
use crate::enter::{Value, plain_day};
use jiff::civil::Date;

/// Keys of a finding that may stand behind its words.
const OF_FINDING: [&str; 4] = ["guide", "gear", "before", "limits-use"];

/// Takes what is right, and notes what is not.
fn kept<T>(slips: &mut Vec<Slip>, found: Result<T, Slip>) -> Option<T> {
    found.map_err(|slip| slips.push(slip)).ok()
}

/// A value that cannot be read, under the name of its option.
fn wrong(option: &str, (message, remedy): values::Wrong) -> Slip {
    Slip { message: format!("`{option}`: {message}"), remedy }
}

/// The book is in German, so that its crew may write German days.
pub fn is_german(book: &Book) -> bool {
    book.boat.language == "de" || book.boat.language.starts_with("de-")
}

/// The entry that the options tell; with it all that is wrong with them.
pub fn draft<'b>(options: &EntryOptions, book: &'b Book, today: Date) -> (Draft<'b>, Vec<Slip>) {
    let slips = &mut Vec::new();
    let mut draft = Draft::new(days(slips, options, book, today));
    draft.jobs = options.jobs.iter().filter_map(|job| kept(slips, known::job(book, job))).collect();
    // What a job asks for cannot be told before all jobs are known.
    let jobs_known = draft.jobs.len() == options.jobs.len();
    draft.work.clone_from(&options.work);
    draft.left.clone_from(&options.left);
    draft.reached = match &options.reached {
        Some(stage) if jobs_known => kept(slips, known::stage(draft.guides(), stage)),
        _ => None,
    };
    for text in &options.meters {
        let found = pair("--meter", text, "engine=1840.5").and_then(|(name, value)| {
            let meter = known::meter(book, name)?;
            let value = values::meter(value, meter).map_err(|why| wrong("--meter", why))?;
            Ok((meter.id.value.clone(), values::meter_text(&value)))
        });
        if let Some((id, value)) = kept(slips, found) {
            if draft.meters.iter().any(|(known, _)| *known == id) {
                slips.push(twice("meter", &id));
            } else {
                draft.meters.push((id, value));
            }
        }
    }
    draft.time = options
        .time
        .as_ref()
        .and_then(|time| kept(slips, values::time(time).map_err(|why| wrong("--time", why))))
        .map(|time| time.to_string());
    for text in &options.parts {
        if let Some(part) = kept(slips, part(book, &draft, text)) {
            draft.parts.push(part);
        }
    }
    for text in &options.readings {
        let found = pair("--reading", text, "oil-pressure=3.8 bar").and_then(|(name, value)| {
            let (name, point) = match name.split_once('/') {
                Some((name, point)) => (name.trim(), Some(point.trim())),
                None => (name, None),
            };
            // Where a job is mistyped, any guide may have been meant.
            let (spec, point) =
                if jobs_known { known::reading(draft.guides(), name, point)? } else { known::reading(book.guides.iter(), name, point)? };
            let value = values::reading(value, spec).map_err(|why| wrong("--reading", why))?;
            Ok(DraftReading { id: spec.id.clone(), point, value: value.to_string() })
        });
        if let Some(reading) = kept(slips, found) {
            if draft.readings.iter().any(|known| (&known.id, &known.point) == (&reading.id, &reading.point)) {
                slips.push(twice("reading", &reading.id));
            } else {
                draft.readings.push(reading);
            }
        }
    }
    draft.findings = options.findings.iter().filter_map(|text| kept(slips, finding(book, text))).collect();
    draft.note = options.note.clone().unwrap_or_default();
    other(slips, &mut draft, options, book);
    (draft, std::mem::take(slips))
}

fn days(slips: &mut Vec<Slip>, options: &EntryOptions, book: &Book, today: Date) -> Days {
    let mut day = |option: &str, text: &Option<String>| {
        let text = text.as_ref()?;
        kept(slips, plain_day(text, today, is_german(book)).map_err(|why| wrong(option, (why.message, why.remedy))))
    };
    let (date, started) = (day("--date", &options.date), day("--started", &options.started));
    let now = BookDate::on(today);
    if options.open {
        if options.date.is_some() && options.started.is_some() {
            slips.push(Slip {
                message: "a job that is open has no day on which it was done".to_owned(),
                remedy: "leave `--date` out, or `--open` where it is finished".to_owned(),
            });
        }
        return Days::Open { started: started.or(date).unwrap_or(now) };
    }
    let done = date.unwrap_or(now);
    match started {
        Some(started) if started.date > done.date => {
            slips.push(Slip {
                message: "it would be done before it was started".to_owned(),
                remedy: "give the day it was begun with `--started`, the day it was finished with `--date`".to_owned(),
            });
            Days::Done(done)
        }
        Some(started) => Days::Finished { started, done },
        None => Days::Done(done),
    }
}

/// `NAME=VALUE`.
fn pair<'t>(option: &str, text: &'t str, example: &str) -> Result<(&'t str, &'t str), Slip> {
    let found =
        text.split_once('=').map(|(name, value)| (name.trim(), value.trim())).filter(|(name, value)| !name.is_empty() && !value.is_empty());
    found.ok_or_else(|| Slip {
        message: format!("`{option}`: `{text}` has no name and value joined by `=`"),
        remedy: format!("write it like `{option} \"{example}\"`"),
    })
}

fn twice(what: &str, name: &str) -> Slip {
    Slip { message: format!("the {what} `{name}` is given twice"), remedy: "keep one of the two".to_owned() }
}

/// `oil-filter=2 for 37 EUR`.
fn part(book: &Book, draft: &Draft<'_>, text: &str) -> Result<(String, Option<String>, Option<String>), Slip> {
    let split = [" for ", " für "].iter().find_map(|word| text.rsplit_once(word));
    // `Grease for the winches` is a part as well.
    let (text, cost) = match split {
        Some((rest, cost)) if cost.trim_start().starts_with(|first: char| first.is_ascii_digit()) => (rest, Some(cost)),
        _ => (text, None),
    };
    let (item, amount) = match text.split_once('=') {
        Some((item, amount)) => (item.trim(), Some(amount)),
        None => (text.trim(), None),
    };
    let item = known::part(book, draft.guides(), item)?;
    let amount = amount.map(|amount| values::amount(amount).map_err(|why| wrong("--part", why))).transpose()?;
    let cost = cost.map(|cost| values::money(cost).map_err(|why| wrong("--part", why))).transpose()?;
    Ok((item, amount.map(|amount| amount.written().to_owned()), cost))
}

/// Keys and values after `; `: `weep; guide: rocker-gasket; before: haul-out`.
fn tail<'t>(text: &'t str, keys: &[&'static str]) -> (&'t str, Vec<(&'static str, &'t str)>) {
    let mut rest = text;
    let mut found = Vec::new();
    // From the end, so that a semicolon among the words stays there.
    while let Some((before, last)) = rest.rsplit_once(';') {
        let Some((key, value)) = last.split_once(':') else { break };
        let Some(key) = keys.iter().find(|known| **known == key.trim()) else { break };
        found.insert(0, (*key, value.trim()));
        rest = before;
    }
    (rest.trim(), found)
}

/// A key behind the last semicolon that is only like one of a finding: a slip, and no part of the words.
fn mistyped_key(said: &str) -> Option<(&str, &'static str)> {
    let (_, last) = said.rsplit_once(';')?;
    let key = last.split_once(':')?.0.trim();
    Some((key, nearest(key, OF_FINDING)?))
}

/// `watch: weep at the rocker cover; before: haul-out`.
fn finding(book: &Book, text: &str) -> Result<Vec<(String, String)>, Slip> {
    let (said, more) = tail(text, &OF_FINDING);
    if let Some((key, near)) = mistyped_key(said) {
        return Err(Slip { message: format!("`--finding`: there is no `{key}` of a finding"), remedy: format!("did you mean `{near}`?") });
    }
    let graded = said.split_once(':').map(|(grade, what)| (grade.trim().to_lowercase(), what.trim()));
    if graded.as_ref().is_some_and(|(_, what)| what.is_empty()) {
        return Err(Slip {
            message: format!("`--finding`: `{text}` does not say what was found"),
            remedy: "write it behind the grade: `watch: weep at the rocker cover`".to_owned(),
        });
    }
    let Some((grade, what)) = graded.filter(|(grade, what)| ["good", "watch", "act"].contains(&grade.as_str()) && !what.is_empty()) else {
        return Err(Slip {
            message: format!("`--finding`: `{text}` does not say its grade first"),
            remedy: "write `good: …` for no fault seen, `watch: …` to keep an eye on it, or `act: …` to put it right".to_owned(),
        });
    };
    let mut pairs = vec![("what".to_owned(), what.to_owned()), ("grade".to_owned(), grade)];
    for (key, value) in more {
        let value = match key {
            "guide" => known::job(book, value)?.0.id.clone(),
            "gear" => known::gear(book, value)?.id.value.clone(),
            "before" if parse_month(value).is_ok() => value.to_owned(),
            "before" if value.starts_with(|first: char| first.is_ascii_digit()) => {
                let why = parse_month(value).map_or_else(|why| (why.message, why.remedy), |_| (String::new(), String::new()));
                return Err(wrong("--finding", why));
            }
            "before" => occasion(book, value)?.to_owned(),
            _ => value.to_owned(),
        };
        pairs.push((key.to_owned(), value));
    }
    Ok(pairs)
}

/// The keys that prompts do not ask for.
fn other(slips: &mut Vec<Slip>, draft: &mut Draft<'_>, options: &EntryOptions, book: &Book) {
    let mut add = |key: &'static str, value: Value| draft.other.push((key, value));
    if let Some(system) = options.system.as_ref().and_then(|name| kept(slips, known::system(book, name))) {
        add("system", Value::words(system));
    }
    let gear = options.gear.iter().filter_map(|name| kept(slips, known::gear(book, name))).map(|gear| Value::words(&gear.id.value));
    add("gear", Value::List(gear.collect()));
    let costs = options.costs.iter().filter_map(|text| {
        let cost = pair("--cost", text, "crane=240 EUR")
            .and_then(|(what, sum)| Ok((what, values::money(sum).map_err(|why| wrong("--cost", why))?)));
        kept(slips, cost)
            .map(|(what, sum)| Value::Map(vec![("what".to_owned(), Value::words(what)), ("cost".to_owned(), Value::figure(sum))]))
    });
    add("costs", Value::List(costs.collect()));
    let clears = options.clears.iter().filter_map(|text| kept(slips, cleared(book, text))).map(Value::Figure);
    add("clears", Value::List(clears.collect()));
    let fitted = options.fitted.iter().filter_map(|text| kept(slips, renewed(book, text)));
    add("fitted", Value::List(fitted.collect()));
    for (key, value) in [("done-by", &options.done_by), ("place", &options.place), ("basis", &options.basis)] {
        add(key, Value::words(value.clone().unwrap_or_default()));
    }
    for (key, values) in [("by", &options.by), ("papers", &options.papers), ("except", &options.except)] {
        add(key, Value::all_words(values));
    }
    if options.private {
        draft.other.push(("private", Value::True));
    }
}

/// `2025-11-02-rig-check/1`.
fn cleared(book: &Book, text: &str) -> Result<String, Slip> {
    let found = text.rsplit_once('/').and_then(|(id, number)| Some((id.trim(), number.trim().parse::<usize>().ok()?)));
    let Some((id, number)) = found else {
        return Err(Slip {
            message: format!("`--clears`: `{text}` names no finding"),
            remedy: "write the entry, a slash, and the number of its finding: `2025-11-02-rig-check/1`".to_owned(),
        });
    };
    match book.entry(id) {
        Some(entry) if (1..=entry.findings.len()).contains(&number) => Ok(format!("{id}/{number}")),
        Some(entry) => Err(Slip {
            message: format!("the entry `{id}` has no finding {number}"),
            remedy: format!("its findings count from 1 to {}", entry.findings.len()),
        }),
        None => {
            let ids = book.entries.iter().map(|entry| entry.id.as_str());
            let remedy = crate::book::diagnostic::offer(id, ids, "write the name of the entry's file without `.md`");
            Err(Slip { message: format!("there is no entry `{id}` in the log"), remedy })
        }
    }
}

/// `life-raft; expires: 2029-05`.
fn renewed(book: &Book, text: &str) -> Result<Value, Slip> {
    let (name, more) = tail(text, &["expires", "serial"]);
    let mut pairs = vec![("gear".to_owned(), Value::words(&known::gear(book, name)?.id.value))];
    for (key, value) in more {
        if key == "expires" {
            parse_month(value).map_err(|why| wrong("--fitted", (why.message, why.remedy)))?;
            pairs.push((key.to_owned(), Value::figure(value)));
        } else {
            pairs.push((key.to_owned(), Value::words(value)));
        }
    }
    Ok(Value::Map(pairs))
}

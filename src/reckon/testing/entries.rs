//! Entries for tests.

use super::{amount, month, name, number, quantity};
use crate::book::date::parse_book_date;
use crate::book::model::{
    Before, Cost, Entry, EntryFacts, Finding, FindingRef, Grade, JobRef, Kept, MeterValue, PartUse, ReadingValue, Renewal, When,
};
use crate::book::source::{Source, Span};
use crate::quantity::{Duration, Money};

/// An entry with its name and its day: `2026-03-14-oil`, or `2026-03-14-oil done ~2026-04`, or
/// `2026-03-14-oil open`.
pub(in crate::reckon) fn entry(written: &str) -> Entry {
    let mut words = written.split(' ');
    let id = words.next().expect("an id");
    let date = |text: &str| parse_book_date(text).expect("a date");
    let started = || date(id.get(..10).expect("an id with a date"));
    let when = match (words.next(), words.next()) {
        (Some("open"), None) => When::Open { started: started() },
        (Some("open"), Some(day)) => When::Open { started: date(day) },
        (Some("done"), Some(day)) => When::Finished { started: started(), done: date(day) },
        (Some("on"), Some(day)) => When::On(date(day)),
        _ => When::On(started()),
    };
    // The first line is the name, so that places in the file can be told apart.
    let source = Source::new(format!("log/{id}.md"), "---\ndate\nmeters\nparts\n---\n");
    let facts = EntryFacts {
        id: id.to_owned(),
        when,
        when_span: Span::new(4, 8),
        jobs: Vec::new(),
        work: Vec::new(),
        system: None,
        gear: Vec::new(),
        reached: None,
        left: Vec::new(),
        meters: Vec::new(),
        time: None,
        parts: Vec::new(),
        readings: Vec::new(),
        findings: Vec::new(),
        clears: Vec::new(),
        fitted: Vec::new(),
        done_by: None,
        paper_on_file: false,
        basis: None,
        except: Vec::new(),
        private: false,
        body: Span::default(),
        private_passages: Vec::new(),
        pictures: Vec::new(),
        links: Vec::new(),
    };
    Entry::new(source, facts, Kept::default(), false)
}

impl Entry {
    /// `oil` or `oil/port-engine`.
    pub(in crate::reckon) fn job(mut self, job: &str) -> Self {
        let (guide, gear) = match job.split_once('/') {
            Some((guide, gear)) => (guide, Some(gear.to_owned())),
            None => (job, None),
        };
        self.jobs.push(JobRef { guide: guide.to_owned(), gear, span: Span::default() });
        self
    }

    /// `1840.5` or `~1200`.
    pub(in crate::reckon) fn reads(mut self, meter: &str, value: &str) -> Self {
        self.meters.push(MeterValue {
            meter: name(meter),
            value: number(value.trim_start_matches('~')),
            about: value.starts_with('~'),
            span: Span::new(9, 15),
        });
        self
    }

    pub(in crate::reckon) fn uses(mut self, item: &str, used: &str) -> Self {
        self.parts.push(PartUse {
            item: crate::book::source::Placed::new(item.to_owned(), Span::new(16, 21)),
            amount: (!used.is_empty()).then(|| amount(used)),
            unclear: false,
            if_worn: false,
            span: Span::new(16, 21),
        });
        self
    }

    /// A part with what it cost.
    pub(in crate::reckon) fn buys(mut self, item: &str, cost: &str) -> Self {
        self = self.uses(item, "");
        let part = self.parts.len() - 1;
        self.kept_mut().of_parts.push((part, Money::parse(cost).expect("a sum")));
        self
    }

    pub(in crate::reckon) fn pays(mut self, what: &str, cost: &str) -> Self {
        self.kept_mut().costs.push(Cost { what: what.to_owned(), cost: Money::parse(cost).expect("a sum") });
        self
    }

    pub(in crate::reckon) fn belongs_to(mut self, system: &str) -> Self {
        self.system = Some(name(system));
        self
    }

    pub(in crate::reckon) fn on_gear(mut self, gear: &str) -> Self {
        self.gear.push(name(gear));
        self
    }

    pub(in crate::reckon) fn takes(mut self, time: &str) -> Self {
        self.time = Some(Duration::parse(time).expect("a time"));
        self
    }

    pub(in crate::reckon) fn finds(mut self, what: &str, grade: Grade) -> Self {
        self.findings.push(Finding {
            what: what.to_owned(),
            grade,
            guide: None,
            gear: None,
            before: None,
            limits_use: None,
            span: Span::default(),
        });
        self
    }

    /// Until when its last finding is to be put right: `2026-09`, or an occasion.
    pub(in crate::reckon) fn before(mut self, until: &str) -> Self {
        if let Some(finding) = self.findings.last_mut() {
            let is_month = until.starts_with(|first: char| first.is_ascii_digit());
            finding.before = Some(if is_month { Before::Month(month(until)) } else { Before::Occasion(name(until)) });
        }
        self
    }

    /// What its last finding is about.
    pub(in crate::reckon) fn about_gear(mut self, gear: &str) -> Self {
        if let Some(finding) = self.findings.last_mut() {
            finding.gear = Some(name(gear));
        }
        self
    }

    /// The job that puts its last finding right.
    pub(in crate::reckon) fn for_job(mut self, guide: &str) -> Self {
        if let Some(finding) = self.findings.last_mut() {
            finding.guide = Some(name(guide));
        }
        self
    }

    pub(in crate::reckon) fn limits_use(mut self, what: &str) -> Self {
        if let Some(finding) = self.findings.last_mut() {
            finding.limits_use = Some(what.to_owned());
        }
        self
    }

    pub(in crate::reckon) fn clears(mut self, entry: &str, number: usize) -> Self {
        self.clears.push(FindingRef { entry: entry.to_owned(), number, span: Span::default() });
        self
    }

    pub(in crate::reckon) fn fits(mut self, gear: &str, expires: &str) -> Self {
        self.fitted.push(Renewal { gear: name(gear), expires: (!expires.is_empty()).then(|| month(expires)), span: Span::default() });
        self
    }

    pub(in crate::reckon) fn works(mut self, work: &str) -> Self {
        self.work.push(work.to_owned());
        self
    }

    pub(in crate::reckon) fn leaves(mut self, left: &str) -> Self {
        self.left.push(left.to_owned());
        self
    }

    pub(in crate::reckon) fn measures(mut self, reading: &str, point: &str, value: &str) -> Self {
        self.readings.push(ReadingValue {
            reading: name(reading),
            point: (!point.is_empty()).then(|| point.to_owned()),
            value: quantity(value),
            span: Span::default(),
            value_span: Span::new(16, 21),
        });
        self
    }
}

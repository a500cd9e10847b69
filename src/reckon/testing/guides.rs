//! Guides and gear for tests.

use super::{month, name, quantity};
use crate::book::date::parse_book_date;
use crate::book::model::{Fitted, Gear, Guide, GuideFacts, ReadingSpec, Rule, RuleBy, Whereabouts};
use crate::book::outline::{Mark, MarkKind, Stage, Step};
use crate::book::source::{Source, Span};
use crate::quantity::{CalendarSpan, Duration, DutyCycle, Figure, Unit};

/// `engine: 200 h`, `calendar: 12 months`, `own: 100 h`.
fn rule(text: &str) -> Rule {
    let (by, interval) = text.split_once(": ").expect("a rule");
    let by = match by {
        "calendar" => RuleBy::Calendar(CalendarSpan::parse(interval).expect("a span")),
        "own" => RuleBy::Own { interval: quantity(interval) },
        meter => RuleBy::Meter { meter: meter.to_owned(), interval: quantity(interval) },
    };
    Rule { by, span: Span::default() }
}

pub(in crate::reckon) fn gear(id: &str) -> Gear {
    Gear {
        id: name(id),
        title: id.to_owned(),
        system: None,
        expires: None,
        guide: None,
        meter: None,
        serial: None,
        fitted: None,
        note: None,
    }
}

impl Gear {
    pub(in crate::reckon) fn with_meter(mut self, meter: &str) -> Self {
        self.meter = Some(name(meter));
        self
    }

    pub(in crate::reckon) fn fitted_on(mut self, on: &str) -> Self {
        self.fitted = Some(Fitted { on: parse_book_date(on).expect("a date"), at: None });
        self
    }

    /// What its meter showed when it was fitted.
    pub(in crate::reckon) fn at(mut self, shown: &str) -> Self {
        if let Some(fitted) = &mut self.fitted {
            fitted.at = Some(quantity(shown));
        }
        self
    }

    pub(in crate::reckon) fn good_until(mut self, until: &str) -> Self {
        self.expires = Some(month(until));
        self
    }
}

pub(in crate::reckon) fn guide(id: &str) -> Guide {
    let facts = GuideFacts {
        unread_meters: Vec::new(),
        id: id.to_owned(),
        system: "engine".to_owned(),
        title: id.to_owned(),
        title_span: Span::default(),
        summary: None,
        every: Vec::new(),
        first: Vec::new(),
        for_gear: Vec::new(),
        occasions: Vec::new(),
        routine: false,
        notice: None,
        covers: Vec::new(),
        crew: 1,
        places: Vec::new(),
        conditions: Vec::new(),
        wear: Vec::new(),
        dispose: Vec::new(),
        time: None,
        time_span: Span::default(),
        hazards: Vec::new(),
        safety: Vec::new(),
        tools: Vec::new(),
        parts: Vec::new(),
        torques: Vec::new(),
        values: Vec::new(),
        readings: Vec::new(),
        applies_to: None,
        from: None,
        licence: None,
        revised: None,
        checked: None,
        formerly: Vec::new(),
        received: None,
        body: Span::default(),
        outline: crate::book::outline::Outline::default(),
    };
    Guide::new(Source::new(format!("guides/engine/{id}.md"), ""), facts, false)
}

impl Guide {
    pub(in crate::reckon) fn every(mut self, interval: &str) -> Self {
        self.every.push(rule(interval));
        self
    }

    pub(in crate::reckon) fn first(mut self, interval: &str) -> Self {
        self.first.push(rule(interval));
        self
    }

    pub(in crate::reckon) fn for_gear(mut self, gear: &str) -> Self {
        self.for_gear.push(name(gear));
        self
    }

    pub(in crate::reckon) fn covers(mut self, guide: &str) -> Self {
        self.covers.push(name(guide));
        self
    }

    pub(in crate::reckon) fn occasion(mut self, occasion: &str) -> Self {
        self.occasions.push(name(occasion));
        self
    }

    pub(in crate::reckon) fn formerly(mut self, id: &str) -> Self {
        self.formerly.push(name(id));
        self
    }

    pub(in crate::reckon) fn notice(mut self, span: &str) -> Self {
        self.notice = Some(CalendarSpan::parse(span).expect("a span"));
        self
    }

    pub(in crate::reckon) fn in_system(mut self, system: &str) -> Self {
        self.system = system.to_owned();
        self
    }

    pub(in crate::reckon) fn stated(mut self, time: &str) -> Self {
        self.time = Some(Duration::parse(time).expect("a time"));
        self
    }

    /// A step with its marks, as words in braces have them: `takes 20 min`, `wait 1 h`.
    pub(in crate::reckon) fn step(mut self, marks: &[&str]) -> Self {
        let time = |text: &str| Duration::parse(text).expect("a time");
        let marks = marks.iter().map(|mark| Mark {
            span: Span::default(),
            kind: match mark.split_once(' ') {
                Some(("takes", text)) => MarkKind::Takes(time(text)),
                Some(("wait", text)) => MarkKind::Wait { time: time(text), what: None },
                Some(("isolate", text)) => {
                    let (what, until) =
                        text.split_once(" until ").map_or((text, None), |(what, until)| (what, Some(Box::new(name(until)))));
                    MarkKind::Isolate { what: what.to_owned(), until }
                }
                Some(("restore", what)) => MarkKind::Restore(what.to_owned()),
                Some(("run", _)) => MarkKind::Run(Box::new(DutyCycle::parse(mark).expect("a run"))),
                _ => panic!("{mark}"),
            },
        });
        let step = Step { span: Span::default(), marks: marks.collect() };
        if self.outline.stages.is_empty() {
            self.outline.stages.push(Stage {
                title: "Work".to_owned(),
                id: "work".to_owned(),
                span: Span::default(),
                alongside: Vec::new(),
                after: None,
                heading_marks: Vec::new(),
                implicit: false,
                steps: Vec::new(),
            });
        }
        if let Some(stage) = self.outline.stages.last_mut() {
            stage.steps.push(step);
        }
        self
    }

    /// `under-way, moored`.
    pub(in crate::reckon) fn done(mut self, places: &str) -> Self {
        use Whereabouts::{Ashore, AtAnchor, Moored, UnderWay};
        let all = [UnderWay, AtAnchor, Moored, Ashore];
        self.places = all.into_iter().filter(|place| places.split(", ").any(|word| word == place.word())).collect();
        self
    }

    pub(in crate::reckon) fn routine(mut self) -> Self {
        self.routine = true;
        self
    }

    pub(in crate::reckon) fn asks(mut self, reading: &str, unit: &str, limits: &str, points: &[&str]) -> Self {
        let unit = Unit::parse(unit).expect("a unit");
        self.readings.push(ReadingSpec {
            id: reading.to_owned(),
            name: reading.to_owned(),
            unit,
            limits: Some(Figure::parse_bare(limits, unit).expect("limits")),
            when: None,
            points: points.iter().map(|point| (*point).to_owned()).collect(),
            span: Span::default(),
        });
        self
    }
}

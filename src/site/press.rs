//! What all pages are made with: the book, its reckoning, the places of the site, the words.
//!
//! Small helpers that turn one value of the reckoning into words and links. Nothing here is
//! reckoned: a page says what `reckon` found.

use super::assets::Assets;
use super::lookups::Lookups;
use super::map::SiteMap;
use super::publish::Edition;
use super::surroundings::PageSurroundings;
use super::view::{Banner, BoatView, Contents, DateView, Frame, Link};
use super::words::Words;
use crate::book::date::{BookDate, Month, Precision};
use crate::book::model::{Book, Entry, Guide, JobRef};
use crate::quantity::{CalendarSpan, Exact, Unit, plain_decimal};
use crate::reckon::{Cleared, Defect, Reckoning};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// Everything a page is made from.
pub struct Press<'b> {
    pub book: &'b Book,
    pub reckoning: &'b Reckoning<'b>,
    pub map: &'b SiteMap,
    pub assets: &'b Assets,
    pub words: &'b Words,
    pub edition: Edition,
    pub banner: Option<Banner>,
    /// Entry and number of a finding to how it was cleared.
    pub cleared: BTreeMap<(&'b str, usize), Cleared<'b>>,
    /// Guide id to the defects that point at it.
    pub defects: BTreeMap<&'b str, Vec<&'b Defect<'b>>>,
    /// Guides by the part, the tool and the hazard they name.
    pub users: Users<'b>,
    pub lookups: Lookups<'b>,
}

/// Defects by the guide they point at, by its id or a former one.
#[must_use]
pub fn defects_by_guide<'b>(reckoning: &'b Reckoning<'b>) -> BTreeMap<&'b str, Vec<&'b Defect<'b>>> {
    let mut defects: BTreeMap<&str, Vec<&Defect<'b>>> = BTreeMap::new();
    for defect in &reckoning.defects {
        if let Some(guide) = defect.guide().and_then(|id| reckoning.book.guide_or_former(id)) {
            defects.entry(&guide.id).or_default().push(defect);
        }
    }
    defects
}

/// Which guides name a thing.
#[derive(Debug, Default)]
pub struct Users<'b> {
    pub parts: BTreeMap<&'b str, Vec<&'b Guide>>,
    pub tools: BTreeMap<&'b str, Vec<&'b Guide>>,
    pub hazards: BTreeMap<&'b str, Vec<&'b Guide>>,
    /// Covered guide id to those that cover it.
    pub covered: BTreeMap<&'b str, Vec<&'b Guide>>,
    /// Guide id to the revisions of it that came from other boats.
    pub revisions: BTreeMap<&'b str, Vec<&'b Guide>>,
}

impl<'b> Users<'b> {
    /// Looks through all guides once.
    #[must_use]
    pub fn new(book: &'b Book) -> Self {
        let mut users = Self::default();
        for guide in &book.guides {
            for part in &guide.parts {
                users.parts.entry(&part.item.value).or_default().push(guide);
            }
            for tool in &guide.tools {
                users.tools.entry(&tool.value).or_default().push(guide);
            }
            for hazard in &guide.hazards {
                users.hazards.entry(&hazard.value).or_default().push(guide);
            }
            for covered in &guide.covers {
                users.covered.entry(&covered.value).or_default().push(guide);
            }
            if let Some(revised) = guide.received.as_ref().and_then(|received| received.revises.as_ref()) {
                users.revisions.entry(&revised.value).or_default().push(guide);
            }
        }
        users
    }
}

/// The list of the passages, which is there only where passages are.
const PASSAGES: &str = "passages";

/// Pages in the order of the contents, with their files.
pub const CONTENTS: [(&str, &str); 16] = [
    ("state", "index.html"),
    ("guides", "guides.html"),
    ("log", "log.html"),
    ("record", "record.html"),
    ("defects", "defects.html"),
    ("stores", "stores.html"),
    ("provisions", "provisions.html"),
    ("tools", "tools.html"),
    ("gear", "gear.html"),
    ("occasions", "occasions.html"),
    (PASSAGES, "passages.html"),
    ("meters", "meters.html"),
    ("costs", "costs.html"),
    ("cautions", "cautions.html"),
    ("search", "search.html"),
    ("about", "about.html"),
];

/// Pages that only the crew's edition has: what there is aboard, and what it costs, is nobody else's business.
const CREW_ONLY: [&str; 2] = ["provisions", "costs"];

impl<'b> Press<'b> {
    /// Whether this edition has a page.
    #[must_use]
    pub fn has(&self, page: &str) -> bool {
        self.edition == Edition::Crew || !CREW_ONLY.contains(&page)
    }

    /// Whether jobs are said to be due: who does not see all entries cannot say so.
    #[must_use]
    pub fn shows_state(&self) -> bool {
        self.edition == Edition::Crew
    }

    /// What stands round a page. `shows_state`: it carries the day of publication.
    #[must_use]
    pub fn frame(&self, kind: &str, group: &str, title: String, root: &str, shows_state: bool) -> Frame {
        let contents = CONTENTS
            .iter()
            .filter(|(id, _)| self.has(id))
            .filter(|(id, _)| *id != PASSAGES || !self.book.passages.is_empty())
            .map(|(id, file)| Contents {
                id: (*id).to_owned(),
                text: self.words.text(&format!("pages.{id}")),
                href: format!("{root}{file}"),
                current: *id == group,
            })
            .collect();
        Frame {
            language: self.words.language().to_owned(),
            title,
            kind: kind.to_owned(),
            root: root.to_owned(),
            boat: BoatView { name: self.book.boat.name.clone(), line: self.boat_line() },
            contents,
            edition: self.edition.word().to_owned(),
            published: shows_state.then(|| self.day(self.reckoning.on)),
            banner: self.banner.clone(),
            // A device may hold several editions: work begun on the one is not work begun on another.
            book_key: match self.edition {
                Edition::Crew => crate::book::id::id_of(&self.book.boat.name),
                Edition::Public | Edition::Shared => format!("{}-{}", crate::book::id::id_of(&self.book.boat.name), self.edition.word()),
            },
            site: self.book.boat.site.clone(),
            qr: None,
        }
    }

    /// `Cutter, 11.6 m, 1988`.
    fn boat_line(&self) -> String {
        let boat = &self.book.boat;
        let built = boat.built.as_ref().map(|year| self.words.say("about.built-in", &[("year", year)]));
        let length = boat.length.as_ref().map(|length| length.written().to_owned());
        [boat.kind.clone(), length, built].into_iter().flatten().collect::<Vec<_>>().join(" · ")
    }

    /// The surroundings of the Markdown of a `file` of the book, on a page below `root`.
    #[must_use]
    pub fn surroundings(&self, file: &str, root: &'static str) -> PageSurroundings<'_> {
        PageSurroundings { map: self.map, assets: self.assets, words: self.words, file: file.to_owned(), root, received: None }
    }

    /// A calendar day.
    #[must_use]
    pub fn day(&self, date: Date) -> DateView {
        DateView { iso: date.to_string(), text: self.words.day(date), about: false }
    }

    /// A day of the log, perhaps only known about.
    #[must_use]
    pub fn book_date(&self, date: &BookDate) -> DateView {
        let text = match date.precision {
            Precision::Day => self.words.day(date.date),
            Precision::Month => self.words.month(date.date),
            Precision::Year => date.date.year().to_string(),
        };
        DateView { iso: date.known(), text: self.perhaps_about(text, date.about), about: date.about }
    }

    /// A month or day by which something ends.
    #[must_use]
    pub fn month(&self, month: &Month) -> DateView {
        let text = if month.month_only { self.words.month(month.last_day) } else { self.words.day(month.last_day) };
        DateView { iso: month.last_day.to_string(), text, about: false }
    }

    /// Whole days from the day of the reckoning.
    #[must_use]
    pub fn days_to(&self, date: Date) -> i64 {
        self.reckoning.days_to(date)
    }

    /// `in 63 days`, `today`, `12 days ago`.
    #[must_use]
    pub fn days_text(&self, days: i64) -> String {
        match days {
            0 => self.words.text("days.today"),
            1.. => self.words.count("days.in", days),
            _ => self.words.count("days.ago", days.saturating_neg()),
        }
    }

    /// Link to a guide.
    #[must_use]
    pub fn guide(&self, guide: &Guide, root: &str) -> Link {
        Link { text: guide.title.clone(), href: guide_href(guide, root) }
    }

    /// Link to a guide that asks for something, with a mark where nobody has checked it for this boat.
    #[must_use]
    pub fn asking(&self, guide: &Guide, root: &str) -> Link {
        let mut link = self.guide(guide, root);
        if guide.unchecked().is_some() {
            in_parentheses(&mut link.text, &self.words.text("received.mark"));
        }
        link
    }

    /// Link to a guide by its id or a former one.
    #[must_use]
    pub fn guide_by_id(&self, id: &str, root: &str) -> Option<Link> {
        self.book.guide_or_former(id).map(|guide| self.guide(guide, root))
    }

    /// Link to an entry.
    #[must_use]
    pub fn entry(&self, entry: &Entry, root: &str) -> Link {
        Link { text: self.entry_title(entry), href: self.entry_href(entry, root) }
    }

    /// Where an entry stands.
    #[must_use]
    pub fn entry_href(&self, entry: &Entry, root: &str) -> String {
        self.map.entry(&entry.id).map(|href| [root, href].concat()).unwrap_or_default()
    }

    /// Titles of the jobs and the work of an entry, or that it is a note.
    #[must_use]
    pub fn entry_title(&self, entry: &Entry) -> String {
        // Each job once, with the gear it was done on.
        let mut jobs: Vec<(&str, Vec<&str>)> = Vec::with_capacity(entry.jobs.len());
        for job in &entry.jobs {
            let title = self.book.guide_or_former(&job.guide).map_or(job.guide.as_str(), |guide| guide.title.as_str());
            let gear = job.gear.as_ref().map(|id| self.book.boat.gear(id).map_or(id.as_str(), |gear| gear.title.as_str()));
            match jobs.iter_mut().find(|(known, _)| *known == title) {
                Some((_, all)) => all.extend(gear),
                None => jobs.push((title, gear.into_iter().collect())),
            }
        }
        let count = jobs.len() + entry.work.len();
        let shown = match count {
            0 => return self.note_title(entry),
            1..=3 => count,
            _ => 2,
        };
        let mut text = String::new();
        for (at, (title, gear)) in jobs.iter().take(shown).enumerate() {
            separate(&mut text, at);
            text.push_str(title);
            match gear.as_slice() {
                [] => {}
                [one] => in_parentheses(&mut text, one),
                many => in_parentheses(&mut text, &self.words.count("entry.pieces", i64::try_from(many.len()).unwrap_or(i64::MAX))),
            }
        }
        for (at, work) in entry.work.iter().take(shown.saturating_sub(jobs.len())).enumerate() {
            separate(&mut text, jobs.len() + at);
            text.push_str(work);
        }
        if shown < count {
            text.push(' ');
            text.push_str(&self.words.count("entry.and-more", i64::try_from(count - shown).unwrap_or(i64::MAX)));
        }
        text
    }

    /// A plain note is called by the name of its file, without the date.
    fn note_title(&self, entry: &Entry) -> String {
        let stem = entry.id.trim_start_matches(|c: char| c.is_ascii_digit() || c == '-');
        let words = stem.replace(['-', '_'], " ");
        let mut characters = words.chars();
        match characters.next() {
            Some(first) => first.to_uppercase().chain(characters).collect(),
            None => self.words.text("entry.note"),
        }
    }

    /// Link to a job of an entry, with the gear where it names one.
    #[must_use]
    pub fn job(&self, job: &JobRef, root: &str) -> Option<Link> {
        let guide = self.book.guide_or_former(&job.guide)?;
        Some(Link { text: self.job_title(job, guide), href: guide_href(guide, root) })
    }

    /// The title of a job of an entry, which `guide` is the guide of, with the gear where it names one.
    #[must_use]
    pub fn job_title(&self, job: &JobRef, guide: &Guide) -> String {
        let mut title = guide.title.clone();
        if let Some(id) = &job.gear {
            in_parentheses(&mut title, self.book.boat.gear(id).map_or(id.as_str(), |gear| gear.title.as_str()));
        }
        title
    }

    /// A stretch of the calendar in words, as it was written: `18 months`, `2 years`, `1 year 6 months`.
    #[must_use]
    pub fn span(&self, span: &CalendarSpan) -> String {
        let keys = ["spans.years", "spans.months", "spans.weeks", "spans.days"];
        let written = span.written().into_iter().zip(keys).filter(|(count, _)| *count > 0);
        written.map(|(count, key)| self.words.count(key, i64::from(count))).collect::<Vec<_>>().join(" ")
    }

    /// Link to a system; one that `boat.yaml` does not know has no page.
    #[must_use]
    pub fn system(&self, id: &str, root: &str) -> Link {
        let text = self.book.boat.system(id).map_or_else(|| id.to_owned(), |system| system.title.clone());
        let href = [root, self.map.system(id).unwrap_or("guides.html")].concat();
        Link { text, href }
    }

    /// Link to a piece of gear.
    #[must_use]
    pub fn gear(&self, id: &str, root: &str) -> Link {
        let text = self.book.boat.gear(id).map_or_else(|| id.to_owned(), |gear| gear.title.clone());
        Link { text, href: self.map.gear(root, id) }
    }

    /// Link to an occasion.
    #[must_use]
    pub fn occasion(&self, id: &str, root: &str) -> Link {
        Link { text: self.occasion_title(id), href: [root, "occasions.html#", id].concat() }
    }

    /// Title of an occasion: the boat's own, else the word for one that ships.
    #[must_use]
    pub fn occasion_title(&self, id: &str) -> String {
        super::guide_body::occasion_title(self.book, id, self.words)
    }

    /// Title of a meter; the calendar has a word of its own.
    #[must_use]
    pub fn counted_by(&self, by: &str) -> String {
        match by {
            "calendar" => self.words.text("rules.calendar"),
            meter => self.book.boat.meter(meter).map_or_else(|| meter.to_owned(), |meter| meter.title.clone()),
        }
    }

    /// An amount that is perhaps only known about: `about 3200 nmi`.
    #[must_use]
    pub fn perhaps_about(&self, amount: String, about: bool) -> String {
        if about { self.words.say("date.about", &[("date", &amount)]) } else { amount }
    }

    /// `1840.5 h`, with at most one decimal.
    #[must_use]
    pub fn metered(&self, value: &Exact, unit: Unit) -> String {
        format!("{} {}", plain_decimal(value, 1), unit.symbol())
    }

    /// Meters as an entry gives them: `Engine hours 1840.5 h`.
    #[must_use]
    pub fn meters_of(&self, entry: &Entry) -> Vec<String> {
        entry
            .meters
            .iter()
            .filter_map(|value| {
                let meter = self.book.boat.meter(&value.meter.value)?;
                let amount = format!("{} {}", value.value.written(), meter.unit.symbol());
                Some(format!("{} {}", meter.title, self.perhaps_about(amount, value.about)))
            })
            .collect()
    }
}

fn guide_href(guide: &Guide, root: &str) -> String {
    [root, "guides/", &guide.id, ".html"].concat()
}

/// Parts the title at a place from the one before it.
fn separate(text: &mut String, at: usize) {
    if at > 0 {
        text.push_str("; ");
    }
}

/// Puts words in parentheses behind a text.
fn in_parentheses(text: &mut String, words: &str) {
    text.push_str(" (");
    text.push_str(words);
    text.push(')');
}

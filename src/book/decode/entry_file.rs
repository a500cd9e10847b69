//! A whole entry: front matter, private passages, and what its notes point at.

use std::ops::Range;

use super::above::{Told, decoded};
use super::entry::decode;
use super::private_marks::near_misses;
use crate::book::date::parse_day;
use crate::book::diagnostic::Notes;
use crate::book::front_matter;
use crate::book::id::check_id;
use crate::book::markdown;
use crate::book::model::{Entry, EntryFacts, When};
use crate::book::private::marks;
use crate::book::source::Span;
use crate::book::{lost_text, nmea, node, private, targets};

/// Reads the entry `log/<year>/<id>.md` of these notes; `None` where its front matter cannot be
/// used. The body is checked all the same.
pub fn read(notes: &mut Notes<'_>) -> Option<Entry> {
    read_as_far_as_possible(notes).whole()
}

/// As [`read`]; of an entry whose front matter has a syntax error, what stands above that.
pub fn read_as_far_as_possible(notes: &mut Notes<'_>) -> Told<Entry> {
    let path = notes.source().path();
    let file = path.rsplit('/').next().unwrap_or(path);
    let id = file.rsplit_once('.').map_or(file, |(stem, _)| stem).to_owned();
    if let Err(error) = check_id(&id) {
        let message = format!("the name of this file cannot be an id: {error}");
        notes.error("bad-id", Span::new(0, 0), message, format!("give the file another name; {}", error.remedy));
    }
    let Some(parts) = front_matter::split(notes) else { return Told::Whole(None) };
    let front_matter = node::read_as_far_as_possible(notes, parts.yaml);
    let entry = decoded(notes, &front_matter, |notes, node| decode(notes, node, &id, parts.body));
    if let Told::Whole(Some((facts, _))) = &entry {
        name_and_date(notes, facts);
    }
    let private_passages = private::passages(notes, parts.body);
    near_misses(notes, parts.body);
    let (mut pictures, mut links) = (Vec::new(), Vec::new());
    let source = notes.source();
    let finish = |notes: &Notes<'_>, pictures, links| {
        let is_apart = notes.is_apart();
        entry.map(|(facts, kept)| Entry::new(source.clone(), EntryFacts { private_passages, pictures, links, ..facts }, kept, is_apart))
    };
    if targets::is_bare(source.slice(parts.body)) && !source.slice(parts.body).contains('|') {
        return finish(notes, pictures, links);
    }
    let (text, kept) = without_marks(source.slice(parts.body), parts.body.start as usize);
    let whole = Span::new(0, text.len());
    let events = markdown::parse(&text, whole);
    lost_text::check(notes, &text, whole, &events, |range| in_file(&kept, range));
    let events: Vec<markdown::Placed<'_>> = events.into_iter().map(|(event, range)| (event, in_file(&kept, range))).collect();
    targets::points_at(notes, &events, &mut pictures, &mut links);
    nmea::check_blocks(notes, &events);
    finish(notes, pictures, links)
}

/// The day in the name of the file and the day in the front matter should be one: people look for an
/// entry by the first, and the reckoning goes by the second.
fn name_and_date(notes: &mut Notes<'_>, entry: &EntryFacts) {
    let Some(named) = entry.id.get(..10).and_then(|day| parse_day(day).ok()) else { return };
    let (days, about) = match &entry.when {
        When::On(day) | When::Open { started: day } => (vec![day.date], day.about),
        When::Finished { started, done } => (vec![started.date, done.date], started.about || done.about),
    };
    // Of a day that cannot be read enough has been said.
    let told =
        notes.found.iter().any(|problem| matches!(problem.rule, "no-date" | "bad-date" | "done-before-started" | "date-and-started"));
    if !about && !told && !days.contains(&named) {
        notes.warning(
            "name-and-date",
            entry.when_span,
            format!("the name of this file says {named}, and this says {}", entry.when.day().date),
            "correct the one that is mistyped: the reckoning goes by what is written here",
        );
    }
}

/// A stretch of the text without marks, and where it stands in the file.
struct Kept {
    start: usize,
    in_file: usize,
}

/// The body without the marks of its private passages, as the crew's pages render it: a line that
/// begins with a mark would else be HTML to Markdown, pictures and all.
fn without_marks(body: &str, base: usize) -> (String, Vec<Kept>) {
    let mut text = String::with_capacity(body.len());
    let mut kept = Vec::new();
    let mut at = 0;
    for mark in marks(body).into_iter().chain(std::iter::once(body.len()..body.len())) {
        kept.push(Kept { start: text.len(), in_file: base + at });
        text.push_str(body.get(at..mark.start).unwrap_or_default());
        at = mark.end;
    }
    (text, kept)
}

fn in_file(kept: &[Kept], range: Range<usize>) -> Range<usize> {
    let place = |at: usize| {
        let index = kept.partition_point(|stretch| stretch.start <= at).saturating_sub(1);
        kept.get(index).map_or(at, |stretch| stretch.in_file + (at - stretch.start))
    };
    // The end belongs to the last byte, not to what follows a mark.
    let end = if range.is_empty() { place(range.start) } else { place(range.end - 1) + 1 };
    place(range.start)..end
}

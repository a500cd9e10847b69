//! What a shared file holds and what would be done with it, in words. Every word of the file is shown with
//! what is not seen in it by its number.

use crate::share::hold::Held;
use crate::share::receive::plan::{Fate, Receipt, RecordFate, Taken};
use crate::share::receive::{Kind, List, Unsettled, shown};
use std::io::{self, Write};

/// Most lines of what asks for no second look.
const MOST: usize = 60;

pub fn show(err: &mut dyn Write, held: &Held, receipt: &Receipt, open: &[Unsettled]) -> io::Result<()> {
    let kind = held.from.kind.as_ref().map_or_else(String::new, |kind| format!(" ({})", shown(kind)));
    writeln!(err, "from {}{kind}, made with {}", shown(&held.from.boat), shown(&held.made))?;
    let licence = held.licence.as_deref().map_or_else(|| "not said; ask before you pass it on".to_owned(), shown);
    writeln!(err, "licence of guides that name none: {licence}")?;
    list(err, "to be taken", &receipt.guides, taken)?;
    list(err, "refused", &receipt.refused, |err, one| {
        writeln!(err, "  {}:", shown(&one.what))?;
        one.why.iter().try_for_each(|why| writeln!(err, "    {}", shown(why)))
    })?;
    let (plain, other): (Vec<&RecordFate>, Vec<_>) = receipt.records.iter().partition(|one| one.fate.is_plain(&one.id));
    list(err, "stores, tools and hazards to look at", &other, |err, one| record(err, one))?;
    list(err, "not known here", open, |err, one| {
        let (name, word) = (format!("{} ({})", shown(&one.title), shown(&one.id)), one.kind.word());
        let what = match one.kind {
            Kind::System => "kept as a system of its own",
            Kind::Meter | Kind::Item => "intervals by it are passed over",
        };
        writeln!(err, "  the {word} {name}: {what}; `--{word} {}=YOURS` says which of yours it is", shown(&one.id))
    })?;
    some(err, "stores, tools and hazards to be added", &plain, |err, one| writeln!(err, "  {}", name(one)))?;
    some(err, "in the book already", &receipt.already, |err, (id, path)| writeln!(err, "  {} is {}", shown(id), shown(path)))?;
    some(err, "passed over, or to be looked at", &receipt.warnings, |err, one| {
        writeln!(err, "  {}:{}: {}", shown(&one.place.file), one.place.line, shown(&one.message))
    })
}

fn name(one: &RecordFate) -> String {
    format!("{} ({}, {})", shown(&one.title), shown(&one.id), one.list.file())
}

/// What becomes of a record that does not simply come in.
fn record(err: &mut dyn Write, one: &RecordFate) -> io::Result<()> {
    let name = name(one);
    match &one.fate {
        Fate::Added(id) => writeln!(err, "  {name}: added as {id}"),
        Fate::Beside { ours, id } if one.list == List::Cautions => {
            writeln!(err, "  {name}: yours of that id, `{}`, says something else, so hers is added as {id}", shown(ours))
        }
        Fate::Beside { ours, id } => {
            let (ours, own) = (shown(ours), shown(&one.id));
            writeln!(err, "  {name}: yours of that id is another thing, `{ours}`, so hers is added as {id};")?;
            writeln!(err, "    `--item {own}={own}` says that they are the same")
        }
        Fate::Ours(title) => writeln!(err, "  {name}: you have one of that id, `{}`; see that it is the same", shown(title)),
        Fate::Mapped(id) => writeln!(err, "  {name}: is your {id}"),
        Fate::Words { why, line } => writeln!(err, "  {name}: not added, {why}; the line to add is\n    {}", shown(line)),
    }
}

/// A list under its heading; nothing where it is empty.
fn list<T>(err: &mut dyn Write, heading: &str, items: &[T], line: impl Fn(&mut dyn Write, &T) -> io::Result<()>) -> io::Result<()> {
    if items.is_empty() {
        return Ok(());
    }
    writeln!(err, "\n{heading}:")?;
    items.iter().try_for_each(|item| line(err, item))
}

/// The first of a list, and how many more there are.
fn some<T>(err: &mut dyn Write, heading: &str, items: &[T], line: impl Fn(&mut dyn Write, &T) -> io::Result<()>) -> io::Result<()> {
    list(err, heading, &items[..items.len().min(MOST)], line)?;
    if items.len() > MOST { writeln!(err, "  … and {} more", items.len() - MOST) } else { Ok(()) }
}

fn taken(err: &mut dyn Write, one: &Taken) -> io::Result<()> {
    let hazards = if one.hazards.is_empty() {
        "no hazards listed".to_owned()
    } else {
        one.hazards.iter().map(|id| shown(id)).collect::<Vec<_>>().join(", ")
    };
    writeln!(err, "  {} (guides/{}/{}.md)", shown(&one.title), one.system, one.id)?;
    writeln!(
        err,
        "    {} in {}, {}, {}; {hazards}",
        count(one.steps, "step"),
        count(one.stages, "stage"),
        count(one.figures, "figure"),
        count(one.pictures, "picture")
    )?;
    if let Some(licence) = &one.licence {
        writeln!(err, "    licence: {}", shown(licence))?;
    }
    match &one.revises {
        Some((ours, lines)) => {
            writeln!(err, "    another revision of {ours}, which stays as it is; `-` is yours, `+` is hers:")?;
            lines.iter().try_for_each(|line| writeln!(err, "      {line}"))
        }
        None if one.id != one.theirs => writeln!(err, "    the id {} is taken here, so it is called {}", one.theirs, one.id),
        None => Ok(()),
    }
}

fn count(number: usize, word: &str) -> String {
    if number == 1 { format!("1 {word}") } else { format!("{number} {word}s") }
}

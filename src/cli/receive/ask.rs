//! Questions of `receive`: what a name of the other boat is called here, and whether to take it all.

use crate::book::model::Book;
use crate::cli::outcome::Exit;
use crate::share::hold::Held;
use crate::share::receive::{Kind, Maps, shown, unsettled};
use inquire::{Confirm, InquireError, Select};
use std::fmt;
use std::io::{self, Write};

/// Lines of a list that are shown at once.
const PAGE: usize = 8;

/// A name of ours, or none.
struct Choice {
    ours: Option<String>,
    label: String,
}

impl fmt::Display for Choice {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.label)
    }
}

/// Asks for every system and meter that this book does not have.
pub fn names(held: &Held, book: &Book, maps: &mut Maps, err: &mut dyn Write) -> Result<(), InquireError> {
    for one in unsettled(held, book, maps) {
        let (kind, word) = (one.kind, one.kind.word());
        let as_it_is = match kind {
            Kind::System => "none: keep it as a system of its own",
            Kind::Meter | Kind::Item => "none: pass over the intervals that count by it",
        };
        let ours =
            kind.ours(book).into_iter().map(|(id, title)| Choice { ours: Some(id.to_owned()), label: format!("{} ({id})", shown(title)) });
        let choices: Vec<Choice> = std::iter::once(Choice { ours: None, label: as_it_is.to_owned() }).chain(ours).collect();
        let message = format!("Which {word} here is her {} ({})?", shown(&one.title), shown(&one.id));
        if let Some(ours) = Select::new(&message, choices).with_page_size(PAGE).prompt()?.ours
            && let Err(wrong) = maps.add(held, book, kind, &one.id, &ours)
        {
            writeln!(err, "  {}", wrong.message)?;
        }
    }
    Ok(())
}

/// Whether to take what was shown.
pub fn agreed() -> Result<bool, InquireError> {
    Confirm::new("Take this into the book?").with_default(false).prompt()
}

/// For a question broken off, in plain words.
pub fn told(stop: InquireError, err: &mut dyn Write) -> io::Result<Exit> {
    match stop {
        InquireError::OperationCanceled | InquireError::OperationInterrupted => writeln!(err, "broken off: nothing was written")?,
        other => writeln!(err, "error: cannot ask on this terminal: {other}\nhelp: say `--yes`; nothing was written")?,
    }
    Ok(Exit::Problems)
}

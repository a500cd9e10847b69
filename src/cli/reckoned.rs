//! What the commands that only read have in common: the reckoning with all that was found, errors told,
//! and names of the command line looked up.

use super::args::BookArgs;
use super::outcome::Exit;
use super::{progress, report, today};
use crate::book::diagnostic::{Diagnostic, Severity, any_error, offer, tidy};
use crate::book::id::id_of;
use crate::book::load::{Loaded, NoBook, load};
use crate::book::model::{Book, Guide, OCCASIONS, Passage};
use crate::reckon::{Reckoning, reckon};
use std::io::{self, Write};
use std::mem::ManuallyDrop;
use std::time::Instant;

/// Reads the book; on a terminal with a line that says so where it takes over a second, wiped when this returns.
///
/// The book is never freed: the process ends with the command, and to give back a large book piece by piece takes a
/// tenth of its time.
///
/// # Errors
/// There is no book in the folder.
pub fn read(args: &BookArgs) -> Result<ManuallyDrop<Loaded>, NoBook> {
    let _line = progress::line(Instant::now(), "reading the book");
    load(&args.book).map(ManuallyDrop::new)
}

/// Reckons a loaded book; with it all problems, in the order they are told.
pub fn reckoned<'l>(args: &BookArgs, loaded: &'l Loaded) -> (Reckoning<'l>, Vec<Diagnostic>) {
    let (reckoning, found) = reckon(&loaded.book, args.on.unwrap_or_else(today));
    let mut problems = loaded.problems.clone();
    problems.extend(found);
    tidy(&mut problems);
    (reckoning, problems)
}

/// How a command ends that did its work all the same.
pub fn exit_of(problems: &[Diagnostic]) -> Exit {
    if any_error(problems) { Exit::Problems } else { Exit::Fine }
}

/// Draws the errors and counts all else: a list may lack what could not be read.
///
/// # Errors
/// The stream is closed.
pub fn tell_errors(err: &mut dyn Write, args: &BookArgs, problems: &[Diagnostic]) -> io::Result<Exit> {
    if !problems.is_empty() {
        let errors: Vec<Diagnostic> = problems.iter().filter(|problem| problem.severity == Severity::Error).cloned().collect();
        report::problems(err, &args.book, &errors, true)?;
        writeln!(err, "{} in the book: `garboard survey` says what and where", report::summary(problems))?;
    }
    Ok(exit_of(problems))
}

/// Something of the command line that the book does not know, or that makes no sense with it.
pub struct Slip {
    pub message: String,
    pub remedy: String,
}

impl Slip {
    /// Says it, and how the command ends: a name that the book may know, were it whole, is no slip of
    /// the command line.
    ///
    /// # Errors
    /// The stream is closed.
    pub fn told(&self, err: &mut dyn Write, book: Exit) -> io::Result<Exit> {
        writeln!(err, "error: {}\nhelp: {}", report::printable(&self.message), report::printable(&self.remedy))?;
        Ok(if book == Exit::Problems { book } else { Exit::WrongCommandLine })
    }
}

/// Ids of the guides with these words in their id or title.
pub fn guides_with<'b>(book: &'b Book, words: &str) -> impl Iterator<Item = &'b str> {
    let words = id_of(words);
    let has = move |guide: &&Guide| !words.is_empty() && (guide.id.contains(&words) || id_of(&guide.title).contains(&words));
    book.guides.iter().filter(has).map(|guide| guide.id.as_str())
}

/// The passage of an id.
pub fn passage<'b>(book: &'b Book, id: &str) -> Result<&'b Passage, Slip> {
    book.passages.iter().find(|passage| passage.id.value == id).ok_or_else(|| Slip {
        message: format!("there is no passage `{id}` in the book"),
        remedy: offer(id, book.passages.iter().map(|passage| passage.id.value.as_str()), "write the `id` of a passage of `passages.yaml`"),
    })
}

/// The occasion of an id: one that ships, or one of the boat.
pub fn occasion<'b>(book: &'b Book, id: &str) -> Result<&'b str, Slip> {
    let known = OCCASIONS.into_iter().chain(book.boat.occasions.iter().map(|occasion| occasion.id.value.as_str()));
    known.clone().find(|known| *known == id).ok_or_else(|| Slip {
        message: format!("there is no occasion `{id}`"),
        remedy: offer(id, known, "write the `id` of an occasion that ships or that `boat.yaml` adds"),
    })
}

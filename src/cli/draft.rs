//! `garboard draft`: a new guide from a skeleton, or from another guide.

use super::args::DraftArgs;
use super::outcome::Exit;
use super::reckoned::{Slip, exit_of};
use super::{report, today};
use crate::begin;
use crate::book::diagnostic::{Diagnostic, Severity, offer};
use crate::book::id::{id_of, looks_like_id};
use crate::book::load::{Loaded, load};
use crate::book::model::Book;
use crate::disk::{link_among, put};
use crate::draft::{NoDraft, Wish, draft, id_for};
use std::io::{self, Write};

pub fn run(args: &DraftArgs, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Exit> {
    let folder = &args.book.book;
    // What is wrong with the title itself needs no book to say so.
    if let Err(problem) = id_for(&args.title) {
        return told(err, &problem, Exit::WrongCommandLine);
    }
    let turn = put::turn(folder);
    let loaded = match load(folder) {
        Ok(loaded) => loaded,
        Err(error) => return super::no_book(err, &error),
    };
    let book_exit = exit_of(&loaded.problems);
    let named = system(&loaded.book, &args.system).and_then(|system| Ok((system, from(&loaded.book, args.from.as_deref())?)));
    let (system, from) = match named {
        Ok(named) => named,
        Err(slip) => {
            if let Some(cause) = cause(&loaded, args) {
                report::problems(err, folder, &[cause], true)?;
                writeln!(err, "nothing was written: mend this first")?;
                return Ok(Exit::Problems);
            }
            let exit = slip.told(err, book_exit)?;
            if book_exit == Exit::Problems {
                writeln!(err, "the book has errors: `garboard survey` says what and where")?;
            }
            return Ok(exit);
        }
    };
    let schema = begin::schema_file("guide");
    let schema = begin::lay::has_schema(folder, &schema).then_some(schema.as_str());
    let wish = Wish { title: &args.title, system, from, on: args.book.on.unwrap_or_else(today), schema };
    let draft = match draft(&loaded, wish) {
        Ok(draft) => draft,
        Err(problem) => return told(err, &problem, Exit::Problems),
    };
    let guides = folder.join("guides");
    let place = guides.join(system);
    if let Some(link) = link_among([&guides, &place]) {
        writeln!(err, "error: {link}")?;
        writeln!(err, "help: put the folder itself into the book, then draft it again; nothing was written")?;
        return Ok(Exit::Problems);
    }
    let put = put::put(&place, [format!("{}.md", draft.id)], draft.text.as_bytes());
    drop(turn);
    match put {
        Ok(put) => {
            writeln!(out, "drafted {}", put.path.display())?;
            if book_exit == Exit::Problems {
                writeln!(err, "the book has errors elsewhere: `garboard survey` says what and where")?;
            }
            Ok(Exit::Fine)
        }
        Err(error) => told(err, &NoDraft { message: error.message, remedy: error.remedy.to_owned() }, Exit::Problems),
    }
}

/// Why a name is not known that stands in a file of which nothing could be used: the first error of that file.
fn cause(loaded: &Loaded, args: &DraftArgs) -> Option<Diagnostic> {
    let is_cause = |path: &str| {
        let is_guide = |typed: &String| path.starts_with("guides/") && path.ends_with(&format!("/{typed}.md"));
        path == "boat.yaml" && system(&loaded.book, &args.system).is_err() || args.from.as_ref().is_some_and(is_guide)
    };
    let broken = loaded.broken.iter().find(|path| is_cause(path))?;
    loaded.problems.iter().find(|problem| problem.severity == Severity::Error && problem.place.file == *broken).cloned()
}

fn told(err: &mut dyn Write, problem: &NoDraft, exit: Exit) -> io::Result<Exit> {
    let (message, remedy) = (report::printable(&problem.message), report::printable(&problem.remedy));
    writeln!(err, "error: {message}\nhelp: {remedy}; nothing was written")?;
    Ok(exit)
}

/// The system of an id, or of a title that says the same. Of a boat that lists none any new folder is one.
fn system<'b>(book: &'b Book, typed: &'b str) -> Result<&'b str, Slip> {
    let systems = &book.boat.systems;
    let by_id = systems.iter().find(|system| system.id.value == typed);
    let found =
        by_id.or_else(|| systems.iter().find(|system| !typed.is_empty() && system.title.to_lowercase() == typed.trim().to_lowercase()));
    let is_sound = !book.faulty.contains("boat.yaml");
    let found = found.map(|system| system.id.value.as_str());
    let found = found.or_else(|| Some(typed).filter(|id| is_sound && !book.boat.lists_systems && looks_like_id(id)));
    let ids = systems.iter().map(|system| system.id.value.as_str());
    // Of `Enginee` the id is nearer to `engine` than the word is.
    let shaped = if id_of(typed).is_empty() { typed.to_owned() } else { id_of(typed) };
    found.ok_or_else(|| Slip {
        message: format!("there is no system `{typed}` in `boat.yaml`"),
        remedy: offer(&shaped, ids, "name one of its `systems`, or add it there as `{id: …, title: …}`"),
    })
}

/// The guide of an id, if one is asked for.
fn from<'b>(book: &'b Book, typed: Option<&str>) -> Result<Option<&'b str>, Slip> {
    let Some(typed) = typed else { return Ok(None) };
    let ids = book.guides.iter().map(|guide| guide.id.as_str());
    match ids.clone().find(|id| *id == typed) {
        Some(id) => Ok(Some(id)),
        None => Err(Slip {
            message: format!("there is no guide `{typed}` in the book"),
            remedy: offer(typed, ids, "write the id of a guide: the name of its file without `.md`"),
        }),
    }
}

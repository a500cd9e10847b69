//! `garboard receive`: guides of another boat, taken into the book.

mod ask;
mod show;

use super::args::ReceiveArgs;
use super::outcome::Exit;
use super::reckoned::exit_of;
use super::{report, today};
use crate::book::load::{Loaded, load};
use crate::disk::{self, put};
use crate::share::hold::Held;
use crate::share::receive::plan::{Receipt, Wish, plan};
use crate::share::receive::{Kind, LARGEST_FILE, Maps, Unreadable, place, read, unsettled};
use std::io::{self, IsTerminal, Read, Write};
use std::path::Path;

/// Files of the book that must be sound before anything is received: names are looked up in them.
const NEEDED: [&str; 4] = ["boat.yaml", "stores.yaml", "tools.yaml", "cautions.yaml"];

pub fn run(args: &ReceiveArgs, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Exit> {
    let held = match bytes_of(&args.file).and_then(|bytes| read(&bytes)) {
        Ok(held) => held,
        Err(problem) => return refused(err, &problem.message, &problem.remedy, Exit::Problems),
    };
    let folder = &args.book.book;
    let loaded = match load(folder) {
        Ok(loaded) => loaded,
        Err(error) => return super::no_book(err, &error),
    };
    if let Some(broken) = NEEDED.iter().find(|file| loaded.broken.contains(**file)) {
        let message = format!("`{broken}` of this book cannot be read, and names of the file are looked up in it");
        return refused(err, &message, "mend it first: `garboard survey` says what is wrong and where", Exit::Problems);
    }
    let mut maps = match maps(args, &held, &loaded) {
        Ok(maps) => maps,
        Err(wrong) => return refused(err, &wrong.message, &wrong.remedy, Exit::WrongCommandLine),
    };
    let asks = !args.yes && !args.dry_run && io::stdin().is_terminal() && io::stderr().is_terminal();
    if asks && let Err(stop) = ask::names(&held, &loaded.book, &mut maps, err) {
        return ask::told(stop, err);
    }
    let on = args.book.on.unwrap_or_else(today);
    let wish = Wish { on, maps: &maps, revise: args.revise };
    let mut loaded = loaded;
    let open = unsettled(&held, &loaded.book, &maps);
    let receipt = plan(&held, &mut loaded, &wish, &place::locked(folder));
    show::show(err, &held, &receipt, &open)?;
    let exit = if receipt.refused.is_empty() { Exit::Fine } else { Exit::Problems };
    if receipt.guides.is_empty() {
        let there = if receipt.refused.is_empty() { "all of it is in the book already; " } else { "" };
        writeln!(err, "{there}nothing was written")?;
        return Ok(exit);
    }
    if args.dry_run {
        writeln!(err, "nothing was written: this was a dry run")?;
        return Ok(exit);
    }
    if asks {
        match ask::agreed() {
            Ok(true) => {}
            Ok(false) => {
                writeln!(err, "nothing was written")?;
                return Ok(Exit::Fine);
            }
            Err(stop) => return ask::told(stop, err),
        }
    } else if !args.yes {
        let message = "nobody can be asked here whether to take this";
        return refused(err, message, "say `--yes` to take what is listed above, or run it on a terminal", Exit::WrongCommandLine);
    }
    take(args, &held, &wish, &receipt, out, err).map(|done| if done { exit } else { Exit::Problems })
}

/// Holds the file against the book once more, for the question may have stood for long, and writes it.
fn take(args: &ReceiveArgs, held: &Held, wish: &Wish<'_>, agreed: &Receipt, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<bool> {
    let folder = &args.book.book;
    let turn = put::turn(folder);
    let mut loaded = match load(folder) {
        Ok(loaded) => loaded,
        Err(error) => return super::no_book(err, &error).map(|_| false),
    };
    let book_exit = exit_of(&loaded.problems);
    let receipt = plan(held, &mut loaded, wish, &place::locked(folder));
    if receipt != *agreed {
        refused(err, "the book was changed in the meantime, and what was shown holds no more", "receive the file again", Exit::Problems)?;
        return Ok(false);
    }
    let placed = place::put_in(folder, &receipt);
    drop(turn);
    match placed {
        Ok(placed) => {
            for path in placed.paths.iter().filter(|path| path.extension().is_some_and(|ending| ending == "md")) {
                writeln!(out, "received {}", shown(path))?;
            }
            for path in &placed.lists {
                writeln!(out, "added to {}", shown(path))?;
            }
            if let Some(error) = placed.not_flushed {
                writeln!(err, "warning: all is written, but it is not certain to survive a power cut: {}", disk::why(&error))?;
                writeln!(err, "help: keep `{}` until then; see that the disk is put away properly", shown(&args.file))?;
            }
            if book_exit == Exit::Problems {
                writeln!(err, "the book has errors elsewhere: `garboard survey` says what and where")?;
            }
            writeln!(
                err,
                "next: hold each guide against this boat and the maker's book, then write that day as its `checked:`, in place of the other boat's date where there is one"
            )?;
            Ok(true)
        }
        Err(nothing) => {
            refused(err, &nothing.error.message, nothing.error.remedy, Exit::Problems)?;
            for path in &nothing.left {
                writeln!(err, "warning: `{}` could not be put back as it was: look at it", shown(path))?;
            }
            Ok(false)
        }
    }
}

fn maps(args: &ReceiveArgs, held: &Held, loaded: &Loaded) -> Result<Maps, crate::share::receive::WrongMap> {
    let mut maps = Maps::default();
    for (kind, pairs) in [(Kind::System, &args.system), (Kind::Meter, &args.meter), (Kind::Item, &args.item)] {
        for (theirs, ours) in pairs {
            maps.add(held, &loaded.book, kind, theirs, ours)?;
        }
    }
    Ok(maps)
}

/// The bytes of the file; no more of it is read than may be.
fn bytes_of(path: &Path) -> Result<Vec<u8>, Unreadable> {
    let no = |error: io::Error| Unreadable {
        message: format!("cannot read `{}`: {}", shown(path), disk::why(&error)),
        remedy: "check that the file is there and that you may read it".to_owned(),
    };
    let file = std::fs::File::open(path).map_err(no)?;
    let mut bytes = Vec::new();
    file.take(LARGEST_FILE + 1).read_to_end(&mut bytes).map_err(no)?;
    Ok(bytes)
}

fn refused(err: &mut dyn Write, message: &str, remedy: &str, exit: Exit) -> io::Result<Exit> {
    writeln!(err, "error: {}\nhelp: {}; nothing was written", report::printable(message), report::printable(remedy))?;
    Ok(exit)
}

fn shown(path: &Path) -> String {
    report::printable(&path.to_string_lossy())
}

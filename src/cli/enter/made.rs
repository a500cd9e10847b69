//! An entry that is made here: by options, and on a terminal by what is asked for.

use super::said::{draft, is_german};
use super::{Candidate, Exit, ask, take, terminal};
use crate::book::diagnostic::any_error;
use crate::book::load::load;
use crate::cli::args::EnterArgs;
use crate::cli::reckoned::{Slip, reckoned, tell_errors};
use crate::cli::{no_book, report};
use std::io::{self, Write};

pub fn run(args: &EnterArgs, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Exit> {
    let options = &args.entry;
    let loaded = match load(&args.book.book) {
        Ok(loaded) => loaded,
        Err(error) => return no_book(err, &error),
    };
    let (reckoning, problems) = reckoned(&args.book, &loaded);
    // Whoever types an entry has the book at hand and can mend it; names may be among what is broken.
    if any_error(&problems) {
        let exit = tell_errors(err, &args.book, &problems)?;
        writeln!(err, "nothing was written: mend the errors first, then enter it again")?;
        return Ok(exit);
    }
    let (mut draft, slips) = draft(options, &loaded.book, reckoning.on);
    if !slips.is_empty() {
        return told(&slips, err);
    }
    let mut told_open = Vec::new();
    let asks = terminal() && !args.yes;
    if asks && options.only_jobs() {
        match ask::ask(&reckoning, &mut draft, is_german(&loaded.book), &args.book.book, err) {
            Ok(told) => told_open = told,
            Err(stop) => return ask::told(stop, err),
        }
    } else if !options.tells_something() {
        return told(&[nothing_said()], err);
    }
    let text = draft.text();
    take(args, &Candidate::made(text, told_open), out, err)
}

fn nothing_said() -> Slip {
    Slip {
        message: "these options say nothing that was done".to_owned(),
        remedy: "name a job (`garboard due --all` lists them), `--work`, or a file with `--from`; on a terminal `garboard enter` alone asks for it"
            .to_owned(),
    }
}

/// All that is wrong with the command line at once.
fn told(slips: &[Slip], err: &mut dyn Write) -> io::Result<Exit> {
    for slip in slips {
        writeln!(err, "error: {}\nhelp: {}", report::printable(&slip.message), report::printable(&slip.remedy))?;
    }
    writeln!(err, "nothing was written")?;
    Ok(Exit::WrongCommandLine)
}

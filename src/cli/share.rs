//! `garboard share`.

use super::args::ShareArgs;
use super::outcome::Exit;
use super::publish::{beside, inside};
use super::{plan, progress, report};
use crate::book::diagnostic::{Diagnostic, Severity, any_error, offer};
use crate::book::load::load;
use crate::book::model::Book;
use crate::share::put::put_share;
use crate::share::{Share, Unpaired, share};
use crate::site::ThemeFiles;
use std::collections::BTreeSet;
use std::io::{self, Write};
use std::path::Path;
use std::time::Instant;

pub fn run(args: &ShareArgs, err: &mut dyn Write) -> io::Result<Exit> {
    let folder = &args.book;
    if inside(&args.to, folder) {
        writeln!(err, "error: a shared file does not belong into the book `{}`", folder.display())?;
        writeln!(err, "help: choose another place with `--to FILE.html`")?;
        return Ok(Exit::Problems);
    }
    let line = progress::line(Instant::now(), "reading the book");
    let loaded = load(folder);
    drop(line);
    let loaded = match loaded {
        Ok(loaded) => loaded,
        Err(error) => return super::no_book(err, &error),
    };
    let errors: Vec<Diagnostic> = loaded.problems.iter().filter(|problem| problem.severity == Severity::Error).cloned().collect();
    report::problems(err, folder, &errors, true)?;
    if any_error(&errors) {
        return nothing_shared(err, &errors);
    }
    let Some(chosen) = chosen(args, &loaded.book, err)? else { return Ok(Exit::WrongCommandLine) };
    if chosen.is_empty() {
        writeln!(err, "error: there is no guide to share\nhelp: `garboard draft` begins one")?;
        return Ok(Exit::Problems);
    }
    let themes = beside(folder, "themes");
    let line = progress::line(Instant::now(), "making the file");
    let shared = ThemeFiles::gather(&args.theme, Some(&themes)).map_err(Into::into);
    let shared = shared.and_then(|files| share(&loaded.book, folder, &chosen, &files));
    drop(line);
    let shared = match shared {
        Ok(shared) => shared,
        Err(error) => {
            writeln!(
                err,
                "error: {}\nhelp: {}; nothing was written",
                report::printable(&error.to_string()),
                report::printable(&error.remedy())
            )?;
            return Ok(Exit::Problems);
        }
    };
    // A picture that the disk does not give: without it the guide would look whole.
    if any_error(&shared.problems) {
        report::problems(err, folder, &shared.problems, true)?;
        return nothing_shared(err, &shared.problems);
    }
    if let Err(error) = put_share(&args.to, &shared.html, args.replace) {
        writeln!(err, "error: {}\nhelp: {}; nothing was written", report::printable(&error.message), error.remedy)?;
        return Ok(Exit::Problems);
    }
    report::problems(err, folder, &shared.problems, true)?;
    tell(err, &args.to, &shared)?;
    Ok(Exit::Fine)
}

fn nothing_shared(err: &mut dyn Write, problems: &[Diagnostic]) -> io::Result<Exit> {
    writeln!(err, "{}: nothing was shared\nhelp: mend the errors first: another boat cannot ask you", report::summary(problems))?;
    Ok(Exit::Problems)
}

/// Ids of the guides that are asked for. `None`: some are not known, which has been said.
fn chosen<'b>(args: &ShareArgs, book: &'b Book, err: &mut dyn Write) -> io::Result<Option<BTreeSet<&'b str>>> {
    if let Some(system) = &args.system {
        let of_system: BTreeSet<&str> = book.guides.iter().filter(|guide| guide.system == *system).map(|guide| guide.id.as_str()).collect();
        if !of_system.is_empty() {
            return Ok(Some(of_system));
        }
        let ids = book.guides.iter().map(|guide| guide.system.as_str()).collect::<BTreeSet<_>>();
        let remedy = offer(system, ids.iter().copied(), "write the name of a folder under `guides`");
        writeln!(err, "error: there is no guide in the system `{}`\nhelp: {}", report::printable(system), report::printable(&remedy))?;
        return Ok(None);
    }
    if args.all {
        return Ok(Some(book.guides.iter().map(|guide| guide.id.as_str()).collect()));
    }
    let mut chosen = BTreeSet::new();
    let mut all_known = true;
    for typed in &args.guides {
        match book.guide_or_former(typed) {
            Some(guide) => drop(chosen.insert(guide.id.as_str())),
            None => {
                plan::unknown(book, typed).told(err, Exit::Fine)?;
                all_known = false;
            }
        }
    }
    Ok(all_known.then_some(chosen))
}

fn tell(err: &mut dyn Write, to: &Path, shared: &Share) -> io::Result<()> {
    let size = shared.html.len().div_ceil(1000);
    match shared.guides.as_slice() {
        [(_, title)] => writeln!(err, "shared `{}` in {} ({size} kB)", report::printable(title), to.display())?,
        all => writeln!(err, "shared {} guides in {} ({size} kB)", all.len(), to.display())?,
    }
    writeln!(err, "left out: the log, stock, prices and places")?;
    if shared.kept_back > 0 {
        let keys = if shared.kept_back == 1 { "key that is" } else { "keys that are" };
        writeln!(err, "left out: {} {keys} private by `boat.yaml`", shared.kept_back)?;
    }
    let mut named = |what: &str, names: &BTreeSet<String>| match names.len() {
        0 => Ok(()),
        _ => writeln!(err, "{what}: {}", names.iter().map(|name| report::printable(name)).collect::<Vec<_>>().join(", ")),
    };
    named("not in the file, though its guides lead there", &shared.elsewhere)?;
    named("not in the file, for only pictures are carried", &shared.files)?;
    named("to be read in it and not to be received from it, for a name in them means another thing elsewhere in it", &shared.apart)?;
    if !shared.apart.is_empty() {
        writeln!(err, "help: share each of these in a file of its own")?;
    }
    shared.unpaired.iter().try_for_each(|one| tell_unpaired(err, one))?;
    if shared.no_pictures {
        writeln!(err, "left out: the pictures that `garboard receive` would take in, for they are too large")?;
    }
    let is_page = to.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("html") || ending.eq_ignore_ascii_case("htm"));
    if !is_page {
        writeln!(err, "note: phones open it only where its name ends in `.html`")?;
    }
    Ok(())
}

/// An isolation is told where its other half stays behind: what is shut there must be opened by somebody.
fn tell_unpaired(err: &mut dyn Write, one: &Unpaired) -> io::Result<()> {
    let quoted = |name: &String| format!("`{}`", report::printable(name));
    let (guide, what) = (quoted(&one.guide), quoted(&one.what));
    let partners: Vec<String> = one.partners.iter().map(quoted).collect();
    let (partners, either) = (partners.join(" or "), if partners.len() > 1 { "one of them" } else { "it" });
    if one.restored {
        writeln!(err, "warning: {guide} restores {what}, which {partners} isolates, and the file does not hold {either}")?;
        writeln!(err, "help: share {partners} along with {guide}: without {either} `garboard receive` refuses {guide}")
    } else {
        writeln!(err, "warning: {guide} leaves {what} isolated, which {partners} restores, and the file does not hold {either}")?;
        writeln!(err, "help: share {partners} along with {guide}, so that whoever shuts it is told to open it again")
    }
}

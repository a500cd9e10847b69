//! `garboard begin`: a new book.

use super::args::BeginArgs;
use super::outcome::Exit;
use super::{report, today};
use crate::begin::{files, lay, schemas};
use std::io::{self, Write};
use std::path::Path;

pub fn run(args: &BeginArgs, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Exit> {
    let schemas = schemas();
    let files = files(args.on.unwrap_or_else(today), &schemas);
    let book = match lay::lay(&args.folder, &files) {
        Ok(book) => book,
        Err(error) => {
            writeln!(err, "error: {}\nhelp: {}", report::printable(&error.message), report::printable(&error.remedy))?;
            return Ok(Exit::Problems);
        }
    };
    writeln!(out, "begun {}", shown(&book))?;
    for problem in lay::lay_schemas(&args.folder, &schemas) {
        writeln!(err, "warning: the book is whole, but an editor will lack a schema: {}", report::printable(&problem))?;
    }
    let place = typed(&book);
    writeln!(
        err,
        "next: write your boat into `{}`, and take the example entry out of `{}`: nothing was done",
        shown(&book.join("boat.yaml")),
        shown(&book.join("log"))
    )?;
    writeln!(err, "      draft a guide of your own: garboard draft \"Check the bilge pumps\" --system plumbing --book {place}")?;
    writeln!(err, "      publish: garboard publish --book {place}; then open `{}`", shown(&args.folder.join("site").join("index.html")))?;
    Ok(Exit::Fine)
}

fn shown(path: &Path) -> String {
    report::printable(&path.to_string_lossy())
}

/// A path as it is typed into a shell.
fn typed(path: &Path) -> String {
    let path = shown(path);
    let plain = |letter: char| letter.is_alphanumeric() || "/\\.-_:~".contains(letter);
    if path.chars().all(plain) && !path.starts_with('-') {
        path
    } else if cfg!(windows) {
        format!("\"{path}\"")
    } else {
        format!("'{}'", path.replace('\'', "'\\''"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[cfg(unix)]
    #[test]
    fn a_path_can_be_typed_into_a_shell() {
        // The quoting of POSIX.1, Shell Command Language, 2.2.2.
        for (path, expected) in
            [("a/content", "a/content"), ("my boat/content", "'my boat/content'"), ("it's/content", "'it'\\''s/content'")]
        {
            assert_eq!(typed(Path::new(path)), expected);
        }
    }
}

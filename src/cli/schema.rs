//! `garboard schema`: JSON Schemas of the files of a book.

use super::args::SchemaArgs;
use super::outcome::Exit;
use crate::schema;
use std::io::{self, Write};
use std::path::Path;

pub fn run(args: &SchemaArgs, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Exit> {
    match (&args.file, &args.to) {
        (Some(file), _) => write!(out, "{}", schema::text(file).unwrap_or_default())?,
        (None, Some(folder)) => return write_all(folder, out, err),
        (None, None) => {
            for file in schema::FILES {
                writeln!(out, "{file}")?;
            }
        }
    }
    Ok(Exit::Fine)
}

fn write_all(folder: &Path, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Exit> {
    let files = schema::files();
    let written =
        std::fs::create_dir_all(folder).and_then(|()| files.iter().try_for_each(|(name, text)| std::fs::write(folder.join(name), text)));
    if let Err(error) = written {
        writeln!(err, "error: cannot write into `{}`: {}", folder.display(), crate::disk::why(&error))?;
        writeln!(err, "help: choose a folder that you may write to, with `--to DIR`")?;
        return Ok(Exit::Problems);
    }
    writeln!(out, "{} schemas written into {}", files.len(), folder.display())?;
    Ok(Exit::Fine)
}

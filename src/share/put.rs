//! Writes a shared file: whole or not at all, and never over a file of another kind.

#![expect(clippy::disallowed_methods, reason = "writes the shared file")]

use super::hold::BLOCK_ID;
use crate::disk::put::{PutError, flush, put, refused, staged};
use std::fs::{self, File};
use std::io::Read;
use std::path::{Path, PathBuf};

/// Largest file that is looked at to see what it is, in bytes: more than any that is written here.
const LARGEST: u64 = 200_000_000;

/// Writes `html` to `path`; the folder is made where there is none. With `replace`, an earlier shared file that stands
/// there gives way; nothing else ever does.
///
/// # Errors
/// Something stands there, or the disk refuses.
pub fn put_share(path: &Path, html: &str, replace: bool) -> Result<(), PutError> {
    let (folder, name) = parts(path)?;
    if path.symlink_metadata().is_err() {
        return match put(&folder, [name], html.as_bytes()) {
            Ok(_) => Ok(()),
            // Somebody was faster.
            Err(_) if path.symlink_metadata().is_ok() => Err(taken(path, replace)),
            Err(error) => Err(error),
        };
    }
    if !replace || !is_share(path) {
        return Err(taken(path, replace));
    }
    let staged = staged(&folder, html.as_bytes()).map_err(|error| refused("write into", &folder, &error))?;
    staged.persist(path).map_err(|error| refused("write", path, &error.error))?;
    // It stands there whole; that its name survives a power cut is all that is left.
    let _ = flush(&[folder]);
    Ok(())
}

fn parts(path: &Path) -> Result<(PathBuf, String), PutError> {
    let name = path.file_name().and_then(|name| name.to_str());
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    name.map(|name| (folder.to_owned(), name.to_owned())).ok_or_else(|| PutError {
        message: format!("`{}` is no name of a file", path.display()),
        remedy: "write a name such as `oil.html`",
    })
}

fn taken(path: &Path, replace: bool) -> PutError {
    let message =
        if path.is_dir() { format!("`{}` is a folder", path.display()) } else { format!("`{}` is there already", path.display()) };
    let remedy = match (is_share(path), replace) {
        (true, false) => "add `--replace` to write it anew, or choose another name with `--to`",
        _ => "choose another name with `--to`: only a file of shared guides is ever replaced",
    };
    PutError { message, remedy }
}

/// Whether a file is one of shared guides.
fn is_share(path: &Path) -> bool {
    let mut bytes = Vec::new();
    let read = File::open(path).and_then(|file| file.take(LARGEST).read_to_end(&mut bytes));
    let block = format!("<script type=\"application/json\" id=\"{BLOCK_ID}\">");
    fs::metadata(path).is_ok_and(|known| known.is_file())
        && read.is_ok()
        && bytes.starts_with(b"<!DOCTYPE html>")
        && bytes.windows(block.len()).any(|window| window == block.as_bytes())
}

//! One name for all that goes into a site.

#![expect(clippy::disallowed_methods, reason = "reads all that goes into a site")]

use super::Request;
use crate::book::diagnostic::Diagnostic;
use crate::book::load::unreadable;
use crate::book::model::Book;
use crate::reckon::Reckoning;
use crate::site::assets::{self};
use crate::site::theme::ThemeFiles;
use rayon::prelude::*;

/// One name for all that goes into the site: the same name, the same pages. With the files that could not be read for
/// it.
pub(super) fn fingerprint(
    request: &Request<'_>,
    book: &Book,
    reckoning: &Reckoning<'_>,
    problems: &[Diagnostic],
    theme: &ThemeFiles,
) -> (String, Vec<Diagnostic>) {
    let mut hasher = blake3::Hasher::new();
    let mut put = |part: &[u8]| {
        hasher.update(&(part.len() as u64).to_le_bytes());
        hasher.update(part);
    };
    put(env!("CARGO_PKG_VERSION").as_bytes());
    put(env!("GARBOARD_SOURCES").as_bytes());
    put(request.edition.word().as_bytes());
    put(request.on.to_string().as_bytes());
    put(theme.name.as_bytes());
    for (path, bytes) in theme.iter() {
        put(path.as_bytes());
        put(bytes);
    }
    let sources: Vec<_> = book.sources.iter().collect();
    let hashes: Vec<blake3::Hash> = sources.par_iter().map(|(_, source)| blake3::hash(source.text().as_bytes())).collect();
    for ((path, _), hash) in sources.iter().zip(&hashes) {
        put(path.as_bytes());
        put(hash.as_bytes());
    }
    // The banner and the page about the book say what is wrong with it.
    for problem in problems {
        let place = &problem.place;
        put(format!("{} {} {}:{}:{}", problem.rule, problem.severity.word(), place.file, place.line, place.column).as_bytes());
        put(problem.message.as_bytes());
        put(problem.remedy.as_bytes());
    }
    // Pictures and papers by content: a copied book has other times, and the same pictures.
    let paths: Vec<String> = assets::paths(reckoning.book, &reckoning.entries).into_iter().collect();
    let read = |path: &String| {
        let mut hasher = blake3::Hasher::new();
        let read = std::fs::File::open(request.book.join(path)).and_then(|file| hasher.update_reader(file).map(|_| ()));
        read.map(|()| hasher.finalize()).map_err(|error| Box::new(unreadable(path, &error)))
    };
    let files: Vec<Result<blake3::Hash, Box<Diagnostic>>> = paths.par_iter().map(read).collect();
    let mut unread = Vec::new();
    for (path, file) in paths.iter().zip(files) {
        match file {
            Ok(hash) => {
                put(path.as_bytes());
                put(hash.as_bytes());
            }
            Err(problem) => unread.push(*problem),
        }
    }
    (hasher.finalize().to_hex().to_string(), unread)
}

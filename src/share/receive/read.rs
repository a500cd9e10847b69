//! The data of a shared file: found, bounded and read, or politely refused.

use super::hidden::{self, Ground, shown};
use super::picture::{MOST_PIXELS_IN_ALL, pixels};
use crate::share::hold::{BLOCK_ID, FORMAT, Held, VERSION};
use serde::Deserialize;

/// The largest file that is read, in bytes.
pub const LARGEST_FILE: u64 = 64 * 1024 * 1024;
/// The largest block of data in it, in bytes.
const LARGEST_BLOCK: usize = 48 * 1024 * 1024;
/// The most guides, pictures and other records.
const MOST_GUIDES: usize = 500;
const MOST_PICTURES: usize = 2_000;
const MOST_RECORDS: usize = 5_000;
/// The longest guide, in bytes.
const LONGEST_TEXT: usize = 1024 * 1024;
/// The longest name: an id, a path's last part, a boat's name; in bytes.
pub(super) const LONGEST_NAME: usize = 120;
/// The longest text of a record, in bytes.
const LONGEST_WORDS: usize = 10_000;

/// Why nothing of a file can be received.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unreadable {
    pub message: String,
    pub remedy: String,
}

fn no<T>(message: impl Into<String>, remedy: impl Into<String>) -> Result<T, Unreadable> {
    Err(Unreadable { message: message.into(), remedy: remedy.into() })
}

const ASK_AGAIN: &str = "ask for the file again, made with `garboard share`";

/// What tells the version, whatever else a later format holds.
#[derive(Deserialize)]
struct Head {
    format: Option<String>,
    version: Option<serde_json::Number>,
}

/// Reads what a shared file holds.
///
/// # Errors
/// The file is too large, holds no data or more than one block of them, is of another format or version,
/// or breaks the bounds of the format.
pub fn read(bytes: &[u8]) -> Result<Held, Unreadable> {
    if bytes.len() as u64 > LARGEST_FILE {
        return no(
            format!("this file has more than {} MB, the most that is read", LARGEST_FILE / (1024 * 1024)),
            "ask for fewer guides in one file",
        );
    }
    let Ok(page) = std::str::from_utf8(bytes) else {
        return no("this is no file that `garboard share` made: it is not text", ASK_AGAIN);
    };
    let json = block(page)?;
    let head: Head = match serde_json::from_str(json) {
        Ok(head) => head,
        Err(error) => return no(format!("the data in this file cannot be read: {}", shown(&error.to_string())), ASK_AGAIN),
    };
    if head.format.as_deref() != Some(FORMAT) {
        return no("the data in this file are not guides of a boat", ASK_AGAIN);
    }
    match head.version.as_ref().and_then(serde_json::Number::as_u64) {
        Some(VERSION) => {}
        Some(later) if later > VERSION => {
            return no(
                format!("this file is of version {later} of the format, and this program reads version {VERSION}"),
                "get a newer garboard, or ask for the file from an older one; nothing is wrong with the file",
            );
        }
        _ => {
            return no(format!("this file does not say that it is of version {VERSION}, which this program reads"), ASK_AGAIN);
        }
    }
    let held: Held = match serde_json::from_str(json) {
        Ok(held) => held,
        Err(error) => {
            return no(format!("the data in this file are not as version {VERSION} has them: {}", shown(&error.to_string())), ASK_AGAIN);
        }
    };
    bounds(&held)?;
    Ok(held)
}

/// The one block of data in the page.
fn block(page: &str) -> Result<&str, Unreadable> {
    let opening = format!("<script type=\"application/json\" id=\"{BLOCK_ID}\">");
    let mut blocks = page.match_indices(&opening);
    let Some((at, _)) = blocks.next() else {
        if page.contains("<html") && !page.trim_end().ends_with("</html>") {
            return no("this file ends before its end: it was cut short on the way", ASK_AGAIN);
        }
        return no("this file holds no guides to receive", "name a file that `garboard share` made");
    };
    if blocks.next().is_some() {
        return no("this file holds two blocks of guides, and nobody can say which is meant", ASK_AGAIN);
    }
    let data = page.get(at + opening.len()..).unwrap_or_default();
    // In the data `<` is written as an escape, so that the first one ends them.
    let Some(end) = data.find('<').filter(|end| data.get(*end..).is_some_and(|rest| rest.starts_with("</script>"))) else {
        return no("the guides in this file are cut short, or were changed by hand", ASK_AGAIN);
    };
    if end > LARGEST_BLOCK {
        return no(
            format!("the guides in this file come to more than {} MB, the most that is read", LARGEST_BLOCK / (1024 * 1024)),
            "ask for fewer guides in one file",
        );
    }
    Ok(data.get(..end).unwrap_or_default())
}

fn bounds(held: &Held) -> Result<(), Unreadable> {
    let few = "ask for fewer guides in one file";
    if held.guides.is_empty() {
        return no("this file holds no guides to receive", ASK_AGAIN);
    }
    let counts = [
        (held.guides.len(), MOST_GUIDES, "guides"),
        (held.pictures.len(), MOST_PICTURES, "pictures"),
        (held.stores.len(), MOST_RECORDS, "stores"),
        (held.tools.len(), MOST_RECORDS, "tools"),
        (held.cautions.len(), MOST_RECORDS, "hazards"),
        (held.systems.len(), MOST_RECORDS, "systems"),
        (held.meters.len(), MOST_RECORDS, "meters"),
    ];
    if let Some((count, most, what)) = counts.into_iter().find(|(count, most, _)| count > most) {
        return no(format!("this file holds {count} {what}, and at most {most} are read"), few);
    }
    let unpacked: u64 = held.pictures.iter().map(|picture| pixels(&picture.bytes)).sum();
    if unpacked > MOST_PIXELS_IN_ALL {
        let millions = |pixels: u64| pixels.div_ceil(1_000_000);
        return no(
            format!(
                "the pictures in this file have {} million pixels, and at most {} million are read",
                millions(unpacked),
                millions(MOST_PIXELS_IN_ALL)
            ),
            "ask for fewer guides in one file, or for one with smaller pictures",
        );
    }
    if let Some(guide) = held.guides.iter().find(|guide| guide.text.len() > LONGEST_TEXT) {
        return no(format!("the guide `{}` has more than 1 MB of text", shown(&cut(&guide.id))), few);
    }
    let names = [&held.from.boat, &held.made]
        .into_iter()
        .chain(held.guides.iter().flat_map(|guide| [&guide.id, &guide.system]))
        .chain(held.systems.iter().flat_map(|one| [&one.id, &one.title]))
        .chain(held.meters.iter().flat_map(|one| [&one.id, &one.title, &one.unit]))
        .chain(held.stores.iter().map(|one| &one.id))
        .chain(held.tools.iter().map(|one| &one.id))
        .chain(held.cautions.iter().map(|one| &one.id));
    if let Some(name) = names.into_iter().find(|name| name.len() > LONGEST_NAME) {
        return no(format!("a name in this file is longer than {LONGEST_NAME} bytes: `{}`", shown(&cut(name))), ASK_AGAIN);
    }
    // What stands beside every guide must be sound in itself.
    let about = [
        Some(("name of the boat", &held.from.boat)),
        held.from.kind.as_ref().map(|kind| ("type of the boat", kind)),
        held.licence.as_ref().map(|licence| ("licence", licence)),
    ];
    for (what, words) in about.into_iter().flatten() {
        if let Some(why) = wrong_words(words) {
            return no(format!("the {what} in this file {why}: `{}`", shown(&cut(words))), ASK_AGAIN);
        }
    }
    if held.from.boat.trim().is_empty() {
        return no("this file does not say which boat it is from", ASK_AGAIN);
    }
    Ok(())
}

/// Why words of a record may not be taken, if they may not.
pub(super) fn wrong_words(words: &str) -> Option<String> {
    if words.len() > LONGEST_WORDS {
        return Some(format!("is longer than {LONGEST_WORDS} bytes"));
    }
    if words.contains(['\n', '\t']) {
        return Some("stands on more than one line".to_owned());
    }
    hidden::first(words, Ground::Names).map(|found| format!("holds {}", found.what()))
}

/// A name cut so that a message stays readable.
pub(super) fn cut(name: &str) -> String {
    name.chars().take(60).collect()
}

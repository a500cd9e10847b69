//! `private-fields` and `public-fields`: names of keys.

use super::fields::Fields;
use super::scalar::{name, tick};
use crate::book::diagnostic::{Notes, offer};
use crate::book::keys::{PASSAGE, Withholding, all_names, private_names, withholding};
use crate::book::source::Name;

/// Keys to leave out of a public edition. One that a record cannot be without is refused.
pub(super) fn private_fields(notes: &mut Notes<'_>, boat: Fields<'_, '_>) -> Vec<Name> {
    boat.each(notes, "private-fields", |notes, item| {
        let name = name(notes, item)?;
        match withholding(&name.value) {
            Withholding::Allowed => return Some(name),
            Withholding::Unknown => unknown(notes, &name),
            Withholding::Needed(table) => notes.error(
                "not-optional",
                name.span,
                format!("{} cannot be left out: {table} is nothing without it", tick(&name.value)),
                "take it out of the list; to keep a whole entry back, write `private: true` in it",
            ),
        }
        None
    })
}

/// Private keys to show in a public edition all the same.
pub(super) fn public_fields(notes: &mut Notes<'_>, boat: Fields<'_, '_>) -> Vec<Name> {
    boat.each(notes, "public-fields", |notes, item| {
        let name = name(notes, item)?;
        let is_private = private_names().any(|known| known == name.value);
        if is_private {
            return Some(name);
        }
        if all_names().any(|known| known == name.value) {
            let message = format!("{} is public as it is", tick(&name.value));
            notes.warning("not-private", name.span, message, "take it out of the list");
        } else {
            unknown(notes, &name);
        }
        None
    })
    .into_iter()
    .filter(|name| {
        // A passage says where the boat will be and when she is empty: it stays private whole.
        let only_in_passages = PASSAGE.key(&name.value).is_some() && private_elsewhere(&name.value);
        if only_in_passages {
            let message = format!("{} belongs to passages, which stay private as a whole", tick(&name.value));
            notes.warning("not-private", name.span, message, "take it out of the list");
        }
        !only_in_passages
    })
    .collect()
}

/// No other table has it as a private key.
fn private_elsewhere(name: &str) -> bool {
    !crate::book::keys::ALL
        .into_iter()
        .filter(|table| table.name != PASSAGE.name)
        .any(|table| table.key(name).is_some_and(|key| key.private))
}

fn unknown(notes: &mut Notes<'_>, name: &Name) {
    let remedy = offer(&name.value, all_names(), "write the name of a key as it stands in the book's files, such as `home-port`");
    notes.error("unknown-key", name.span, format!("no file of a book has the key {}", tick(&name.value)), remedy);
}

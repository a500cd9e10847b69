//! What is not published: for strangers, or where something else stands.

#![expect(clippy::disallowed_methods, reason = "looks what stands where a site is to go")]

use super::{Edition, PublishError};
use crate::book::diagnostic::{Diagnostic, Severity};
use crate::site::manifest::{self, Manifest};
use std::collections::BTreeSet;
use std::path::Path;

/// Files that say what is private, or have things in them that may be; each is read as a whole, so that nothing of it
/// can be left out by itself.
const TELLING: [&str; 4] = ["boat.yaml", "cautions.yaml", "stores.yaml", "tools.yaml"];

/// Nothing is shown to strangers while it may be for want of a letter that it is not kept private. Guides and entries
/// with errors are left out of the public book, which needs no refusal.
///
/// # Errors
/// The edition is public, and such a file has an error ([`PublishError::Untold`]).
pub fn refuse_untold(edition: Edition, problems: &[Diagnostic]) -> Result<(), PublishError> {
    let errors = problems.iter().filter(|problem| edition != Edition::Crew && problem.severity == Severity::Error);
    let untold: BTreeSet<&str> = errors.map(|problem| problem.place.file.as_str()).filter(|file| TELLING.contains(file)).collect();
    if untold.is_empty() { Ok(()) } else { Err(PublishError::Untold(untold.into_iter().map(str::to_owned).collect())) }
}

/// Files that every crew edition has and no public one.
const CREWS_OWN: [&str; 3] = ["provisions.html", "costs.html", "assets/boat.js"];

/// A site that others read is never mixed with one that only the crew may.
pub(super) fn refuse_other_edition(site: &Path, earlier: &Manifest, edition: Edition) -> Result<(), PublishError> {
    let there = match earlier.edition.as_deref() {
        Some("public") => Edition::Public,
        _ => Edition::Crew,
    };
    if earlier.files.is_empty() {
        let listed = site.join(manifest::NAME);
        // A site whose list of files is damaged: what is left of it may be for the crew alone, and the folder may be
        // one that everybody reads. Only the crew's own is put right.
        let is_the_crews = || edition == Edition::Crew && CREWS_OWN.iter().any(|file| site.join(file).exists());
        return if listed.exists() && !is_the_crews() { Err(PublishError::Unlisted(listed)) } else { Ok(()) };
    }
    if there == edition { Ok(()) } else { Err(PublishError::Edition(there)) }
}

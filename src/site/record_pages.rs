//! The boat's record in a site: its pages, its table and its data, the same in both editions.

use super::assets::Assets;
use super::lookups::Lookups;
use super::map::SiteMap;
use super::pages;
use super::press::{Press, Users};
use super::publish::{Edition, PublishError, emit};
use super::theme::Theme;
use super::view::Banner;
use super::words::Words;
use super::write::Staging;
use crate::book::diagnostic::Diagnostic;
use crate::reckon::Reckoning;
use crate::record::{self, Record};
use std::collections::BTreeMap;
use std::path::Path;

/// What is round the pages of the record, whatever edition they stand in.
pub(super) struct Round<'b> {
    pub map: &'b SiteMap,
    pub assets: &'b Assets,
    pub words: &'b Words,
    /// How many errors a banner owns up to; not in which files, for the record is made to be handed over.
    pub errors: Option<usize>,
    /// Of the edition that is published.
    pub book_key: String,
}

/// Stages the record; says how many pages it has, and which pictures could not be read. `shown` is of the public book.
///
/// # Errors
/// The theme cannot be used, or the disk refuses.
pub(super) fn stage(
    round: &Round<'_>,
    shown: &Reckoning<'_>,
    book: &Path,
    theme: &Theme,
    staging: &Staging,
) -> Result<(usize, Vec<Diagnostic>), PublishError> {
    let (pictures, unread) = record::pictures::hashes(book, shown.book, &shown.entries);
    let record = Record::of(shown, pictures);
    let (files, pages) = rayon::join(
        || {
            let (json, csv) = rayon::join(
                || staging.add_streamed("record.json", |file| record::write_json(&record, shown, file)),
                || staging.add_streamed("record.csv", |file| record::write_csv(&record, file)),
            );
            json.and(csv)
        },
        || stage_pages(round, shown, &record, theme, staging),
    );
    files?;
    Ok((pages?, unread))
}

fn stage_pages(
    round: &Round<'_>,
    shown: &Reckoning<'_>,
    record: &Record<'_>,
    theme: &Theme,
    staging: &Staging,
) -> Result<usize, PublishError> {
    let press_of_record = Press {
        book: shown.book,
        reckoning: shown,
        map: round.map,
        assets: round.assets,
        words: round.words,
        edition: Edition::Public,
        banner: round.errors.map(|errors| Banner { files: Vec::new(), errors }),
        cleared: shown.cleared_by_finding(),
        defects: BTreeMap::new(),
        users: Users::default(),
        lookups: Lookups::default(),
    };
    pages::record(&press_of_record, record, |sheet| {
        let mut frame = press_of_record.frame("record", "record", sheet.title, "", true);
        frame.book_key.clone_from(&round.book_key);
        emit(theme, staging, &sheet.path, "record.html", frame, &sheet.page)
    })
}

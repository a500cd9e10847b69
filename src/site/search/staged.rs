//! The index beside the pages: filled while they are made, staged file by file.

use super::document::{Document, Kind};
use super::index::{File, Index};
use super::pages;
use crate::site::map::LogPagePlan;
use crate::site::press::Press;
use crate::site::view::{GuidePage, LogPage};
use crate::site::write::{Staging, WriteError};
use rayon::prelude::*;

/// The index of a site in the making.
pub struct Indexing<'s> {
    index: Index,
    staging: &'s Staging,
}

impl<'s> Indexing<'s> {
    /// Begins with what stands in lists: stores, tools and gear.
    ///
    /// # Errors
    /// The disk refuses.
    pub fn begin(press: &Press<'_>, staging: &'s Staging) -> Result<Self, WriteError> {
        let things = pages::things(press);
        let counts = [press.book.guides.len(), things.len(), press.reckoning.entries.len()];
        let index = Index::new(counts.map(|count| u32::try_from(count).unwrap_or(u32::MAX)));
        let indexing = Self { index, staging };
        things.iter().try_for_each(|thing| indexing.add(thing))?;
        Ok(indexing)
    }

    /// Adds a guide by its number in the book.
    ///
    /// # Errors
    /// The disk refuses.
    pub fn guide(&self, press: &Press<'_>, number: usize, page: &GuidePage) -> Result<(), WriteError> {
        self.add(&pages::guide(press, number, page))
    }

    /// Adds the entries of a page of the log, which stand there newest first.
    ///
    /// # Errors
    /// The disk refuses.
    pub fn log_page(&self, plan: &LogPagePlan, page: &LogPage) -> Result<(), WriteError> {
        let numbers = plan.range.clone().rev();
        numbers.zip(&page.entries).try_for_each(|(number, entry)| self.add(&pages::entry(plan, number, entry)))
    }

    /// Stages the words.
    ///
    /// # Errors
    /// The disk refuses.
    pub fn finish(self, press: &Press<'_>) -> Result<(), WriteError> {
        let kinds = Kind::ALL.map(|kind| press.words.text(&format!("search.{}", kind.word())));
        self.index.finish(&kinds, &press.words.text("search.small")).files().try_for_each(|file| stage(self.staging, &file))
    }

    fn add(&self, document: &Document) -> Result<(), WriteError> {
        self.index.add(document).map_or(Ok(()), |file| stage(self.staging, &file))
    }
}

fn stage(staging: &Staging, file: &File) -> Result<(), WriteError> {
    staging.add(&file.path(), file.script().as_bytes())
}

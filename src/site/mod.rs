//! The site: pages from the reckoning, pictures, and writing to disk.
//!
//! Nothing is reckoned here, and nothing but the output folder is written.

pub mod assets;
pub mod drawing;
pub mod escape;
mod feeds;
mod figures;
pub mod guide_body;
pub mod highlight;
mod how_to;
mod install;
mod interner;
mod long;
mod lookups;
mod manifest;
pub mod map;
pub mod markdown;
mod message;
mod pages;
pub mod pictures;
mod plot;
pub mod pocket;
mod press;
mod provision_csv;
mod publish;
mod qr;
mod record_data;
mod record_pages;
pub mod search;
mod shared;
mod style;
pub mod surroundings;
mod theme;
pub mod view;
mod watch;
mod words;
mod write;

pub use drawing::{Drawing, rebuild_svg};
pub use figures::in_sentence;
pub use manifest::NAME as MANIFEST;
pub use pictures::{PhotoLimits, PictureError, sides, written_anew};
pub use provision_csv::provision_csv;
pub use publish::{Edition, Outcome, PublishError, Request, publish, publish_watched, refuse_untold};
pub use shared::{Lent, LentPicture};
pub use theme::{DEFAULT as DEFAULT_THEME, Theme, ThemeError, ThemeFiles, language_without_words};
pub use watch::{Progress, Unwatched, Watcher};
pub use words::Words;
pub use write::{WriteError, Written};

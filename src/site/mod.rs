//! The site: pages from the reckoning, pictures, and writing to disk.
//!
//! Nothing is reckoned here, and nothing but the output folder is written.

mod assets;
mod drawing;
pub mod escape;
mod figures;
mod guide_body;
pub mod highlight;
mod install;
mod long;
mod manifest;
mod map;
pub mod markdown;
mod pages;
mod pictures;
mod plot;
pub mod pocket;
mod press;
mod provision_csv;
mod publish;
mod qr;
mod record_data;
pub mod search;
mod style;
mod surroundings;
mod theme;
pub mod view;
mod watch;
mod words;
mod write;

pub use figures::in_sentence;
pub use manifest::NAME as MANIFEST;
pub use provision_csv::provision_csv;
pub use publish::{Edition, Outcome, PublishError, Request, publish, publish_watched};
pub use theme::{DEFAULT as DEFAULT_THEME, Theme, ThemeError, ThemeFiles};
pub use watch::{Progress, Unwatched, Watcher};
pub use words::Words;
pub use write::{WriteError, Written};

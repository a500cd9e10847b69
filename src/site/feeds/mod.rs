//! The log and the dates as files that other programs read: a feed and a calendar.
//!
//! Here is their shape alone; what stands in them is filled in by `pages`, from what the pages show.

pub mod atom;
pub mod calendar;
pub mod identity;
#[cfg(test)]
mod tests;

/// The feed of the log, from the top of the site.
pub const FEED: &str = "log.atom";
/// The calendar of dates, from the top of the site.
pub const CALENDAR: &str = "dates.ics";

//! Telling how far a publish has come, to whoever wants to know.

/// What a publish is at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Progress {
    /// Pictures and papers are being prepared.
    Pictures,
    /// So many pages of all have been rendered. Pages are rendered side by side, so a smaller number can
    /// be told after a larger one.
    Pages { made: usize, of: usize },
    /// So many of the files that changed stand in their place.
    Files { written: usize, of: usize },
}

/// Hears how far a publish has come, from several threads at once, often, and must be quick.
pub trait Watcher: Sync {
    fn told(&self, progress: Progress);
}

/// Nobody listens.
#[derive(Debug, Clone, Copy)]
pub struct Unwatched;

impl Watcher for Unwatched {
    fn told(&self, _: Progress) {}
}

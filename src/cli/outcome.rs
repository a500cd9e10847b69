//! How a command ended.

/// Exit status: 0 fine, 1 the book has errors or the work failed. (2, a wrong command line, is
/// given before any command runs.)
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exit {
    Fine,
    Problems,
}

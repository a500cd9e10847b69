//! How a command ended.

/// Exit status: 0 fine, 1 the book has errors or the work failed, 2 the command line is wrong. (Most
/// of what is wrong with a command line is found before any command runs.)
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exit {
    Fine,
    Problems,
    /// The command line names what the book does not have.
    WrongCommand,
}

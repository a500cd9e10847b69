//! How a command ended.

/// Exit status: 0 fine, 1 the book has errors or the work failed, 2 the command line is wrong: most
/// of that is told before any command runs, but only a command knows which names the book has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exit {
    Fine,
    Problems,
    WrongCommandLine,
}

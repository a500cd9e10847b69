//! The garboard command: everything is in the library.

use std::process::ExitCode;

fn main() -> ExitCode {
    garboard::cli::run(std::env::args_os(), &mut std::io::stdout().lock(), &mut std::io::stderr().lock())
}

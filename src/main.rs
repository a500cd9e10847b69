//! The garboard command: everything is in the library.

#![forbid(unsafe_code)]

use std::process::ExitCode;

/// A publish makes and drops millions of short texts on all processors.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    // Standard error is not held: the progress of long work is drawn there from a thread of its own.
    garboard::cli::run(std::env::args_os(), &mut std::io::stdout().lock(), &mut std::io::stderr())
}

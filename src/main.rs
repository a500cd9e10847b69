//! The garboard command: everything is in the library.

#![forbid(unsafe_code)]

use std::process::ExitCode;

#[cfg(all(target_os = "linux", target_arch = "x86_64"))]
#[global_allocator]
static ALLOCATOR: tikv_jemallocator::Jemalloc = tikv_jemallocator::Jemalloc;

fn main() -> ExitCode {
    // Standard error is not held: the progress of long work is drawn there from a thread of its own.
    garboard::cli::run(std::env::args_os(), &mut std::io::stdout().lock(), &mut std::io::stderr())
}

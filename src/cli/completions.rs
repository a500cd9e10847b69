//! `garboard completions`: scripts by which shells complete the command line.

use super::args::{Args, CompletionsArgs};
use super::outcome::Exit;
use clap::CommandFactory;
use std::io::{self, Write};

pub fn run(args: &CompletionsArgs, out: &mut dyn Write) -> io::Result<Exit> {
    // Made whole first: the generator panics where its stream is closed.
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut Args::command(), "garboard", &mut script);
    out.write_all(&script)?;
    Ok(Exit::Fine)
}

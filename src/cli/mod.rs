//! The command line: arguments, one file a command, exit codes.
//!
//! Results go to standard output, everything else to standard error. The clock is read here and
//! nowhere else.

mod args;
mod begin;
mod completions;
mod draft;
mod due;
mod enter;
mod enter_csv;
mod enter_csv_show;
mod man;
mod outcome;
mod plan;
mod plan_text;
mod progress;
mod provision;
mod publish;
mod receive;
mod reckoned;
mod report;
mod schema;
mod share;
mod step_words;
mod survey;
mod survey_record;
mod table;
mod tend;

use args::{Args, Command};
use clap::Parser;
use outcome::Exit;
use std::ffi::OsString;
use std::io::Write;
use std::process::ExitCode;

/// Runs a command line and says how it ended.
pub fn run(arguments: impl IntoIterator<Item = OsString>, out: &mut dyn Write, err: &mut dyn Write) -> ExitCode {
    let args = match Args::try_parse_from(arguments) {
        Ok(args) => args,
        Err(error) => {
            let text = error.render().to_string();
            // A closed pipe is no failure of ours.
            if error.use_stderr() {
                let _ = err.write_all(text.as_bytes());
                return ExitCode::from(2);
            }
            let _ = out.write_all(text.as_bytes());
            return ExitCode::SUCCESS;
        }
    };
    let result = match &args.command {
        Command::Begin(begin) => begin::run(begin, out, err),
        Command::Draft(draft) => draft::run(draft, out, err),
        Command::Publish(publish) => publish::run(publish, out, err),
        Command::Due(due) => due::run(due, out, err),
        Command::Plan(plan) => plan::run(plan, out, err),
        Command::Survey(survey) => survey::run(survey, out, err),
        Command::Provision(provision) => provision::run(provision, out, err),
        Command::Enter(enter) => enter::run(enter, out, err),
        Command::Share(wish) => share::run(wish, err),
        Command::Receive(receive) => receive::run(receive, out, err),
        Command::Schema(schema) => schema::run(schema, out, err),
        Command::Completions(completions) => completions::run(completions, out),
        Command::Man => man::run(out),
        Command::Tend(tend) => tend::run(tend, out, err),
    };
    match result {
        Ok(Exit::Fine) => ExitCode::SUCCESS,
        Ok(Exit::Problems) => ExitCode::from(1),
        Ok(Exit::WrongCommandLine) => ExitCode::from(2),
        Err(error) if error.kind() == std::io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(error) => {
            let _ = writeln!(err, "error: cannot print: {}", crate::disk::why(&error));
            ExitCode::from(1)
        }
    }
}

/// Today where the user is. The only place that reads the clock.
fn today() -> jiff::civil::Date {
    jiff::ZonedDateTime::now().date()
}

/// Says that there is no book to read.
fn no_book(err: &mut dyn Write, error: &crate::book::load::NoBook) -> std::io::Result<Exit> {
    writeln!(err, "error: {error}\nhelp: {}", error.remedy)?;
    Ok(Exit::Problems)
}

/// Prints a list as JSON, one value a line in its brackets.
fn json<T: serde::Serialize>(out: &mut dyn Write, rows: &[T]) -> std::io::Result<()> {
    serde_json::to_writer_pretty(&mut *out, rows)?;
    writeln!(out)
}

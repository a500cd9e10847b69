//! The commands and options. The help text of each is its doc comment.

use clap::{Args as ClapArgs, Parser, Subcommand, ValueEnum};
use jiff::civil::Date;
use std::path::PathBuf;

/// Compiles a boat's book of job guides, log and stores into a site her crew can follow.
///
/// The book is a folder of Markdown and YAML files, `content` unless you say otherwise. Exit status:
/// 0 fine, 1 the book has errors or the work failed, 2 the command line is wrong.
#[derive(Debug, Parser)]
#[command(name = "garboard", version, disable_help_subcommand = true, arg_required_else_help = true)]
pub struct Args {
    #[command(subcommand)]
    pub command: Command,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    Publish(PublishArgs),
    Due(DueArgs),
    Survey(SurveyArgs),
    Enter(EnterArgs),
}

/// Where the book is, and which day counts as today.
#[derive(Debug, Clone, ClapArgs)]
pub struct BookArgs {
    /// Folder of the book
    #[arg(long, value_name = "DIR", default_value = "content")]
    pub book: PathBuf,

    /// Reckon as of this day, year-month-day, instead of today
    #[arg(long, value_name = "DATE", value_parser = day)]
    pub on: Option<Date>,
}

/// What a site shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Edition {
    /// Everything
    Crew,
}

/// How a list is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For people
    Text,
    /// For programs: see the format reference
    Json,
}

/// Write the site: pages to open from a folder, a USB stick or any web server
///
/// Only files that changed are written, and nothing is written while the book has errors.
///
/// Examples:
///   garboard publish
///   garboard publish --book ~/boat/content --to /media/stick/boat
///   garboard publish --on 2026-06-01
#[derive(Debug, ClapArgs)]
#[command(verbatim_doc_comment)]
pub struct PublishArgs {
    #[command(flatten)]
    pub book: BookArgs,

    /// Folder of the site [default: `site` beside the book]
    #[arg(long, value_name = "DIR")]
    pub to: Option<PathBuf>,

    /// What the site shows: `crew` is everything
    #[arg(long, value_enum, default_value_t = Edition::Crew)]
    pub edition: Edition,

    /// Theme: one that ships, or a folder of `themes` beside the book
    #[arg(long, value_name = "NAME", default_value = crate::site::DEFAULT_THEME)]
    pub theme: String,

    /// Publish without the files that cannot be read, with a notice on every page; the exit status
    /// is 1 all the same
    #[arg(long)]
    pub despite_errors: bool,
}

/// List what is due, soon, open or without a record
///
/// Examples:
///   garboard due
///   garboard due --all --on 2027-05-01
///   garboard due --format json
#[derive(Debug, ClapArgs)]
#[command(verbatim_doc_comment)]
pub struct DueArgs {
    #[command(flatten)]
    pub book: BookArgs,

    /// Every job, also those that need nothing now
    #[arg(long)]
    pub all: bool,

    /// Text for people, or JSON with every job
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
}

/// Say every problem of the book, where it is and how to mend it
///
/// Examples:
///   garboard survey
///   garboard survey --format json
#[derive(Debug, ClapArgs)]
#[command(verbatim_doc_comment)]
pub struct SurveyArgs {
    #[command(flatten)]
    pub book: BookArgs,

    /// Text for people, or JSON
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
}

/// Take an entry into the log: a file that a phone saved, or one written by hand
///
/// The entry is checked against the whole book and put into `log/<year>/<date>-<name>.md`, with every
/// byte as it is. No file of the log is ever replaced. What the log holds already is noticed.
///
/// Examples:
///   garboard enter --from ~/Downloads/2026-11-24-oil-and-filter.md
///   garboard enter --from *.md --yes
///   garboard enter --from - < entry.md
#[derive(Debug, ClapArgs)]
#[command(verbatim_doc_comment)]
pub struct EnterArgs {
    #[command(flatten)]
    pub book: BookArgs,

    /// The entry's file, called anything; `-` is standard input
    #[arg(long, value_name = "FILE", num_args = 1.., required = true)]
    pub from: Vec<PathBuf>,

    /// Write without asking
    #[arg(long)]
    pub yes: bool,
}

fn day(text: &str) -> Result<Date, String> {
    crate::book::date::parse_day(text).map_err(|problem| format!("{}; {}", problem.message, problem.remedy))
}

#[cfg(test)]
mod tests {
    use super::Args;

    #[test]
    fn the_command_line_is_well_formed() {
        use clap::CommandFactory;
        Args::command().debug_assert();
    }
}

//! The commands and options. The help text of each is its doc comment.

use super::enter::EntryOptions;
use crate::quantity::CalendarSpan;
use clap::{Args as ClapArgs, Parser, Subcommand, ValueEnum};
use jiff::civil::Date;
use std::path::PathBuf;

/// Compiles a boat's book of job guides, log and stores into a site her crew can follow.
///
/// The book is a folder of Markdown and YAML files, `content` unless you say otherwise. Exit status:
/// 0 fine, 1 the book has errors or the work failed, 2 the command line is wrong.
#[derive(Debug, Parser)]
#[command(name = "garboard", version, disable_help_subcommand = true, arg_required_else_help = true)]
#[command(after_help = "`garboard COMMAND --help` says more of a command, with examples.")]
pub struct Args {
    #[command(subcommand)]
    pub command: Command,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    Begin(BeginArgs),
    Draft(DraftArgs),
    Publish(PublishArgs),
    Due(DueArgs),
    Plan(PlanArgs),
    Survey(SurveyArgs),
    Provision(ProvisionArgs),
    Share(ShareArgs),
    #[command(hide = true)]
    Schema(SchemaArgs),
    #[command(hide = true)]
    Completions(CompletionsArgs),
    /// Print the manual page, with every command of the daily work
    ///
    /// Examples:
    ///   garboard man > ~/garboard.1
    #[command(hide = true, verbatim_doc_comment)]
    Man,
    Enter(Box<EnterArgs>),
    Receive(Box<ReceiveArgs>),
    Tend(TendArgs),
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
    /// What is private taken out first
    Public,
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
///   garboard publish --book ~/boat/content --to ~/stick/boat
///   garboard publish --edition public
///   garboard publish --on 2027-05-01
#[derive(Debug, ClapArgs)]
#[command(verbatim_doc_comment)]
pub struct PublishArgs {
    #[command(flatten)]
    pub book: BookArgs,

    /// Folder of the site [default: `site` beside the book, `site-public` for the public edition]
    #[arg(long, value_name = "DIR")]
    pub to: Option<PathBuf>,

    /// What the site shows: `crew` is everything, `public` leaves out what is private
    #[arg(long, value_enum, default_value_t = Edition::Crew)]
    pub edition: Edition,

    /// Theme: one that ships, or a folder of `themes` beside the book
    #[arg(long, value_name = "NAME", default_value = crate::site::DEFAULT_THEME)]
    pub theme: String,

    /// Publish without the files that cannot be read, with a notice on every page; the exit status
    /// is 1 all the same. The public edition is then without guides and entries that have errors,
    /// and is not made while boat.yaml, stores.yaml, tools.yaml or cautions.yaml has one
    #[arg(long)]
    pub despite_errors: bool,
}

/// List what is overdue, due, soon, open or without a record
///
/// With --passage: what is to be done before it, what falls due under way, and what expires before
/// the return. Dates and amounts with `~` rest on estimates.
///
/// Examples:
///   garboard due
///   garboard due --all --on 2027-05-01
///   garboard due --within "60 days"
///   garboard due --occasion haul-out
///   garboard due --passage outer-skarrs
///   garboard due --format json
#[derive(Debug, ClapArgs)]
#[command(verbatim_doc_comment)]
pub struct DueArgs {
    #[command(flatten)]
    pub book: BookArgs,

    /// Hold the jobs against a passage of `passages.yaml`
    #[arg(long, value_name = "ID", conflicts_with_all = ["occasion", "within"])]
    pub passage: Option<String>,

    /// Jobs of an occasion, whatever their state, and what is to be put right before it
    #[arg(long, value_name = "ID", conflicts_with = "within")]
    pub occasion: Option<String>,

    /// Also what falls due within a time, such as "60 days", "6 weeks" or "3 months"
    #[arg(long, value_name = "TIME", value_parser = span, allow_hyphen_values = true)]
    pub within: Option<CalendarSpan>,

    /// Every job, also those that need nothing now
    #[arg(long)]
    pub all: bool,

    /// Text for people, or JSON with every job
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
}

/// Plan a job: how long it takes, and the order that fits stages into each other's waits
///
/// The plan is the shortest there is, or says how much shorter one might be. Waits and rests need
/// nobody; runs need one, unless unattended.
///
/// Examples:
///   garboard plan oil-and-filter
///   garboard plan rig-check-aloft --crew 3
///   garboard plan oil-and-filter --format json
#[derive(Debug, ClapArgs)]
#[command(verbatim_doc_comment)]
pub struct PlanArgs {
    /// Id of the guide: the name of its file
    #[arg(value_name = "GUIDE")]
    pub guide: String,

    #[command(flatten)]
    pub book: BookArgs,

    /// People at hand [default: the `crew` of the guide]
    #[arg(long, value_name = "N", value_parser = crew, allow_hyphen_values = true)]
    pub crew: Option<u32>,

    /// Text for people, or JSON
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
}

/// Say every problem of the book, where it is and how to mend it
///
/// With --record: which entries of a record handed over earlier (its `record.json`) are the same
/// today, and which were changed, added or taken away.
///
/// Examples:
///   garboard survey
///   garboard survey --explain never-due
///   garboard survey --record ~/handed-over/record.json
///   garboard survey --format json
#[derive(Debug, ClapArgs)]
#[command(verbatim_doc_comment)]
pub struct SurveyArgs {
    #[command(flatten)]
    pub book: BookArgs,

    /// Explain a rule by its name, and read no book
    #[arg(long, value_name = "RULE", conflicts_with = "format")]
    pub explain: Option<String>,

    /// Hold a `record.json` seen earlier against the book of today
    #[arg(long, value_name = "FILE", conflicts_with = "explain")]
    pub record: Option<PathBuf>,

    /// Text for people, or JSON
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
}

/// How the list of provisions is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ProvisionFormat {
    /// For people
    Text,
    /// For programs: see the format reference
    Json,
    /// For spreadsheets
    Csv,
}

/// List what to buy: for the next 90 days, for a passage, or for an occasion
///
/// Short is what the jobs need and the minimum of the stores, less what is aboard; what to buy is
/// that, rounded up to how it is sold.
///
/// Examples:
///   garboard provision
///   garboard provision --passage outer-skarrs
///   garboard provision --occasion haul-out --all
///   garboard provision --until 2027-05-01 --format csv > to-buy.csv
#[derive(Debug, ClapArgs)]
#[command(verbatim_doc_comment)]
pub struct ProvisionArgs {
    #[command(flatten)]
    pub book: BookArgs,

    /// For a passage, by its id: what is due before it and under way
    #[arg(long, value_name = "ID", group = "ahead")]
    pub passage: Option<String>,

    /// For all that falls due up to this day [default: 90 days ahead]
    #[arg(long, value_name = "DATE", value_parser = day, group = "ahead")]
    pub until: Option<Date>,

    /// For an occasion, by its id: every job that names it, once
    #[arg(long, value_name = "ID", group = "ahead")]
    pub occasion: Option<String>,

    /// Also what is needed and aboard
    #[arg(long)]
    pub all: bool,

    /// Text for people, JSON for programs, or CSV for spreadsheets; these two hold everything
    #[arg(long, value_enum, default_value_t = ProvisionFormat::Text)]
    pub format: ProvisionFormat,
}

/// Write an entry into the log: from options, by questions, or a file that a phone saved
///
/// The entry is checked against the whole book and put into `log/<year>/<date>-<name>.md`. No file of
/// the log is ever replaced. What the log holds already is noticed. On a terminal the entry is shown
/// before it is written.
///
/// On a terminal, if you name only jobs or nothing, it asks for the rest. With other options, without
/// a terminal, or with `--yes`, it asks nothing. A table (`--csv`) is written without a terminal only
/// with `--yes`.
///
/// Examples:
///   garboard enter
///   garboard enter oil-and-filter --date yesterday --meter engine=1840.5 --part oil-filter=1
///   garboard enter rig-check-aloft --finding "watch: weep at the chainplate" --note "Dry below."
///   garboard enter --work "Rewired the bow light" --open --left "bow light off"
///   garboard enter --from ~/Downloads/2026-11-24-oil-and-filter.md
///   garboard enter --from ~/Downloads/*.md --yes
///   garboard enter --from - < entry.md
///   garboard enter --csv history.csv --dates day-first --dry-run
#[derive(Debug, ClapArgs)]
#[command(verbatim_doc_comment)]
pub struct EnterArgs {
    #[command(flatten)]
    pub book: BookArgs,

    /// An entry's file, called anything, taken byte for byte; `-` is standard input
    #[arg(long, value_name = "FILE", num_args = 1.., conflicts_with = "EntryOptions")]
    pub from: Vec<PathBuf>,

    #[command(flatten)]
    pub history: super::enter_csv::CsvArgs,

    /// Write without asking
    #[arg(long)]
    pub yes: bool,

    #[command(flatten)]
    pub entry: EntryOptions,
}

/// Put guides into one file that any phone opens and another boat can take in
///
/// The file holds the sheets with their working mode, and the guides as they were written, with
/// pictures and with the stores, tools and cautions they name. It holds nothing of the log, stock,
/// prices, places or whatever is private. Nothing is shared while the book has errors.
///
/// Examples:
///   garboard share oil-and-filter --to oil.html
///   garboard share seacocks hull-anodes --to ~/stick/hull.html
///   garboard share --system engine --to engine.html
///   garboard share --all --to guides.html --replace
#[derive(Debug, ClapArgs)]
#[command(verbatim_doc_comment, group = clap::ArgGroup::new("what").required(true).multiple(false))]
pub struct ShareArgs {
    /// Ids of the guides: the names of their files
    #[arg(value_name = "GUIDE", group = "what", num_args = 1..)]
    pub guides: Vec<String>,

    /// Every guide of the book
    #[arg(long, group = "what")]
    pub all: bool,

    /// Every guide of a system, by its id
    #[arg(long, value_name = "SYSTEM", group = "what")]
    pub system: Option<String>,

    /// The file to write, such as `oil.html`
    #[arg(long, value_name = "FILE")]
    pub to: PathBuf,

    /// Write it over an earlier file of shared guides; no other file is ever replaced
    #[arg(long)]
    pub replace: bool,

    /// Folder of the book
    #[arg(long, value_name = "DIR", default_value = "content")]
    pub book: PathBuf,

    /// Theme: one that ships, or a folder of `themes` beside the book
    #[arg(long, value_name = "NAME", default_value = crate::site::DEFAULT_THEME)]
    pub theme: String,
}

/// Print the JSON Schema of a file of the book, for editors that check and complete
///
/// Without a file: list the files that have one. `guide` and `entry` are for front matter.
///
/// Examples:
///   garboard schema
///   garboard schema boat > boat.schema.json
///   garboard schema --to ~/schemas
#[derive(Debug, ClapArgs)]
#[command(verbatim_doc_comment)]
pub struct SchemaArgs {
    /// Which file
    #[arg(value_name = "FILE", value_parser = crate::schema::FILES)]
    pub file: Option<String>,

    /// Write all of them into this folder
    #[arg(long, value_name = "DIR", conflicts_with = "file")]
    pub to: Option<PathBuf>,
}

/// Print the script by which a shell completes commands and options
///
/// Examples:
///   garboard completions bash > ~/garboard.bash
///   garboard completions zsh > ~/_garboard
///   garboard completions fish > ~/garboard.fish
#[derive(Debug, ClapArgs)]
#[command(verbatim_doc_comment)]
pub struct CompletionsArgs {
    /// For which shell
    #[arg(value_name = "SHELL", value_enum)]
    pub shell: clap_complete::Shell,
}

/// Begin a new book: `content/` in a folder, with one worked guide and one entry as examples
///
/// The new book can be published at once, and its comments explain the format. Nothing is ever
/// written over: where `content/` is there and not empty, nothing is written at all.
///
/// Examples:
///   garboard begin boat
///   garboard begin ~/boats/plover
#[derive(Debug, ClapArgs)]
#[command(verbatim_doc_comment)]
pub struct BeginArgs {
    /// Folder that gets the book; made where there is none
    #[arg(value_name = "DIR")]
    pub folder: PathBuf,

    /// The day of beginning, year-month-day, instead of today
    #[arg(long, value_name = "DATE", value_parser = day)]
    pub on: Option<Date>,
}

/// Draft a guide: a file with the keys of use, the hazards its words suggest, and steps to fill in
///
/// The file is `guides/<system>/<id>.md`, the id made from the title. With --from the steps,
/// figures and parts of another guide are taken over. No guide is ever replaced.
///
/// Examples:
///   garboard draft "Check the stern gland" --system drive
///   garboard draft "Change the gearbox oil by pump" --system drive --from gearbox-oil
#[derive(Debug, ClapArgs)]
#[command(verbatim_doc_comment)]
pub struct DraftArgs {
    /// What the job is called
    #[arg(value_name = "TITLE", allow_hyphen_values = true)]
    pub title: String,

    /// The system it belongs to: an id of `systems` in `boat.yaml`
    #[arg(long, value_name = "SYSTEM", allow_hyphen_values = true)]
    pub system: String,

    /// Begin from another guide, by its id
    #[arg(long, value_name = "GUIDE")]
    pub from: Option<String>,

    #[command(flatten)]
    pub book: BookArgs,
}

/// Take guides of another boat into the book, from a file that `garboard share` made
///
/// What the file holds is shown first, and nothing is written before you agree. No file is ever
/// replaced: a guide whose id is taken comes in under another. Pages mark its figures until you
/// have held them against this boat and written `checked:` into it.
///
/// Examples:
///   garboard receive impeller.html
///   garboard receive impeller.html --dry-run
///   garboard receive impeller.html --yes --system engine-room=engine --meter port-hours=engine
///   garboard receive impeller.html --revise --item impeller-kit=impeller-main
#[derive(Debug, ClapArgs)]
#[command(verbatim_doc_comment)]
pub struct ReceiveArgs {
    /// The file
    #[arg(value_name = "FILE.html")]
    pub file: PathBuf,

    #[command(flatten)]
    pub book: BookArgs,

    /// Take it without asking
    #[arg(long, conflicts_with = "dry_run")]
    pub yes: bool,

    /// Put a guide whose id is taken beside yours as another revision of it, and show what differs
    #[arg(long)]
    pub revise: bool,

    /// Her system, and which of yours it is
    #[arg(long, value_name = "HERS=YOURS", value_parser = pair)]
    pub system: Vec<(String, String)>,

    /// Her meter, and which of yours it is
    #[arg(long, value_name = "HERS=YOURS", value_parser = pair)]
    pub meter: Vec<(String, String)>,

    /// Her store item or tool, and which of yours it is
    #[arg(long, value_name = "HERS=YOURS", value_parser = pair)]
    pub item: Vec<(String, String)>,

    /// Show what would be taken, and write nothing
    #[arg(long)]
    pub dry_run: bool,
}

fn pair(text: &str) -> Result<(String, String), String> {
    let pair = text.split_once('=').map(|(theirs, ours)| (theirs.trim().to_owned(), ours.trim().to_owned()));
    pair.filter(|(theirs, ours)| !theirs.is_empty() && !ours.is_empty())
        .ok_or_else(|| "write the id in the file, `=`, and your id, such as `port-hours=engine`".to_owned())
}

/// Publish at every save and show the site in a browser, until Ctrl-C
///
/// Open pages load anew by themselves. While the book has errors the last good pages stay, and say
/// what is wrong. The address is printed; pages can be read there, and nothing else.
///
/// Examples:
///   garboard tend
///   garboard tend --book ~/boat/content --port 8000
///   garboard tend --lan
#[derive(Debug, ClapArgs)]
#[command(verbatim_doc_comment)]
pub struct TendArgs {
    #[command(flatten)]
    pub book: BookArgs,

    /// Folder of the site [default: `site` beside the book]
    #[arg(long, value_name = "DIR")]
    pub to: Option<PathBuf>,

    /// Theme: one that ships, or a folder of `themes` beside the book
    #[arg(long, value_name = "NAME", default_value = crate::site::DEFAULT_THEME)]
    pub theme: String,

    /// Port to be opened, or the next that is free; 0 is any
    #[arg(long, value_name = "N", default_value_t = 7245, value_parser = port)]
    pub port: u16,

    /// Show it to the phone too: everyone on your network can then read the book
    #[arg(long)]
    pub lan: bool,
}

fn port(text: &str) -> Result<u16, String> {
    text.trim().parse().map_err(|_| "this is no port; write a whole number from 1024 to 65535, or 0 for any that is free".to_owned())
}

fn crew(text: &str) -> Result<u32, String> {
    let people = text.trim().parse().ok().filter(|people| (1..=99).contains(people));
    people.ok_or_else(|| "this is not a number of people; write a whole number from 1 to 99, such as `2`".to_owned())
}

fn day(text: &str) -> Result<Date, String> {
    crate::book::date::parse_day(text).map_err(|problem| format!("{}; {}", problem.message, problem.remedy))
}

fn span(text: &str) -> Result<CalendarSpan, String> {
    CalendarSpan::parse(text).map_err(|problem| format!("{problem}; {}", problem.remedy()))
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

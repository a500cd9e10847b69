//! `garboard enter --csv FILE`: brings in history from a spreadsheet, every row or none.
//!
//! What nobody can know for certain is asked for: which way round dates are, and which guide a job
//! name means. The answers to the latter stand in `FILE.decisions.yaml`, which is the crew's.

use super::args::EnterArgs;
use super::enter_csv_show as show;
use super::outcome::Exit;
use super::{report, today};
use crate::book::diagnostic::{Diagnostic, Severity};
use crate::book::load::{LARGEST_CSV, Loaded, load};
use crate::disk::put_all::{Item, put_all};
use crate::disk::{self, put};
use crate::enter::csv::{
    Columns, CsvProblem, DateOrder, Dates, DecimalMark, Decision, Fate, Judgement, Names, Reading, Table, Target, add_suggestions,
    dates_of, decode, judge, read_decisions,
};
use clap::{Args as ClapArgs, ValueEnum};
use std::collections::BTreeMap;
use std::ffi::OsString;
use std::io::{self, BufRead, IsTerminal, Read, Write};
use std::path::{Path, PathBuf};

/// History from a spreadsheet.
#[derive(Debug, Default, ClapArgs)]
pub struct CsvArgs {
    /// Bring in history from a spreadsheet saved as CSV: an entry a row, all rows or none
    #[arg(long, value_name = "FILE", conflicts_with = "from")]
    pub csv: Option<PathBuf>,

    /// How the spreadsheet writes its dates; needed where they do not all begin with the year
    #[arg(long, value_enum, value_name = "ORDER", requires = "csv")]
    pub dates: Option<DatesArg>,

    /// What a column is, such as "Engine hrs=meter:engine" or "Price=cost:EUR"; `-` passes it over
    #[arg(long, value_name = "NAME=KEY", requires = "csv")]
    pub column: Vec<String>,

    /// What stands before the decimals of its numbers, where they do not tell
    #[arg(long, value_enum, value_name = "MARK", requires = "csv")]
    pub decimal: Option<DecimalArg>,

    /// Show what would become of every row, and write nothing
    #[arg(long, requires = "csv", conflicts_with = "from")]
    pub dry_run: bool,
}

/// What stands first in a date.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum DatesArg {
    /// 2026-03-14
    Iso,
    /// 14.3.2026
    DayFirst,
    /// 3/14/2026
    MonthFirst,
}

/// What stands before decimals.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum DecimalArg {
    /// 1,840.5
    Point,
    /// 1.840,5
    Comma,
}

/// How a command ended before its time.
type Ended = Result<Exit, io::Error>;

/// The spreadsheet and how it is read.
struct Sheet {
    /// As the user calls it.
    name: String,
    table: Table,
    columns: Columns,
    dates: Dates,
    decimal: Option<DecimalMark>,
}

pub fn run(args: &EnterArgs, file: &Path, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Exit> {
    match bring_in(args, file, out, err) {
        Ok(exit) => Ok(exit),
        Err(ended) => ended,
    }
}

/// The error is how the command ended early.
fn bring_in(args: &EnterArgs, file: &Path, out: &mut dyn Write, err: &mut dyn Write) -> Result<Exit, Ended> {
    let book = &args.book.book;
    let loaded = loaded(book, err)?;
    let sheet = sheet(args, file, &loaded, err)?;
    show::columns(err, &sheet.name, &sheet.table, &sheet.columns).map_err(Err)?;
    let decisions = Decisions::beside(file);
    let known = decisions.read(&loaded, err)?;
    let mut names = names_of(&sheet, &loaded, &known);
    if args.history.dry_run {
        names.suppose();
    } else if !names.doubtful.is_empty() {
        return decisions.ask(&names, &sheet.name, err);
    }
    let asks = !args.yes && io::stdin().is_terminal() && io::stderr().is_terminal();
    if args.history.dry_run || !args.yes {
        // A question may stand for long: nothing is held while it does, and all is judged again after it.
        let judged = judged(args, &sheet, &names, loaded);
        let to: &mut dyn Write = if args.history.dry_run { out } else { err };
        show::fates(to, &judged).map_err(Err)?;
        let sound = show::problems(err, book, &sheet.name, &judged).map_err(Err)?;
        if args.history.dry_run {
            return Ok(if sound { Exit::Fine } else { Exit::Problems });
        }
        if !sound {
            return Ok(Exit::Problems);
        }
        if judged.new_ones().next().is_none() {
            show::nothing_new(out, &sheet.name, &judged).map_err(Err)?;
            return Ok(Exit::Fine);
        }
        if !asks {
            writeln!(err, "error: there is no terminal to ask on, so nothing was written\nhelp: look at the list, then add `--yes`")
                .map_err(Err)?;
            return Ok(Exit::WrongCommandLine);
        }
        let entries = judged.new_ones().count();
        if !agreed(&mut io::stdin().lock(), err, &format!("write {entries} entries? [y/N] ")).map_err(Err)? {
            writeln!(err, "nothing was written").map_err(Err)?;
            return Ok(Exit::Fine);
        }
    }
    write(args, &sheet, &decisions, out, err)
}

/// Judges again while no other enters, and writes.
fn write(args: &EnterArgs, sheet: &Sheet, decisions: &Decisions, out: &mut dyn Write, err: &mut dyn Write) -> Result<Exit, Ended> {
    let book = &args.book.book;
    let turn = put::turn(book);
    let loaded = loaded(book, err)?;
    let known = decisions.read(&loaded, err)?;
    let names = names_of(sheet, &loaded, &known);
    let judged = judged(args, sheet, &names, loaded);
    if !show::problems(err, book, &sheet.name, &judged).map_err(Err)? {
        return Ok(Exit::Problems);
    }
    let mut items = Vec::new();
    for row in judged.new_ones() {
        let (Some(spot), Fate::New(path)) = (&row.spot, &row.fate) else { continue };
        let first = path.rsplit('/').next().unwrap_or(path).trim_end_matches(".md");
        let names = spot.names_from(first).take(10_000).map(|name| format!("{name}.md"));
        items.push(Item { folder: book.join("log").join(&spot.year), names, bytes: row.text.clone().into_bytes() });
    }
    if items.is_empty() {
        show::nothing_new(out, &sheet.name, &judged).map_err(Err)?;
        return Ok(Exit::Fine);
    }
    let log = book.join("log");
    if let Some(link) = disk::link_among(std::iter::once(&log).chain(items.iter().map(|item| &item.folder))) {
        writeln!(err, "error: {link}").map_err(Err)?;
        writeln!(err, "help: put the folder itself into the book, then enter it again; nothing was written").map_err(Err)?;
        return Ok(Exit::Problems);
    }
    let put = put_all(&items);
    drop(turn);
    match put {
        Ok(put) => {
            for path in &put.paths {
                writeln!(out, "entered {}", path.display()).map_err(Err)?;
            }
            show::counts(err, &judged).map_err(Err)?;
            if let Some(error) = put.not_flushed {
                writeln!(err, "warning: the entries are written, but they are not certain to survive a power cut: {}", disk::why(&error))
                    .map_err(Err)?;
                writeln!(err, "help: keep `{}` until the disk has been put away properly", sheet.name).map_err(Err)?;
            }
            Ok(Exit::Fine)
        }
        Err(nothing) => {
            writeln!(err, "error: {}", nothing.error.message).map_err(Err)?;
            if nothing.left.is_empty() {
                writeln!(err, "help: {}; nothing was written, and `{}` is as it was", nothing.error.remedy, sheet.name).map_err(Err)?;
            } else {
                for path in &nothing.left {
                    writeln!(err, "error: `{}` was written and could not be taken away again", path.display()).map_err(Err)?;
                }
                writeln!(err, "help: {}; what is in the log already is known again", nothing.error.remedy).map_err(Err)?;
            }
            Ok(Exit::Problems)
        }
    }
}

/// Reads the book. Where a file of it cannot be read at all, nobody knows which meters and guides
/// there are, nor which rows the log has already.
fn loaded(book: &Path, err: &mut dyn Write) -> Result<Loaded, Ended> {
    let loaded = load(book).map_err(|error| super::no_book(err, &error))?;
    let hides = |problem: &&Diagnostic| {
        let boat = problem.place.file == "boat.yaml" && loaded.broken.contains("boat.yaml");
        problem.severity == Severity::Error && (boat || problem.rule == "unreadable")
    };
    let hiding: Vec<Diagnostic> = loaded.problems.iter().filter(hides).cloned().collect();
    if hiding.is_empty() {
        return Ok(loaded);
    }
    let told = report::problems(err, book, &hiding, true)
        .and_then(|()| writeln!(err, "nothing was written: what the book has and what the log holds already cannot be known"));
    Err(told.map(|()| Exit::Problems))
}

fn judged(args: &EnterArgs, sheet: &Sheet, names: &Names, loaded: Loaded) -> Judgement {
    let reading = Reading { table: &sheet.table, columns: &sheet.columns, dates: sheet.dates, decimal: sheet.decimal, names };
    judge(loaded, reading, args.book.on.unwrap_or_else(today))
}

fn names_of(sheet: &Sheet, loaded: &Loaded, known: &BTreeMap<String, Decision>) -> Names {
    let column = sheet.columns.one(&Target::Job);
    let cells = sheet.table.rows.iter().filter_map(|row| Some((row.line, row.cell(column?))));
    Names::of(&loaded.book, cells, known)
}

/// Ends the command with problems that are mended in the file (1) or on the command line (2).
fn ended(err: &mut dyn Write, name: &str, problems: &[CsvProblem], exit: Exit) -> Ended {
    for problem in problems {
        writeln!(err, "error: `{name}`: {}\nhelp: {}", report::printable(&problem.message), report::printable(&problem.remedy))?;
    }
    writeln!(err, "nothing was written")?;
    Ok(exit)
}

fn sheet(args: &EnterArgs, file: &Path, loaded: &Loaded, err: &mut dyn Write) -> Result<Sheet, Ended> {
    let name = report::printable(&file.to_string_lossy());
    let read = bytes_of(file, LARGEST_CSV).and_then(|bytes| decode(&bytes)).and_then(|decoded| Ok((Table::read(&decoded.text)?, decoded)));
    let (table, decoded) = match read {
        Ok(read) => read,
        Err(problem) => return Err(ended(err, &name, &[problem], Exit::Problems)),
    };
    if decoded.encoding != "UTF-8" {
        writeln!(err, "`{name}` is not UTF-8 and was read as {}", decoded.encoding).map_err(Err)?;
    }
    let columns = match Columns::of(&table.header, &args.history.column, &loaded.book.boat) {
        Ok(columns) => columns,
        Err(problems) => return Err(ended(err, &name, &problems, Exit::WrongCommandLine)),
    };
    let order = order(args, &name, &table, &columns, err)?;
    let decimal = args.history.decimal.map(|decimal| match decimal {
        DecimalArg::Point => DecimalMark::Point,
        DecimalArg::Comma => DecimalMark::Comma,
    });
    let dates = Dates { order, not_after: args.book.on.unwrap_or_else(today) };
    Ok(Sheet { name, table, columns, dates, decimal })
}

/// The order of the dates: as said, as seen beyond doubt, or as asked.
fn order(args: &EnterArgs, name: &str, table: &Table, columns: &Columns, err: &mut dyn Write) -> Result<DateOrder, Ended> {
    match args.history.dates {
        Some(DatesArg::Iso) => return Ok(DateOrder::Iso),
        Some(DatesArg::DayFirst) => return Ok(DateOrder::DayFirst),
        Some(DatesArg::MonthFirst) => return Ok(DateOrder::MonthFirst),
        None => {}
    }
    let column = columns.one(&Target::Date).unwrap_or(0);
    let days: Vec<(u64, &str)> = table.rows.iter().map(|row| (row.line, row.cell(column))).collect();
    let undecided = match dates_of(days.into_iter()) {
        Ok(order) => return Ok(order),
        Err(undecided) => undecided,
    };
    let hint = undecided.telling.map_or_else(String::new, |(line, written, order)| {
        let order = if order == DateOrder::DayFirst { "day first" } else { "month first" };
        format!("; `{}` in line {line} can only be {order}", report::printable(&written))
    });
    let written = report::printable(&undecided.written);
    let message = format!("`{written}` in line {} does not say whether the day or the month is first{hint}", undecided.line);
    if io::stdin().is_terminal() && io::stderr().is_terminal() {
        writeln!(err, "`{name}`: {message}").map_err(Err)?;
        write!(err, "are its dates day first (14.3.2026) or month first (3/14/2026)? [d/m] ").map_err(Err)?;
        err.flush().map_err(Err)?;
        let mut answer = String::new();
        io::stdin().lock().read_line(&mut answer).map_err(Err)?;
        match answer.trim().to_lowercase().chars().next() {
            Some('d' | 't') => return Ok(DateOrder::DayFirst),
            Some('m') => return Ok(DateOrder::MonthFirst),
            _ => {}
        }
    }
    let problem = CsvProblem { message, remedy: "say it: `--dates day-first` or `--dates month-first`".to_owned() };
    Err(ended(err, name, &[problem], Exit::WrongCommandLine))
}

fn bytes_of(file: &Path, limit: u64) -> Result<Vec<u8>, CsvProblem> {
    let problem = |message: String, remedy: &str| Err(CsvProblem { message, remedy: remedy.to_owned() });
    let mut bytes = Vec::new();
    let read = match std::fs::metadata(file) {
        Ok(meta) if meta.is_dir() => Err(io::Error::other("it is a folder, not a file")),
        _ => std::fs::File::open(file).and_then(|file| file.take(limit + 1).read_to_end(&mut bytes)),
    };
    match read {
        Err(error) if error.kind() == io::ErrorKind::NotFound => problem("there is no such file".to_owned(), "name the spreadsheet's file"),
        Err(error) => {
            problem(format!("it cannot be read: {}", disk::why(&error)), "check that it is the file you mean, and that you may read it")
        }
        Ok(_) if bytes.len() as u64 > limit => problem(format!("it has more than {} MB", limit / 1_048_576), "split it into several files"),
        Ok(_) => Ok(bytes),
    }
}

/// No answer is no.
fn agreed(input: &mut dyn BufRead, err: &mut dyn Write, question: &str) -> io::Result<bool> {
    write!(err, "\n{question}")?;
    err.flush()?;
    let mut answer = String::new();
    input.read_line(&mut answer)?;
    Ok(matches!(answer.trim().to_lowercase().as_str(), "y" | "yes" | "j" | "ja"))
}

/// The file of decisions.
struct Decisions {
    path: PathBuf,
    name: String,
}

impl Decisions {
    fn beside(file: &Path) -> Self {
        let mut path: OsString = file.as_os_str().to_owned();
        path.push(".decisions.yaml");
        let path = PathBuf::from(path);
        let name = report::printable(&path.to_string_lossy());
        Self { path, name }
    }

    /// Its text; empty where there is none.
    fn text(&self) -> Result<String, CsvProblem> {
        // One that is there and cannot be looked at must not be taken for none, and be replaced.
        if matches!(self.path.try_exists(), Ok(false)) {
            return Ok(String::new());
        }
        let bytes = bytes_of(&self.path, LARGEST_CSV)?;
        String::from_utf8(bytes)
            .map_err(|_| CsvProblem { message: "it is not UTF-8 text".to_owned(), remedy: "save it as UTF-8".to_owned() })
    }

    fn read(&self, loaded: &Loaded, err: &mut dyn Write) -> Result<BTreeMap<String, Decision>, Ended> {
        let read = self.text().map_err(|problem| vec![problem]).and_then(|text| read_decisions(&text, &loaded.book));
        read.map_err(|problems| ended(err, &self.name, &problems, Exit::Problems))
    }

    /// Adds what nobody has decided on, and ends the command.
    fn ask(&self, names: &Names, table: &str, err: &mut dyn Write) -> Result<Exit, Ended> {
        let base = Path::new(table).file_name().map_or_else(|| table.to_owned(), |name| name.to_string_lossy().into_owned());
        let before = self.text().map_err(|problem| ended(err, &self.name, &[problem], Exit::Problems))?;
        let whole =
            add_suggestions(&before, &names.doubtful, &base).map_err(|problem| ended(err, &self.name, &[problem], Exit::Problems))?;
        if let Err(error) = replace(&self.path, whole.as_bytes()) {
            let problem = CsvProblem {
                message: format!("it cannot be written: {}", disk::why(&error)),
                remedy: "put the spreadsheet where you may write, or make room there".to_owned(),
            };
            return Err(ended(err, &self.name, &[problem], Exit::Problems));
        }
        show::doubtful(err, names, &self.name).map_err(Err)?;
        Ok(Exit::Problems)
    }
}

/// Puts a file in place of an older one, whole or not at all.
fn replace(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let folder = path.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or_else(|| Path::new("."));
    let mut file = tempfile::Builder::new().prefix(".garboard-entering-").suffix(".tmp").tempfile_in(folder)?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let mode = std::fs::metadata(path).map_or(0o644, |meta| meta.permissions().mode());
        file.as_file().set_permissions(std::fs::Permissions::from_mode(mode))?;
    }
    file.persist(path).map(|_| ()).map_err(|error| error.error)
}

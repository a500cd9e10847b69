//! `garboard enter --csv FILE`: what stands in the log before and after, and what is said.

use crate::support::{Book, Run, entry, files_under, job};
use std::collections::BTreeMap;
use std::fmt::Write;

const PLAIN: &str = "Date,Job,Engine hours,Notes\n2025-05-30,oil,1700,As usual.\n2025-08-01,Change the oil,1750.5,\n";
/// The last reading of the sound book is 1840.5 h on 2026-03-14.
const DECISIONS: &str = "history.csv.decisions.yaml";

fn enter(book: &Book, options: &[&str]) -> Run {
    book.run(["enter", "--on", "2026-06-01", "--csv", "history.csv"].iter().chain(options))
}

fn content(book: &Book) -> BTreeMap<String, Vec<u8>> {
    files_under(&book.path("content"))
}

/// The new files of the book, with `# row:` lines taken out; no other may have changed.
#[track_caller]
fn added(book: &Book, before: &BTreeMap<String, Vec<u8>>) -> BTreeMap<String, String> {
    let mut now = content(book);
    for (path, bytes) in before {
        assert!(now.remove(path).as_ref() == Some(bytes), "{path} is gone or has changed");
    }
    let without_row = |text: String| {
        let (kept, rows): (Vec<&str>, Vec<&str>) = text.split_inclusive('\n').partition(|line| !line.starts_with("# row: "));
        assert_eq!(rows.len(), 1, "{text}");
        kept.concat()
    };
    now.into_iter().map(|(path, bytes)| (path, without_row(String::from_utf8(bytes).expect("text")))).collect()
}

/// What a table makes of the sound book, and a second run makes nothing.
#[track_caller]
fn taken(table: impl AsRef<[u8]>, options: &[&str], expected: &[(&str, &str)]) {
    let book = Book::sound().beside("history.csv", &table);
    let before = content(&book);
    enter(&book, &[options, &["--yes"]].concat()).status(0);
    let expected: BTreeMap<String, String> =
        expected.iter().map(|(path, text)| ((*path).to_owned(), format!("---\n{}", text.replacen("\n\n", "\n---\n", 1)))).collect();
    assert_eq!(added(&book, &before), expected);
    assert_eq!(book.survey(), []);
    let after = content(&book);
    enter(&book, &[options, &["--yes"]].concat()).status(0).stdout_has("in the log already");
    assert!(content(&book) == after);
    assert_eq!(std::fs::read(book.path("history.csv")).expect("the table"), table.as_ref());
}

/// A table that is refused, and changes nothing at all.
#[track_caller]
fn refused(table: impl AsRef<[u8]>, options: &[&str], status: i32, said: &[&str]) {
    let book = Book::sound().beside("history.csv", table);
    let before = files_under(&book.path("."));
    let run = enter(&book, &[options, &["--yes"]].concat()).status(status).stdout("").without_panic();
    for words in said {
        assert!(run.stderr.contains(words), "`{words}` is not in {}", run.stderr);
    }
    assert!(files_under(&book.path(".")) == before, "a file has changed");
}

const FIRST: (&str, &str) = ("log/2025/2025-05-30-oil.md", "jobs: [oil]\ndate: 2025-05-30\nmeters: {engine: 1700}\n\nAs usual.\n");

#[test]
fn every_row_becomes_an_entry() {
    let second = ("log/2025/2025-08-01-oil.md", "jobs: [oil]\ndate: 2025-08-01\nmeters: {engine: 1750.5}\n\n");
    taken(PLAIN, &[], &[FIRST, second]);
    taken(PLAIN.replace('\n', "\r\n").trim_end(), &[], &[FIRST, second]);
    taken(format!("\u{feff}{PLAIN}"), &[], &[FIRST, second]);
    taken(PLAIN.replace(',', "\t"), &[], &[FIRST, second]);
    taken(PLAIN.replace(',', ";").replace("1750.5", "1750,5"), &[], &[FIRST, second]);
    taken(format!("sep=;\n{}", PLAIN.replace(',', ";")), &[], &[FIRST, second]);
    // Short rows and blank ones.
    taken(PLAIN.replace(",\n", "\n").replace("usual.\n", "usual.,,\n\n,,,\n"), &[], &[FIRST, second]);
}

/// RFC 4180, section 2, rules 5 to 7.
#[test]
fn quoted_fields_hold_commas_quotes_and_line_breaks() {
    taken(
        "Date,Job,Engine hours,Notes\r\n2025-05-30,\"oil\",\"1,700.5\",\"He said \"\"tight\"\", then left, \r\nand came back.\r\n\r\n1. *no* list\"\r\n",
        &[],
        &[(
            "log/2025/2025-05-30-oil.md",
            "jobs: [oil]\ndate: 2025-05-30\nmeters: {engine: 1700.5}\n\nHe said \"tight\", then left,\\\nand came back.\n\n1\\. \\*no\\* list\n",
        )],
    );
}

#[test]
fn a_german_export_in_windows_1252() {
    let table = b"Datum;Arbeit;Motorstunden;Seemeilen;Dauer (h);Kosten (EUR);Erledigt durch;Ort;Bemerkungen\r\n\
        30.5.2025;oil;1.700,5;\"12.034,0\";1,5;18,50;Werft;H\xf6rn\xf8;\xd6l gewechselt \x96 trocken\r\n";
    taken(
        table,
        &["--dates", "day-first"],
        &[(
            "log/2025/2025-05-30-oil.md",
            "jobs: [oil]\ndate: 2025-05-30\nmeters: {engine: 1700.5, miles: 12034.0}\ntime: 1.5 h\ncosts: [{what: \"oil\", cost: 18.50 EUR}]\n\
             done-by: yard\nplace: \"Hörnø\"\n\nÖl gewechselt – trocken\n",
        )],
    );
    let book = Book::sound().beside("history.csv", table);
    enter(&book, &["--dates", "day-first", "--dry-run"])
        .status(0)
        .stderr_has("read as windows-1252")
        .stderr_has("`Motorstunden` is meter:engine");
}

#[test]
fn the_order_of_dates_is_never_guessed() {
    let table = "Date,Job\n2025-01-02,oil\n3/4/2025,oil\n";
    refused(table, &[], 2, &["`3/4/2025` in line 3", "`--dates day-first` or `--dates month-first`"]);
    refused(format!("{table}3/14/2025,oil\n"), &[], 2, &["`3/14/2025` in line 4 can only be month first"]);
    let first = ("log/2025/2025-01-02-oil.md", "jobs: [oil]\ndate: 2025-01-02\n\n");
    taken(table, &["--dates", "day-first"], &[first, ("log/2025/2025-04-03-oil.md", "jobs: [oil]\ndate: 2025-04-03\n\n")]);
    taken(table, &["--dates", "month-first"], &[first, ("log/2025/2025-03-04-oil.md", "jobs: [oil]\ndate: 2025-03-04\n\n")]);
    refused(table, &["--dates", "iso"], 1, &["line 3: Date: `3/4/2025` does not begin with the year"]);
}

#[test]
fn what_is_wrong_in_any_row_keeps_all_out() {
    let with = |row: &str| format!("{PLAIN}{row}\n");
    refused(with("2025-02-29,oil,,"), &[], 1, &["line 4: Date: `2025-02-29`: that month has 28 days", "nothing was written"]);
    refused(with("31.4.2025,oil,,"), &["--dates", "day-first"], 1, &["line 4", "30 days"]);
    refused(with("2035-09-01,oil,,"), &[], 1, &["line 4", "work that lies ahead is no history"]);
    refused(with("2025-09-01,oil,1700,"), &[], 1, &["line 4", "1750.5"]);
    refused(with("2025-09-01,oil,1900,"), &[], 1, &["log/2026/2026-03-14-oil.md", "1840.5", "line 4"]);
    refused(with("2025-09-01,oil,n/a,"), &[], 1, &["line 4: Engine hours: `n/a` is not"]);
    refused(with("2025-09-01,oil,1760,a,b"), &[], 1, &["line 4: the row has 5 fields, and the header 4"]);
    refused(with("2025-09-01,,,"), &[], 1, &["line 4: the row says nothing but its day"]);
    refused(with(",oil,,"), &[], 1, &["line 4: Date: the row has no date"]);
    // All of them at once.
    refused(with("x,oil,,\n2025-09-01,,,"), &[], 1, &["line 4: Date", "line 5: the row"]);
    refused("Date,Job,Engine hours\n2025-05-30,oil,\"1,700\"\n", &[], 1, &["1700 or 1.700", "--decimal point"]);
}

#[test]
fn what_is_no_table_is_told_of() {
    refused("", &[], 1, &["`history.csv`: this file is empty"]);
    refused("\r\n\r\n", &[], 1, &["empty"]);
    refused("Date,Job\n", &[], 1, &["no rows"]);
    refused([0x89, b'P', b'N', b'G', 0, 1, 2, 0xff], &[], 1, &["this is no text file"]);
    refused(b"PK\x03\x04xlsx", &[], 1, &["save it as CSV"]);
    refused("Date,Job\n2025-05-30,\"oil\n2025-05-31,oil\n", &[], 1, &["a quote is open from line 2"]);
    refused("When it was,Job\n2025-05-30,oil\n", &[], 2, &["no column is the date", "`When it was`"]);
    refused("Date,Job,Hrs\n2025-05-30,oil,1\n", &["--column", "Hrz=meter:engine"], 2, &["did you mean `Hrs`"]);
    refused("Date,Job,Hrs\n2025-05-30,oil,1\n", &["--column", "Hrs=meter:engin"], 2, &["did you mean `engine`"]);
    let book = Book::sound();
    enter(&book, &["--yes"]).status(1).stderr_has("`history.csv`: there is no such file");
    book.run(["enter", "--dry-run", "--from", "x"]).status(2);
    book.run(["enter", "--csv", "history.csv", "--from", "x"]).status(2);
}

#[test]
fn columns_that_nobody_knows_are_listed_or_said() {
    let table = "Date,Job,Eng.,Colour,Price\n2025-05-30,oil,1700,blue,20\n";
    let book = Book::sound().beside("history.csv", table);
    enter(&book, &["--dry-run", "--column", "Price=-"]).status(0).stderr_has("passed over: `Eng.`, `Colour`;");
    enter(&book, &["--dry-run"]).status(1).stdout_has("does not say its currency").stderr_has("\"Price=cost:EUR\"");
    taken(
        table,
        &["--column", "Eng.=meter:engine", "--column", "Colour=notes", "--column", "Price=cost:NOK"],
        &[(
            "log/2025/2025-05-30-oil.md",
            "jobs: [oil]\ndate: 2025-05-30\nmeters: {engine: 1700}\ncosts: [{what: \"oil\", cost: 20 NOK}]\n\nblue\n",
        )],
    );
}

#[test]
fn job_names_are_decided_on_by_the_crew() {
    let table = "Date,Task\n2025-05-30,Oil chg\n2025-06-01,Wash the deck\n2025-06-02,CHANGE THE OIL\n2025-06-03,Oil chg\n";
    let book = Book::sound().beside("history.csv", table);
    let before = content(&book);
    enter(&book, &["--dry-run"]).status(0).stdout_has("nobody has decided on `Oil chg` yet: it would become `oil`");
    assert!(!book.path(DECISIONS).exists());
    let run = enter(&book, &["--yes"]).status(1).stdout("");
    run.stderr_has("2 job names").stderr_has("Oil chg").stderr_has("`history.csv.decisions.yaml` has these suggestions");
    let file = book.text(DECISIONS);
    assert!(file.contains("\n\"Oil chg\": oil   # 2 rows, from line 2\n\"Wash the deck\": work   # 1 row, from line 3\n"), "{file}");
    assert!(content(&book) == before);
    // What the crew decides is kept byte for byte; a new name is added behind it.
    let mine = file.replace("\"Oil chg\": oil   # 2 rows, from line 2", "'Oil chg': work # mine");
    book.put(DECISIONS, mine.as_bytes());
    book.put("history.csv", format!("{table}2025-06-04,oil check\n").as_bytes());
    enter(&book, &["--yes"]).status(1).stderr_has("1 job name");
    let now = book.text(DECISIONS);
    assert!(now.starts_with(&mine) && now[mine.len()..].starts_with("\"oil check\": "), "{now}");
    book.put(DECISIONS, now.replace("\"oil check\": oil", "\"oil check\": oyl").as_bytes());
    enter(&book, &["--yes"]).status(1).stderr_has("there is no guide `oyl`").stderr_has("did you mean `oil`").stdout("");
    assert!(content(&book) == before);
    book.put(DECISIONS, now.as_bytes());
    enter(&book, &["--yes"]).status(0);
    let expected = [
        ("log/2025/2025-05-30-oil-chg.md", "---\nwork: [\"Oil chg\"]\ndate: 2025-05-30\n---\n"),
        ("log/2025/2025-06-01-wash-the-deck.md", "---\nwork: [\"Wash the deck\"]\ndate: 2025-06-01\n---\n"),
        ("log/2025/2025-06-02-oil.md", "---\njobs: [oil]\ndate: 2025-06-02\n---\n"),
        ("log/2025/2025-06-03-oil-chg.md", "---\nwork: [\"Oil chg\"]\ndate: 2025-06-03\n---\n"),
        ("log/2025/2025-06-04-oil.md", "---\njobs: [oil]\ndate: 2025-06-04\n---\n"),
    ];
    assert_eq!(added(&book, &before), expected.map(|(path, text)| (path.to_owned(), text.to_owned())).into_iter().collect());
}

#[test]
fn several_guides_and_gear_may_be_decided_on() {
    let valve = job("Work the valves", "for: [port-engine, starboard-engine]\n");
    let book = Book::sound().file("guides/engine/valves.md", valve).beside("history.csv", "Date,Job\n2025-05-30,Oil + port valve\n");
    let before = content(&book);
    book.put(DECISIONS, b"\"Oil + port valve\": oil, valves/port-engine\n");
    enter(&book, &["--yes"]).status(0);
    let made = added(&book, &before);
    assert_eq!(made["log/2025/2025-05-30-oil.md"], "---\njobs: [oil, valves/port-engine]\ndate: 2025-05-30\n---\n");
}

#[test]
fn a_dry_run_shows_every_row_and_writes_nothing() {
    let table = format!("{PLAIN}2026-03-14,oil,1840.5,\n2025-13-01,oil,,\n");
    let book = Book::sound().beside("history.csv", table);
    let before = files_under(&book.path("."));
    let run = enter(&book, &["--dry-run"]).status(1);
    let lines: Vec<&str> = run.stdout.lines().collect();
    assert_eq!(
        lines,
        [
            "line 2  2025-05-30  oil  new: log/2025/2025-05-30-oil.md",
            "line 3  2025-08-01  oil  new: log/2025/2025-08-01-oil.md",
            "line 4  2026-03-14  oil  doubtful: the same work on the same day is in `log/2026/2026-03-14-oil.md`; new: log/2026/2026-03-14-oil-2.md",
            "line 5  2025-13-01  oil  wrong: Date: `2025-13-01`: there is no month 13",
            "3 new (1 doubtful), 1 wrong",
        ]
    );
    assert!(files_under(&book.path(".")) == before);
    book.put("history.csv", PLAIN.as_bytes());
    let before = files_under(&book.path("."));
    // The tests have no terminal.
    enter(&book, &[]).status(2).stdout("").stderr_has("line 2  2025-05-30").stderr_has("add `--yes`");
    assert!(files_under(&book.path(".")) == before);
}

#[test]
fn rows_are_known_again_wherever_they_stand() {
    let book = Book::sound().beside("history.csv", PLAIN);
    enter(&book, &["--yes"]).status(0);
    // Moved in the log, exported otherwise, with a row more, and one that is there twice.
    std::fs::rename(book.path("content/log/2025/2025-05-30-oil.md"), book.path("content/log/2025/first.md")).expect("renamed");
    let table = PLAIN.replace("Notes\n", "Notes\n2024-01-01,oil,1600,\n2024-01-01,oil,1600,\n").replace(',', ";");
    book.put("history.csv", table.as_bytes());
    let before = content(&book);
    let run = enter(&book, &["--yes"]).status(0).stderr_has("2 new (1 doubtful), 2 in the log already");
    assert_eq!(run.stdout, "entered content/log/2024/2024-01-01-oil.md\nentered content/log/2024/2024-01-01-oil-2.md\n");
    assert_eq!(added(&book, &before).len(), 2);
    enter(&book, &["--yes"]).status(0).stdout("all 4 rows of `history.csv` are in the log already\n");
}

#[test]
fn where_one_cannot_be_written_none_is() {
    let book = Book::sound().beside("history.csv", "Date,Job\n2024-05-30,oil\n2025-08-01,oil\n").file("log/2025", "no folder\n");
    let before = files_under(&book.path("."));
    enter(&book, &["--yes"])
        .status(1)
        .stdout("")
        .stderr_has("content/log/2025")
        .stderr_has("nothing was written, and `history.csv` is as it was");
    assert!(files_under(&book.path(".")) == before);
    assert!(!book.path("content/log/2024").exists());
}

#[test]
fn errors_elsewhere_keep_no_history_out() {
    let book = Book::sound().file("guides/engine/broken.md", "no guide\n").beside("history.csv", PLAIN);
    enter(&book, &["--yes"]).status(0).stderr_has("the book has errors elsewhere");
    // Without the boat nobody knows what a column is.
    let book = Book::sound().file("boat.yaml", "name: [\n").beside("history.csv", PLAIN);
    enter(&book, &["--yes"]).status(1).stdout("").stderr_has("boat.yaml").stderr_has("nothing was written");
}

/// One more reading after a mistyped high one changes the words of the old error, which counts those after it.
#[test]
fn an_old_error_that_counts_one_more_keeps_no_history_out() {
    let oil = |day: &str, hours: &str| entry(&format!("jobs: [oil]\ndate: {day}\nmeters: {{engine: {hours}}}\n"));
    let book = Book::sound()
        .without("log")
        .file("log/2026/2026-01-01-oil.md", oil("2026-01-01", "9999"))
        .file("log/2026/2026-02-01-oil.md", oil("2026-02-01", "1005"))
        .beside("history.csv", "Date,Job,Engine hours\n2026-03-01,oil,1010\n2026-04-01,oil,1020\n");
    enter(&book, &["--yes"])
        .status(0)
        .stdout("entered content/log/2026/2026-03-01-oil.md\nentered content/log/2026/2026-04-01-oil.md\n")
        .stderr_has("the book has errors elsewhere");
}

#[test]
fn five_thousand_rows() {
    let mut table = "Date,Job,Engine hours,Notes\n".to_owned();
    // Five rows a day for 1,000 days from 2020-05-01, a tenth of an hour each: from 100.0 to 599.9 h.
    let first = jiff::civil::date(2020, 5, 1);
    for number in 0..5_000_i64 {
        let day = first.checked_add(jiff::Span::new().days(number / 5)).expect("a day");
        let _ = writeln!(table, "{day},oil,{}.{},\"Row {number}, with a comma\"", 100 + number / 10, number % 10);
    }
    let book = Book::sound().beside("history.csv", table);
    let before = content(&book);
    // Every entry is flushed, which takes its time on a slow disk.
    let all = |options: &[&str]| {
        let limit = std::time::Duration::from_secs(600);
        book.run_within(limit, ["enter", "--on", "2026-06-01", "--csv", "history.csv"].iter().chain(options))
    };
    all(&["--yes"]).status(0).stderr_has("5000 new (4000 doubtful)");
    assert_eq!(content(&book).len(), before.len() + 5_000);
    all(&["--yes"]).status(0).stdout("all 5000 rows of `history.csv` are in the log already\n");
    assert_eq!(content(&book).len(), before.len() + 5_000);
}

#[test]
fn two_at_once_take_every_row_once() {
    let book = Book::sound().beside("history.csv", PLAIN);
    let before = content(&book);
    std::thread::scope(|scope| {
        for _ in 0..10 {
            scope.spawn(|| enter(&book, &["--yes"]).status(0));
        }
    });
    assert_eq!(added(&book, &before).len(), 2);
    let open = entry("jobs: [oil]\ndate: 2025-05-30\n");
    assert!(!content(&book).values().any(|bytes| bytes == open.as_bytes()));
}

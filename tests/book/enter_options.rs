//! `garboard enter` with options: what stands in the log before and after, and what is said.

use crate::support::{Book, Run, files_under, guide};
use std::collections::BTreeMap;
use std::thread;

fn enter(book: &Book, options: &[&str]) -> Run {
    book.run(["enter", "--on", "2026-06-01"].iter().chain(options))
}

fn content(book: &Book) -> BTreeMap<String, Vec<u8>> {
    files_under(&book.path("content"))
}

/// The options make this file, and change no other.
#[track_caller]
fn made(book: &Book, options: &[&str], path: &str, text: &str) -> Run {
    let mut expected = content(book);
    let run = enter(book, options).status(0).stdout(&format!("entered content/{path}\n"));
    assert_eq!(book.text(&format!("content/{path}")), text);
    expected.insert(path.to_owned(), text.as_bytes().to_vec());
    assert!(content(book) == expected, "another file changed");
    run
}

/// Nothing is written, and all this is said.
#[track_caller]
fn refused(book: &Book, status: i32, options: &[&str], said: &[&str]) {
    let before = content(book);
    let run = enter(book, options).status(status).stdout("").stderr_has("nothing was written");
    for words in said {
        assert!(run.stderr.contains(words), "`{words}` is not in {}", run.stderr);
    }
    assert!(content(book) == before, "a file changed");
}

#[test]
fn a_job_alone_is_done_today() {
    let text = "---\njobs: [oil]\ndate: 2026-06-01\n---\n";
    // What is written is shown, and nobody is asked where there is no terminal.
    made(&Book::sound(), &["oil"], "log/2026/2026-06-01-oil.md", text).stderr_has("    jobs: [oil]").stderr_has("2026-06-01-oil.md");
    made(&Book::sound(), &["oil", "--yes"], "log/2026/2026-06-01-oil.md", text);
    // Its title, or what becomes of it in an id, will do as well.
    made(&Book::sound(), &["Change the oil"], "log/2026/2026-06-01-oil.md", text);
}

#[test]
fn every_key_of_an_entry_has_its_option() {
    let boat = "name: Test boat\nin-service: 2020-04-01\nsystems: [{id: engine, title: Engine}]\n\
                meters: [{id: engine, title: Engine hours, unit: h}, {id: miles, title: Miles by log, unit: nmi}]\n\
                gear: [{id: port-engine, title: Port engine, meter: engine}, {id: life-raft, title: Life raft, expires: 2029-05}]\n";
    let compression = guide(
        "Measure the compression",
        "for: [port-engine]\nhazards: []\nreadings: {compression: {unit: bar, at: [cylinder 1, cylinder 2]}}\n",
        "## Work\n\n1. Read it. {read compression}\n",
    );
    let book =
        Book::sound().file("boat.yaml", boat).file("guides/engine/compression.md", compression).file("log/2026/invoice.pdf", "%PDF-");
    let options = [
        "oil",
        "compression/port-engine",
        "--work=Painted the block: green",
        "--system=engine",
        "--gear=port-engine",
        "--started=29 May",
        "--date=yesterday",
        "--time=2 h 40 min",
        "--meter=engine=1850,5",
        "--meter=Miles by log=~12034",
        "--part=oil-filter=2 for 37 EUR",
        "--part=engine-oil=7,5 L",
        "--part=Tin of grease",
        "--cost=crane=240 EUR",
        "--reading=oil-pressure=3.8",
        "--reading=compression/cylinder 1=27 bar",
        "--reading=compression/Cylinder 2=26 bar",
        "--finding=watch: weep; slow, at the cover; guide: oil; gear: port-engine; before: haul-out; limits-use: no motoring",
        "--finding=act: belt worn; before: 2026-09",
        "--clears=2026-03-14-oil/1",
        "--fitted=life-raft; expires: 2030-05; serial: LR-1",
        "--done-by=yard",
        "--by=Maren",
        "--place=Ansker",
        "--paper=invoice.pdf",
        "--basis=own record",
        "--except=Did not check the damper",
        "--private",
        "--note=All well.\nNext time warm.",
    ];
    let text = "---\njobs: [oil, compression/port-engine]\nwork:\n  - \"Painted the block: green\"\nsystem: engine\ngear: [port-engine]\n\
                started: 2026-05-29\ndone: 2026-05-31\nmeters: {engine: 1850.5, miles: ~12034}\ntime: 2 h 40 min\nparts:\n  \
                - {item: oil-filter, qty: 2, cost: 37 EUR}\n  - {item: engine-oil, qty: 7.5 L}\n  - {item: Tin of grease}\n\
                costs:\n  - {what: crane, cost: 240 EUR}\n\
                readings: {oil-pressure: 3.8 bar, compression: {cylinder 1: 27 bar, cylinder 2: 26 bar}}\nfindings:\n  \
                - {what: \"weep; slow, at the cover\", grade: watch, guide: oil, gear: port-engine, before: haul-out, limits-use: no motoring}\n  \
                - {what: belt worn, grade: act, before: 2026-09}\n\
                clears:\n  - 2026-03-14-oil/1\nfitted:\n  - {gear: life-raft, expires: 2030-05, serial: LR-1}\n\
                done-by: yard\nby:\n  - Maren\nplace: Ansker\npapers:\n  - invoice.pdf\nbasis: own record\n\
                except:\n  - Did not check the damper\nprivate: true\n---\nAll well.\nNext time warm.\n";
    made(&book, &options, "log/2026/2026-05-31-oil.md", text);
    let problems: Vec<String> =
        book.survey().into_iter().filter(|problem| problem.severity == "error").map(|problem| problem.line()).collect();
    assert_eq!(problems, Vec::<String>::new());
}

#[test]
fn a_job_left_open_says_how() {
    let options =
        ["oil", "--open", "--started", "30.5.", "--reached", "refill", "--left", "start key out", "--left", "no oil in the engine"];
    let text = "---\njobs: [oil]\nstarted: 2026-05-30\nreached: Refill\nleft:\n  - start key out\n  - no oil in the engine\n---\n";
    let book = Book::sound();
    made(&book, &options, "log/2026/2026-05-30-oil.md", text);
    let row = book.due("2026-06-01").into_iter().find(|row| row["guide"] == "oil").expect("the job");
    assert_eq!(row["state"], "open");
    // What is left is told of open jobs only.
    Book::sound().run(["enter", "oil", "--left", "start key out"]).status(2).stderr_has("--open");
}

#[test]
fn german_days_in_a_german_book() {
    let boat = files_under(&crate::support::broken_folder().join("base")).remove("boat.yaml").expect("the boat");
    let boat = format!("{}language: de\n", String::from_utf8(boat).expect("text"));
    let book = Book::sound().file("boat.yaml", boat);
    made(&book, &["oil", "--date", "gestern"], "log/2026/2026-05-31-oil.md", "---\njobs: [oil]\ndate: 2026-05-31\n---\n");
    made(&book, &["oil", "--date", "~Mai 2021"], "log/2021/2021-05-oil.md", "---\njobs: [oil]\ndate: ~2021-05\n---\n");
    refused(&Book::sound(), 2, &["oil", "--date", "gestern"], &["`gestern` is not a day", "`yesterday`"]);
}

#[test]
fn all_that_is_mistyped_is_told_at_once() {
    let options = [
        "oyl",
        "--date",
        "31.4.",
        "--meter",
        "engin=1850",
        "--meter",
        "miles=far",
        "--part",
        "oyl-filter=1",
        "--part",
        "engine-oil=7 kW",
        "--reading",
        "oil-presure=3.8",
        "--finding",
        "weep",
        "--clears",
        "2026-03-14-oil/2",
        "--fitted",
        "life-rafd",
        "--time",
        "2",
        "--gear",
        "starbord-engine",
    ];
    let said = [
        "no day `31.4.`",
        "no job `oyl`",
        "did you mean `oil`?",
        "no meter `engin`",
        "did you mean `engine`?",
        "`far` is not a number",
        "no part `oyl-filter`",
        "did you mean `oil-filter`?",
        "`kW`",
        "the reading `oil-presure`",
        "did you mean `oil-pressure`?",
        "does not say its grade",
        "no finding 2",
        "no gear `life-rafd`",
        "`2` has no unit",
        "no gear `starbord-engine`",
    ];
    refused(&Book::sound(), 2, &options, &said);
}

#[test]
fn a_finding_that_is_not_said_whole_is_told_what_it_lacks() {
    let book = Book::sound();
    for (text, said) in [
        ("watch: weep; befor: 2026-09", "there is no `befor` of a finding"),
        ("watch: weep; gide: oil", "did you mean `guide`?"),
        ("act: ", "does not say what was found"),
        ("weep at the cover", "does not say its grade first"),
    ] {
        refused(&book, 2, &["oil", "--finding", text], &[said]);
    }
}

#[test]
fn a_command_line_that_makes_no_entry() {
    let book = Book::sound();
    refused(&book, 2, &[], &["say nothing that was done", "--from"]);
    refused(&book, 2, &["--date", "today"], &["say nothing that was done"]);
    refused(&book, 2, &["oil/port-engine"], &["for no gear of its own"]);
    refused(&book, 2, &["oil", "--date", "2026-06-02"], &["after today"]);
    refused(&book, 2, &["oil", "--started", "today", "--date", "yesterday"], &["before it was started"]);
    refused(&book, 2, &["oil", "--meter", "engine=1,840"], &["a fraction or thousands"]);
    refused(&book, 2, &["oil", "--meter", "engine=1850", "--meter", "engine=1851"], &["given twice"]);
    refused(&book, 2, &["oil", "--meter", "engine"], &["joined by `=`"]);
    refused(&book, 2, &["oil", "--reading", "oil-pressure=3 V"], &["V"]);
    refused(&book, 2, &["--work", "x", "--reading", "oil-pressure=3 bar"], &["no guide of this entry asks"]);
    book.run(["enter", "oil", "--from", "saved.md"]).status(2).stderr_has("--from");
    book.run(["enter", "oil", "--done-by", "cook"]).status(2).stderr_has("owner");
}

#[test]
fn what_the_book_speaks_against_is_told_and_not_written() {
    let book = Book::sound();
    // The sound book reads 1840.5 h on 2026-03-14.
    refused(&book, 1, &["oil", "--meter", "engine=1840"], &["error[meter-backwards]", "1840.5"]);
    // The entry is of 2026-06-01; the folder is told from where the user stands.
    refused(
        &book,
        1,
        &["oil", "--paper", "none.pdf"],
        &["error[missing-paper]", "put the file into `content/log/2026/2026-06-01-oil/`, then enter it again"],
    );
    let broken = Book::sound().file("guides/engine/broken.md", "no guide\n");
    refused(&broken, 1, &["oil"], &["error[front-matter]", "guides/engine/broken.md", "mend the errors first"]);
    refused(&Book::new(), 1, &["oil"], &["boat.yaml"]);
}

#[test]
fn the_same_entry_is_taken_once_and_no_file_replaced() {
    let book = Book::sound();
    let text = "---\njobs: [oil]\ndate: 2026-06-01\n---\n";
    made(&book, &["oil"], "log/2026/2026-06-01-oil.md", text);
    let before = content(&book);
    enter(&book, &["oil"]).status(0).stdout("just this entry is in the log already: content/log/2026/2026-06-01-oil.md\n");
    assert!(content(&book) == before);
    made(&book, &["oil", "--note", "Again."], "log/2026/2026-06-01-oil-2.md", "---\njobs: [oil]\ndate: 2026-06-01\n---\nAgain.\n");
}

#[test]
fn many_at_once_lose_none() {
    let book = Book::sound();
    let before = content(&book);
    thread::scope(|scope| {
        for number in 0..12 {
            let book = &book;
            scope.spawn(move || enter(book, &["oil", "--note", &format!("Number {number}.")]).status(0));
        }
    });
    let after = content(&book);
    // 12 entries besides what was there, each with its own note.
    assert_eq!(after.len(), before.len() + 12);
    for number in 0..12 {
        let text = format!("---\njobs: [oil]\ndate: 2026-06-01\n---\nNumber {number}.\n");
        assert_eq!(after.values().filter(|bytes| **bytes == text.as_bytes()).count(), 1, "{number}");
    }
}

//! `garboard enter --from FILE`: what stands in the log before and after, and what is said.

use crate::support::{Book, Run, entry, files_under, job, run_within};
use std::collections::BTreeMap;
use std::fs;
use std::io::Write;
use std::process::{Command, Stdio};
use std::time::Duration;

const RECORD: &str = "# record: 0123456789abcdef";
const GOOD: &str = "---\n# record: 0123456789abcdef\njobs: [oil]\ndate: 2026-05-30\nmeters: {engine: 1850}\ntime: 2 h\n---\nAs usual.\n";
const PLACE: &str = "content/log/2026/2026-05-30-oil.md";

fn enter(book: &Book, files: &[&str]) -> Run {
    book.run(["enter", "--on", "2026-06-01", "--from"].iter().chain(files))
}

/// Every file of the book.
fn content(book: &Book) -> BTreeMap<String, Vec<u8>> {
    files_under(&book.path("content"))
}

/// The book as it was and these files besides.
#[track_caller]
fn assert_added(book: &Book, before: &BTreeMap<String, Vec<u8>>, added: &[(&str, &str)]) {
    let mut expected = before.clone();
    expected.extend(added.iter().map(|(path, text)| ((*path).to_owned(), text.as_bytes().to_vec())));
    let now = content(book);
    assert_eq!(now.keys().collect::<Vec<_>>(), expected.keys().collect::<Vec<_>>());
    assert!(now == expected, "a file has another content");
}

#[track_caller]
fn refused(file: &str, said: &[&str]) {
    let book = Book::sound().beside("saved.md", file);
    let before = content(&book);
    let run = enter(&book, &["saved.md"]).status(1);
    for words in said {
        assert!(run.stderr.contains(words), "`{words}` is not in {}", run.stderr);
    }
    assert_eq!(run.stdout, "");
    assert_added(&book, &before, &[]);
    assert_eq!(book.text("saved.md"), file);
}

#[test]
fn a_good_file_stands_in_the_log_byte_for_byte() {
    let book = Book::sound().beside("down loads/entry (1).md", GOOD);
    let before = content(&book);
    let run = enter(&book, &["down loads/entry (1).md"]).status(0).stdout(&format!("entered {PLACE}\n"));
    assert_eq!(run.stderr, "");
    assert_added(&book, &before, &[("log/2026/2026-05-30-oil.md", GOOD)]);
    assert_eq!(book.text("down loads/entry (1).md"), GOOD);
    let done = book.due("2026-06-01").into_iter().find(|row| row["guide"] == "oil").expect("the job");
    assert_eq!(done["last_done"]["entry"], "2026-05-30-oil");
}

#[test]
fn quotes_signs_and_other_scripts_are_kept_byte_for_byte() {
    let hostile = "---\r\nwork: [\"a \\\"quote\\\": # {x} \u{202e}\u{5e9}\u{5de}\u{5df} \u{1f9ef}\", 'yes', '012']\r\ndate: 2026-05-30\r\n---\r\n\
                   > - # {no mark} \u{5e9}\u{5dc}\u{5d5}\u{5dd} \u{1f6df}\r\n\r\n\r\n";
    let text = format!("\u{feff}{hostile}");
    let book = Book::sound().beside("saved.txt", &text);
    let before = content(&book);
    enter(&book, &["saved.txt"]).status(0);
    // `a "quote": # {x} … שמן 🧯` in Latin letters is `a quote x`.
    assert_added(&book, &before, &[("log/2026/2026-05-30-a-quote-x.md", &text)]);
    assert_eq!(book.survey(), []);
}

#[test]
fn what_is_wrong_is_drawn_in_the_file_and_nothing_is_written() {
    refused(&entry("jobs: [oyl]\ndate: 2026-05-30\n"), &["error[unknown-job]", "saved.md:2:8", "`oil`", "1 error: nothing was written"]);
    refused(&entry("jobs: [oil]\ndate: 30.5.2026\nmetres: {engine: 1850}\n"), &["saved.md:3:7", "saved.md:4:1", "`meters`"]);
    refused(&entry("jobs: [oil]\n"), &["error[no-date]", "saved.md:2:1"]);
    refused("jobs: [oil]\n", &["error[front-matter]", "saved.md:1:1"]);
    refused("", &["error[front-matter]"]);
    refused("---\ndate: 2026-05-30\njobs: [oil\n---\n", &["saved.md:", "error"]);
    refused("---\ndate: 2026-05-30\nwork: [a\0b]\n---\n", &["error[control-character]"]);
    refused(&entry("date: 2026-05-30\npapers: [../../../secret.pdf]\n"), &["error[outside-the-book]"]);
    // The sound book reads 1840.5 h on 2026-03-14.
    refused(&entry("jobs: [oil]\ndate: 2026-05-30\nmeters: {engine: 1840}\n"), &["error[meter-backwards]"]);
}

#[test]
fn a_file_that_cannot_be_read_is_told_of() {
    let book = Book::sound().beside("latin.md", b"---\nwork: [\xd6l]\ndate: 2026-05-30\n---\n").beside("folder/x", "");
    let before = content(&book);
    enter(&book, &["latin.md"]).status(1).stderr_has("error[not-utf-8]").stderr_has("latin.md:2");
    enter(&book, &["none.md"]).status(1).stderr_has("`none.md`: there is no such file");
    enter(&book, &["folder"]).status(1).stderr_has("folder");
    book.put("huge.md", &vec![b'x'; 5 * 1024 * 1024]);
    enter(&book, &["huge.md"]).status(1).stderr_has("`huge.md`");
    assert_added(&book, &before, &[]);
}

#[test]
fn errors_elsewhere_keep_no_record_out() {
    let book = Book::sound().file("guides/engine/broken.md", "no guide\n").beside("saved.md", GOOD);
    let before = content(&book);
    enter(&book, &["saved.md"]).status(0).stderr_has("the book has errors elsewhere");
    assert_added(&book, &before, &[("log/2026/2026-05-30-oil.md", GOOD)]);
}

/// One more reading after a mistyped high one changes the words of the old error, which counts those after it.
#[test]
fn an_old_error_that_counts_one_more_keeps_no_record_out() {
    let oil = |day: &str, hours: &str| entry(&format!("jobs: [oil]\ndate: {day}\nmeters: {{engine: {hours}}}\n"));
    let book = Book::sound()
        .without("log")
        .file("log/2026/2026-01-01-oil.md", oil("2026-01-01", "9999"))
        .file("log/2026/2026-02-01-oil.md", oil("2026-02-01", "1005"))
        .beside("rec.md", oil("2026-03-01", "1010"));
    assert_eq!(backwards(&book), ["log/2026/2026-02-01-oil.md:4:18"]);
    let before = content(&book);
    enter(&book, &["rec.md", "--yes"]).status(0).stderr_has("the book has errors elsewhere");
    assert_added(&book, &before, &[("log/2026/2026-03-01-oil.md", &oil("2026-03-01", "1010"))]);
    assert_eq!(backwards(&book), ["log/2026/2026-02-01-oil.md:4:18"]);
    // One that is itself the lower of two is refused as ever.
    let book = Book::sound().beside("rec.md", oil("2026-05-30", "1840"));
    enter(&book, &["rec.md", "--yes"]).status(1).stderr_has("error[meter-backwards]");
}

/// Places where a meter runs backwards.
fn backwards(book: &Book) -> Vec<String> {
    let found = book.survey().into_iter().filter(|problem| problem.rule == "meter-backwards");
    found.map(|problem| format!("{}:{}:{}", problem.file, problem.line, problem.column)).collect()
}

#[test]
fn warnings_are_drawn_and_the_entry_is_written() {
    let text = entry("work: [Oil topped up]\ndate: 2026-05-30\nparts: [{item: oyl-filter}]\n");
    let book = Book::sound().beside("saved.md", &text);
    enter(&book, &["saved.md"]).status(0).stderr_has("warning[unknown-part]").stderr_has("saved.md:4:16");
    assert_eq!(book.text("content/log/2026/2026-05-30-oil-topped-up.md"), text);
    // A phone whose clock is ahead.
    let book = Book::sound().beside("saved.md", entry("date: 2026-07-01\nwork: [x]\n"));
    enter(&book, &["saved.md"]).status(0).stderr_has("warning[later-than-on]");
}

#[test]
fn the_same_file_is_taken_once() {
    let book = Book::sound().beside("saved.md", GOOD).beside("copy.md", format!("\u{feff}{}", GOOD.replace('\n', "\r\n")));
    enter(&book, &["saved.md"]).status(0);
    let before = content(&book);
    for file in ["saved.md", "copy.md"] {
        enter(&book, &[file]).status(0).stdout(&format!("`{file}` is in the log already: {PLACE}\n"));
    }
    // The crew may rename and move it, and it is known again.
    fs::rename(book.path(PLACE), book.path("content/log/2026/2026-05-30-first-oil.md")).expect("renamed");
    let moved = content(&book);
    enter(&book, &["saved.md"]).status(0).stdout_has("2026-05-30-first-oil.md");
    assert_added(&book, &moved, &[]);
    assert_eq!(moved.len(), before.len());
    // Without a record line it is known by its text.
    let plain = entry("jobs: [oil]\ndate: 2026-05-31\n");
    book.put("plain.md", plain.as_bytes());
    enter(&book, &["plain.md", "plain.md"]).status(0).stdout_has("entered").stdout_has("already");
}

#[test]
fn what_the_crew_changed_in_the_log_is_not_taken_again() {
    let book = Book::sound().beside("saved.md", GOOD);
    enter(&book, &["saved.md"]).status(0);
    book.put(PLACE, GOOD.replace("As usual.", "As usual, with a new strap wrench.").as_bytes());
    let before = content(&book);
    enter(&book, &["saved.md"]).status(0).stdout(&format!("`saved.md` is in the log already, and was changed there since: {PLACE}\n"));
    assert_added(&book, &before, &[]);
}

#[cfg(unix)]
#[test]
fn a_folder_that_is_a_link_is_refused() {
    let book = Book::sound().without("log").beside("saved.md", GOOD).beside("elsewhere/x.txt", "");
    std::os::unix::fs::symlink(book.path("elsewhere"), book.path("content/log")).expect("a link");
    enter(&book, &["saved.md"]).status(1).stderr_has("`content/log` is a link").stderr_has("nothing was written").stdout("");
    assert_eq!(files_under(&book.path("elsewhere")).len(), 1);
}

#[test]
fn a_later_state_of_a_record_stands_beside_the_former() {
    let later = GOOD.replace("2 h", "3 h").replace(RECORD, &format!("{RECORD} 2"));
    let book = Book::sound().beside("saved.md", GOOD).beside("later.md", &later);
    enter(&book, &["saved.md"]).status(0);
    let before = content(&book);
    let run = enter(&book, &["later.md"]).status(0);
    run.stderr_has("an earlier state of the same record").stderr_has(PLACE).stderr_has("2026-05-30-oil-2.md");
    assert_added(&book, &before, &[("log/2026/2026-05-30-oil-2.md", &later)]);
    for file in ["saved.md", "later.md"] {
        enter(&book, &[file]).status(0).stdout_has("already");
    }
}

#[test]
fn a_record_that_is_open_in_the_log_is_the_crews_to_close() {
    let begun = format!("---\n{RECORD}\njobs: [oil]\nstarted: 2026-05-29\nleft: [start key out]\n---\n");
    let finished = format!("---\n{RECORD} 2\njobs: [oil]\nstarted: 2026-05-29\ndone: 2026-05-30\n---\n");
    let book = Book::sound().beside("begun.md", &begun).beside("finished.md", &finished);
    enter(&book, &["begun.md"]).status(0);
    let before = content(&book);
    let run = enter(&book, &["finished.md"]).status(1).stdout("");
    run.stderr_has("open in the log").stderr_has("content/log/2026/2026-05-29-oil.md").stderr_has("nothing was written");
    assert_added(&book, &before, &[]);
    // As the help says.
    fs::copy(book.path("finished.md"), book.path("content/log/2026/2026-05-29-oil.md")).expect("copied");
    enter(&book, &["finished.md"]).status(0).stdout_has("already");
}

#[test]
fn a_job_that_another_entry_leaves_open_is_told_of() {
    let begun = entry("jobs: [oil]\nstarted: 2026-05-29\n");
    let book = Book::sound().file("log/2026/2026-05-29-oil.md", begun).beside("saved.md", GOOD);
    let run = enter(&book, &["saved.md"]).status(0).stderr_has("stays open").stderr_has("content/log/2026/2026-05-29-oil.md");
    run.stderr_has("`done: …`").stderr_has("take its `reached` and `left` out, bring its `meters` up to that day");
}

#[test]
fn the_same_job_on_the_same_day_is_told_of() {
    let (first, other) = (entry("jobs: [oil]\ndate: 2026-05-30\ntime: 1 h\n"), entry("jobs: [oil]\ndate: 2026-05-31\n"));
    let book = Book::sound().file("log/2026/2026-05-30-a.md", &first).beside("saved.md", GOOD).beside("other.md", &other);
    enter(&book, &["saved.md"]).status(0).stderr_has("the same job on the same day: `content/log/2026/2026-05-30-a.md`");
    let run = enter(&book, &["other.md"]).status(0);
    assert!(!run.stderr.contains("same day"), "{}", run.stderr);
}

#[test]
fn a_name_that_is_taken_is_counted_on() {
    let other = entry("jobs: [oil]\ndate: 2026-05-30\n");
    // Ids are one over all folders, and systems that do not tell capitals apart must not lose a file.
    let book = Book::sound()
        .file("log/2026/2026-05-30-oil.md", &other)
        .file("log/early/2026-05-30-oil-2.md", entry("date: 2026-05-30\nwork: [x]\n"))
        .file("log/2026/2026-05-30-OIL-3.md", entry("date: 2026-05-30\nwork: [y]\n"))
        .beside("saved.md", GOOD);
    let before = content(&book);
    enter(&book, &["saved.md"]).status(0).stdout("entered content/log/2026/2026-05-30-oil-4.md\n");
    assert_added(&book, &before, &[("log/2026/2026-05-30-oil-4.md", GOOD)]);
}

#[test]
fn folders_that_are_missing_are_made() {
    let book = Book::sound().without("log").beside("saved.md", GOOD);
    enter(&book, &["saved.md"]).status(0);
    assert_eq!(book.text(PLACE), GOOD);
    let inside = run_within(&book.path("content"), ["enter", "--book", ".", "--from", "../saved.md"], Duration::from_secs(20)).status(0);
    assert!(inside.stdout.contains("already"), "{inside:?}");
}

#[cfg(unix)]
#[test]
fn a_folder_that_may_not_be_written_to_stays_as_it_was() {
    use std::os::unix::fs::PermissionsExt;
    let book = Book::sound().beside("saved.md", GOOD);
    let year = book.path("content/log/2026");
    let before = content(&book);
    let allow = |mode| fs::set_permissions(&year, fs::Permissions::from_mode(mode)).expect("may be set");
    allow(0o555);
    // Root may write everywhere.
    let root = fs::write(year.join("probe"), "").is_ok();
    if root {
        fs::remove_file(year.join("probe")).expect("removed");
        // A file in the place of the folder refuses root as well.
        allow(0o755);
        let book = Book::sound().without("log").file("log", "no folder\n").beside("saved.md", GOOD);
        let before = content(&book);
        enter(&book, &["saved.md"]).status(1).stderr_has("content/log").stderr_has("nothing was written, and `saved.md` is as it was");
        assert_added(&book, &before, &[]);
        return;
    }
    enter(&book, &["saved.md"]).status(1).stderr_has("content/log/2026").stderr_has("nothing was written, and `saved.md` is as it was");
    allow(0o755);
    assert_added(&book, &before, &[]);
}

#[test]
fn several_files_are_taken_each_by_itself() {
    let book = Book::sound().beside("one.md", GOOD).beside("two.md", entry("jobs: [oyl]\ndate: 2026-05-30\n"));
    book.put("three.md", entry("date: 2026-05-31\nwork: [Topped up]\n").as_bytes());
    let run = enter(&book, &["one.md", "two.md", "three.md"]).status(1).stderr_has("two.md:2:8");
    assert_eq!(run.stdout, format!("entered {PLACE}\nentered content/log/2026/2026-05-31-topped-up.md\n"));
}

#[test]
fn an_entry_comes_by_standard_input() {
    let book = Book::sound();
    let mut child = Command::new(env!("CARGO_BIN_EXE_garboard"))
        .args(["enter", "--on", "2026-06-01", "--from", "-"])
        .current_dir(book.path("."))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the program starts");
    child.stdin.take().expect("its input").write_all(GOOD.as_bytes()).expect("it reads");
    let output = child.wait_with_output().expect("it ends");
    assert!(output.status.success());
    assert_eq!(String::from_utf8_lossy(&output.stdout), format!("entered {PLACE}\n"));
    assert_eq!(book.text(PLACE), GOOD);
    // The tests give no input otherwise.
    enter(&book, &["-"]).status(1).stderr_has("standard input").stderr_has("front-matter");
}

#[test]
fn fifty_at_once_lose_none() {
    let book = Book::sound();
    let before = content(&book);
    let text = |number: usize| entry(&format!("jobs: [oil]\ndate: 2026-05-30\nexcept: [number {number}]\n"));
    for number in 0..50 {
        book.put(&format!("{number}.md"), text(number).as_bytes());
    }
    std::thread::scope(|scope| {
        for number in 0..50 {
            let book = &book;
            // Every tenth comes twice, and is taken once.
            for _ in 0..=usize::from(number % 10 == 0) {
                scope.spawn(move || enter(book, &[&format!("{number}.md")]).status(0));
            }
        }
    });
    let after = content(&book);
    let mut taken: Vec<String> = after
        .iter()
        .filter(|(path, _)| !before.contains_key(*path))
        .map(|(_, bytes)| String::from_utf8(bytes.clone()).expect("text"))
        .collect();
    taken.sort();
    let mut expected: Vec<String> = (0..50).map(text).collect();
    expected.sort();
    assert_eq!(taken, expected);
    assert_eq!(after.len(), before.len() + 50);
}

#[test]
fn a_run_that_is_killed_leaves_the_log_whole() {
    let book = Book::sound();
    let before = content(&book);
    let notes = "Words of the notes.\n".repeat(50_000);
    let text = |round: u64| format!("---\njobs: [oil]\ndate: 2026-05-30\nexcept: [round {round}]\n---\n{notes}");
    let mut killed = 0;
    for round in 0..12_u64 {
        book.put("saved.md", text(round).as_bytes());
        let mut child = book.start(["enter", "--on", "2026-06-01", "--from", "saved.md"]);
        // Spread over the run: 37 has no factor in common with 120.
        std::thread::sleep(Duration::from_millis(5 + round * 37 % 120));
        killed += usize::from(child.try_wait().expect("waits").is_none());
        let _ = child.kill();
        child.wait().expect("ends");
        for (path, bytes) in content(&book) {
            let hidden = path.rsplit('/').next().is_some_and(|file| file.starts_with(".garboard-entering-"));
            let whole = before.get(&path) == Some(&bytes) || (0..=round).any(|round| text(round).as_bytes() == bytes);
            assert!(hidden || whole, "{path} is torn: {} bytes", bytes.len());
        }
    }
    assert!(killed > 0, "every run had ended before it was killed");
}

#[test]
fn what_a_killed_run_leaves_is_passed_over() {
    let book = Book::sound().file("log/2026/.garboard-entering-x1Yz.tmp", "---\njobs: [oi").beside("saved.md", GOOD);
    assert_eq!(book.survey(), []);
    enter(&book, &["saved.md"]).status(0).stdout(&format!("entered {PLACE}\n"));
    let book = book.published();
    assert!(!book.site().files.keys().any(|path| path.contains("garboard-entering")));
}

#[test]
fn a_command_line_without_a_file_says_that_it_needs_one() {
    let book = Book::sound().file("guides/engine/anode.md", job("Anode", ""));
    book.run(["enter"]).status(2).stderr_has("`--from`");
    book.run(["enter", "--from"]).status(2).stderr_has("--from");
    book.run(["enter", "--help"])
        .status(0)
        .stdout_has("garboard enter --from")
        .stdout_has("the log is ever replaced")
        .stdout_has("standard input");
    let nowhere = book.run(["enter", "--book", "none", "--from", "saved.md"]).status(1);
    assert!(nowhere.stderr.contains("saved.md"), "{nowhere:?}");
    book.put("saved.md", GOOD.as_bytes());
    book.run(["enter", "--book", "none", "--from", "saved.md"]).status(1).stderr_has("`none`").stderr_has("--book");
}

#[test]
fn a_picture_is_told_from_an_entry() {
    let book = Book::sound().beside("vane.jpg", b"\xff\xd8\xff\xe0\0\x10JFIF\0\x01");
    let run = book.run(["enter", "--from", "vane.jpg"]).status(1).stdout("");
    run.stderr_has("error: `vane.jpg` is a picture, not an entry").stderr_has("beside an entry that shows it");
}

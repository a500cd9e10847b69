//! Progress is shown on a terminal and nowhere else, not before a second has passed, and is wiped.

use crate::support::{Book, job};
#[cfg(target_os = "linux")]
use crate::terminal::Terminal;
#[cfg(target_os = "linux")]
use std::time::{Duration, Instant};

/// Wipes the line that the cursor is on (ECMA-48, erase in line).
#[cfg(target_os = "linux")]
const WIPE: &str = "\u{1b}[2K";

const PUBLISH: [&str; 3] = ["publish", "--on", "2026-06-01"];

/// A book of 100 guides of a hundred steps.
fn large() -> Book {
    let steps: String = (1..=100).map(|step| format!("{step}. Turn the {step}th nut by one flat. {{takes 1 min}}\n")).collect();
    let book = Book::sound();
    for number in 0..100 {
        let text = job(&format!("Job {number}"), "every: {calendar: 12 months}\n").replace("1. Do it.\n", &steps);
        book.put(&format!("content/guides/engine/job-{number}.md"), text.as_bytes());
    }
    book
}

/// A publish that takes over a second on any machine: it is held still once it has begun to stage the site.
#[cfg(target_os = "linux")]
fn slow_publish(book: &Book, term: &str) -> (String, Duration) {
    let since = Instant::now();
    let terminal = Terminal::called(book, &PUBLISH, term);
    let staging = || std::fs::read_dir(book.path("site")).is_ok_and(|mut inside| inside.next().is_some());
    while !staging() {
        assert!(since.elapsed() < Duration::from_secs(60), "it does not begin");
        std::thread::sleep(Duration::from_millis(1));
    }
    terminal.signal("-STOP");
    std::thread::sleep(Duration::from_millis(1200));
    terminal.signal("-CONT");
    let (status, shown) = terminal.end();
    assert_eq!(status, Some(0), "{shown}");
    (shown, since.elapsed())
}

#[cfg(target_os = "linux")]
#[test]
fn long_work_says_on_one_line_how_far_it_is_and_wipes_it() {
    let (shown, took) = slow_publish(&large(), "xterm");
    let (progress, results) = shown.rsplit_once(WIPE).expect("the line is wiped");
    let words = ["comparing with the last publish", "preparing pictures", "rendering pages: ", "writing files: "];
    assert!(words.iter().any(|words| progress.contains(words)), "{progress:?}");
    // Nothing but the line and its wiping until the results.
    let first = results.trim_start_matches('\r').split_whitespace().next();
    assert!(first.is_some_and(|pages| pages.parse::<usize>().is_ok()), "{results:?}");
    assert!(!progress.contains('\n'), "{progress:?}");
    // Five drawings a second at most, and one more for the last: no flicker.
    let drawings = progress.matches(WIPE).count();
    assert!(drawings as f64 <= took.as_secs_f64() * 5.0 + 20.0, "{drawings} in {took:?}");
}

#[cfg(target_os = "linux")]
#[test]
fn nothing_is_shown_of_short_work_or_on_a_dumb_terminal() {
    let (shown, _) = slow_publish(&large(), "dumb");
    assert!(!shown.contains('\u{1b}') && !shown.contains("rendering"), "{shown:?}");
    let since = Instant::now();
    let (status, shown) = Terminal::start(&Book::sound(), &PUBLISH).end();
    assert_eq!(status, Some(0), "{shown}");
    // A machine that is busy with other tests may take its second.
    assert!(since.elapsed() > Duration::from_secs(1) || !shown.contains('\u{1b}'), "{shown:?}");
}

#[test]
fn nothing_is_shown_where_there_is_no_terminal() {
    let run = large().run(PUBLISH).status(0);
    assert_eq!(run.stderr, "");
}

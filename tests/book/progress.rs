//! Progress is shown on a terminal and nowhere else, not before a second has passed, and is wiped.

use crate::support::{Book, job};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// Wipes the line that the cursor is on (ECMA-48, erase in line).
const WIPE: &str = "\u{1b}[2K";

/// A book of so many guides of a hundred steps.
fn large(guides: usize) -> Book {
    let steps: String = (1..=100).map(|step| format!("{step}. Turn the {step}th nut by one flat. {{takes 1 min}}\n")).collect();
    let book = Book::sound();
    for number in 0..guides {
        let text = job(&format!("Job {number}"), "every: {calendar: 12 months}\n").replace("1. Do it.\n", &steps);
        book.put(&format!("content/guides/engine/job-{number}.md"), text.as_bytes());
    }
    book
}

/// Runs the program in a pseudo-terminal, with all that it prints; `None` where `script` is missing.
fn in_a_terminal(book: &Book, arguments: &str, term: &str) -> Option<(String, Duration)> {
    let line = format!("{} {arguments}", Path::new(env!("CARGO_BIN_EXE_garboard")).display());
    let since = Instant::now();
    let output = Command::new("script")
        .args(["-qec", &line, "/dev/null"])
        .current_dir(book.path("."))
        .env("TERM", term)
        .stdin(Stdio::null())
        .output()
        .ok()?;
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(output.status.success(), "{text}");
    Some((text, since.elapsed()))
}

#[cfg(target_os = "linux")]
#[test]
fn long_work_says_on_one_line_how_far_it_is_and_wipes_it() {
    let mut guides = 100;
    loop {
        let book = large(guides);
        let Some((text, took)) = in_a_terminal(&book, "publish --on 2026-06-01", "xterm") else { return };
        if took < Duration::from_millis(2500) && guides < 20_000 {
            // A fast machine: more work.
            guides *= 4;
            continue;
        }
        assert!(text.contains("rendering pages: "), "{text:?}");
        // Nothing but the line and its wiping until the results.
        let (progress, results) = text.rsplit_once(WIPE).expect("the line is wiped");
        assert!(
            results.trim_start_matches('\r').split_whitespace().next().is_some_and(|pages| pages.parse::<usize>().is_ok()),
            "{results:?}"
        );
        assert!(!progress.contains('\n'), "{progress:?}");
        // Five drawings a second at most, and one more for the last: no flicker.
        let drawings = progress.matches(WIPE).count();
        assert!(drawings as f64 <= took.as_secs_f64() * 5.0 + 20.0, "{drawings} in {took:?}");
        return;
    }
}

#[cfg(target_os = "linux")]
#[test]
fn nothing_is_shown_of_short_work_or_on_a_dumb_terminal() {
    let book = Book::sound();
    let Some((text, took)) = in_a_terminal(&book, "publish --on 2026-06-01", "xterm") else { return };
    assert!(took > Duration::from_secs(1) || !text.contains('\u{1b}'), "{text:?}");
    let (text, _) = in_a_terminal(&large(100), "publish --on 2026-06-01", "dumb").expect("it ran before");
    assert!(!text.contains('\u{1b}') && !text.contains("rendering"), "{text:?}");
}

#[test]
fn nothing_is_shown_where_there_is_no_terminal() {
    let run = large(100).run(["publish", "--on", "2026-06-01"]).status(0);
    assert_eq!(run.stderr, "");
}

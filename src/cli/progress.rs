//! What long work is at, on one line of the terminal; nowhere else, and not before a second has passed.
//!
//! The line is drawn by a thread of its own, which also sees work that tells nothing for long. It is
//! wiped before anything else is printed.

use crate::site::{Progress, Watcher};
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::io::IsTerminal;
use std::sync::mpsc::{RecvTimeoutError, Sender, channel};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

/// Work that is over sooner says nothing.
const PATIENCE: Duration = Duration::from_secs(1);
/// Most drawings a second: enough to see that it goes on.
const DRAWINGS: u8 = 5;

/// The line; dropping it wipes it.
#[derive(Debug)]
pub struct Line {
    bar: ProgressBar,
    shown: Option<(Sender<()>, JoinHandle<()>)>,
}

/// A line on standard error that says what is done first; hidden for good where that is no terminal.
/// `since` is when the work began.
pub fn line(since: Instant, first: &str) -> Line {
    let terminal = std::io::stderr().is_terminal() && std::env::var_os("TERM").is_none_or(|term| term != "dumb");
    if terminal { begin(since, first, || ProgressDrawTarget::stderr_with_hz(DRAWINGS)) } else { hidden(first) }
}

fn hidden(first: &str) -> Line {
    Line { bar: bar(first), shown: None }
}

fn bar(first: &str) -> ProgressBar {
    let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::hidden()).with_message(first.to_owned());
    // The part that is as wide as the terminal is cut, so that the line never becomes two.
    match ProgressStyle::with_template("{wide_msg}") {
        Ok(style) => bar.with_style(style),
        Err(_) => bar,
    }
}

fn begin(since: Instant, first: &str, target: impl FnOnce() -> ProgressDrawTarget + Send + 'static) -> Line {
    let bar = bar(first);
    let (done, over) = channel::<()>();
    let shown = bar.clone();
    let thread = std::thread::spawn(move || {
        // Ends at once where the work is over first.
        if over.recv_timeout(PATIENCE.saturating_sub(since.elapsed())) == Err(RecvTimeoutError::Timeout) {
            shown.set_draw_target(target());
            shown.tick();
            while over.recv_timeout(Duration::from_millis(1000 / u64::from(DRAWINGS))) == Err(RecvTimeoutError::Timeout) {
                shown.tick();
            }
        }
        shown.finish_and_clear();
    });
    Line { bar, shown: Some((done, thread)) }
}

impl Line {
    /// Says that something else is done now.
    pub fn say(&self, words: String) {
        if self.shown.is_some() {
            self.bar.set_message(words);
        }
    }
}

impl Watcher for Line {
    fn told(&self, progress: Progress) {
        if self.shown.is_some() {
            self.bar.set_message(words(progress));
        }
    }
}

impl Drop for Line {
    fn drop(&mut self) {
        if let Some((done, thread)) = self.shown.take() {
            drop(done);
            // A thread that panicked has wiped nothing, and there is nothing better to do.
            let _ = thread.join();
        }
    }
}

fn words(progress: Progress) -> String {
    match progress {
        Progress::Pictures => "preparing pictures".to_owned(),
        Progress::Pages { made, of } => format!("rendering pages: {made} of {of}"),
        Progress::Files { written, of } => format!("writing files: {written} of {of}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(progress: Progress, expected: &str) {
        assert_eq!(words(progress), expected);
    }

    #[test]
    fn what_is_done_is_said_in_words() {
        case(Progress::Pictures, "preparing pictures");
        case(Progress::Pages { made: 12, of: 400 }, "rendering pages: 12 of 400");
        case(Progress::Files { written: 0, of: 3 }, "writing files: 0 of 3");
    }

    #[test]
    fn work_of_less_than_a_second_is_not_shown() {
        let line = begin(Instant::now(), "reading the book", || unreachable!("a second has not passed"));
        let bar = line.bar.clone();
        line.told(Progress::Pages { made: 1, of: 2 });
        assert_eq!(bar.message(), "rendering pages: 1 of 2");
        drop(line);
        assert!(bar.is_finished());
    }

    #[test]
    fn where_there_is_no_terminal_nothing_is_kept_up() {
        let line = hidden("reading the book");
        line.told(Progress::Pictures);
        assert!(line.shown.is_none());
        assert_eq!(line.bar.message(), "reading the book");
    }
}

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
    if terminal { begin(since, PATIENCE, first, || ProgressDrawTarget::stderr_with_hz(DRAWINGS)) } else { hidden(first) }
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

/// A line that is drawn once `patience` is over.
fn begin(since: Instant, patience: Duration, first: &str, target: impl FnOnce() -> ProgressDrawTarget + Send + 'static) -> Line {
    let bar = bar(first);
    let (done, over) = channel::<()>();
    let shown = bar.clone();
    let thread = std::thread::spawn(move || {
        // Ends at once where the work is over first.
        if over.recv_timeout(patience.saturating_sub(since.elapsed())) == Err(RecvTimeoutError::Timeout) {
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
    use indicatif::TermLike;
    use std::sync::{Arc, Mutex};

    /// A terminal of 20 columns that keeps what is written to it.
    #[derive(Debug, Clone, Default)]
    struct Screen(Arc<Mutex<Vec<String>>>);

    impl Screen {
        fn put(&self, what: &str) -> std::io::Result<()> {
            self.0.lock().expect("not poisoned").push(what.to_owned());
            Ok(())
        }
    }

    impl TermLike for Screen {
        fn width(&self) -> u16 {
            20
        }
        fn move_cursor_up(&self, n: usize) -> std::io::Result<()> {
            if n == 0 { Ok(()) } else { self.put("UP") }
        }
        fn move_cursor_down(&self, n: usize) -> std::io::Result<()> {
            if n == 0 { Ok(()) } else { self.put("DOWN") }
        }
        fn move_cursor_right(&self, _: usize) -> std::io::Result<()> {
            Ok(())
        }
        fn move_cursor_left(&self, _: usize) -> std::io::Result<()> {
            Ok(())
        }
        fn write_line(&self, text: &str) -> std::io::Result<()> {
            self.put(&format!("{text}\n"))
        }
        fn write_str(&self, text: &str) -> std::io::Result<()> {
            self.put(text)
        }
        fn clear_line(&self) -> std::io::Result<()> {
            self.put("WIPE")
        }
        fn flush(&self) -> std::io::Result<()> {
            Ok(())
        }
    }

    #[test]
    fn long_work_is_shown_on_one_line_that_is_wiped() {
        let screen = Screen::default();
        let kept = screen.0.clone();
        let target = Box::new(screen);
        let line =
            begin(Instant::now(), Duration::ZERO, "reading the book", move || ProgressDrawTarget::term_like_with_hz(target, DRAWINGS));
        let shows = |words: &str| {
            let until = Instant::now() + Duration::from_secs(30);
            while !kept.lock().expect("not poisoned").iter().any(|text| text.trim_end() == words) {
                assert!(Instant::now() < until, "`{words}` is not in {:?}", kept.lock());
                std::thread::sleep(Duration::from_millis(10));
            }
        };
        shows("reading the book");
        // Cut to the 20 columns of the terminal.
        line.told(Progress::Pages { made: 12, of: 400 });
        shows("rendering pages: 12");
        drop(line);
        let all = kept.lock().expect("not poisoned").clone();
        assert!(!all.iter().any(|text| text.contains('\n') || text == "UP" || text == "DOWN"), "{all:?}");
        assert_eq!(all.iter().rfind(|text| !text.is_empty()).map(String::as_str), Some("WIPE"), "{all:?}");
    }

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
        let line = begin(Instant::now(), PATIENCE, "reading the book", || unreachable!("a second has not passed"));
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

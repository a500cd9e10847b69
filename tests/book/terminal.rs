//! The program at a terminal: a pseudo-terminal of the system, with what was shown on it.

use crate::support::Book;
use rustix::fs::{Mode, OFlags, open};
use rustix::pty::{OpenptFlags, grantpt, openpt, ptsname, unlockpt};
use rustix::termios::{Winsize, tcsetwinsize};
use std::fs::File;
use std::io::{Read, Write};
use std::process::{Child, Command, Stdio};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

/// Longest that any word may take to appear.
const LIMIT: Duration = Duration::from_secs(60);

pub const ENTER: &str = "\r";
pub const DOWN: &str = "\x1b[B";
pub const ESC: &str = "\x1b";
pub const CTRL_C: &str = "\x03";

/// A run at a terminal.
pub struct Terminal {
    child: Child,
    keys: File,
    shown: Arc<Mutex<Vec<u8>>>,
    /// Up to where the words shown were waited for.
    seen: usize,
}

impl Terminal {
    pub fn start(book: &Book, arguments: &[&str]) -> Self {
        Self::called(book, arguments, "xterm")
    }

    /// At a terminal that is called so.
    pub fn called(book: &Book, arguments: &[&str], term: &str) -> Self {
        let master = openpt(OpenptFlags::RDWR | OpenptFlags::NOCTTY).expect("a pseudo-terminal");
        grantpt(&master).expect("granted");
        unlockpt(&master).expect("unlocked");
        let name = ptsname(&master, Vec::new()).expect("its name");
        let side = open(name.as_c_str(), OFlags::RDWR | OFlags::NOCTTY, Mode::empty()).expect("its other side");
        tcsetwinsize(&side, Winsize { ws_row: 40, ws_col: 120, ws_xpixel: 0, ws_ypixel: 0 }).expect("a size");
        let side = File::from(side);
        let mut command = Command::new(env!("CARGO_BIN_EXE_garboard"));
        command.args(arguments).current_dir(book.path("")).env("TERM", term).env("NO_COLOR", "1");
        command.stdin(Stdio::from(side.try_clone().expect("stdin"))).stdout(Stdio::from(side.try_clone().expect("stdout")));
        let child = command.stderr(Stdio::from(side)).spawn().expect("the program starts");
        drop(command);
        let keys = File::from(master);
        let mut screen = keys.try_clone().expect("the screen");
        let shown = Arc::new(Mutex::new(Vec::new()));
        let kept = Arc::clone(&shown);
        std::thread::spawn(move || {
            let mut bytes = [0; 4096];
            // The end is an error on Linux: the other side is closed.
            while let Ok(count @ 1..) = screen.read(&mut bytes) {
                kept.lock().expect("not poisoned").extend(&bytes[..count]);
            }
        });
        Self { child, keys, shown, seen: 0 }
    }

    /// Sends it a signal, such as `-STOP`.
    pub fn signal(&self, signal: &str) {
        let sent = Command::new("kill").args([signal, &self.child.id().to_string()]).status().expect("kill runs");
        assert!(sent.success(), "{signal}");
    }

    /// Waits until these words are shown after those waited for before, and types.
    #[track_caller]
    pub fn answer(&mut self, words: &str, keys: &str) {
        self.wait_for(words);
        self.keys.write_all(keys.as_bytes()).expect("typed");
    }

    #[track_caller]
    pub fn wait_for(&mut self, words: &str) {
        let since = Instant::now();
        loop {
            let shown = self.shown.lock().expect("not poisoned").clone();
            let after = &shown[self.seen.min(shown.len())..];
            if let Some(at) = after.windows(words.len()).position(|part| part == words.as_bytes()) {
                self.seen += at + words.len();
                return;
            }
            assert!(since.elapsed() < LIMIT, "`{words}` is not shown after {:?}", String::from_utf8_lossy(after));
            std::thread::sleep(Duration::from_millis(10));
        }
    }

    /// Waits for its end: the exit status, and all that was shown.
    #[track_caller]
    pub fn end(mut self) -> (Option<i32>, String) {
        let since = Instant::now();
        let status = loop {
            if let Some(status) = self.child.try_wait().expect("it can be waited for") {
                break status;
            }
            assert!(since.elapsed() < LIMIT, "it does not end: {:?}", String::from_utf8_lossy(&self.shown.lock().expect("not poisoned")));
            std::thread::sleep(Duration::from_millis(10));
        };
        // What was written last may still be on its way.
        std::thread::sleep(Duration::from_millis(100));
        let shown = String::from_utf8_lossy(&self.shown.lock().expect("not poisoned")).into_owned();
        (status.code(), shown)
    }
}

impl Drop for Terminal {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

//! `garboard tend`: publishes on every save and shows the site.

use super::args::{Edition, PublishArgs, TendArgs};
use super::outcome::Exit;
use super::publish::{Done, Then, beside};
use super::{publish, report, today};
use crate::book::diagnostic::{Diagnostic, Severity};
use crate::book::load::load;
use crate::site::{MANIFEST, Theme, ThemeFiles, Words};
use crate::tend::address::{addresses, code, url};
use crate::tend::live::{Live, Problem, Said};
use crate::tend::serve::open;
use crate::tend::watch::Watch;
use jiff::civil::Date;
use std::io::{self, Write};
use std::net::{IpAddr, Ipv4Addr};
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant};

/// Saves so close together are one: editors write twice, or beside the file and then in its place.
const TOGETHER: Duration = Duration::from_millis(200);
/// Longest that saves are waited out.
const LONGEST_WAIT: Duration = Duration::from_secs(2);
/// How often the day is looked at.
const DAY: Duration = Duration::from_secs(20);
/// Problems listed on a page.
const LISTED: usize = 5;

/// What makes the program go on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Signal {
    Saved,
    Stop,
}

pub fn run(args: &TendArgs, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<Exit> {
    let book = &args.book.book;
    let loaded = match load(book) {
        Ok(loaded) => loaded,
        Err(error) => return super::no_book(err, &error),
    };
    let site = args.to.clone().unwrap_or_else(|| beside(book, "site"));
    let themes = beside(book, "themes");
    let words = ThemeFiles::gather(&args.theme, Some(&themes))
        .and_then(|files| Theme::new(&files, &loaded.book.boat.language))
        .map(|theme| theme.words)
        .ok();
    drop(loaded);
    let live = Arc::new(Live::new(&site));
    if let Some(words) = &words {
        live.speak(said(words));
    }
    let (tell, signals) = channel();
    let stop = tell.clone();
    if let Err(error) = ctrlc::set_handler(move || {
        let _ = stop.send(Signal::Stop);
    }) {
        writeln!(err, "warning: the end cannot be waited for: {error}")?;
    }
    // Before the first publish, so that no save is missed.
    let mut watch = Watch::begin(&[book, &themes], move || tell.send(Signal::Saved).is_ok());
    let mut tender = Tender { args, site, words, live: Arc::clone(&live), told: Vec::new(), was_faulty: false };
    // Not for the book: what was asked for cannot be done, and no save will change that.
    if matches!(tender.publish(err)?, Done::Never { .. }) {
        return Ok(Exit::Problems);
    }
    let opened = open(args.port, args.lan).and_then(|open| {
        let port = open.port;
        open.answer(&live).map(|()| port)
    });
    let port = match opened {
        Ok(port) => port,
        Err(error) => {
            writeln!(
                err,
                "error: no port can be opened from {}: {}\nhelp: choose another with `--port N`",
                args.port,
                crate::disk::why(&error)
            )?;
            return Ok(Exit::Problems);
        }
    };
    if args.port != 0 && port != args.port {
        writeln!(err, "port {} is in use, so this is port {port}", args.port)?;
    }
    if watch.looks() {
        writeln!(err, "the system does not tell of saves here: the book is looked through every second")?;
    }
    greet(args.lan, port, out, err)?;
    tend(&mut tender, &mut watch, &signals, err)?;
    writeln!(err, "ended; the site stands in {}", tender.site.display())?;
    Ok(Exit::Fine)
}

/// Says where the pages are, and who can read them.
fn greet(lan: bool, port: u16, out: &mut dyn Write, err: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "{}", url(IpAddr::from(Ipv4Addr::LOCALHOST), port))?;
    if lan {
        let addresses = addresses();
        for address in &addresses {
            writeln!(out, "{}", url(*address, port))?;
        }
        out.flush()?;
        match addresses.first().and_then(|address| code(&url(*address, port), report::colour_on(true))) {
            Some(code) => write!(err, "\n{code}\n")?,
            None => writeln!(err, "this machine is on no network: join the one that the phone is on, and begin again")?,
        }
        writeln!(err, "Everyone on that network can read the whole book, private things included, as long as this runs.")?;
        writeln!(err, "Over plain http a phone does not keep its screen awake for a page, install the pages or keep them")?;
        writeln!(err, "for when there is no network, or let a page copy or share by itself: carry `pocket.html` for that.")?;
    }
    out.flush()?;
    writeln!(err, "published again at every save; end with Ctrl-C")
}

/// Publishes at every save and on every new day, until told to stop.
fn tend(tender: &mut Tender<'_>, watch: &mut Watch, signals: &Receiver<Signal>, err: &mut dyn Write) -> io::Result<()> {
    // With `--on` the day stands still.
    let asked = tender.args.book.on;
    let mut day = asked.unwrap_or_else(today);
    while called(signals, DAY, &mut day, &mut || asked.unwrap_or_else(today)) {
        watch.follow();
        tender.publish(err)?;
    }
    Ok(())
}

/// Waits for a save, or for a day that is not `day` any more, and keeps the new one; `false`: told to stop.
/// `today` is asked after every stretch of `every`: the machine may have slept over midnight, which no timer tells.
fn called(signals: &Receiver<Signal>, every: Duration, day: &mut Date, today: &mut dyn FnMut() -> Date) -> bool {
    loop {
        let heard = match signals.recv_timeout(every) {
            Ok(Signal::Saved) if !settle(signals) => return false,
            Ok(Signal::Saved) => true,
            Err(RecvTimeoutError::Timeout) => false,
            Ok(Signal::Stop) | Err(RecvTimeoutError::Disconnected) => return false,
        };
        let now = today();
        if heard || now != *day {
            *day = now;
            return true;
        }
    }
}

/// Waits until nothing more is saved; `false`: told to stop.
fn settle(signals: &Receiver<Signal>) -> bool {
    let until = Instant::now() + LONGEST_WAIT;
    while Instant::now() < until {
        match signals.recv_timeout(TOGETHER) {
            Ok(Signal::Saved) => {}
            Err(RecvTimeoutError::Timeout) => return true,
            Ok(Signal::Stop) | Err(RecvTimeoutError::Disconnected) => return false,
        }
    }
    true
}

/// Publishes, and tells the terminal and the pages.
struct Tender<'a> {
    args: &'a TendArgs,
    site: PathBuf,
    /// `None`: the theme has none that can be read.
    words: Option<Words>,
    live: Arc<Live>,
    /// What was last told in the terminal.
    told: Vec<u8>,
    /// The last publish came to nothing.
    was_faulty: bool,
}

impl Tender<'_> {
    fn publish(&mut self, err: &mut dyn Write) -> io::Result<Done> {
        let args = PublishArgs {
            book: self.args.book.clone(),
            to: self.args.to.clone(),
            edition: Edition::Crew,
            theme: self.args.theme.clone(),
            despite_errors: false,
        };
        let mut reported = Vec::new();
        let done = publish::run_then(Then::Wait, &args, &mut reported)?;
        publish::tell_why_not(&mut reported, &done, "mend the errors: the pages follow at the next save")?;
        // What was told at the last save need not be told again.
        if reported != self.told {
            err.write_all(&reported)?;
            self.told = reported;
        } else if !matches!(done, Done::Published(_)) {
            writeln!(err, "nothing was published, for the same reason as before")?;
        }
        if let Done::Published(published) = &done {
            if published.outcome.rendered > 0 {
                writeln!(err, "{}", published.line())?;
            } else if self.was_faulty {
                writeln!(err, "mended: the pages are as the book is")?;
            }
        }
        self.was_faulty = !matches!(done, Done::Published(_));
        self.complain(&done);
        // Also a site of an earlier publish is shown, while there is no other.
        if let Ok(manifest) = std::fs::read(self.site.join(MANIFEST)) {
            self.live.show(blake3::hash(&manifest).to_hex().chars().take(16).collect());
        }
        Ok(done)
    }

    /// Tells the pages why there is no new site; nothing where there is.
    fn complain(&self, done: &Done) {
        let say = |key: &str, n: usize| {
            let n = n.to_string();
            self.words.as_ref().map_or_else(|| key.to_owned(), |words| words.say(key, &[("n", &n)]))
        };
        let problems = match done {
            Done::Published(_) => return self.live.complain(String::new(), Vec::new(), String::new()),
            Done::Never { message, remedy } => {
                let problem = Problem { place: String::new(), message: message.clone(), remedy: remedy.clone() };
                return self.live.complain(say("tend.failed", 0), vec![problem], String::new());
            }
            Done::Faulty(problems) => problems,
        };
        let errors: Vec<&Diagnostic> = problems.iter().filter(|problem| problem.severity == Severity::Error).collect();
        let listed = errors.iter().take(LISTED).map(|error| Problem {
            place: format!("{}:{}:{}", error.place.file, error.place.line, error.place.column),
            message: error.message.clone(),
            remedy: error.remedy.clone(),
        });
        let more = errors.len().saturating_sub(LISTED);
        let more = if more == 0 { String::new() } else { say("tend.more", more) };
        self.live.complain(say("tend.errors", errors.len()), listed.collect(), more);
    }
}

fn said(words: &Words) -> Said {
    Said {
        language: words.language().to_owned(),
        lost: words.text("tend.lost"),
        missing: ["tend.missing", "tend.missing-text", "tend.home"].map(|key| words.text(key)),
        nothing: ["tend.nothing", "tend.nothing-text"].map(|key| words.text(key)),
    }
}

#[cfg(test)]
mod tests {
    use super::{Signal, called, settle};
    use jiff::civil::date;
    use std::sync::mpsc::channel;
    use std::time::Duration;

    #[test]
    fn saves_close_together_are_one() {
        let (tell, signals) = channel();
        for _ in 0..5 {
            assert!(tell.send(Signal::Saved).is_ok());
        }
        assert!(settle(&signals));
        assert!(signals.try_recv().is_err());
        assert!(tell.send(Signal::Stop).is_ok());
        assert!(!settle(&signals));
    }

    #[test]
    fn a_new_day_calls_once_and_so_does_a_save() {
        const EVERY: Duration = Duration::from_millis(1);
        let (tell, signals) = channel();
        let (eve, morning) = (date(2026, 12, 31), date(2027, 1, 1));
        let mut day = eve;
        // Looked at three times before midnight, then after it.
        let mut clock = [eve, eve, eve, morning].into_iter();
        assert!(called(&signals, EVERY, &mut day, &mut || clock.next().unwrap_or(morning)));
        assert_eq!((day, clock.next()), (morning, None));
        // The same day calls no more: the stop is what ends the wait.
        let mut looks = 0;
        let stop = tell.clone();
        let mut same_day = || {
            looks += 1;
            if looks == 3 {
                assert!(stop.send(Signal::Stop).is_ok());
            }
            morning
        };
        assert!(!called(&signals, EVERY, &mut day, &mut same_day));
        assert_eq!(looks, 3);
        // A save calls on the same day; one just after midnight takes the new day with it.
        assert!(tell.send(Signal::Saved).is_ok());
        assert!(called(&signals, EVERY, &mut day, &mut || date(2027, 1, 2)));
        assert_eq!(day, date(2027, 1, 2));
        // A clock that is set back counts as a new day too: the pages carry the day of the machine.
        assert!(called(&signals, EVERY, &mut day, &mut || morning));
        assert_eq!(day, morning);
    }
}

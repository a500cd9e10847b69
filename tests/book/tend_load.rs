//! `garboard tend` under load from another process, over the loop of this machine: connections that are kept, clients
//! that hardly read or hardly write, and rubbish, all while the book is saved. It must neither fall, nor grow, nor
//! show an old page.

use crate::support::job;
use crate::tend::{GUIDE, Tending, answer_on, book};
use std::fs;
use std::io::{BufReader, Read, Write};
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering::SeqCst};
use std::thread;
use std::time::{Duration, Instant};

/// Connections that are kept and used over and over.
const KEPT: usize = 200;
/// Clients that read a byte a second, and as many that write one now and then.
const SLOW: usize = 30;
/// How long a round lasts.
const ROUND: Duration = Duration::from_secs(4);
/// Rounds; the first lets the allocator take what it needs.
const ROUNDS: usize = 3;
/// How much more memory a later round may leave behind than the first, in KiB: less than one page kept of each of its
/// requests would be.
const MORE: usize = 6 * 1024;

/// Stands beside the site, and on no page.
const SECRET: &str = "the safe is behind the chart table";

/// Ways out of the site that have worked somewhere: percent-encoded once and twice (RFC 3986, 2.1), in other
/// separators, as overlong UTF-8 (RFC 3629, 10), with NUL, with a drive.
const WAYS_OUT: [&str; 16] = [
    "/../secret.txt",
    "/%2e%2e/secret.txt",
    "/%2e%2e%2fsecret.txt",
    "/..%2fsecret.txt",
    "/..%5csecret.txt",
    "/..\\secret.txt",
    "/%252e%252e%252fsecret.txt",
    "/%c0%ae%c0%ae/secret.txt",
    "/%c0%ae%c0%ae%c0%afsecret.txt",
    "/%e0%80%ae%e0%80%ae/secret.txt",
    "/assets/%2e%2e/%2e%2e/secret.txt",
    "/../secret.txt%00.html",
    "/C:/secret.txt",
    "//../secret.txt",
    "/./../secret.txt",
    "/%u002e%u002e/secret.txt",
];

/// What the system says of the program: memory in KiB, open files, threads.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Held {
    memory: usize,
    files: usize,
    threads: usize,
}

fn held(tending: &Tending) -> Held {
    let process = format!("/proc/{}", tending.child.id());
    let status = fs::read_to_string(format!("{process}/status")).expect("it runs");
    let number = |name: &str| {
        let line = status.lines().find_map(|line| line.strip_prefix(name)).expect("a line");
        line.trim().trim_end_matches(" kB").parse().expect("a number")
    };
    let files = fs::read_dir(format!("{process}/fd")).expect("a list").count();
    Held { memory: number("VmRSS:"), files, threads: number("Threads:") }
}

/// Waits until all connections are gone.
fn at_rest(tending: &Tending, before: Option<Held>) -> Held {
    let until = Instant::now() + Duration::from_secs(15);
    loop {
        thread::sleep(Duration::from_millis(300));
        let now = held(tending);
        if before.is_none_or(|before| (now.files, now.threads) == (before.files, before.threads)) {
            return now;
        }
        assert!(Instant::now() < until, "{now:?} are held, and {before:?} before");
    }
}

/// Numbers that look like chance and are the same in every run (Numerical Recipes, `ranqd1`).
struct Chance(u32);

impl Chance {
    fn next(&mut self) -> usize {
        self.0 = self.0.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (self.0 >> 16) as usize
    }
}

fn rubbish(chance: &mut Chance, host: &str) -> Vec<u8> {
    let way = WAYS_OUT[chance.next() % WAYS_OUT.len()];
    match chance.next() % 8 {
        0..4 => format!("GET {way} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n").into_bytes(),
        4 => format!("GET /{} HTTP/1.1\r\nHost: {host}\r\n\r\n", "a".repeat(17_000)).into_bytes(),
        5 => format!("POST / HTTP/1.1\r\nHost: {host}\r\nContent-Length: 1000000000\r\n\r\nx").into_bytes(),
        6 => (0..chance.next() % 3000).map(|_| u8::try_from(chance.next() % 256).unwrap_or_default()).chain(*b"\r\n\r\n").collect(),
        _ => format!("GET / HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n{}\r\n", "X: y\r\n".repeat(chance.next() % 5000)).into_bytes(),
    }
}

/// Entries of a book whose text alone is as large as what a few saves may leave behind.
const LONG_LOG: usize = 300;
/// Saves before memory is looked at, and after.
const SAVES: (usize, usize) = (4, 12);

#[test]
fn a_save_leaves_nothing_behind() {
    let notes = "The belt is dry and without cracks. ".repeat(100);
    let log = (0..LONG_LOG).map(|at| {
        let day = format!("20{:02}-{:02}-{:02}", 10 + at / 100, 1 + at % 12, 1 + at % 28);
        (format!("content/log/{day}-{at}.md"), format!("---\njobs: [belt]\ndate: {day}\n---\n\n{notes}\n"))
    });
    let book = log.fold(book(), |book, (path, entry)| book.beside(&path, entry));
    let tending = Tending::of(&book, &[]);
    let save = |number: usize| {
        let title = format!("Change the oil {number}");
        book.put(GUIDE, job(&title, "").as_bytes());
        tending.becomes("/guides/belt.html", |page| page.contains(&title));
    };
    (0..SAVES.0).for_each(save);
    let before = held(&tending);
    (SAVES.0..SAVES.0 + SAVES.1).for_each(save);
    let after = held(&tending);
    println!("{} KiB after {} saves, {} KiB after {} more", before.memory, SAVES.0, after.memory, SAVES.1);
    assert!(after.memory <= before.memory + MORE, "{} KiB grew to {} KiB", before.memory, after.memory);
}

#[test]
fn under_load_it_neither_falls_nor_grows_and_the_page_stays_current() {
    let book = book().beside("secret.txt", SECRET);
    let tending = Tending::of(&book, &[]);
    let host = format!("localhost:{}", tending.port);
    let mut before = None;
    let mut first = None;
    let mut saved = 0;
    for round in 0..ROUNDS {
        let until = Instant::now() + ROUND;
        let ended = AtomicBool::new(false);
        let (answered, refused) = (AtomicUsize::new(0), AtomicUsize::new(0));
        let before = *before.get_or_insert_with(|| at_rest(&tending, None));
        thread::scope(|scope| {
            for worker in 0..4 {
                let (tending, host, answered, ended) = (&tending, &host, &answered, &ended);
                scope.spawn(move || {
                    let mut streams: Vec<_> = (0..KEPT / 4).map(|_| BufReader::new(tending.connect())).collect();
                    let paths = ["/guides/belt.html", "/", "/assets/style.css", "/_tend"];
                    let mut turn: usize = worker;
                    while !ended.load(SeqCst) {
                        let asked = format!("GET {} HTTP/1.1\r\nHost: {host}\r\n\r\n", paths[turn % paths.len()]);
                        for stream in &mut streams {
                            stream.get_mut().write_all(asked.as_bytes()).expect("asks");
                        }
                        for stream in &mut streams {
                            let (head, body) = answer_on(stream).expect("a whole answer");
                            assert!(head.starts_with("HTTP/1.1 200 ") && !body.is_empty(), "{head}");
                            answered.fetch_add(1, SeqCst);
                        }
                        turn += 1;
                    }
                });
            }
            let (tending, host, ended, refused) = (&tending, &host, &ended, &refused);
            scope.spawn(move || {
                let mut readers: Vec<_> = (0..SLOW).map(|_| tending.connect()).collect();
                let mut writers: Vec<_> = (0..SLOW).map(|_| tending.connect()).collect();
                for reader in &mut readers {
                    let _ = write!(reader, "GET /pocket.html HTTP/1.1\r\nHost: {host}\r\n\r\n");
                }
                let head = format!("GET / HTTP/1.1\r\nHost: {host}\r\n");
                for byte in head.bytes().cycle() {
                    if ended.load(SeqCst) {
                        break;
                    }
                    for (reader, writer) in readers.iter_mut().zip(&mut writers) {
                        let _ = reader.read(&mut [0]);
                        let _ = writer.write(&[byte]);
                    }
                    thread::sleep(Duration::from_secs(1));
                }
            });
            scope.spawn(move || {
                let mut chance = Chance(7 + u32::try_from(round).unwrap_or_default());
                while !ended.load(SeqCst) {
                    let mut stream = tending.connect();
                    let _ = stream.write_all(&rubbish(&mut chance, host));
                    let mut answer = Vec::new();
                    let _ = stream.read_to_end(&mut answer);
                    let answer = String::from_utf8_lossy(&answer);
                    assert!(!answer.contains(SECRET), "{answer:.300}");
                    refused.fetch_add(usize::from(answer.starts_with("HTTP/1.1 4")), SeqCst);
                }
            });
            while Instant::now() < until {
                saved += 1;
                let title = format!("Change the oil {saved}");
                book.put(GUIDE, job(&title, "").as_bytes());
                tending.becomes("/guides/belt.html", |page| page.contains(&title));
            }
            ended.store(true, SeqCst);
        });
        let now = at_rest(&tending, Some(before));
        println!(
            "round {}: {} answers, {} refusals, {saved} saves shown; {} KiB, {} files, {} threads",
            round + 1,
            answered.load(SeqCst),
            refused.load(SeqCst),
            now.memory,
            now.files,
            now.threads
        );
        assert!(answered.load(SeqCst) > KEPT && refused.load(SeqCst) > 10, "hardly any load");
        let first = *first.get_or_insert(now);
        assert!(now.memory <= first.memory + MORE, "{} KiB after the first round, {} after this one", first.memory, now.memory);
    }
}

//! One connection: reads requests within their time, and writes answers within theirs.

use super::answer::{Answer, Body};
use super::live::Live;
use super::place;
use super::request::{LONGEST_HEAD, Refusal, Request, end_of_head, is_welcome, parse};
use std::fs::File;
use std::io::{self, ErrorKind, Read, Write};
use std::net::{Shutdown, TcpStream};
use std::time::{Duration, Instant};

/// How long a connection may be silent between requests.
const IDLE: Duration = Duration::from_secs(30);
/// How long the head of a request may take to arrive.
const HEAD: Duration = Duration::from_secs(10);
/// How long a client may take nothing of an answer.
const STALL: Duration = Duration::from_secs(20);
/// How long a whole answer may take: a large paper over a weak network.
const WHOLE: Duration = Duration::from_secs(300);
/// Largest page that gets the script of the live pages, in bytes.
const LARGEST_PAGE: u64 = 32 * 1024 * 1024;

/// What came of waiting for a request.
enum Head {
    Whole(usize),
    Refused(Refusal),
    /// The other side is gone, or never spoke.
    Gone,
}

/// Answers until the other side is done, is refused, or falls silent.
pub fn serve(mut stream: TcpStream, live: &Live) {
    let Ok(local) = stream.local_addr() else { return };
    // Small answers would wait for each other.
    let _ = stream.set_nodelay(true);
    let mut waiting = Vec::new();
    loop {
        let (answer, head_only, keep_alive) = match head(&mut stream, &mut waiting) {
            Head::Gone => return,
            Head::Refused(refusal) => (Answer::refused(refusal), false, false),
            Head::Whole(end) => {
                let rest = waiting.split_off(end);
                let request = parse(&waiting)
                    .and_then(|request| if is_welcome(&request.host, local.ip()) { Ok(request) } else { Err(Refusal::Host) });
                waiting = rest;
                match request {
                    Ok(request) => (answer_to(&request, live), request.head_only, request.keep_alive),
                    Err(refusal) => (Answer::refused(refusal), false, false),
                }
            }
        };
        if send(&mut stream, answer, head_only, keep_alive).is_err() {
            return;
        }
        if !keep_alive {
            close(&mut stream);
            return;
        }
    }
}

/// Refuses a connection before it has said anything.
pub fn refuse(mut stream: TcpStream) {
    let _ = stream.set_write_timeout(Some(Duration::from_millis(100)));
    let answer = Answer::refused(Refusal::Busy);
    let _ = send(&mut stream, answer, false, false);
}

/// Reads until there is a whole head; what comes behind it stays in `waiting`.
fn head(stream: &mut TcpStream, waiting: &mut Vec<u8>) -> Head {
    let mut since = Instant::now();
    loop {
        if let Some(end) = end_of_head(waiting) {
            return if end > LONGEST_HEAD { Head::Refused(Refusal::TooLarge) } else { Head::Whole(end) };
        }
        if waiting.len() > LONGEST_HEAD {
            return Head::Refused(Refusal::TooLarge);
        }
        let limit = if waiting.is_empty() { IDLE } else { HEAD };
        let Some(left) = limit.checked_sub(since.elapsed()).filter(|left| !left.is_zero()) else {
            return if waiting.is_empty() { Head::Gone } else { Head::Refused(Refusal::TooSlow) };
        };
        if stream.set_read_timeout(Some(left)).is_err() {
            return Head::Gone;
        }
        let mut chunk = [0; 4096];
        match stream.read(&mut chunk) {
            Ok(0) => return Head::Gone,
            Ok(read) => {
                if waiting.is_empty() {
                    since = Instant::now();
                }
                waiting.extend_from_slice(chunk.get(..read).unwrap_or_default());
            }
            Err(error) if matches!(error.kind(), ErrorKind::WouldBlock | ErrorKind::TimedOut | ErrorKind::Interrupted) => {}
            Err(_) => return Head::Gone,
        }
    }
}

fn answer_to(request: &Request, live: &Live) -> Answer {
    const SCRIPT: &str = "text/javascript; charset=utf-8";
    match request.path.as_str() {
        "/_tend" => return Answer::fine("application/json", Body::Bytes(live.notice().into_bytes())),
        "/_tend.js" => return Answer::fine(SCRIPT, Body::Bytes(super::live::SCRIPT.as_bytes().to_vec())),
        // Pages that a browser keeps would not follow the book: this worker clears away what one kept.
        "/sw.js" => return Answer::fine(SCRIPT, Body::Bytes(super::live::WORKER.as_bytes().to_vec())),
        _ => {}
    }
    // Read before the page: one that is made in between is loaded once more, and none is missed.
    let version = live.version();
    let Some(path) = place::find(live.site(), &request.path) else { return missing(live) };
    let kind = place::kind(&path);
    let opened = File::open(&path).and_then(|file| file.metadata().map(|meta| (file, meta.len())));
    match opened {
        Ok((file, length)) if kind.starts_with("text/html") && length <= LARGEST_PAGE => {
            let mut page = Vec::new();
            match file.take(LARGEST_PAGE).read_to_end(&mut page) {
                Ok(_) => Answer::fine(kind, Body::Bytes(super::live::with_script(page, &version))),
                Err(_) => Answer::refused(Refusal::Busy),
            }
        }
        Ok((file, length)) => Answer::fine(kind, Body::File(file, length)),
        Err(error) if error.kind() == ErrorKind::NotFound => missing(live),
        Err(_) => Answer::refused(Refusal::Busy),
    }
}

fn missing(live: &Live) -> Answer {
    Answer { status: 404, phrase: "Not Found", kind: "text/html; charset=utf-8", body: Body::Bytes(live.missing().into_bytes()) }
}

fn send(stream: &mut TcpStream, answer: Answer, head_only: bool, keep_alive: bool) -> io::Result<()> {
    let until = Instant::now() + WHOLE;
    let mut first = answer.head(keep_alive).into_bytes();
    match answer.body {
        Body::Bytes(bytes) => {
            if !head_only {
                first.extend_from_slice(&bytes);
            }
            put(stream, &first, until)
        }
        Body::File(_, _) if head_only => put(stream, &first, until),
        Body::File(file, length) => {
            put(stream, &first, until)?;
            let mut file = file.take(length);
            let mut chunk = vec![0; 64 * 1024];
            let mut left = length;
            while left > 0 {
                let read = file.read(&mut chunk)?;
                if read == 0 {
                    // It became shorter while it was sent: the length that was said no longer holds.
                    return Err(ErrorKind::UnexpectedEof.into());
                }
                put(stream, chunk.get(..read).unwrap_or_default(), until)?;
                left = left.saturating_sub(read as u64);
            }
            Ok(())
        }
    }
}

/// Writes all bytes, so long as some are taken now and then.
fn put(stream: &mut TcpStream, mut bytes: &[u8], until: Instant) -> io::Result<()> {
    while !bytes.is_empty() {
        let left = until.saturating_duration_since(Instant::now()).min(STALL);
        if left.is_zero() {
            return Err(ErrorKind::TimedOut.into());
        }
        stream.set_write_timeout(Some(left))?;
        match stream.write(bytes) {
            Ok(0) => return Err(ErrorKind::WriteZero.into()),
            Ok(written) => bytes = bytes.get(written..).unwrap_or_default(),
            Err(error) if error.kind() == ErrorKind::Interrupted => {}
            Err(error) => return Err(error),
        }
    }
    Ok(())
}

/// Takes in a little of what is still being sent: a connection closed over unread bytes is reset, and the
/// answer may be lost with it.
fn close(stream: &mut TcpStream) {
    let until = Instant::now() + Duration::from_millis(500);
    let _ = stream.shutdown(Shutdown::Write);
    let mut chunk = [0; 4096];
    let mut taken = 0;
    while taken < 1024 * 1024 && Instant::now() < until {
        let _ = stream.set_read_timeout(Some(Duration::from_millis(200)));
        match stream.read(&mut chunk) {
            Ok(read) if read > 0 => taken += read,
            _ => return,
        }
    }
}

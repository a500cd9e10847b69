//! `garboard tend` from outside: what it serves and what not, and how pages follow the book. Requests are
//! written by hand (RFC 9112), so that the wrong ones can be sent too.

use crate::support::{Book, guide, job};
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{Ipv4Addr, TcpStream};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// A program that tends a book, ended with the test.
pub struct Tending {
    pub child: Child,
    pub port: u16,
    /// Standard output and error, gathered in files.
    output: tempfile::TempDir,
}

impl Drop for Tending {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// What came back: the head in one piece, and the body.
#[derive(Debug)]
struct Answer {
    head: String,
    body: String,
}

impl Answer {
    fn status(&self) -> &str {
        self.head.split(' ').nth(1).unwrap_or_default()
    }
}

impl Tending {
    pub fn of(book: &Book, more: &[&str]) -> Self {
        Self::by(Command::new(env!("CARGO_BIN_EXE_garboard")), book, more)
    }

    /// By a program that is started in a way of its own.
    fn by(mut program: Command, book: &Book, more: &[&str]) -> Self {
        let output = tempfile::tempdir().expect("a folder");
        let file = |name: &str| std::fs::File::create(output.path().join(name)).expect("a file");
        let child = program
            .args(["tend", "--on", "2026-06-01"])
            .args(if more.contains(&"--port") { &[][..] } else { &["--port", "0"] })
            .args(more)
            .current_dir(book.path("."))
            // What is freed goes back to the system at once, so that its memory is what it holds.
            .env("_RJEM_MALLOC_CONF", "dirty_decay_ms:0,muzzy_decay_ms:0")
            .stdin(Stdio::null())
            .stdout(file("printed"))
            .stderr(file("told"))
            .spawn()
            .expect("the program starts");
        let mut tending = Self { child, port: 0, output };
        let until = Instant::now() + Duration::from_secs(30);
        // The last line that is told before the watch begins.
        while !tending.told().contains("end with Ctrl-C") {
            assert!(Instant::now() < until, "it does not begin: {}", tending.told());
            std::thread::sleep(Duration::from_millis(20));
        }
        let lines = tending.printed();
        let port = lines.first().and_then(|line| line.trim_end_matches('/').rsplit(':').next()).and_then(|port| port.parse().ok());
        tending.port = port.unwrap_or_else(|| panic!("no address: {lines:?}"));
        tending
    }

    /// What it told on standard error so far.
    fn told(&self) -> String {
        std::fs::read_to_string(self.output.path().join("told")).expect("a file")
    }

    /// The lines of standard output so far.
    fn printed(&self) -> Vec<String> {
        std::fs::read_to_string(self.output.path().join("printed")).expect("a file").lines().map(str::to_owned).collect()
    }

    pub fn connect(&self) -> TcpStream {
        let stream = TcpStream::connect((Ipv4Addr::LOCALHOST, self.port)).expect("connects");
        stream.set_read_timeout(Some(Duration::from_secs(20))).expect("a time");
        stream
    }

    /// Sends bytes and reads to the end.
    fn send(&self, bytes: &[u8]) -> Answer {
        let mut stream = self.connect();
        let _ = stream.write_all(bytes);
        let mut all = Vec::new();
        let _ = stream.read_to_end(&mut all);
        let all = String::from_utf8_lossy(&all).into_owned();
        let (head, body) = all.split_once("\r\n\r\n").unwrap_or((&all, ""));
        Answer { head: head.to_owned(), body: body.to_owned() }
    }

    fn ask(&self, method: &str, path: &str) -> Answer {
        self.send(format!("{method} {path} HTTP/1.1\r\nHost: localhost:{}\r\nConnection: close\r\n\r\n", self.port).as_bytes())
    }

    fn get(&self, path: &str) -> Answer {
        self.ask("GET", path)
    }

    /// Asks again until it is so.
    #[track_caller]
    pub fn becomes(&self, path: &str, what: impl Fn(&str) -> bool) {
        // A publish of so small a book takes a moment; the rest is for a machine that is busy with other tests.
        let until = Instant::now() + Duration::from_secs(15);
        loop {
            let answer = self.get(path);
            if what(&answer.body) {
                return;
            }
            assert!(Instant::now() < until, "{path}: {answer:?}");
            std::thread::sleep(Duration::from_millis(50));
        }
    }
}

/// One whole answer on a connection that is kept: its head and its body.
pub fn answer_on(stream: &mut BufReader<TcpStream>) -> std::io::Result<(String, Vec<u8>)> {
    let (mut head, mut length) = (String::new(), 0);
    loop {
        let before = head.len();
        if stream.read_line(&mut head)? == 0 {
            return Err(std::io::Error::other(format!("closed after {head:?}")));
        }
        let line = head.get(before..).unwrap_or_default();
        if let Some(said) = line.strip_prefix("Content-Length: ") {
            length = said.trim().parse().expect("a number");
        }
        if line == "\r\n" {
            break;
        }
    }
    let mut body = vec![0; length];
    stream.read_exact(&mut body)?;
    Ok((head, body))
}

pub const GUIDE: &str = "content/guides/engine/belt.md";

pub fn book() -> Book {
    let book = Book::sound();
    book.put(GUIDE, job("Change the oil", "").as_bytes());
    book
}

#[test]
fn pages_are_read_and_nothing_else() {
    let book = book();
    let tending = Tending::of(&book, &[]);
    let first = tending.get("/");
    assert_eq!(first.status(), "200");
    assert!(first.head.contains("\r\nContent-Type: text/html; charset=utf-8\r\n"), "{}", first.head);
    assert!(first.head.contains("\r\nCache-Control: no-store\r\n"), "{}", first.head);
    assert!(first.head.contains(&format!("\r\nContent-Length: {}\r\n", first.body.len())), "{}", first.head);
    assert!(first.body.contains("<script src=\"/_tend.js\""));
    assert!(!book.text("site/index.html").contains("_tend"), "the files stay as they are");
    assert!(tending.get("/guides/belt.html?x=1").body.contains("Change the oil"));
    let style = tending.get("/assets/style.css");
    assert!(style.head.contains("\r\nContent-Type: text/css"), "{}", style.head);
    assert_eq!(style.body, book.text("site/assets/style.css"));
    let head = tending.ask("HEAD", "/");
    assert_eq!((head.status(), head.body.as_str()), ("200", ""));
    assert!(head.head.contains(&format!("Content-Length: {}", first.body.len())), "{}", head.head);
    let post = tending.ask("POST", "/");
    assert_eq!(post.status(), "405");
    assert!(post.head.contains("\r\nAllow: GET, HEAD\r\n"), "{}", post.head);
    let missing = tending.get("/none.html");
    assert_eq!(missing.status(), "404");
    assert!(missing.body.contains("There is no such page"), "{}", missing.body);
}

#[test]
fn nothing_outside_the_site_is_reached() {
    let book = book().beside("secret.txt", "hidden");
    let tending = Tending::of(&book, &[]);
    #[cfg(unix)]
    std::os::unix::fs::symlink("../secret.txt", book.path("site/link.txt")).expect("a link");
    for path in [
        "/../secret.txt",
        "/%2e%2e/secret.txt",
        "/..%2fsecret.txt",
        "/..%5csecret.txt",
        "/%252e%252e/secret.txt",
        "/%c0%ae%c0%ae/secret.txt",
        "/guides/%2e%2e/%2e%2e/secret.txt",
        "/.%2e/.%2e/secret.txt",
        "/%2fetc%2fpasswd",
        "/link.txt",
        "//etc/passwd",
        "/%00",
        "/guides",
    ] {
        let answer = tending.get(path);
        assert_eq!(answer.status(), "404", "{path}");
        assert!(!answer.body.contains("hidden"), "{path}");
    }
}

#[test]
fn wrong_requests_are_refused_and_do_no_harm() {
    let book = book();
    let tending = Tending::of(&book, &[]);
    let host = format!("Host: localhost:{}", tending.port);
    let long = "a".repeat(20_000);
    for (request, status) in [
        (String::from("hello\r\n\r\n"), "400"),
        (String::from("GET / HTTP/1.1\r\n\r\n"), "400"),
        (format!("GET / HTTP/1.1\r\n{host}\r\n{host}\r\n\r\n"), "400"),
        (format!("GET / HTTP/3\r\n{host}\r\n\r\n"), "505"),
        (format!("GET /{long} HTTP/1.1\r\n{host}\r\n\r\n"), "431"),
        (format!("GET / HTTP/1.1\r\n{host}\r\nX: {long}"), "431"),
        (format!("GET / HTTP/1.1\r\n{host}\r\nContent-Length: 9\r\n\r\n123456789"), "413"),
        (String::from("GET / HTTP/1.1\r\nHost: attacker.example\r\n\r\n"), "421"),
        (String::from("GET http://attacker.example/ HTTP/1.1\r\nHost: localhost\r\n\r\n"), "421"),
    ] {
        let answer = tending.send(request.as_bytes());
        assert_eq!(answer.status(), status, "{request:.80} {answer:?}");
        assert!(answer.head.contains("Connection: close"), "{answer:?}");
    }
    tending.send(&[0xff; 4000]);
    assert_eq!(tending.get("/").status(), "200");
}

#[test]
fn a_slow_client_is_let_go() {
    let book = book();
    let tending = Tending::of(&book, &[]);
    let mut slow = tending.connect();
    slow.write_all(b"GET / HT").expect("writes");
    let since = Instant::now();
    let mut answer = String::new();
    let _ = slow.read_to_string(&mut answer);
    assert!(answer.starts_with("HTTP/1.1 408 "), "{answer}");
    assert!(since.elapsed() < Duration::from_secs(18), "{:?}", since.elapsed());
}

#[test]
fn pages_follow_the_book() {
    let book = book();
    let tending = Tending::of(&book, &[]);
    let version =
        |body: &str| serde_json::from_str::<serde_json::Value>(body).expect("JSON")["version"].as_str().unwrap_or_default().to_owned();
    let before = version(&tending.get("/_tend").body);
    book.put(GUIDE, job("Renew the oil", "").as_bytes());
    tending.becomes("/guides/belt.html", |page| page.contains("Renew the oil"));
    tending.becomes("/_tend", |notice| version(notice) != before);
    // An error: the page of before stays, and the error is told with its place.
    book.put(GUIDE, job("Lose the oil", "evry: {calendar: 1 year}\n").as_bytes());
    tending.becomes("/_tend", |notice| notice.contains("guides/engine/belt.md:3:1") && notice.contains("1 error in the book"));
    assert!(tending.get("/guides/belt.html").body.contains("Renew the oil"));
    // Mended, as editors do: beside the file, then in its place.
    book.put("content/guides/engine/belt.md.new", job("Keep the oil", "").as_bytes());
    std::fs::rename(book.path("content/guides/engine/belt.md.new"), book.path(GUIDE)).expect("put in place");
    tending.becomes("/guides/belt.html", |page| page.contains("Keep the oil"));
    tending.becomes("/_tend", |notice| notice.contains("\"title\":\"\""));
    // A folder that was not there before.
    book.put("content/log/2026/2026-05-01-oil.md", b"---\njobs: [belt]\ndate: 2026-05-01\n---\nThe new word.\n");
    tending.becomes("/log/2026.html", |page| page.contains("The new word"));
}

#[test]
fn a_book_that_was_never_sound_appears_when_it_is_mended() {
    let book = book();
    book.put(GUIDE, job("Change the oil", "evry: x\n").as_bytes());
    let tending = Tending::of(&book, &[]);
    let first = tending.get("/");
    assert_eq!(first.status(), "404");
    assert!(first.body.contains("There is no site yet") && first.body.contains("/_tend.js"), "{}", first.body);
    book.put(GUIDE, job("Change the oil", "").as_bytes());
    tending.becomes("/guides/belt.html", |page| page.contains("Change the oil"));
}

/// The program as somebody who may not read everything. For root that is another user, to whom the book is given.
#[cfg(unix)]
fn as_nobody(book: &Book) -> Command {
    use std::os::unix::fs::{MetadataExt, PermissionsExt, chown};
    use std::os::unix::process::CommandExt;
    let folder = book.path(".");
    if std::fs::metadata(&folder).expect("a folder").uid() != 0 {
        return Command::new(env!("CARGO_BIN_EXE_garboard"));
    }
    // Where the program stands, others may not come.
    let program = book.path("garboard");
    std::fs::copy(env!("CARGO_BIN_EXE_garboard"), &program).expect("a copy");
    std::fs::set_permissions(&program, std::fs::Permissions::from_mode(0o755)).expect("may be set");
    for item in walkdir::WalkDir::new(&folder) {
        chown(item.expect("an item").path(), Some(65_534), Some(65_534)).expect("root gives away");
    }
    let mut command = Command::new(program);
    command.uid(65_534).gid(65_534);
    command
}

/// A picture that the disk does not give is an error that only a publish finds; like any other it is told, the last
/// good pages stay, and the next save mends it.
#[cfg(unix)]
#[test]
fn a_picture_that_cannot_be_read_ends_nothing() {
    use std::os::unix::fs::PermissionsExt;
    let with_picture = |title: &str| guide(title, "", "## Work\n\n1. Look at it.\n\n   ![The belt](belt/belt.svg)\n");
    let drawing = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\"><circle cx=\"4\" cy=\"4\" r=\"3\"/></svg>";
    let book = book().beside(GUIDE, with_picture("Change the belt")).beside("content/guides/engine/belt/belt.svg", drawing);
    let program = as_nobody(&book);
    let may_be_read = |may: bool| {
        let mode = std::fs::Permissions::from_mode(if may { 0o644 } else { 0o000 });
        std::fs::set_permissions(book.path("content/guides/engine/belt/belt.svg"), mode).expect("may be set");
    };
    let tells = |notice: &str| {
        notice.contains("\"title\":\"1 error in the book") && notice.contains("\"place\":\"guides/engine/belt/belt.svg:1:1\"")
    };
    may_be_read(false);
    let tending = Tending::by(program, &book, &[]);
    assert_eq!(tending.get("/").status(), "404");
    let notice = tending.get("/_tend").body;
    assert!(tells(&notice), "{notice}");
    assert!(tending.told().contains("help: mend the errors: the pages follow at the next save\n"), "{}", tending.told());
    assert!(!tending.told().contains("--despite-errors"), "{}", tending.told());
    may_be_read(true);
    book.put(GUIDE, with_picture("Renew the belt").as_bytes());
    tending.becomes("/guides/belt.html", |page| page.contains("Renew the belt"));
    tending.becomes("/_tend", |notice| notice.contains("\"title\":\"\""));
    may_be_read(false);
    book.put(GUIDE, with_picture("Lose the belt").as_bytes());
    tending.becomes("/_tend", tells);
    assert!(tending.get("/guides/belt.html").body.contains("Renew the belt"));
}

#[test]
fn a_port_in_use_is_passed_over() {
    let book = book();
    let first = Tending::of(&book, &[]);
    let second = Tending::of(&book, &["--port", &first.port.to_string()]);
    assert_ne!(first.port, second.port);
    assert_eq!(second.get("/").status(), "200");
}

#[test]
fn a_port_of_another_program_is_told() {
    let book = book();
    let taken = std::net::TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).expect("a port");
    let port = taken.local_addr().expect("an address").port();
    let tending = Tending::of(&book, &["--port", &port.to_string()]);
    assert_ne!(tending.port, port);
    assert!(tending.told().contains(&format!("port {port} is in use, so this is port {}", tending.port)), "{}", tending.told());
}

/// What is taken away goes from the pages, a whole folder of it too; and a book that is put in the place
/// of the old one is followed.
#[test]
fn what_is_taken_away_goes() {
    let book = book().beside("content/guides/engine/pump.md", job("Renew the pump", ""));
    let tending = Tending::of(&book, &[]);
    assert_eq!(tending.get("/guides/pump.html").status(), "200");
    std::fs::remove_file(book.path("content/guides/engine/pump.md")).expect("taken away");
    tending.becomes("/guides/pump.html", |page| page.contains("There is no such page"));
    let note = b"---\njobs: [belt]\ndate: 2026-05-01\n---\nA word.\n";
    book.put("content/log/2026/2026-05-01-oil.md", note);
    tending.becomes("/log/2026.html", |page| page.contains("A word"));
    std::fs::remove_dir_all(book.path("content/log")).expect("taken away");
    tending.becomes("/log/2026.html", |page| page.contains("There is no such page"));
    std::fs::rename(book.path("content"), book.path("content-old")).expect("moved away");
    std::thread::sleep(Duration::from_millis(500));
    std::fs::rename(book.path("content-old"), book.path("content")).expect("moved back");
    book.put(GUIDE, job("Come home", "").as_bytes());
    tending.becomes("/guides/belt.html", |page| page.contains("Come home"));
    // Seen again, and not only looked at because the folder itself came back.
    book.put(GUIDE, job("Come home again", "").as_bytes());
    tending.becomes("/guides/belt.html", |page| page.contains("Come home again"));
}

#[test]
fn who_can_read_it_on_a_network_is_told() {
    let book = book();
    let tending = Tending::of(&book, &["--lan"]);
    let told = tending.told();
    assert!(told.contains("Everyone on that network can read the whole book, private things included"), "{told}");
    for helper in ["screen awake", "install the pages", "copy or share", "pocket.html"] {
        assert!(told.contains(helper), "{helper}: {told}");
    }
    // Another address of the loop is none that the code or the list may hold, but the pages answer there
    // by the address that the connection came in by (DNS rebinding, see `is_welcome`).
    let host = format!("GET / HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nConnection: close\r\n\r\n", tending.port);
    assert_eq!(tending.send(host.as_bytes()).status(), "200");
    let lines = tending.printed();
    let networks: Vec<&String> = lines.iter().skip(1).collect();
    assert!(networks.iter().all(|line| line.starts_with("http://") && line.ends_with(&format!(":{}/", tending.port))), "{lines:?}");
    // A code is drawn where there is an address to put in it; which those are depends on the machine.
    assert_eq!(told.contains('\u{2588}'), !networks.is_empty(), "{told}");
    assert_eq!(told.contains("this machine is on no network"), networks.is_empty(), "{told}");
    for line in networks {
        let address = line.trim_start_matches("http://").trim_end_matches('/').to_owned();
        let mut stream = TcpStream::connect(&address).expect("connects");
        write!(stream, "GET / HTTP/1.1\r\nHost: {address}\r\nConnection: close\r\n\r\n").expect("asks");
        let mut answer = String::new();
        let _ = stream.read_to_string(&mut answer);
        assert!(answer.starts_with("HTTP/1.1 200 "), "{address}: {answer:.200}");
    }
}

#[test]
fn without_lan_no_other_address_answers() {
    let book = book();
    let plain = Tending::of(&book, &[]);
    assert_eq!(plain.printed().len(), 1);
    assert!(!plain.told().contains("network"), "{}", plain.told());
    let lan = Tending::of(&book, &["--lan"]);
    for line in lan.printed().iter().skip(1) {
        let ours = line.trim_start_matches("http://").replace(&format!(":{}/", lan.port), &format!(":{}", plain.port));
        assert!(TcpStream::connect(&ours).is_err(), "{ours} answers");
    }
}

#[test]
fn without_a_book_it_ends() {
    let book = Book::sound();
    book.run(["tend", "--book", "nowhere"]).status(1).stderr_has("cannot read the book `nowhere`");
    book.run(["tend", "--theme", "nosuch"]).status(1).stderr_has("there is no theme `nosuch`");
}

#[cfg(unix)]
#[test]
fn the_interrupt_ends_it_well() {
    for signal in ["-INT", "-TERM"] {
        let book = book();
        let mut tending = Tending::of(&book, &[]);
        let sent = Command::new("kill").args([signal, &tending.child.id().to_string()]).status().expect("kill runs");
        assert!(sent.success());
        let until = Instant::now() + Duration::from_secs(10);
        let status = loop {
            if let Some(status) = tending.child.try_wait().expect("waits") {
                break status;
            }
            assert!(Instant::now() < until, "it runs on after {signal}");
            std::thread::sleep(Duration::from_millis(20));
        };
        assert_eq!(status.code(), Some(0), "{signal}");
    }
}

/// 300 connections are kept and used again while the book is saved over and over; those beyond the most that
/// are allowed are told so.
#[test]
fn many_connections_are_answered_while_the_book_changes() {
    let book = book();
    let tending = Tending::of(&book, &[]);
    let request = format!("GET /guides/belt.html HTTP/1.1\r\nHost: localhost:{}\r\n\r\n", tending.port);
    let mut streams: Vec<BufReader<TcpStream>> = (0..300).map(|_| BufReader::new(tending.connect())).collect();
    for round in 0..4 {
        book.put(GUIDE, job(&format!("Change the oil {round}"), "").as_bytes());
        for stream in &mut streams {
            stream.get_mut().write_all(request.as_bytes()).expect("asks");
        }
        for stream in &mut streams {
            let (head, body) = answer_on(stream).unwrap_or_else(|error| panic!("round {round}: {error}"));
            assert!(head.starts_with("HTTP/1.1 200 "), "{head}");
            assert!(body.ends_with(b"</html>\n") && String::from_utf8_lossy(&body).contains("Change the oil"));
        }
    }
    let more: Vec<TcpStream> = (0..150).map(|_| tending.connect()).collect();
    let mut last = tending.connect();
    let mut told = String::new();
    let _ = last.read_to_string(&mut told);
    assert!(told.starts_with("HTTP/1.1 503 "), "{told}");
    drop((streams, more, last));
    tending.becomes("/guides/belt.html", |page| page.contains("Change the oil 3"));
}

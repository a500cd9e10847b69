//! Reads the head of an HTTP/1.1 request (RFC 9112). Whatever is doubtful is refused.

use std::net::IpAddr;

/// Longest head of a request, in bytes; a browser sends a twentieth of it.
pub const LONGEST_HEAD: usize = 16 * 1024;

/// A request that can be answered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Request {
    /// HEAD: the answer has no body.
    pub head_only: bool,
    /// As it was sent, still percent-encoded, without the query.
    pub path: String,
    /// Whom the browser believes it is talking to, with the port.
    pub host: String,
    pub keep_alive: bool,
}

/// Why a request is not answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Refusal {
    Malformed,
    /// The host that was asked for is not this one.
    Host,
    /// Neither GET nor HEAD.
    Method,
    /// The head did not come in time.
    TooSlow,
    /// It carries a body.
    Body,
    TooLarge,
    Version,
    /// Too many connections.
    Busy,
}

impl Refusal {
    /// Status code (RFC 9110, section 15), its phrase, and a sentence for whoever reads it.
    #[must_use]
    pub fn said(self) -> (u16, &'static str, &'static str) {
        match self {
            Self::Malformed => (400, "Bad Request", "This request cannot be understood."),
            Self::Host => {
                (421, "Misdirected Request", "Open the address that `garboard tend` shows in the terminal; it answers to no other name.")
            }
            Self::Method => (405, "Method Not Allowed", "These pages can only be read."),
            Self::TooSlow => (408, "Request Timeout", "The request took too long to arrive."),
            Self::Body => (413, "Content Too Large", "These pages can only be read: nothing can be sent."),
            Self::TooLarge => (431, "Request Header Fields Too Large", "The request is too long."),
            Self::Version => (505, "HTTP Version Not Supported", "Only HTTP/1.1 is spoken here."),
            Self::Busy => (503, "Service Unavailable", "Too many pages are open at once: close some and try again."),
        }
    }
}

/// Where the head ends: behind its empty line.
#[must_use]
pub fn end_of_head(bytes: &[u8]) -> Option<usize> {
    bytes.windows(4).position(|four| four == b"\r\n\r\n").map(|at| at + 4)
}

/// Reads a head that ends with its empty line.
///
/// # Errors
/// It is no request that these pages need.
pub fn parse(head: &[u8]) -> Result<Request, Refusal> {
    let text = String::from_utf8_lossy(head);
    let text = text.strip_suffix("\r\n\r\n").ok_or(Refusal::Malformed)?;
    let mut lines = text.split("\r\n");
    if text.split("\r\n").any(|line| line.contains(['\r', '\n', '\0'])) {
        return Err(Refusal::Malformed);
    }
    let first: Vec<&str> = lines.next().unwrap_or_default().split(' ').collect();
    let [method, target, version] = first.as_slice() else { return Err(Refusal::Malformed) };
    if !is_token(method) || !version.starts_with("HTTP/") {
        return Err(Refusal::Malformed);
    }
    let mut keep_alive = match *version {
        "HTTP/1.1" => true,
        "HTTP/1.0" => false,
        _ => return Err(Refusal::Version),
    };
    let head_only = match *method {
        "GET" => false,
        "HEAD" => true,
        _ => return Err(Refusal::Method),
    };
    let mut host: Option<&str> = None;
    for line in lines {
        let (name, value) = line.split_once(':').ok_or(Refusal::Malformed)?;
        if !is_token(name) {
            return Err(Refusal::Malformed);
        }
        let value = value.trim_matches([' ', '\t']);
        match name.to_ascii_lowercase().as_str() {
            // Two hosts are one too many to trust (RFC 9112, 3.2).
            "host" if host.is_some() => return Err(Refusal::Malformed),
            "host" => host = Some(value),
            "content-length" if value != "0" => return Err(Refusal::Body),
            "transfer-encoding" => return Err(Refusal::Body),
            "connection" => {
                for word in value.split(',').map(str::trim) {
                    if word.eq_ignore_ascii_case("close") {
                        keep_alive = false;
                    } else if word.eq_ignore_ascii_case("keep-alive") && *version == "HTTP/1.0" {
                        keep_alive = true;
                    }
                }
            }
            _ => {}
        }
    }
    let host = host.ok_or(Refusal::Malformed)?;
    // A target with its host in it counts for more than the header (RFC 9112, 3.2.2).
    let (host, path) = match target.strip_prefix("http://") {
        Some(rest) => rest.find('/').map(|at| rest.split_at(at)).ok_or(Refusal::Malformed)?,
        None => (host, *target),
    };
    if !path.starts_with('/') {
        return Err(Refusal::Malformed);
    }
    let path = path.split(['?', '#']).next().unwrap_or_default().to_owned();
    Ok(Request { head_only, path, host: host.to_owned(), keep_alive })
}

/// Characters of names and methods (RFC 9110, 5.6.2).
fn is_token(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_alphanumeric() || b"!#$%&'*+-.^_`|~".contains(&byte))
}

/// Whether a host may be asked for: this machine by its usual names, or the very address that the connection
/// came in by. Another name may be one that a foreign page has made to point here (DNS rebinding); an
/// address cannot be made to.
#[must_use]
pub fn is_welcome(host: &str, local: IpAddr) -> bool {
    let (name, port) = match host.strip_prefix('[').and_then(|rest| rest.split_once(']')) {
        Some((inner, "")) => (inner, ""),
        Some((inner, rest)) => match rest.strip_prefix(':') {
            Some(port) => (inner, port),
            None => return false,
        },
        None => host.split_once(':').unwrap_or((host, "")),
    };
    if !port.is_empty() && port.parse::<u16>().is_err() {
        return false;
    }
    if name.eq_ignore_ascii_case("localhost") {
        return true;
    }
    name.parse::<IpAddr>().is_ok_and(|address| address.is_loopback() || address.to_canonical() == local.to_canonical())
}

#[cfg(test)]
mod tests {
    use super::{Refusal, Request, is_welcome, parse};

    #[test]
    fn requests_that_are_answered() {
        #[track_caller]
        fn case(head: &str, path: &str, host: &str, head_only: bool, keep_alive: bool) {
            let expected = Request { head_only, path: path.to_owned(), host: host.to_owned(), keep_alive };
            assert_eq!(parse(head.as_bytes()), Ok(expected), "{head}");
        }
        // RFC 9112, section 3: request line, Host, the forms of a target; 9.3: persistence.
        case("GET / HTTP/1.1\r\nHost: localhost:80\r\n\r\n", "/", "localhost:80", false, true);
        case("HEAD /a.html?x=1 HTTP/1.1\r\nhost:localhost\r\n\r\n", "/a.html", "localhost", true, true);
        case("GET / HTTP/1.1\r\nHost: a\r\nConnection: keep-alive, CLOSE\r\n\r\n", "/", "a", false, false);
        case("GET / HTTP/1.0\r\nHost: a\r\n\r\n", "/", "a", false, false);
        case("GET / HTTP/1.0\r\nHost: a\r\nConnection: keep-alive\r\n\r\n", "/", "a", false, true);
        case("GET http://b/c HTTP/1.1\r\nHost: a\r\n\r\n", "/c", "b", false, true);
        case("GET / HTTP/1.1\r\nHost: a\r\nContent-Length: 0\r\n\r\n", "/", "a", false, true);
    }

    #[test]
    fn requests_that_are_refused() {
        #[track_caller]
        fn case(head: &[u8], expected: Refusal) {
            assert_eq!(parse(head), Err(expected), "{}", String::from_utf8_lossy(head));
        }
        case(b"\r\n\r\n", Refusal::Malformed);
        case(b"GET\r\n\r\n", Refusal::Malformed);
        case(b"GET / HTTP/1.1", Refusal::Malformed);
        case(b"GET  / HTTP/1.1\r\nHost: a\r\n\r\n", Refusal::Malformed);
        case(b"GET / a HTTP/1.1\r\nHost: a\r\n\r\n", Refusal::Malformed);
        case(b"GET / FTP/1.1\r\nHost: a\r\n\r\n", Refusal::Malformed);
        case(b"G(T / HTTP/1.1\r\nHost: a\r\n\r\n", Refusal::Malformed);
        case(b"GET / HTTP/1.1\r\n\r\n", Refusal::Malformed);
        case(b"GET / HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n", Refusal::Malformed);
        case(b"GET / HTTP/1.1\r\nHost : a\r\n\r\n", Refusal::Malformed);
        case(b"GET / HTTP/1.1\r\nHost: a\r\n folded\r\n\r\n", Refusal::Malformed);
        case(b"GET / HTTP/1.1\r\nHost: a\nX: b\r\n\r\n", Refusal::Malformed);
        case(b"GET / HTTP/1.1\r\nHost: a\0b\r\n\r\n", Refusal::Malformed);
        case(b"GET a.html HTTP/1.1\r\nHost: a\r\n\r\n", Refusal::Malformed);
        case(b"GET http://a HTTP/1.1\r\nHost: a\r\n\r\n", Refusal::Malformed);
        case(b"\xff\xfe / HTTP/1.1\r\nHost: a\r\n\r\n", Refusal::Malformed);
        case(b"POST / HTTP/1.1\r\nHost: a\r\n\r\n", Refusal::Method);
        case(b"OPTIONS * HTTP/1.1\r\nHost: a\r\n\r\n", Refusal::Method);
        case(b"GET / HTTP/1.1\r\nHost: a\r\nContent-Length: 5\r\n\r\n", Refusal::Body);
        case(b"GET / HTTP/1.1\r\nHost: a\r\nTransfer-Encoding: chunked\r\n\r\n", Refusal::Body);
        case(b"GET / HTTP/2.0\r\nHost: a\r\n\r\n", Refusal::Version);
    }

    #[test]
    fn hosts_that_may_be_asked_for() {
        #[track_caller]
        fn case(host: &str, local: &str, expected: bool) {
            assert_eq!(is_welcome(host, local.parse().unwrap()), expected, "{host} at {local}");
        }
        // Addresses of RFC 5737 and RFC 3849, which are kept for documents.
        case("localhost:7245", "127.0.0.1", true);
        case("LOCALHOST", "::1", true);
        case("127.0.0.1:7245", "127.0.0.1", true);
        case("[::1]:7245", "::1", true);
        case("192.0.2.7:7245", "192.0.2.7", true);
        case("192.0.2.7:7245", "::ffff:192.0.2.7", true);
        case("[2001:db8::7]", "2001:db8::7", true);
        case("192.0.2.8", "192.0.2.7", false);
        case("attacker.example", "127.0.0.1", false);
        case("localhost.attacker.example", "127.0.0.1", false);
        case("127.0.0.1.attacker.example", "127.0.0.1", false);
        case("localhost:none", "127.0.0.1", false);
        case("[::1]x", "::1", false);
        case("[::1", "::1", false);
        case("", "127.0.0.1", false);
        case("user@localhost", "127.0.0.1", false);
    }
}

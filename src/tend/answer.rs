//! An answer: its head, and where its body comes from.

use super::request::Refusal;
use std::fs::File;

/// What stands behind the head.
#[derive(Debug)]
pub enum Body {
    Bytes(Vec<u8>),
    /// So many bytes of a file.
    File(File, u64),
}

/// An answer before it is sent.
#[derive(Debug)]
pub struct Answer {
    pub status: u16,
    pub phrase: &'static str,
    /// Media type of the body.
    pub kind: &'static str,
    pub body: Body,
}

impl Answer {
    /// An answer that all is well.
    #[must_use]
    pub fn fine(kind: &'static str, body: Body) -> Self {
        Self { status: 200, phrase: "OK", kind, body }
    }

    /// An answer to a request that is not met.
    #[must_use]
    pub fn refused(refusal: Refusal) -> Self {
        let (status, phrase, said) = refusal.said();
        Self { status, phrase, kind: "text/plain; charset=utf-8", body: Body::Bytes(format!("{said}\n").into_bytes()) }
    }

    /// The head of the answer. Nothing is kept by browsers, so that every load shows the book as it is; no
    /// page of another origin can load the files as its own scripts or pictures, or frame them.
    #[must_use]
    pub fn head(&self, keep_alive: bool) -> String {
        let length = match &self.body {
            Body::Bytes(bytes) => bytes.len() as u64,
            Body::File(_, length) => *length,
        };
        let allow = if self.status == 405 { "Allow: GET, HEAD\r\n" } else { "" };
        format!(
            "HTTP/1.1 {} {}\r\nContent-Type: {}\r\nContent-Length: {length}\r\nCache-Control: no-store\r\n\
             X-Content-Type-Options: nosniff\r\nCross-Origin-Resource-Policy: same-origin\r\nX-Frame-Options: DENY\r\n\
             Referrer-Policy: no-referrer\r\n{allow}Connection: {}\r\n\r\n",
            self.status,
            self.phrase,
            self.kind,
            if keep_alive { "keep-alive" } else { "close" }
        )
    }
}

//! The feed of the log (Atom, RFC 4287).

use crate::site::escape;
use jiff::civil::Date;
use std::fmt::Write as _;
use uuid::Uuid;

/// A feed with its entries, newest first.
#[derive(Debug, Clone)]
pub struct Feed {
    pub id: Uuid,
    pub language: String,
    pub title: String,
    pub author: String,
    /// The page it tells of: an address, or a path beside the feed.
    pub page: String,
    /// Its own address, where it is served.
    pub own: Option<String>,
    pub entries: Vec<FeedEntry>,
}

/// An entry of a feed.
#[derive(Debug, Clone)]
pub struct FeedEntry {
    pub id: Uuid,
    pub title: String,
    /// The day it tells of; no other is known.
    pub updated: Date,
    /// Where it stands: an address, or a path beside the feed.
    pub page: String,
    /// Plain text.
    pub summary: String,
}

/// The feed as text. `None` without entries: there is no day on which it was made.
#[must_use]
pub fn text(feed: &Feed) -> Option<String> {
    let updated = feed.entries.iter().map(|entry| entry.updated).max()?;
    let mut out = format!(
        "<?xml version=\"1.0\" encoding=\"utf-8\"?>\n<feed xmlns=\"http://www.w3.org/2005/Atom\" xml:lang=\"{}\">\n",
        escaped(&feed.language)
    );
    heading(&mut out, &feed.id, &feed.title, updated);
    // Writing into a string cannot fail.
    let _ = writeln!(out, "<author><name>{}</name></author>", escaped(&feed.author));
    let _ = writeln!(out, "<generator>garboard</generator>");
    link(&mut out, "alternate", "text/html", &feed.page);
    if let Some(own) = &feed.own {
        link(&mut out, "self", "application/atom+xml", own);
    }
    for entry in &feed.entries {
        out.push_str("<entry>\n");
        heading(&mut out, &entry.id, &entry.title, entry.updated);
        link(&mut out, "alternate", "text/html", &entry.page);
        let _ = writeln!(out, "<summary>{}</summary>", escaped(&entry.summary));
        out.push_str("</entry>\n");
    }
    out.push_str("</feed>\n");
    Some(out)
}

fn heading(out: &mut String, id: &Uuid, title: &str, updated: Date) {
    let _ = writeln!(out, "<id>{}</id>\n<title>{}</title>\n<updated>{updated}T00:00:00Z</updated>", id.urn(), escaped(title));
}

fn link(out: &mut String, relation: &str, kind: &str, to: &str) {
    let _ = writeln!(out, "<link rel=\"{relation}\" type=\"{kind}\" href=\"{}\"/>", escaped(&escape::url(to)));
}

/// Text for XML, which has no way to say most control characters (XML 1.0, 2.2).
fn escaped(text: &str) -> String {
    let told = |letter: &char| matches!(letter, '\t' | '\n' | '\r') || !(letter.is_control() || matches!(letter, '\u{fffe}' | '\u{ffff}'));
    escape::html(&text.chars().filter(told).collect::<String>())
}

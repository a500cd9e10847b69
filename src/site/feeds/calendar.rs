//! The calendar of dates (iCalendar, RFC 5545). All its dates are whole days.

use jiff::civil::Date;

/// Octets of a line at most, without its end (RFC 5545, 3.1).
const LONGEST_LINE: usize = 75;

/// A calendar.
#[derive(Debug, Clone)]
pub struct Calendar {
    pub name: String,
    /// The day whose state it shows.
    pub as_of: Date,
    pub dates: Vec<CalendarDate>,
}

/// A day, or several days on end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CalendarDate {
    /// Stays the same when the day moves.
    pub id: String,
    pub first: Date,
    /// The last day of it.
    pub last: Date,
    pub title: String,
    /// A line each.
    pub notes: Vec<String>,
    /// Where more is said of it, where the site is served.
    pub address: Option<String>,
    pub category: String,
    /// The crew is not free on these days.
    pub busy: bool,
    /// So many days before the first it should be spoken up.
    pub notice: Option<i64>,
}

/// The calendar as text. `None` without dates: an empty one is not allowed.
#[must_use]
pub fn text(calendar: &Calendar) -> Option<String> {
    if calendar.dates.is_empty() {
        return None;
    }
    let mut out = String::new();
    let name = escaped(&calendar.name);
    let heads = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//garboard//dates//EN", "CALSCALE:GREGORIAN"];
    heads.iter().for_each(|line| fold(line, &mut out));
    fold(&format!("NAME:{name}"), &mut out);
    // Most programs know only this one.
    fold(&format!("X-WR-CALNAME:{name}"), &mut out);
    for date in &calendar.dates {
        lines(date, calendar.as_of).iter().for_each(|line| fold(line, &mut out));
    }
    fold("END:VCALENDAR", &mut out);
    Some(out)
}

fn lines(date: &CalendarDate, as_of: Date) -> Vec<String> {
    let mut lines = vec![
        "BEGIN:VEVENT".to_owned(),
        format!("UID:{}", escaped(&date.id)),
        format!("DTSTAMP:{}T000000Z", day(as_of)),
        format!("DTSTART;VALUE=DATE:{}", day(date.first)),
    ];
    // The end is the first day after it. After the last day of all there is none: then one day is meant.
    lines.extend(date.last.tomorrow().ok().map(|after| format!("DTEND;VALUE=DATE:{}", day(after))));
    lines.push(format!("SUMMARY:{}", escaped(&date.title)));
    if !date.notes.is_empty() {
        lines.push(format!("DESCRIPTION:{}", escaped(&date.notes.join("\n"))));
    }
    lines.extend(date.address.as_ref().map(|address| format!("URL:{}", crate::site::escape::url(address))));
    if !date.category.is_empty() {
        lines.push(format!("CATEGORIES:{}", escaped(&date.category)));
    }
    lines.push(format!("TRANSP:{}", if date.busy { "OPAQUE" } else { "TRANSPARENT" }));
    if let Some(days) = date.notice {
        let trigger = format!("TRIGGER:-P{days}D");
        lines.extend(["BEGIN:VALARM".to_owned(), "ACTION:DISPLAY".to_owned(), trigger]);
        lines.extend([format!("DESCRIPTION:{}", escaped(&date.title)), "END:VALARM".to_owned()]);
    }
    lines.push("END:VEVENT".to_owned());
    lines
}

fn day(date: Date) -> String {
    format!("{:04}{:02}{:02}", date.year(), date.month(), date.day())
}

/// Text as a value (RFC 5545, 3.3.11), which has no way to say control characters.
#[must_use]
pub fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    for letter in text.replace("\r\n", "\n").chars() {
        match letter {
            '\\' | ';' | ',' => out.extend(['\\', letter]),
            '\n' | '\r' => out.push_str("\\n"),
            '\t' => out.push(' '),
            control if control.is_control() => {}
            other => out.push(other),
        }
    }
    out
}

/// Adds a line, folded where it is too long and never inside a character.
pub fn fold(line: &str, out: &mut String) {
    let mut room = LONGEST_LINE;
    for letter in line.chars() {
        if letter.len_utf8() > room {
            out.push_str("\r\n ");
            room = LONGEST_LINE - 1;
        }
        room -= letter.len_utf8();
        out.push(letter);
    }
    out.push_str("\r\n");
}

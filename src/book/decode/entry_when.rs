//! When the work of an entry was done: `date`, or `started` and `done`.

use super::fields::Fields;
use super::scalar::log_day;
use crate::book::date::{BookDate, parse_day};
use crate::book::diagnostic::Notes;
use crate::book::model::When;
use crate::book::source::Span;

const ONE_OR_THE_OTHER: &str = "write `date` for work of one day, or `started` and, once it is finished, `done`";

/// The day or days of an entry. Where they cannot be read, the day that its file is named after
/// stands in; without that too there is none.
pub(super) fn when(notes: &mut Notes<'_>, fields: Fields<'_, '_>, id_of_file: &str) -> Option<(When, Span)> {
    let date = fields.one(notes, "date", log_day);
    let started = fields.one(notes, "started", log_day);
    let done = fields.one(notes, "done", log_day);
    for other in ["started", "done"] {
        if fields.has("date") && fields.has(other) {
            let message = format!("`{other}` stands beside `date`");
            notes.error("date-and-started", fields.key_span(other), message, ONE_OR_THE_OTHER);
            break;
        }
    }
    if !fields.has("date") && !fields.has("started") {
        let remedy = if fields.has("done") { "add `started`, or write `date` instead of `done`" } else { ONE_OR_THE_OTHER };
        let span = if fields.has("done") { fields.key_span("done") } else { fields.span };
        notes.error("no-date", span, "this entry has no date", remedy);
    }
    if let (Some(first), Some(last)) = (&started, &done)
        && last.last_day() < first.date
    {
        notes.error(
            "done-before-started",
            fields.value_span("done"),
            "the work was done before it was started",
            "check `started` and `done`: one of them is mistyped, or they stand the wrong way round",
        );
    }
    let found = match (date, started, done) {
        (Some(date), ..) => Some((When::On(date), fields.value_span("date"))),
        (None, Some(started), Some(done)) => Some((When::Finished { started, done }, fields.value_span("started"))),
        // An unreadable `done` must not open the job again.
        (None, Some(started), None) if fields.has("done") => Some((When::On(started), fields.value_span("started"))),
        (None, Some(started), None) => Some((When::Open { started }, fields.value_span("started"))),
        (None, None, Some(done)) => Some((When::On(done), fields.value_span("done"))),
        (None, None, None) => None,
    };
    found.or_else(|| {
        let date = id_of_file.get(..10).and_then(|day| parse_day(day).ok())?;
        Some((When::On(BookDate::on(date)), fields.span))
    })
}

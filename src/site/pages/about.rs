//! About this book: the boat's facts, what the book holds, and what is wrong with it.

use super::dates::has_dates;
use crate::book::diagnostic::Diagnostic;
use crate::site::escape;
use crate::site::feeds::{CALENDAR, FEED};
use crate::site::pocket::{self, Carried};
use crate::site::press::Press;
use crate::site::publish::Edition;
use crate::site::view::{AboutPage, Fact, Html, ProblemView};

/// Problems shown.
const PROBLEMS: usize = 100;

/// Fills the page about the book.
#[must_use]
pub fn about(press: &Press<'_>, problems: &[Diagnostic]) -> AboutPage {
    let boat = &press.book.boat;
    let carried = if press.edition == Edition::Crew { pocket::carried(press.book) } else { Carried::NoGuides };
    let fact = |key: &str, value: Option<String>| value.map(|value| Fact { label: press.words.text(&format!("about.{key}")), value });
    let facts = [
        fact("name", Some(boat.name.clone())),
        fact("type", boat.kind.clone()),
        fact("built", boat.built.clone()),
        fact(
            "length",
            boat.length.as_ref().map(|length| crate::site::figures::figure(boat, &crate::quantity::Figure::Exact(length.clone())).text()),
        ),
        fact("flag", boat.flag.clone()),
        fact("home-port", boat.home_port.clone()),
        fact("in-service", boat.in_service.map(|date| press.words.day(date))),
    ];
    let private =
        [fact("hull-number", boat.hull_number.clone()), fact("crew", if boat.crew.is_empty() { None } else { Some(boat.crew.join(", ")) })];
    let count = |key: &str, n: usize| Fact { label: press.words.text(&format!("about.{key}")), value: n.to_string() };
    AboutPage {
        facts: facts.into_iter().flatten().collect(),
        private_facts: private.into_iter().flatten().collect(),
        counts: vec![
            count("guides", press.book.guides.len()),
            count("entries", press.reckoning.entries.len()),
            count("stores", press.book.stores.len()),
            count("tools", press.book.tools.len()),
            count("gear", boat.gear.len()),
        ],
        problems: problems
            .iter()
            .take(PROBLEMS)
            .map(|problem| ProblemView {
                severity: press.words.text(&format!("about.{}", problem.severity.word())),
                place: format!("{}:{}:{}", problem.place.file, problem.place.line, problem.place.column),
                message: in_code(&problem.message),
                remedy: in_code(&problem.remedy),
            })
            .collect(),
        problems_more: problems.len().saturating_sub(PROBLEMS),
        version: env!("CARGO_PKG_VERSION").to_owned(),
        notes: Html::default(),
        pocket: (carried == Carried::Yes).then(|| pocket::NAME.to_owned()),
        no_pocket: carried == Carried::TooMany,
        calendar: has_dates(press).then(|| CALENDAR.to_owned()),
        feed: (!press.reckoning.entries.is_empty()).then(|| FEED.to_owned()),
    }
}

/// A message with the words that it quotes set as code, where a terminal shows the backticks.
fn in_code(message: &str) -> Html {
    let mut html = String::new();
    let mut pieces = message.split('`').peekable();
    let mut quoted = false;
    while let Some(piece) = pieces.next() {
        let text = escape::html(piece);
        match (quoted, pieces.peek().is_some()) {
            (true, true) => html.push_str(&format!("<code>{text}</code>")),
            // The last backtick has no other.
            (true, false) => html.push_str(&format!("`{text}")),
            (false, _) => html.push_str(&text),
        }
        quoted = !quoted;
    }
    Html(html)
}

#[cfg(test)]
mod tests {
    use super::in_code;

    #[test]
    fn quoted_words_are_code_and_nothing_else_is_markup() {
        assert_eq!(in_code("`a<b` is `c`, no <i>").0, "<code>a&lt;b</code> is <code>c</code>, no &lt;i&gt;");
        assert_eq!(in_code("write ` or `x").0, "write <code> or </code>x");
        assert_eq!(in_code("one ` alone").0, "one ` alone");
    }
}

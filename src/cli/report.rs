//! Draws problems for a terminal: the line, the place underlined, and how to mend it.

use crate::book::diagnostic::{Diagnostic, Severity};
use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};
use std::io::{self, IsTerminal, Write};
use std::path::Path;

/// Whether colour may be used: only on a terminal, and not where the environment says no.
#[must_use]
pub fn colour_on(stderr: bool) -> bool {
    let terminal = if stderr { io::stderr().is_terminal() } else { io::stdout().is_terminal() };
    terminal
        && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty())
        && std::env::var_os("TERM").is_none_or(|term| term != "dumb")
}

/// Prints problems, each with its place; paths are shown from where the user stands.
///
/// # Errors
/// The stream is closed.
pub fn problems(to: &mut dyn Write, book: &Path, problems: &[Diagnostic], stderr: bool) -> io::Result<()> {
    let renderer = if colour_on(stderr) { Renderer::styled() } else { Renderer::plain() };
    for problem in problems {
        writeln!(to, "{}\n", draw(&renderer, book, problem))?;
    }
    Ok(())
}

fn draw(renderer: &Renderer, book: &Path, problem: &Diagnostic) -> String {
    let level = match problem.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Advice => Level::INFO.with_name("advice"),
    };
    let place = &problem.place;
    let path = book.join(&place.file).to_string_lossy().replace('\\', "/");
    let remedy = printable(&problem.remedy);
    let excerpt = printable(&place.excerpt);
    // The drawing counts columns from the excerpt; of an enormous line only a part is shown, and the
    // true column is given in words.
    let shown_column = place.excerpt.get(..place.mark.start).map_or(1, |before| before.chars().count() + 1);
    let message = if shown_column == place.column {
        printable(&problem.message)
    } else {
        format!("{} (column {})", printable(&problem.message), place.column)
    };
    let title = level.primary_title(&message).id(problem.rule);
    let mark = marked(&place.excerpt, &excerpt, &place.mark);
    let snippet = Snippet::source(&excerpt).line_start(place.line).path(&path).annotation(AnnotationKind::Primary.span(mark));
    let group = if place.excerpt.is_empty() {
        title.element(annotate_snippets::Origin::path(&path).line(place.line).char_column(place.column))
    } else {
        title.element(snippet)
    };
    let help = Level::HELP.message(&remedy);
    renderer.render(&[group.element(help)])
}

/// Control characters would disturb the terminal; each is shown by its picture.
#[must_use]
pub fn printable(text: &str) -> String {
    text.chars()
        .map(|character| match character {
            '\t' => ' ',
            '\u{0}'..='\u{1f}' => char::from_u32(0x2400 + character as u32).unwrap_or('\u{fffd}'),
            '\u{7f}' => '\u{2421}',
            '\u{80}'..='\u{9f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => '\u{fffd}',
            other => other,
        })
        .collect()
}

/// The marked range in the printable form of the excerpt, never empty where there is something to mark.
fn marked(excerpt: &str, shown: &str, mark: &std::ops::Range<usize>) -> std::ops::Range<usize> {
    let at = |byte: usize| {
        let characters = excerpt.get(..byte).map_or(0, |before| before.chars().count());
        shown.char_indices().nth(characters).map_or(shown.len(), |(at, _)| at)
    };
    let start = at(mark.start);
    let end = at(mark.end).max(start);
    if start == end {
        let next = shown[start..].chars().next().map_or(0, char::len_utf8);
        return start..start + next;
    }
    start..end
}

/// `3 errors, 1 warning`.
#[must_use]
pub fn summary(problems: &[Diagnostic]) -> String {
    let count = |severity: Severity| problems.iter().filter(|problem| problem.severity == severity).count();
    let said = |n: usize, one: &str, many: &str| match n {
        0 => None,
        1 => Some(format!("1 {one}")),
        n => Some(format!("{n} {many}")),
    };
    let parts: Vec<String> = [
        said(count(Severity::Error), "error", "errors"),
        said(count(Severity::Warning), "warning", "warnings"),
        said(count(Severity::Advice), "advice", "pieces of advice"),
    ]
    .into_iter()
    .flatten()
    .collect();
    if parts.is_empty() { "no problems".to_owned() } else { parts.join(", ") }
}

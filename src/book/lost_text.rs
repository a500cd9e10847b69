//! Words that Markdown reads and no page shows: cells beyond the columns of a table, a footnote that is defined a second
//! time, the definition of a link that nothing uses.

use super::diagnostic::Notes;
use super::markdown::{self, Placed};
use super::source::Span;
use pulldown_cmark::{Event, Parser, Tag};
use std::collections::{BTreeMap, HashSet};
use std::ops::Range;

/// Looks through the Markdown in `body` of `text`, with its events; `place` says where a stretch of it stands in the file.
pub(super) fn check(notes: &mut Notes<'_>, text: &str, body: Span, events: &[Placed<'_>], place: impl Fn(Range<usize>) -> Range<usize>) {
    let place = |range| {
        let Range { start, end } = place(range);
        Span::new(start, end)
    };
    let mut columns = 0;
    let mut labels = HashSet::new();
    for (event, range) in events {
        let inside = text.get(range.clone()).unwrap_or_default();
        match event {
            Event::Start(Tag::Table(alignments)) => columns = alignments.len(),
            Event::Start(Tag::TableRow) => {
                if let Some(cell) = beyond(inside, columns) {
                    notes.error(
                        "lost-cell",
                        place(range.start + cell.start..range.start + cell.end),
                        format!("the header of this table has {}: this cell and what follows it are shown nowhere", columns_of(columns)),
                        "give the header, and the line of dashes below it, as many columns; a `|` that parts no cells is written `\\|`",
                    );
                }
            }
            Event::Start(Tag::FootnoteDefinition(label)) if !labels.insert(label.to_lowercase()) => {
                let sign = inside.find("]:").map_or(1, |at| at + 2);
                notes.warning(
                    "lost-note",
                    place(range.start..range.start + sign),
                    format!("the footnote `{}` stands above already: only that one is shown, and this is lost", named(label)),
                    "give it a name of its own, with its `[^…]` in the text, or put both into one",
                );
            }
            _ => {}
        }
    }
    for (range, label) in never_used(text, body) {
        let sign = text.get(range.clone()).and_then(|line| line.find("]:")).map_or(1, |at| at + 2);
        notes.warning(
            "lost-note",
            place(range.start..range.start + sign),
            format!("`[{}]:` says where a link of that name leads, no link has it, and this line is shown nowhere", named(&label)),
            "write the words without the brackets if they are a note; else write the link, or take the line out",
        );
    }
}

fn columns_of(columns: usize) -> String {
    if columns == 1 { "one column".to_owned() } else { format!("{columns} columns") }
}

/// A label as it can stand in a message.
fn named(label: &str) -> String {
    label.replace('`', "'").split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The first cell of a row beyond so many columns that has words. A `|` parts cells wherever it stands, in code too, save
/// behind a backslash (GitHub Flavored Markdown 0.29, 4.10).
fn beyond(row: &str, columns: usize) -> Option<Range<usize>> {
    let bytes = row.as_bytes();
    let first = usize::from(row.starts_with('|'));
    let is_border = |at: usize| bytes.get(at) == Some(&b'|') && (at == 0 || bytes.get(at - 1) != Some(&b'\\'));
    let borders = (first..row.len()).filter(|at| is_border(*at));
    let mut start = first;
    let cells = borders.chain(std::iter::once(row.len())).map(|end| start..std::mem::replace(&mut start, end + 1).max(end));
    cells.skip(columns).find_map(|cell| {
        let inside = row.get(cell.clone())?;
        let words = inside.trim();
        let start = cell.start + (inside.len() - inside.trim_start().len());
        (!words.is_empty()).then(|| start..start + words.len())
    })
}

/// Definitions of links that no link and no picture uses, in order, each with its name. One that leads nowhere is a
/// comment: `[//]: # (so that only who writes it sees it)`.
fn never_used(text: &str, body: Span) -> Vec<(Range<usize>, String)> {
    let markdown = text.get(body.range()).unwrap_or_default();
    if !markdown.contains("]:") {
        return Vec::new();
    }
    let mut events = Parser::new_ext(markdown, markdown::options()).into_offset_iter();
    let mut used = HashSet::new();
    while let Some((event, _)) = events.next() {
        if let Event::Start(Tag::Link { id, .. } | Tag::Image { id, .. }) = event {
            used.extend(events.reference_definitions().get(&id).map(|definition| definition.span.start));
        }
    }
    let base = body.start as usize;
    let definitions = events.reference_definitions().iter();
    let lost = definitions.filter(|(_, one)| !used.contains(&one.span.start) && !matches!(one.dest.as_ref(), "" | "#"));
    let lost: BTreeMap<usize, (usize, String)> = lost.map(|(label, one)| (one.span.start, (one.span.end, label.to_owned()))).collect();
    lost.into_iter().map(|(start, (end, label))| (base + start..base + end, label)).collect()
}

#[cfg(test)]
mod tests {
    use crate::book::load::guide_of;
    use crate::book::source::Source;

    /// What is told of a guide with this body, whose first line is line 1, with what it points at.
    #[track_caller]
    fn case(body: &str, expected: &[&str]) {
        let (_, problems) = guide_of(&Source::new("guides/engine/a.md", format!("---\ntitle: A job\n---\n{body}")));
        let found = problems.iter().filter(|one| matches!(one.rule, "lost-cell" | "lost-note"));
        let found: Vec<String> = found
            .map(|one| {
                let place = &one.place;
                format!("{}:{} {} {}", place.line - 3, place.column, &place.excerpt[place.mark.clone()], one.rule)
            })
            .collect();
        assert_eq!(found, expected, "{body}");
    }

    #[test]
    fn a_cell_beyond_the_columns_of_its_table_is_told() {
        case(
            "1. Shut these.\n\n   | valve | where |\n   |---|---|\n   | cooling | port | {isolate seacock} {takes 10 min} |\n   | heads | aft | x | y |\n",
            &["5:23 {isolate seacock} {takes 10 min} lost-cell", "6:20 x lost-cell"],
        );
        case("a | b\n--|--\n1 | 2 | 3\n", &["3:9 3 lost-cell"]);
        case("> | a |\n> |---|\n> | 1 | 2\n", &["3:9 2 lost-cell"]);
        // In code too, a `|` parts cells.
        case("| a |\n|---|\n| `x | y` |\n", &["3:8 y` lost-cell"]);
        case("| a |\n|---|\n|| b |\n", &["3:4 b lost-cell"]);
    }

    #[test]
    fn a_table_that_shows_all_its_cells_is_sound() {
        case("| a | b |\n|---|---|\n| 1 | 2 |\n| 1 |\n| 1 | 2\n", &[]);
        case("| a |\n|---|\n| 1 \\| 2 |\n| `x \\| y` |\n| 1 | |\n| 1 |   |  |\n", &[]);
        // Without a header there is no table, and nothing is lost.
        case("| 1 | 2 | 3 |\n", &[]);
    }

    #[test]
    fn a_footnote_that_is_defined_again_is_told() {
        case("1. Do it.[^1]\n\n[^1]: See the book.\n\n[^1]: Never above 20.\n", &["5:1 [^1]: lost-note"]);
        case("1. Do it.[^A]\n\n[^a]: One.\n[^A]: Two.\n", &["4:1 [^A]: lost-note"]);
        // One that nothing refers to is shown all the same.
        case("1. Do it.[^1]\n\n[^1]: One.\n\n[^2]: Two.\n", &[]);
    }

    #[test]
    fn the_definition_of_a_link_that_nothing_uses_is_told() {
        case("1. Do it.\n\n[Note]: hand-tight\n", &["3:1 [Note]: lost-note"]);
        case("[b]: one\n\n[a]: two\n", &["1:1 [b]: lost-note", "3:1 [a]: lost-note"]);
        case("See [it], [the maker][b], [c][] and ![x][d].\n\n[IT]: u\n[b]: v\n[c]: w\n[d]: x.jpg\n", &[]);
        case("[//]: # (a comment)\n\n[comment]: <> (another)\n", &[]);
    }
}

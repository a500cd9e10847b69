//! Stretches of a guide in which lines are not read as what they look like.

use super::look::Look;
use crate::book::markdown::Placed;
use pulldown_cmark::{CodeBlockKind, Event, Tag};
use std::ops::Range;

/// A stretch in which lines are not read as what they look like.
#[derive(Debug)]
pub(super) struct Region {
    pub range: Range<usize>,
    pub kind: Kind,
}

#[derive(Debug)]
pub(super) enum Kind {
    Html {
        /// Where all of the HTML begins.
        begin: usize,
        /// Where a comment begins in it that is never closed, or by the end of another.
        open: Option<usize>,
        /// It goes on past blank lines.
        past_a_blank_line: bool,
    },
    /// A comment within a line of text.
    Comment,
    /// Told where its first line looks like a step or a stage: such code was indented by mistake.
    Indented { told: bool },
    /// Suspect where it, or a later one, is never closed.
    Fence { closed: bool, suspect: bool },
}

impl Region {
    /// Whether cautions and marks are lost in it that were meant as such.
    pub fn takes_all(&self) -> bool {
        matches!(self.kind, Kind::Html { .. } | Kind::Fence { suspect: true, .. })
    }
}

/// In order; none lies in another. Closed comments cut HTML into what is left of it.
pub(super) fn regions(text: &str, events: &[Placed<'_>]) -> Vec<Region> {
    let mut regions = Vec::new();
    let mut last_without_info = false;
    for (event, range) in events {
        let inside = text.get(range.clone()).unwrap_or_default();
        let kind = match event {
            Event::Start(Tag::HtmlBlock) => {
                let begin = range.start;
                let past_a_blank_line = inside.lines().any(|line| line.trim().is_empty());
                let mut from = 0;
                for comment in closed_comments(inside).into_iter().chain(std::iter::once(inside.len()..inside.len())) {
                    let open = inside[from..comment.start].find("<!--").map(|at| begin + from + at);
                    let kind = Kind::Html { begin, open, past_a_blank_line };
                    regions.push(Region { range: begin + from..begin + comment.start, kind });
                    from = comment.end;
                    regions.push(Region { range: begin + comment.start..begin + from, kind: Kind::Comment });
                }
                continue;
            }
            Event::InlineHtml(html) if !closed_comments(html).is_empty() => Kind::Comment,
            Event::Start(Tag::CodeBlock(CodeBlockKind::Indented)) => {
                Kind::Indented { told: Look::of("", inside.trim_start(), false).is_some() }
            }
            Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(info))) => {
                let closed = is_closed(inside);
                last_without_info = info.is_empty();
                Kind::Fence { closed, suspect: !closed }
            }
            _ => continue,
        };
        regions.push(Region { range: range.clone(), kind });
    }
    // A fence of no language that is never closed was perhaps meant to close one above it that the next opening closed.
    let mut fences = regions
        .iter_mut()
        .filter_map(|region| if let Kind::Fence { closed, suspect } = &mut region.kind { Some((closed, suspect)) } else { None });
    if let Some((false, _)) = fences.next_back().map(|(closed, suspect)| (*closed, suspect))
        && last_without_info
    {
        fences.for_each(|(_, suspect)| *suspect = true);
    }
    regions
}

pub(super) fn region_of(regions: &[Region], at: usize) -> Option<&Region> {
    let behind = regions.partition_point(|region| region.range.start <= at);
    behind.checked_sub(1).and_then(|last| regions.get(last)).filter(|region| at < region.range.end)
}

/// Comments that are closed. One that holds the beginning of another was closed by the end of that one.
fn closed_comments(html: &str) -> Vec<Range<usize>> {
    let ends: Vec<usize> = html.match_indices("-->").map(|(at, _)| at).collect();
    let mut starts = html.match_indices("<!--").map(|(at, _)| at).peekable();
    let mut found: Vec<Range<usize>> = Vec::new();
    while let Some(start) = starts.next() {
        let Some(end) = ends.get(ends.partition_point(|end| *end < start + 4)) else { break };
        let is_inside = found.last().is_some_and(|last| start < last.end);
        if !is_inside && starts.peek().is_none_or(|next| next > end) {
            found.push(start..end + 3);
        }
    }
    found
}

/// Whether a fenced block ends with its own fence.
fn is_closed(block: &str) -> bool {
    let bare = |line: &str| line.trim_start_matches([' ', '\t', '>']).trim_end().to_owned();
    let mut lines = block.lines();
    let opening = lines.next().map(bare).unwrap_or_default();
    let Some(sign) = opening.chars().next() else { return false };
    let length = opening.chars().take_while(|letter| *letter == sign).count();
    let last = lines.map(bare).rfind(|line| !line.is_empty()).unwrap_or_default();
    last.chars().count() >= length && last.chars().all(|letter| letter == sign)
}

//! YAML as a tree that knows where everything was written.
//!
//! The format is a plain part of YAML 1.2: maps, lists and scalars. Anchors, aliases, tags, several
//! documents and merge keys are refused, so that no file can grow when it is read; nesting and the
//! number of values are bounded. A scalar keeps its spelling: `1840.50` stays `1840.50`.

use super::diagnostic::Notes;
use super::private_misplaced;
use super::source::Span;
use granit_parser::{ErrorKind, Event, Parser, ScalarStyle, ScanError};
use std::borrow::Cow;
use std::collections::HashSet;

/// Most values in one file; a store list of a ship has some thousands.
const MOST_NODES: usize = 500_000;
/// Deepest nesting; the format needs five.
const DEEPEST: usize = 48;

/// Maps of more keys than this are looked through by a set.
const FEW_KEYS: usize = 16;

/// A value of a YAML file.
#[derive(Debug, Clone, PartialEq)]
pub struct Node<'t> {
    pub span: Span,
    pub kind: Kind<'t>,
}

/// What a value is.
#[derive(Debug, Clone, PartialEq)]
pub enum Kind<'t> {
    /// A word, a number, a text: as spelled. `plain`: without quotes.
    Scalar {
        text: Cow<'t, str>,
        plain: bool,
    },
    List(Vec<Node<'t>>),
    Map(Vec<(Key<'t>, Node<'t>)>),
}

/// A key of a map.
#[derive(Debug, Clone, PartialEq)]
pub struct Key<'t> {
    pub text: Cow<'t, str>,
    pub span: Span,
}

impl Node<'_> {
    /// Nothing was written: an empty value, `~` or `null`.
    #[must_use]
    pub fn is_null(&self) -> bool {
        matches!(&self.kind, Kind::Scalar { text, plain: true } if matches!(text.as_ref(), "" | "~" | "null" | "Null" | "NULL"))
    }

    /// `a word`, `a list` or `a map`, for messages.
    #[must_use]
    pub fn describe(&self) -> &'static str {
        match &self.kind {
            _ if self.is_null() => "nothing",
            Kind::Scalar { .. } => "a single value",
            Kind::List(_) => "a list",
            Kind::Map(_) => "a map of keys and values",
        }
    }
}

/// What was read of a stretch of YAML.
#[derive(Debug)]
pub enum Reading<'t> {
    /// All of it; `None` where there is nothing.
    Whole(Option<Node<'t>>),
    /// What stands above a syntax error (noted): more may have been meant.
    Above(Option<Node<'t>>),
}

/// Reads the YAML in `span` of the file; `None` after a syntax error (noted) or where there is nothing.
pub fn read<'t>(notes: &mut Notes<'t>, span: Span) -> Option<Node<'t>> {
    match read_as_far_as_possible(notes, span) {
        Reading::Whole(node) => node,
        Reading::Above(_) => None,
    }
}

/// Reads the YAML in `span` of the file, up to a syntax error (noted) if there is one.
pub fn read_as_far_as_possible<'t>(notes: &mut Notes<'t>, span: Span) -> Reading<'t> {
    let mut builder = Builder::default();
    match build(notes, span, &mut builder) {
        Some(()) => Reading::Whole(builder.root),
        None => Reading::Above(builder.cut(notes)),
    }
}

/// `None`: a syntax error (noted).
fn build<'t>(notes: &mut Notes<'t>, span: Span, builder: &mut Builder<'t>) -> Option<()> {
    let source = notes.source();
    let text = source.slice(span);
    let base = span.start as usize;
    let options = granit_parser::options! {
        flow_nesting_limit: DEEPEST,
        block_nesting_limit: DEEPEST,
        disallow_directives: true,
    };
    let mut parser = Parser::new_from_str_with_options(text, options);
    let mut documents = 0_usize;
    while let Some(next) = parser.next_event() {
        let (event, at) = match next {
            Ok(pair) => pair,
            Err(error) => {
                report_syntax(notes, base, text, &error);
                return None;
            }
        };
        let range = at.byte_range().unwrap_or(0..0);
        let place = Span::new(base + range.start, base + range.end);
        if builder.count > MOST_NODES {
            notes.error("too-large", place, "this file holds more values than a book needs", "split it, or look for what repeats");
            return None;
        }
        match event {
            Event::DocumentStart(..) => {
                documents += 1;
                if documents > 1 {
                    notes.error("yaml-syntax", place, "a second YAML document begins here", "take the `---` out: one file is one document");
                    return None;
                }
            }
            Event::Alias(_) | Event::UnresolvedAlias(_) => {
                notes.error(
                    "yaml-syntax",
                    place,
                    "an alias (`*name`) is not read in a book",
                    "write the value out; if the `*` is part of a text, put the text in quotes",
                );
                return None;
            }
            Event::Scalar(value, style, anchor, tag) => {
                if refuse_properties(notes, place, anchor, tag.is_some()) {
                    return None;
                }
                private_misplaced::in_value(notes, place, &value);
                let plain = style == ScalarStyle::Plain;
                if plain {
                    warn_lost_comment(notes, place);
                }
                builder.push(notes, Node { span: place, kind: Kind::Scalar { text: value, plain } });
            }
            Event::SequenceStart(_, anchor, tag) => {
                if refuse_properties(notes, place, anchor, tag.is_some()) {
                    return None;
                }
                builder.open.push(Open { span: place, items: Items::List(Vec::new()) });
            }
            Event::MappingStart(_, anchor, tag) => {
                if refuse_properties(notes, place, anchor, tag.is_some()) {
                    return None;
                }
                builder.open.push(Open { span: place, items: Items::Map(Pairs::default()) });
            }
            Event::SequenceEnd | Event::MappingEnd => builder.close(notes, place),
            _ => {}
        }
    }
    Some(())
}

#[derive(Default)]
struct Builder<'t> {
    open: Vec<Open<'t>>,
    root: Option<Node<'t>>,
    count: usize,
}

/// A list or a map that has not ended yet.
struct Open<'t> {
    span: Span,
    items: Items<'t>,
}

enum Items<'t> {
    List(Vec<Node<'t>>),
    Map(Pairs<'t>),
}

impl Items<'_> {
    /// Drops the key that waits for its value, else the last thing.
    fn drop_last(&mut self) {
        match self {
            Self::List(items) => {
                items.pop();
            }
            Self::Map(pairs) => {
                if pairs.key.take().is_none() {
                    pairs.done.pop();
                }
            }
        }
    }

    fn is_empty(&self) -> bool {
        match self {
            Self::List(items) => items.is_empty(),
            Self::Map(pairs) => pairs.done.is_empty(),
        }
    }
}

#[derive(Default)]
struct Pairs<'t> {
    done: Vec<(Key<'t>, Node<'t>)>,
    /// Waiting for its value.
    key: Option<Key<'t>>,
    /// The keys of `done`, once they are many.
    seen: HashSet<Cow<'t, str>>,
}

impl<'t> Pairs<'t> {
    fn has(&self, key: &str) -> bool {
        if self.seen.is_empty() { self.done.iter().any(|(known, _)| known.text == key) } else { self.seen.contains(key) }
    }

    fn add(&mut self, key: Key<'t>, value: Node<'t>) {
        if !self.seen.is_empty() {
            self.seen.insert(key.text.clone());
        } else if self.done.len() == FEW_KEYS {
            self.seen.extend(self.done.iter().map(|(known, _)| known.text.clone()).chain([key.text.clone()]));
        }
        self.done.push((key, value));
    }
}

impl<'t> Builder<'t> {
    fn push(&mut self, notes: &mut Notes<'_>, node: Node<'t>) {
        self.count += 1;
        let Some(parent) = self.open.last_mut() else {
            self.root = Some(node);
            return;
        };
        let pairs = match &mut parent.items {
            Items::List(items) => {
                items.push(node);
                return;
            }
            Items::Map(pairs) => pairs,
        };
        match pairs.key.take() {
            None => {
                let span = node.span;
                let text = match node.kind {
                    Kind::Scalar { text, .. } => text,
                    _ => {
                        notes.error(
                            "yaml-syntax",
                            span,
                            "a list or a map cannot be a key",
                            "write `key: value`, the key being a single word",
                        );
                        Cow::Borrowed("")
                    }
                };
                pairs.key = Some(Key { text, span });
            }
            Some(key) => {
                if pairs.has(&key.text) {
                    notes.error("duplicate-key", key.span, format!("the key `{}` stands here twice", key.text), "keep one of them");
                } else {
                    pairs.add(key, node);
                }
            }
        }
    }

    /// What was read before an error, without the last thing: it may be half of what was meant.
    fn cut(mut self, notes: &mut Notes<'_>) -> Option<Node<'t>> {
        let mut innermost = self.open.last_mut()?;
        innermost.items.drop_last();
        // Of what holds nothing then it is not known what it was to hold.
        while innermost.items.is_empty() {
            self.open.pop();
            innermost = self.open.last_mut()?;
            innermost.items.drop_last();
        }
        while let Some(end) = self.open.last().map(|open| open.span) {
            self.close(notes, end);
        }
        self.root
    }

    fn close(&mut self, notes: &mut Notes<'_>, end: Span) {
        let Some(done) = self.open.pop() else { return };
        let span = Span { start: done.span.start, end: end.end.max(done.span.end) };
        let kind = match done.items {
            Items::List(items) => Kind::List(items),
            Items::Map(pairs) => Kind::Map(pairs.done),
        };
        self.push(notes, Node { span, kind });
    }
}

/// Anchors and tags are no part of the format.
fn refuse_properties(notes: &mut Notes<'_>, span: Span, anchor: usize, tag: bool) -> bool {
    if anchor > 0 {
        notes.error(
            "yaml-syntax",
            span,
            "an anchor (`&name`) is not read in a book",
            "write the value out; if the `&` is part of a text, put the text in quotes",
        );
    } else if tag {
        notes.error(
            "yaml-syntax",
            span,
            "a tag (`!name`) is not read in a book",
            "take it out; if the `!` is part of a text, put the text in quotes",
        );
    }
    anchor > 0 || tag
}

const LOST_COMMENT: &str = "lost-comment";

/// `stowed: locker #3` is read as `locker`: YAML takes the rest for a comment.
fn warn_lost_comment(notes: &mut Notes<'_>, span: Span) {
    let text = notes.source().text();
    let Some(rest) = text.get(span.end as usize..) else { return };
    if !rest.starts_with([' ', '\t']) {
        return;
    }
    let line = rest.split('\n').next().unwrap_or_default();
    let trimmed = line.trim_start_matches([' ', '\t']);
    let mut after = trimmed.chars().skip(1);
    if span.start < span.end
        && trimmed.len() < line.len()
        && trimmed.starts_with('#')
        && after.next().is_some_and(|next| !next.is_whitespace() && next != '#' && next != '-' && next != '=')
    {
        let start = span.end as usize + (line.len() - trimmed.len());
        let end = start + trimmed.trim_end().len();
        notes.warning(
            LOST_COMMENT,
            Span::new(start, end),
            format!("YAML takes `{}` for a comment and drops it", trimmed.trim_end()),
            "put the whole value in quotes, or a space after the `#` if it is a comment",
        );
    }
}

fn report_syntax(notes: &mut Notes<'_>, base: usize, text: &str, error: &ScanError) {
    let at = error.marker().byte_offset().unwrap_or(0).min(text.len());
    if let Some(comment) = comment_in_braces(text, at) {
        let span = Span::new(base + comment.at, base + comment.at + 1);
        let place = notes.source().place(span);
        // It says the same, and less of it.
        notes.found.retain(|one| one.rule != LOST_COMMENT || (one.place.line, one.place.column) != (place.line, place.column));
        let what = if comment.opener == '{' { "brace" } else { "bracket" };
        notes.error(
            "yaml-syntax",
            span,
            format!("` #` begins a comment here, so the {what} before it is never closed"),
            format!("put the text in quotes: \"{}\"", comment.text.replace('"', "'")),
        );
        return;
    }
    let at = tab_below(text, at).unwrap_or(at);
    let line_start = line_start(text, at);
    let line = line_at(text, line_start);
    let remedy = remedy_for(error.kind(), line, text);
    let span = Span::new(base + at, base + (at + 1).min(text.len()));
    notes.error("yaml-syntax", span, "from here on this cannot be read as YAML", remedy);
}

/// Lines above an error in which a comment is looked for that hides what closes a brace: the parser sees it only where
/// something follows that cannot stand in one.
const LINES_ABOVE: usize = 20;

/// A comment that begins within braces and hides what closes them: `{stowed: box #2, id: saw}`.
struct CommentInBraces<'t> {
    /// Where its `#` stands.
    at: usize,
    /// What it stands in: a `{` or a `[`.
    opener: char,
    /// The text that it cuts, up to the next comma or closing sign: `box #2`.
    text: &'t str,
}

/// The last of them above an error.
fn comment_in_braces(text: &str, at: usize) -> Option<CommentInBraces<'_>> {
    let mut starts = vec![line_start(text, at)];
    while let Some(above) = starts.last().and_then(|start| start.checked_sub(1)).filter(|_| starts.len() < LINES_ABOVE) {
        starts.push(line_start(text, above));
    }
    let first = starts.last().copied().unwrap_or_default();
    starts.into_iter().find_map(|start| {
        let found = comment_in_line(line_at(text, start), text.get(first..start).unwrap_or_default())?;
        Some(CommentInBraces { at: start + found.at, ..found })
    })
}

/// `above`: the lines above it, in which a brace may have been opened.
fn comment_in_line<'t>(line: &'t str, above: &str) -> Option<CommentInBraces<'t>> {
    let is_open_above = |pair: &(char, char)| above.matches(pair.0).count() > above.matches(pair.1).count();
    let mut open: Vec<char> = Vec::new();
    let mut quote = None;
    // Where the text begins in which the sign stands.
    let mut from = 0;
    let mut before = ' ';
    for (at, sign) in line.char_indices() {
        match (quote, sign) {
            (Some(end), _) => quote = Some(end).filter(|end| *end != sign),
            (None, '"' | '\'') if before.is_whitespace() || matches!(before, '{' | '[' | ',') => quote = Some(sign),
            (None, '{' | '[') => {
                open.push(sign);
                from = at + 1;
            }
            (None, '}' | ']') => {
                open.pop();
            }
            (None, ',') => from = at + 1,
            (None, ' ') if before == ':' => from = at + 1,
            (None, '#') if before.is_whitespace() => {
                let rest = &line[at..];
                let mut pairs = [('{', '}'), ('[', ']')].into_iter().filter(|(_, closer)| rest.contains(*closer));
                let (opener, _) = match open.last() {
                    Some(last) => pairs.find(|(opener, _)| opener == last)?,
                    None => pairs.find(is_open_above)?,
                };
                let end = rest.find([',', '}', ']'])?;
                return Some(CommentInBraces { at, opener, text: line[from..at + end].trim() });
            }
            _ => {}
        }
        before = sign;
    }
    None
}

/// Where the next line below is indented with a tab: the parser blames the line above, to which it would join it.
fn tab_below(text: &str, at: usize) -> Option<usize> {
    let line = line_at(text, line_start(text, at));
    if line.contains(['[', '{', '\t']) {
        return None;
    }
    let next = at + text.get(at..)?.find('\n')? + 1;
    let below = line_at(text, next);
    let indent = below.len() - below.trim_start().len();
    let tab = below.get(..indent)?.find('\t')?;
    (indent < below.len()).then_some(next + tab)
}

fn line_start(text: &str, at: usize) -> usize {
    text.get(..at).and_then(|before| before.rfind('\n')).map_or(0, |end| end + 1)
}

fn line_at(text: &str, start: usize) -> &str {
    text.get(start..).and_then(|rest| rest.split('\n').next()).unwrap_or_default()
}

fn remedy_for(kind: &ErrorKind, line: &str, text: &str) -> String {
    let value = line.trim_start().trim_start_matches("- ");
    let value = value.split_once(": ").map_or(value, |(_, value)| value.trim());
    let indent = &line[..line.len() - line.trim_start().len()];
    let in_braces = line.contains('{') || line.contains('[');
    if in_braces && !matches!(kind, ErrorKind::UnclosedQuotedScalar | ErrorKind::RecursionLimitExceeded) && !indent.contains('\t') {
        return "inside braces and brackets put a comma between two items, close what is opened, and put a text with `: ` or `, ` in it in quotes".to_owned();
    }
    if indent.contains('\t') || matches!(kind, ErrorKind::TabNotAllowed | ErrorKind::TabInIndentation | ErrorKind::TabInBlockIndentation) {
        "indent with spaces: YAML does not read tabs".to_owned()
    } else if matches!(kind, ErrorKind::RecursionLimitExceeded) {
        "this is nested deeper than any file of a book; write it flatter".to_owned()
    } else if matches!(kind, ErrorKind::UnclosedQuotedScalar) {
        "close the quotation mark that was opened".to_owned()
    } else if value.starts_with(['*', '&', '%', '@', '`', '!', '|', '>']) || value.contains(": ") {
        format!("put the value in quotes: \"{}\"", value.replace('"', "'"))
    } else if text.matches('[').count() != text.matches(']').count() {
        "a `[` without its `]`, or the other way round: close it".to_owned()
    } else if text.matches('{').count() != text.matches('}').count() {
        "a `{` without its `}`, or the other way round: close it".to_owned()
    } else {
        "check the indentation and the colon; a text with `: `, `#` or brackets in it goes in quotes".to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::source::Source;

    fn problems(text: &str) -> Vec<String> {
        let source = Source::new("f.yaml", text);
        let mut notes = Notes::new(&source);
        let _ = read(&mut notes, Span::new(0, text.len()));
        notes.found.iter().map(|d| format!("{}:{} {}", d.place.line, d.place.column, d.rule)).collect()
    }

    #[test]
    fn scalars_keep_their_spelling() {
        let text = "a: 1840.50\nb: 010\nc: yes\nd: '1'\n";
        let source = Source::new("f", text);
        let mut notes = Notes::new(&source);
        let node = read(&mut notes, Span::new(0, text.len())).expect("reads");
        let Kind::Map(pairs) = node.kind else { panic!("a map") };
        let spelled: Vec<String> = pairs
            .iter()
            .map(|(_, value)| match &value.kind {
                Kind::Scalar { text, plain } => format!("{text}/{plain}"),
                other => format!("{other:?}"),
            })
            .collect();
        assert_eq!(spelled, ["1840.50/true", "010/true", "yes/true", "1/false"]);
        assert_eq!(source.slice(pairs[0].1.span), "1840.50");
    }

    #[test]
    fn what_could_grow_or_hide_is_refused() {
        assert_eq!(problems("a: &x 1\nb: *x\n"), ["1:7 yaml-syntax"]);
        assert_eq!(problems("a: !!int 1\n"), ["1:10 yaml-syntax"]);
        assert_eq!(problems("a: 1\na: 2\n"), ["2:1 duplicate-key"]);
        let many: String = (0..40).map(|number| format!("k{number}: 1\n")).collect();
        assert_eq!(
            problems(&format!("{many}k3: 1\nk39: 1\nk40: 1\nk40: 1\n")),
            ["41:1 duplicate-key", "42:1 duplicate-key", "44:1 duplicate-key"]
        );
        assert_eq!(problems(&"[".repeat(10_000)).len(), 1);
        assert_eq!(problems("a:\n\t- b\n").len(), 1);
    }

    #[test]
    fn a_comment_that_hides_what_closes_a_brace_is_where_the_error_is() {
        let told = |yaml: &str| {
            let source = Source::new("stores.yaml", yaml);
            let mut notes = Notes::new(&source);
            let _ = read(&mut notes, Span::new(0, yaml.len()));
            let told = notes.found.iter().map(|one| format!("{}:{} {} | {}", one.place.line, one.place.column, one.message, one.remedy));
            told.collect::<Vec<_>>()
        };
        let brace = "` #` begins a comment here, so the brace before it is never closed";
        assert_eq!(
            told("- {id: oil-filter, stowed: spares box #2, counted: {on: 2026-01-05, qty: 2}}\n- {id: saw}\n"),
            [format!("1:39 {brace} | put the text in quotes: \"spares box #2\"")]
        );
        assert_eq!(
            told("- {id: saw,\n   title: Bosun's saw # 3}\n- {id: a}\n- {id: b}\n"),
            [format!("2:23 {brace} | put the text in quotes: \"Bosun's saw # 3\"")]
        );
        assert_eq!(
            told("a: [one, two #2, three]\nb: c\n"),
            ["1:14 ` #` begins a comment here, so the bracket before it is never closed | put the text in quotes: \"two #2\""]
        );
        // In quotes it is none, and one that hides nothing is one.
        assert_eq!(told("- {id: \"saw #2\", a: 'b #3'} # so\n- {id: [x, # the first\n  y]}\n"), Vec::<String>::new());
    }

    #[test]
    fn a_text_cut_at_a_hash_is_noticed() {
        assert_eq!(problems("stowed: locker #3\n"), ["1:16 lost-comment"]);
        assert_eq!(problems("stowed: locker # the third\n"), Vec::<String>::new());
        assert_eq!(problems("stowed: 'locker #3'\n"), Vec::<String>::new());
    }
}

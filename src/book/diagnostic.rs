//! What is wrong with the book: where, why, and how to mend it.
//!
//! A diagnostic is a value. Nothing is printed here; `cli::report` draws it, and the same values go
//! out as JSON. The rule is a stable kebab-case name.

use super::keys::KeySpec;
pub use super::near::nearest;
use super::public::Withheld;
use super::source::{Place, Source, Span};
use std::cmp::Ordering;
use std::collections::{HashMap, HashSet};

/// How much a problem matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Must be mended: nothing is published until then.
    Error,
    /// Should be mended.
    Warning,
    /// Could be better.
    Advice,
}

impl Severity {
    /// `error`, `warning` or `advice`, as in the JSON.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Warning => "warning",
            Self::Advice => "advice",
        }
    }

    /// Many of them, in a sentence.
    fn words(self) -> &'static str {
        match self {
            Self::Error => "errors",
            Self::Warning => "warnings",
            Self::Advice => "pieces of advice",
        }
    }
}

/// File, line, column, gravity, rule and message.
type DiagnosticKey<'d> = (&'d str, usize, usize, Severity, &'d str, &'d str);

/// One problem.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// Stable kebab-case name of the rule: `unknown-key`.
    pub rule: &'static str,
    pub severity: Severity,
    pub place: Place,
    /// What is wrong, lower case, no full stop.
    pub message: String,
    /// What to do about it.
    pub remedy: String,
}

impl Diagnostic {
    /// A problem of a file as a whole, told at its beginning.
    #[must_use]
    pub fn of_file(path: &str, rule: &'static str, severity: Severity, message: impl Into<String>, remedy: impl Into<String>) -> Self {
        let place = Place { file: path.to_owned(), line: 1, column: 1, excerpt: String::new(), mark: 0..0 };
        Self { rule, severity, place, message: message.into(), remedy: remedy.into() }
    }

    /// Order in which problems are told: by file, then place, then gravity.
    fn key(&self) -> DiagnosticKey<'_> {
        (&self.place.file, self.place.line, self.place.column, self.severity, self.rule, &self.message)
    }
}

/// Sorts by place and takes out what was said twice.
pub fn tidy(problems: &mut Vec<Diagnostic>) {
    problems.sort_by(|a, b| a.key().cmp(&b.key()));
    problems.dedup();
}

/// Whether any of the problems is an error.
#[must_use]
pub fn any_error(problems: &[Diagnostic]) -> bool {
    problems.iter().any(|problem| problem.severity == Severity::Error)
}

/// What of `after` is not in `before`, tidied. Problems are told apart by rule, gravity and place, and counted: the message
/// of an old one may change with the book around it (a running count, a sum), and that makes no new problem of it. Where a
/// new one of the same rule stands at the place of an old one, it is known by its words.
#[must_use]
pub fn brought_in(before: &[Diagnostic], mut after: Vec<Diagnostic>) -> Vec<Diagnostic> {
    tidy(&mut after);
    let old: HashSet<DiagnosticKey<'_>> = before.iter().map(Diagnostic::key).collect();
    // How often an old problem may still turn up under other words.
    let mut reworded: HashMap<DiagnosticKey<'_>, usize> = HashMap::new();
    #[expect(clippy::iter_over_hash_type, reason = "a count is the same in any order")]
    for key in &old {
        *reworded.entry(without_words(*key)).or_default() += 1;
    }
    for problem in after.iter().filter(|problem| old.contains(&problem.key())) {
        reworded.entry(without_words(problem.key())).and_modify(|count| *count = count.saturating_sub(1));
    }
    let is_new: Vec<bool> = after
        .iter()
        .map(|problem| match reworded.get_mut(&without_words(problem.key())) {
            _ if old.contains(&problem.key()) => false,
            Some(count) if *count > 0 => {
                *count -= 1;
                false
            }
            _ => true,
        })
        .collect();
    let mut is_new = is_new.into_iter();
    after.retain(|_| is_new.next().unwrap_or(true));
    after
}

fn without_words<'d>((file, line, column, severity, rule, _): DiagnosticKey<'d>) -> DiagnosticKey<'d> {
    (file, line, column, severity, rule, "")
}

/// Most near names that are looked up among the names of one file: in a file with more slips nobody mends one by one.
const MOST_LOOKED_UP: usize = 50;

/// Most problems of one gravity that are listed of one file: more are no help to anybody. Each gravity is counted
/// apart, so that no error is lost behind warnings and no number of warnings becomes an error.
const MOST_PROBLEMS: usize = 500;

/// Gathers the problems of one file.
#[derive(Debug)]
pub struct Notes<'a> {
    source: &'a Source,
    /// What a public edition leaves out, where that is known.
    withheld: Option<&'a Withheld>,
    /// Keys that are withheld are passed over.
    is_public: bool,
    apart: bool,
    /// Problems so far, listed or not, by gravity.
    counts: [usize; 3],
    looked_up: usize,
    pub found: Vec<Diagnostic>,
}

impl<'a> Notes<'a> {
    /// Nothing wrong so far.
    #[must_use]
    pub fn new(source: &'a Source) -> Self {
        Self { source, withheld: None, is_public: false, apart: false, counts: [0; 3], looked_up: 0, found: Vec::new() }
    }

    /// Nothing wrong so far, in a file of a book of which a public edition leaves this out.
    #[must_use]
    pub fn knowing(source: &'a Source, withheld: &'a Withheld) -> Self {
        Self { withheld: Some(withheld), apart: true, ..Self::new(source) }
    }

    /// Nothing wrong so far, in a file that is read for a public edition.
    #[must_use]
    pub fn withholding(source: &'a Source, withheld: &'a Withheld) -> Self {
        Self { withheld: Some(withheld), is_public: true, ..Self::new(source) }
    }

    /// Takes note of a key that stands in the file.
    pub fn met(&mut self, key: &KeySpec) {
        self.apart &= self.withheld.is_some_and(|withheld| !withheld.hides(key) || withheld.is_apart(key));
    }

    /// Whether all that a public edition leaves out of the file, as far as keys go, is kept apart from the rest.
    #[must_use]
    pub fn is_apart(&self) -> bool {
        self.apart
    }

    /// Whether a key is passed over.
    #[must_use]
    pub fn withholds(&self, key: &KeySpec) -> bool {
        self.is_public && self.withheld.is_some_and(|withheld| withheld.hides(key))
    }

    /// The file these notes are about.
    #[must_use]
    pub fn source(&self) -> &'a Source {
        self.source
    }

    /// Notes an error.
    pub fn error(&mut self, rule: &'static str, span: Span, message: impl Into<String>, remedy: impl Into<String>) {
        self.note(rule, Severity::Error, span, message.into(), remedy.into());
    }

    /// Notes a warning.
    pub fn warning(&mut self, rule: &'static str, span: Span, message: impl Into<String>, remedy: impl Into<String>) {
        self.note(rule, Severity::Warning, span, message.into(), remedy.into());
    }

    /// Notes advice.
    pub fn advice(&mut self, rule: &'static str, span: Span, message: impl Into<String>, remedy: impl Into<String>) {
        self.note(rule, Severity::Advice, span, message.into(), remedy.into());
    }

    /// Takes back what was noted since there were `known` problems, but for what `stays`.
    pub fn take_back(&mut self, known: usize, stays: impl Fn(&Diagnostic) -> bool) {
        let mut at = 0;
        self.found.retain(|problem| {
            at += 1;
            at <= known || stays(problem)
        });
    }

    /// Whether no further problem of a gravity is listed, so that nothing need be worked out for one.
    #[must_use]
    pub fn is_full(&self, severity: Severity) -> bool {
        self.counts[severity as usize] >= MOST_PROBLEMS
    }

    /// Whether a near name is still looked up: very many have not been.
    #[must_use]
    pub fn looks_up(&self) -> bool {
        self.looked_up < MOST_LOOKED_UP
    }

    /// The name that is nearest to a mistyped one; for names that one file or a guide of it has.
    pub fn nearest<'n>(&mut self, typed: &str, known: impl IntoIterator<Item = &'n str>) -> Option<&'n str> {
        if !self.looks_up() {
            return None;
        }
        self.looked_up += 1;
        nearest(typed, known)
    }

    fn note(&mut self, rule: &'static str, severity: Severity, span: Span, message: String, remedy: String) {
        let count = &mut self.counts[severity as usize];
        *count += 1;
        match (*count).cmp(&(MOST_PROBLEMS + 1)) {
            Ordering::Less => {}
            Ordering::Equal => {
                self.found.push(Diagnostic {
                    rule: "too-many-problems",
                    severity,
                    place: self.source.place(span),
                    message: format!("this file has more than {MOST_PROBLEMS} {}, and the rest are not listed", severity.words()),
                    remedy: "look whether it is the file you think it is; else mend these first".to_owned(),
                });
                return;
            }
            Ordering::Greater => return,
        }
        self.found.push(Diagnostic { rule, severity, place: self.source.place(span), message, remedy });
    }
}

/// A remedy that offers the nearest known name, or else lists what there is.
#[must_use]
pub fn offer<'n>(typed: &str, known: impl IntoIterator<Item = &'n str> + Clone, otherwise: &str) -> String {
    offered(nearest(typed, known.clone()), known, otherwise)
}

/// As [`offer`], where the nearest name was looked up already.
#[must_use]
pub fn offered<'n>(near: Option<&str>, known: impl IntoIterator<Item = &'n str>, otherwise: &str) -> String {
    match near {
        Some(name) => format!("did you mean `{name}`?"),
        None => {
            let names: Vec<&str> = known.into_iter().take(13).collect();
            if names.is_empty() || names.len() > 12 {
                otherwise.to_owned()
            } else {
                format!("{otherwise}; there is {}", names.iter().map(|n| format!("`{n}`")).collect::<Vec<_>>().join(", "))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rules and gravities of what is listed, each with how often it stands there.
    fn listed(found: &[Diagnostic]) -> Vec<(&str, Severity, usize)> {
        let mut listed: Vec<(&str, Severity, usize)> = Vec::new();
        for one in found {
            match listed.iter_mut().find(|(rule, severity, _)| (*rule, *severity) == (one.rule, one.severity)) {
                Some((_, _, count)) => *count += 1,
                None => listed.push((one.rule, one.severity, 1)),
            }
        }
        listed
    }

    #[test]
    fn warnings_without_number_are_no_error() {
        let source = Source::new("f.md", "x");
        let mut notes = Notes::new(&source);
        for at in 0..2000 {
            notes.warning("w", Span::default(), at.to_string(), "");
        }
        assert_eq!(listed(&notes.found), [("w", Severity::Warning, 500), ("too-many-problems", Severity::Warning, 1)]);
        assert!(!any_error(&notes.found));
        let last = notes.found.last().expect("the last");
        assert_eq!(last.message, "this file has more than 500 warnings, and the rest are not listed");
    }

    #[test]
    fn an_error_behind_many_warnings_and_advice_is_listed() {
        let source = Source::new("f.md", "x");
        let mut notes = Notes::new(&source);
        for at in 0..600 {
            notes.warning("w", Span::default(), at.to_string(), "");
            notes.advice("a", Span::default(), at.to_string(), "");
        }
        notes.error("e", Span::default(), "the one that counts", "");
        assert_eq!(notes.found.last().map(|last| (last.rule, last.severity)), Some(("e", Severity::Error)));
    }

    #[test]
    fn a_near_name_is_offered_behind_any_number_of_warnings() {
        let source = Source::new("f.md", "x");
        let mut notes = Notes::new(&source);
        for at in 0..501 {
            notes.warning("w", Span::default(), at.to_string(), "");
        }
        assert!(notes.is_full(Severity::Warning) && !notes.is_full(Severity::Error));
        assert_eq!(notes.nearest("refil", ["refill"]), Some("refill"));
    }

    #[test]
    fn five_hundred_of_a_gravity_are_listed_and_the_rest_are_told_once() {
        let source = Source::new("f.md", "x");
        let mut notes = Notes::new(&source);
        for at in 0..500 {
            notes.error("e", Span::default(), at.to_string(), "");
        }
        assert_eq!(listed(&notes.found), [("e", Severity::Error, 500)]);
        for at in 0..20 {
            notes.error("e", Span::default(), at.to_string(), "");
            notes.advice("a", Span::default(), at.to_string(), "");
        }
        assert_eq!(
            listed(&notes.found),
            [("e", Severity::Error, 500), ("too-many-problems", Severity::Error, 1), ("a", Severity::Advice, 20)]
        );
    }

    /// Lines and messages of errors of one rule.
    fn errors(of: &[(usize, &str)]) -> Vec<Diagnostic> {
        let error = |(line, message): &(usize, &str)| Diagnostic {
            rule: "e",
            severity: Severity::Error,
            place: Place { line: *line, ..Source::new("f.md", "x").place(Span::default()) },
            message: (*message).to_owned(),
            remedy: String::new(),
        };
        of.iter().map(error).collect()
    }

    #[track_caller]
    fn brought(before: &[(usize, &str)], after: &[(usize, &str)], expected: &[(usize, &str)]) {
        assert_eq!(brought_in(&errors(before), errors(after)), errors(expected), "{before:?} {after:?}");
    }

    #[test]
    fn an_old_problem_in_other_words_is_not_brought_in() {
        brought(&[(1, "so is 1 more")], &[(1, "so are 2 more")], &[]);
        brought(&[(1, "a")], &[(1, "a")], &[]);
        brought(&[(1, "a"), (2, "b")], &[], &[]);
        brought(&[(1, "a")], &[(2, "a")], &[(2, "a")]);
    }

    #[test]
    fn a_new_problem_beside_an_old_one_is_brought_in() {
        brought(&[(1, "a")], &[(1, "a"), (1, "b")], &[(1, "b")]);
        brought(&[(1, "b")], &[(1, "a"), (1, "b")], &[(1, "a")]);
        brought(&[(1, "a")], &[(1, "b"), (1, "c")], &[(1, "c")]);
        brought(&[(1, "a"), (1, "b")], &[(1, "b"), (1, "c"), (1, "d")], &[(1, "d")]);
        // What is said twice is one problem, before and after.
        brought(&[(1, "a")], &[(1, "a"), (1, "a")], &[]);
        brought(&[(1, "a"), (1, "a")], &[(1, "a"), (1, "b")], &[(1, "b")]);
        // A warning that becomes an error is one.
        let mut warned = errors(&[(1, "a")]);
        warned.iter_mut().for_each(|one| one.severity = Severity::Warning);
        assert_eq!(brought_in(&warned, errors(&[(1, "a")])), errors(&[(1, "a")]));
    }

    #[test]
    fn the_nearest_name_is_offered_only_when_it_is_near() {
        let known = ["torque", "tools", "title"];
        assert_eq!(nearest("torqe", known), Some("torque"));
        assert_eq!(nearest("Titel", known), Some("title"));
        assert_eq!(nearest("anchor", known), None);
        assert_eq!(nearest("", known), None);
    }
}

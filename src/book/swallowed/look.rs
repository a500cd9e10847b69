//! What a line of a guide looks like to whoever wrote it.

use super::{STAGE, STEP};
use crate::book::mark::MARKS;
use crate::book::model::Signal;

/// Longest mark that is looked for where marks are lost, in bytes.
const LONGEST_MARK: usize = 300;

/// What a line looks like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Look<'t> {
    /// The number with its sign: `2.`
    Step(&'t str),
    Stage,
    /// A number or the signs of a heading with no space behind them: `2.Close`, `##Drain`.
    Unspaced(&'t str),
    Caution(Signal),
    /// A mark such as `{isolate seacock}`, and where it begins.
    Mark(&'t str, usize),
}

impl<'t> Look<'t> {
    /// `inner` is the line without what may stand before a block; cautions and marks are asked for only where all is lost.
    pub fn of(line: &str, inner: &'t str, all: bool) -> Option<Self> {
        let digits = inner.bytes().take_while(u8::is_ascii_digit).count();
        let rest = &inner[digits..];
        if (1..=3).contains(&digits)
            && let Some(rest) = rest.strip_prefix(['.', ')'])
            && rest.chars().next().is_none_or(char::is_whitespace)
        {
            return Some(Self::Step(&inner[..=digits]));
        }
        if inner.strip_prefix("##").is_some_and(|rest| rest.starts_with([' ', '\t'])) {
            return Some(Self::Stage);
        }
        if !all {
            return None;
        }
        if line.trim_start().starts_with('>')
            && let Some((word, _)) = inner.split_once(':')
            && let Some(signal) = Signal::from_word(word)
        {
            return Some(Self::Caution(signal));
        }
        let mut from = 0;
        while let Some(open) = inner[from..].find('{').map(|open| from + open) {
            let mark = &inner[open..];
            from = open + 1;
            let word_end = mark[1..].find(|letter: char| !letter.is_ascii_lowercase()).map_or(mark.len(), |end| end + 1);
            if MARKS.iter().any(|(known, _)| *known == &mark[1..word_end])
                && let Some(close) = mark.bytes().take(LONGEST_MARK).position(|byte| byte == b'}')
            {
                return Some(Self::Mark(&mark[..=close], open));
            }
        }
        None
    }

    /// As [`Look::of`], of a line that is read as plain text; `opens`: nothing but a blank line stands above it.
    pub fn of_plain(inner: &'t str, opens: bool) -> Option<Self> {
        let begins_a_word = |at: usize| inner[at..].starts_with(char::is_alphabetic);
        let digits = inner.bytes().take_while(u8::is_ascii_digit).count();
        if (1..=3).contains(&digits) && inner[digits..].starts_with(['.', ')']) && begins_a_word(digits + 1) {
            return Some(Self::Unspaced(&inner[..=digits]));
        }
        let signs = inner.bytes().take_while(|byte| *byte == b'#').count();
        // Within a text one sign may be that of a number: `#F2`.
        let heading = (2..=6).contains(&signs) || (signs == 1 && opens);
        if heading && begins_a_word(signs) {
            return Some(Self::Unspaced(&inner[..signs]));
        }
        Self::of("", inner, false)
    }

    pub fn start(self) -> usize {
        if let Self::Mark(_, start) = self { start } else { 0 }
    }

    pub fn end(self) -> usize {
        match self {
            Self::Step(signs) | Self::Unspaced(signs) => signs.len(),
            Self::Stage => 2,
            Self::Caution(signal) => signal.word().len() + 1,
            Self::Mark(mark, start) => start + mark.len(),
        }
    }

    pub fn rule(self) -> &'static str {
        match self {
            Self::Step(_) => STEP,
            Self::Unspaced(signs) if signs.starts_with('#') => STAGE,
            Self::Unspaced(_) => STEP,
            Self::Stage => STAGE,
            Self::Caution(_) => "caution-word",
            Self::Mark(..) => "mark-place",
        }
    }

    /// What it is, as it stands in a message.
    pub fn what(self) -> String {
        match self {
            Self::Step(number) => format!("the numbered item `{number}`"),
            Self::Unspaced(signs) => format!("`{signs}`"),
            Self::Stage => "this heading".to_owned(),
            Self::Caution(signal) => format!("this `{}:`", signal.word().to_uppercase()),
            Self::Mark(mark, _) => format!("the mark `{}`", mark.replace('`', "'")),
        }
    }
}

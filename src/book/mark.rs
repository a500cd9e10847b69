//! The words in braces: reading one mark.

use super::diagnostic::nearest;
use super::id::id_of;
use super::outline::MarkKind;
use super::source::{Name, Span};
use crate::quantity::{Duration, DutyCycle};

/// Why a mark cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MarkError {
    pub message: String,
    pub remedy: String,
}

/// The first words of all marks but `{name}`, with how each is written.
pub const MARKS: [(&str, &str); 11] = [
    ("takes", "{takes 10 min}"),
    ("hands", "{hands 2}"),
    ("wait", "{wait 20 min: oil cools}"),
    ("run", "{run 7.5 L at 0.25 L/min, 15 min on, 10 min off}"),
    ("isolate", "{isolate start key}"),
    ("restore", "{restore start key}"),
    ("prove", "{prove no leak at the filter}"),
    ("safe", "{safe stop}"),
    ("read", "{read oil-pressure}"),
    ("alongside", "{alongside Drain}"),
    ("after", "{after Drain, Change the filter}"),
];

/// The way a mark is written, for the mistyped first word of one.
#[must_use]
pub fn like(words: &str) -> Option<&'static str> {
    let first = words.split([' ', '-']).next().unwrap_or_default();
    let near = nearest(first, MARKS.iter().map(|(word, _)| *word))?;
    MARKS.iter().find(|(word, _)| *word == near).map(|(_, example)| *example)
}

fn error(message: String, remedy: impl Into<String>) -> MarkError {
    MarkError { message, remedy: remedy.into() }
}

/// Reads what stands between the braces; `span` is its place with the braces.
///
/// # Errors
/// Says what the mark lacks, and how it is written.
pub fn parse(inner: &str, span: Span) -> Result<MarkKind, MarkError> {
    if inner.contains('\u{fffc}') {
        return Err(error("a mark holds plain words only".to_owned(), "take code, links, pictures and HTML out of the braces"));
    }
    let inner = inner.trim();
    let (word, rest) = inner.split_once(char::is_whitespace).unwrap_or((inner, ""));
    let rest = rest.trim();
    let written = || MARKS.iter().find(|(known, _)| *known == word).map_or("", |(_, example)| example);
    let need = |what: &str| -> Result<(), MarkError> {
        if rest.is_empty() { Err(error(format!("`{{{word}}}` lacks {what}"), format!("write it like `{}`", written()))) } else { Ok(()) }
    };
    match word {
        "" => Err(error("there is nothing between the braces".to_owned(), "write the name of a figure, or `\\{` for a brace")),
        "takes" => {
            need("a time")?;
            duration(rest).map(MarkKind::Takes)
        }
        "hands" => {
            need("a number of people")?;
            match rest.parse::<u32>() {
                Ok(hands @ 1..=99) => Ok(MarkKind::Hands(hands)),
                _ => Err(error(format!("`{rest}` is not a number of people"), "write it like `{hands 2}`")),
            }
        }
        "wait" => {
            need("a time")?;
            let (time, what) = rest.split_once(':').map_or((rest, None), |(time, what)| (time.trim(), Some(what.trim())));
            let time = duration(time)?;
            Ok(MarkKind::Wait { time, what: what.filter(|what| !what.is_empty()).map(str::to_owned) })
        }
        "run" => {
            need("how much at which rate")?;
            DutyCycle::parse(rest).map(|run| MarkKind::Run(Box::new(run))).map_err(|problem| error(problem.to_string(), problem.remedy()))
        }
        "isolate" => {
            need("what is shut, switched off or taken apart")?;
            let (what, until) = match rest.rsplit_once(" until ") {
                Some((what, occasion)) if !what.trim().is_empty() && !occasion.trim().is_empty() => {
                    (what.trim(), Some(Box::new(Name::new(id(occasion, "occasion")?, span))))
                }
                _ => (rest, None),
            };
            Ok(MarkKind::Isolate { what: what.to_owned(), until })
        }
        "restore" => {
            need("what is opened or put back")?;
            Ok(MarkKind::Restore(rest.to_owned()))
        }
        "prove" => {
            need("what is tried")?;
            Ok(MarkKind::Prove(rest.to_owned()))
        }
        "read" => {
            need("the reading")?;
            Ok(MarkKind::Read(id(rest, "reading")?))
        }
        "alongside" => {
            need("a stage")?;
            Ok(MarkKind::Alongside(names(rest, span)))
        }
        "after" => {
            need("a stage")?;
            Ok(MarkKind::After(names(rest, span)))
        }
        "safe" if rest.eq_ignore_ascii_case("stop") => Ok(MarkKind::SafeStop),
        _ => id(inner, "figure").map(MarkKind::Name),
    }
}

/// The id that a name stands for; ids are Latin.
fn id(name: &str, what: &str) -> Result<String, MarkError> {
    let id = id_of(name);
    if id.is_empty() {
        let message = format!("`{name}` has no letter from a to z and no digit, so it is the name of no {what}");
        return Err(error(message, "name it in letters from a to z; a plain brace is `\\{`"));
    }
    Ok(id)
}

fn names(list: &str, span: Span) -> Vec<Name> {
    list.split(',').map(str::trim).filter(|name| !name.is_empty()).map(|name| Name::new(name.to_owned(), span)).collect()
}

fn duration(text: &str) -> Result<Duration, MarkError> {
    Duration::parse(text).map_err(|problem| error(problem.to_string(), problem.remedy()))
}

//! Words and small components put into the templates before the engine reads them.
//!
//! The engine asks for the same words, and sets up a component anew, for every row of every page. Here that is done
//! once: `{{ say(k="guide.steps") }}` becomes the words, and a component becomes what it is made of, with the names
//! of whoever calls it. What cannot be told for certain stays as it was written. It is done to the templates that
//! ship and to no others: of those the tests know that pages come out the same.

use super::tags::{Piece, Tag, is_variable, pieces, token, tokens};
use crate::site::escape;
use crate::site::words::Words;
use std::collections::{BTreeMap, BTreeSet};

/// Bytes up to which a component is small.
const SMALL: usize = 1_200;

/// Words of the language that are no names of a page.
const KEYWORDS: [&str; 12] = ["and", "or", "not", "in", "if", "else", "true", "false", "True", "False", "none", "None"];

/// The templates with words and components put in; each by its path in the theme.
pub fn unfolded<'t>(templates: &[(&'t str, &'t str)], words: &Words) -> Vec<(&'t str, String)> {
    let parted: Vec<(&str, &str, Option<Vec<Piece<'_>>>)> = templates.iter().map(|(path, text)| (*path, *text, pieces(text))).collect();
    let components = Components::of(parted.iter().filter_map(|(_, _, pieces)| pieces.as_deref()));
    let unfold = |pieces: &[Piece<'_>]| pieces.iter().map(|piece| put_in(piece, &components, words, &[])).collect();
    parted.iter().map(|(path, text, pieces)| (*path, pieces.as_deref().map_or_else(|| (*text).to_owned(), unfold))).collect()
}

/// A piece with all put in that can be. `callers`: the components that it stands in; none stands in itself.
fn put_in(piece: &Piece<'_>, components: &Components<'_>, words: &Words, callers: &[&str]) -> String {
    let tag = match piece {
        Piece::Text(text) | Piece::Comment(text) => return (*text).to_owned(),
        Piece::Statement(tag) => return tag.whole.to_owned(),
        Piece::Print(tag) if tag.trims_before || tag.trims_behind => return tag.whole.to_owned(),
        Piece::Print(tag) => tag,
    };
    let unfolded = || {
        let call = Call::parse(tag.inner).filter(|call| !callers.contains(&call.name))?;
        let inside = components.inside(&call)?;
        let callers = [callers, &[call.name]].concat();
        Some(pieces(&inside)?.iter().map(|piece| put_in(piece, components, words, &callers)).collect())
    };
    said(tag.inner, words).or_else(unfolded).unwrap_or_else(|| tag.whole.to_owned())
}

/// The words of `say(k="guide.steps")`, and of `say(k="guide.step", n=step.number)`, as a template has them.
fn said(inner: &str, words: &Words) -> Option<String> {
    let (key, rest) = inner.strip_prefix("say(k=\"")?.split_once('"')?;
    let text = words.plain(key)?;
    let number = match rest {
        ")" => None,
        _ => Some(rest.strip_prefix(", n=")?.strip_suffix(')').filter(|path| is_path(path))?),
    };
    let parts = match number {
        Some(_) => text.split("{n}").collect::<Vec<_>>(),
        None => vec![text],
    };
    // Blanks at an edge could be taken away by a hyphen of the next tag.
    let at_edge = |c: Option<char>| c.is_none_or(char::is_whitespace);
    if at_edge(text.chars().next()) || at_edge(text.chars().next_back()) || parts.iter().any(|part| part.contains(['{', '}', '\n'])) {
        return None;
    }
    let parts: Vec<String> = parts.into_iter().map(escape::html).collect();
    Some(parts.join(&format!("{{{{ {} }}}}", number.unwrap_or_default())))
}

/// `page.due.last`
fn is_path(text: &str) -> bool {
    text.split('.').all(is_variable) && !text.split('.').next().is_some_and(|first| KEYWORDS.contains(&first))
}

/// `<date d={page.revised}/>`
#[derive(Debug, PartialEq, Eq)]
struct Call<'t> {
    name: &'t str,
    /// Names with expressions.
    given: Vec<(&'t str, &'t str)>,
}

impl<'t> Call<'t> {
    /// `None`: it is none, or one with something inside it.
    fn parse(inner: &'t str) -> Option<Self> {
        let inside = inner.strip_prefix('<')?.strip_suffix("/>")?;
        let name = token(inside).filter(|name| is_variable(name))?;
        let mut given = Vec::new();
        let mut rest = inside.get(name.len()..)?.trim_start();
        while !rest.is_empty() {
            let argument = token(rest).filter(|name| is_variable(name))?;
            let value = rest.get(argument.len()..)?.strip_prefix('=')?;
            let (expression, behind) = match value.strip_prefix('{') {
                Some(braced) => {
                    let length = expression_length(braced)?;
                    (braced.get(..length)?.trim(), braced.get(length + 1..)?)
                }
                None => {
                    let text = token(value).filter(|text| text.starts_with(['"', '\'', '`']))?;
                    (text, value.get(text.len()..)?)
                }
            };
            given.push((argument, expression));
            rest = behind.trim_start();
        }
        Some(Self { name, given })
    }
}

/// Bytes up to the brace that closes an expression; one with braces in it is not gone into.
fn expression_length(braced: &str) -> Option<usize> {
    let mut at = 0;
    loop {
        match token(braced.get(at..)?)? {
            "}" => return Some(at),
            "{" => return None,
            token => at += token.len(),
        }
    }
}

/// The small components of a theme, by name.
struct Components<'t>(BTreeMap<&'t str, Component<'t>>);

/// A component that may be put in where it is called.
struct Component<'t> {
    /// Names, with what they are where nothing is given.
    parameters: Vec<(&'t str, Option<&'t str>)>,
    body: Vec<Piece<'t>>,
    /// Names that its loops give.
    bound: BTreeSet<&'t str>,
}

impl<'t> Components<'t> {
    fn of<'p>(templates: impl Iterator<Item = &'p [Piece<'t>]>) -> Self
    where
        't: 'p,
    {
        let mut all: BTreeMap<&str, Option<Component<'_>>> = BTreeMap::new();
        for pieces in templates {
            let starts = pieces.iter().enumerate().filter_map(|(at, piece)| match piece {
                Piece::Statement(tag) => Some((at, tag, tag.inner.strip_prefix("component ")?)),
                _ => None,
            });
            for (at, tag, head) in starts {
                let name = token(head.trim_start()).unwrap_or_default();
                let component = Component::parse(head, tag, pieces.get(at + 1..).unwrap_or_default());
                // Of two with one name the engine decides.
                all.entry(name).and_modify(|known| *known = None).or_insert(component);
            }
        }
        Self(all.into_iter().filter_map(|(name, component)| Some((name, component?))).collect())
    }

    /// What stands for a call, as a template. `None`: the call stays.
    fn inside(&self, call: &Call<'_>) -> Option<String> {
        let component = self.0.get(call.name)?;
        let is_known = |name: &str| component.parameters.iter().any(|(known, _)| *known == name);
        if !call.given.iter().all(|(name, _)| is_known(name)) {
            return None;
        }
        let given = |name: &str| call.given.iter().rfind(|(known, _)| *known == name).map(|(_, expression)| *expression);
        let scope: BTreeMap<&str, &str> =
            component.parameters.iter().map(|(name, default)| Some((*name, given(name).or(*default)?))).collect::<Option<_>>()?;
        for expression in scope.values() {
            let names = names(expression)?;
            // A loop of the component would give another meaning to what is handed to it.
            if names.iter().any(|name| component.bound.contains(name) || (*name == "loop" && !component.bound.is_empty())) {
                return None;
            }
        }
        component.renamed(&scope)
    }
}

impl<'t> Component<'t> {
    /// `head` is what stands behind the word `component`, `behind` all that follows the tag. `None`: not small, or
    /// not sure to say the same where it is called.
    fn parse(head: &'t str, tag: &Tag<'t>, behind: &[Piece<'t>]) -> Option<Self> {
        let parameters = head.split_once('(')?.1.strip_suffix(')')?;
        let parameters = parameters.split(',').map(str::trim).filter(|one| !one.is_empty()).map(parameter).collect::<Option<_>>()?;
        let is_end = |piece: &Piece<'_>| matches!(piece, Piece::Statement(tag) if tag.inner.split(' ').next() == Some("endcomponent"));
        let end = behind.iter().position(is_end)?;
        let trims_end = matches!(behind.get(end), Some(Piece::Statement(tag)) if tag.trims_before);
        let mut body = behind.get(..end)?.to_vec();
        if let Some(Piece::Text(text)) = body.first_mut().filter(|_| tag.trims_behind) {
            *text = text.trim_start();
        }
        if let Some(Piece::Text(text)) = body.last_mut().filter(|_| trims_end) {
            *text = text.trim_end();
        }
        body.retain(|piece| *piece != Piece::Text(""));
        // Where a tag stands at an edge its hyphen has nothing to take away, and must not reach the caller's blanks.
        match body.first_mut()? {
            Piece::Text(text) if !text.starts_with(char::is_whitespace) => {}
            Piece::Print(tag) | Piece::Statement(tag) => tag.trims_before = false,
            Piece::Text(_) | Piece::Comment(_) => return None,
        }
        match body.last_mut()? {
            // A brace would make a mark of it with what the caller has behind the call.
            Piece::Text(text) if !text.ends_with(char::is_whitespace) && !text.ends_with('{') => {}
            Piece::Print(tag) | Piece::Statement(tag) => tag.trims_behind = false,
            Piece::Text(_) | Piece::Comment(_) => return None,
        }
        let gives = |piece: &Piece<'t>| match piece {
            Piece::Statement(tag) => tag.inner.strip_prefix("for ").and_then(|rest| token(rest.trim_start())),
            _ => None,
        };
        let bound = body.iter().filter_map(gives).collect();
        let component = Self { parameters, body, bound };
        (component.length() <= SMALL).then_some(component)
    }

    fn length(&self) -> usize {
        let length = |piece: &Piece<'_>| match piece {
            Piece::Text(text) | Piece::Comment(text) => text.len(),
            Piece::Print(tag) | Piece::Statement(tag) => tag.whole.len(),
        };
        self.body.iter().map(length).sum()
    }

    /// The body with expressions in place of the parameters. `None`: it knows of other names, or sets some.
    fn renamed(&self, scope: &BTreeMap<&str, &str>) -> Option<String> {
        let mut out = String::new();
        let mut bound: Vec<&str> = Vec::new();
        let mut open: Vec<&str> = Vec::new();
        for piece in &self.body {
            match piece {
                Piece::Text(text) => out.push_str(text),
                Piece::Comment(_) => return None,
                Piece::Print(tag) => {
                    let inner = match Call::parse(tag.inner) {
                        Some(call) => {
                            let rename =
                                |(name, expression): &(&str, &str)| Some(format!(" {name}={{{}}}", renamed(expression, scope, &bound)?));
                            let given = call.given.iter().map(rename).collect::<Option<String>>()?;
                            format!("<{}{given}/>", call.name)
                        }
                        None => renamed(tag.inner, scope, &bound)?,
                    };
                    push_tag(&mut out, tag, &inner, ["{{", "}}"]);
                }
                Piece::Statement(tag) => {
                    let (word, rest) = tag.inner.split_once(' ').unwrap_or((tag.inner, ""));
                    match word {
                        "if" | "for" => open.push(word),
                        "endif" | "endfor" => drop(open.pop()),
                        // There the name of the loop is not bound.
                        "else" if open.last() == Some(&"for") => return None,
                        _ => {}
                    }
                    let inner = match word {
                        "if" | "elif" => format!("{word} {}", renamed(rest, scope, &bound)?),
                        "else" | "endif" => tag.inner.to_owned(),
                        "for" => {
                            let (name, list) = rest.split_once(" in ")?;
                            let list = renamed(list, scope, &bound)?;
                            bound.push(Some(name.trim()).filter(|name| is_variable(name) && !KEYWORDS.contains(name))?);
                            format!("for {name} in {list}")
                        }
                        "endfor" => {
                            bound.pop();
                            tag.inner.to_owned()
                        }
                        _ => return None,
                    };
                    push_tag(&mut out, tag, &inner, ["{%", "%}"]);
                }
            }
        }
        Some(out)
    }
}

fn push_tag(out: &mut String, tag: &Tag<'_>, inner: &str, [open, close]: [&str; 2]) {
    let hyphen = |trims: bool| if trims { "-" } else { "" };
    out.push_str(&format!("{open}{} {inner} {}{close}", hyphen(tag.trims_before), hyphen(tag.trims_behind)));
}

/// `name`, or `name=literal`. `None`: it has a type, is taken from the caller, or takes all others.
fn parameter(text: &str) -> Option<(&str, Option<&str>)> {
    let (name, default) = match text.split_once('=') {
        Some((name, default)) => (name.trim(), Some(default.trim())),
        None => (text, None),
    };
    let is_plain = default.is_none_or(|default| token(default) == Some(default) && !default.is_empty());
    (is_variable(name) && is_plain).then_some((name, default))
}

/// The variables of an expression. `None`: it is none that is understood.
fn names(expression: &str) -> Option<BTreeSet<&str>> {
    let mut names = BTreeSet::new();
    walk(expression, |name, _| {
        names.insert(name);
        Some(())
    })?;
    Some(names)
}

/// An expression with what the parameters stand for in their place. `None`: it has other names, or is not understood.
fn renamed(expression: &str, scope: &BTreeMap<&str, &str>, bound: &[&str]) -> Option<String> {
    let mut out = String::new();
    let mut copied = 0;
    walk(expression, |name, place| {
        let end = place + name.len();
        if bound.contains(&name) || (name == "loop" && !bound.is_empty()) {
            return Some(());
        }
        let given = *scope.get(name)?;
        out.push_str(expression.get(copied..place)?);
        copied = end;
        let is_gone_into = expression.get(end..)?.trim_start().starts_with(['.', '[', '?']);
        match (is_path(given), is_gone_into) {
            (true, _) => out.push_str(given),
            (false, false) if token(given) == Some(given) => out.push_str(given),
            (false, false) => out.push_str(&format!("({given})")),
            (false, true) => return None,
        }
        Some(())
    })?;
    out.push_str(expression.get(copied..)?);
    Some(out)
}

/// Tells every variable of an expression with its place. `None`: it is not understood, or `tell` said so.
fn walk<'e>(expression: &'e str, mut tell: impl FnMut(&'e str, usize) -> Option<()>) -> Option<()> {
    let mut at = 0;
    let mut before = "";
    for token in tokens(expression)? {
        let place = at;
        at += token.len();
        if token.trim().is_empty() {
            continue;
        }
        // Components, braces, and names for what a list is made of: not gone into.
        if matches!(token, "<" | "{" | "}" | "is" | "for" | "@") {
            return None;
        }
        let behind = expression.get(at..)?.trim_start();
        let is_named = before == "." || before == "|" || behind.starts_with('(') || (behind.starts_with('=') && !behind.starts_with("=="));
        if is_variable(token) && !is_named && !KEYWORDS.contains(&token) {
            tell(token, place)?;
        }
        before = token;
    }
    Some(())
}

#[cfg(test)]
mod tests;

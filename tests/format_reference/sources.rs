//! What the tables of the program do not hand out, read from its source: rules, marks, spellings.

use garboard::quantity::Unit;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// Calls that note a problem, with which argument is the rule, and the gravity they give it; where
/// they give none, the argument after the rule does.
const CALLS: [(&str, usize, Option<&str>); 8] = [
    (".error(", 0, Some("error")),
    (".warning(", 0, Some("warning")),
    (".advice(", 0, Some("advice")),
    ("refuse(", 0, Some("error")),
    ("of_file(", 1, None),
    ("whole_file(", 1, Some("error")),
    ("parsed(", 2, Some("error")),
    ("unknown_word(", 3, Some("warning")),
];

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("src")
}

/// The text of every source file without its tests.
fn sources() -> Vec<String> {
    let mut texts = Vec::new();
    let mut folders = vec![root()];
    while let Some(folder) = folders.pop() {
        for item in std::fs::read_dir(&folder).expect("the sources can be listed") {
            let path = item.expect("the sources can be listed").path();
            let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
            if name.contains("test") {
                continue;
            }
            if path.is_dir() {
                folders.push(path);
            } else if name.ends_with(".rs") {
                texts.push(read(&path));
            }
        }
    }
    texts
}

fn read(path: &Path) -> String {
    let text = std::fs::read_to_string(path).expect("a source file can be read");
    text.split("#[cfg(test)]\nmod tests {").next().unwrap_or_default().to_owned()
}

/// Every rule that a problem can carry, sorted, with how grave it can be.
pub fn rules() -> BTreeMap<String, BTreeSet<String>> {
    let sources = sources();
    let constants: Vec<(String, String)> = sources.iter().flat_map(|text| constants(text)).collect();
    let mut rules: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for text in &sources {
        for (call, place, gravity) in CALLS {
            for (at, _) in text.match_indices(call).filter(|(at, _)| is_call(text, *at, call)) {
                let arguments = arguments(&text[at + call.len()..]);
                let Some(argument) = arguments.get(place) else { continue };
                let gravities = match gravity {
                    Some(gravity) => vec![gravity],
                    None => gravities(arguments.get(place + 1).map_or("", String::as_str)),
                };
                for rule in literal(argument).into_iter().chain(named(text, &constants, argument)) {
                    rules.entry(rule).or_default().extend(gravities.iter().map(|gravity| (*gravity).to_owned()));
                }
            }
        }
        for (at, field) in text.match_indices("rule: \"") {
            let rest = &text[at + field.len() - 1..];
            let Some(rule) = rest.split(',').next().and_then(literal) else { continue };
            let severity = rest.split(',').nth(1).unwrap_or_default();
            rules.entry(rule).or_default().extend(gravities(severity).into_iter().map(str::to_owned));
        }
    }
    rules
}

/// Whether a name stands there as a call, not as the end of a longer name or where it is declared.
fn is_call(text: &str, at: usize, call: &str) -> bool {
    let before = &text[..at];
    call.starts_with('.') || !(before.ends_with(|letter: char| letter.is_alphanumeric() || letter == '_') || before.ends_with("fn "))
}

/// The gravities of `Severity::Error`; of a variable any that matter.
fn gravities(argument: &str) -> Vec<&'static str> {
    let all = [("Severity::Error", "error"), ("Severity::Warning", "warning"), ("Severity::Advice", "advice")];
    match all.iter().find(|(name, _)| argument.contains(name)) {
        Some((_, word)) => vec![word],
        None => vec!["error", "warning"],
    }
}

/// What a constant stands for: of the same file, else of any.
fn named(text: &str, all: &[(String, String)], argument: &str) -> Vec<String> {
    let find = |list: &[(String, String)]| -> Vec<String> {
        list.iter().filter(|(name, _)| name == argument).map(|(_, value)| value.clone()).collect()
    };
    let own = find(&constants(text));
    if own.is_empty() { find(all) } else { own }
}

/// A string literal that can be the name of a rule.
fn literal(argument: &str) -> Option<String> {
    let name = argument.strip_prefix('"')?.strip_suffix('"')?;
    let plain = !name.is_empty() && name.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-');
    plain.then(|| name.to_owned())
}

fn constants(text: &str) -> Vec<(String, String)> {
    text.lines()
        .filter_map(|line| {
            let (_, rest) = line.split_once("const ")?;
            let (name, value) = rest.split_once(": &str = ")?;
            Some((name.to_owned(), literal(value.strip_suffix(';')?)?))
        })
        .collect()
}

/// The arguments of a call whose opening bracket was just before the text.
fn arguments(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut argument = String::new();
    let mut depth = 0_usize;
    let mut letters = text.chars();
    while let Some(letter) = letters.next() {
        match letter {
            '"' => {
                argument.push('"');
                while let Some(inner) = letters.next() {
                    argument.push(inner);
                    match inner {
                        '\\' => argument.extend(letters.next()),
                        '"' => break,
                        _ => {}
                    }
                }
                continue;
            }
            '(' | '[' | '{' => depth += 1,
            ')' | ']' | '}' if depth == 0 => break,
            ')' | ']' | '}' => depth -= 1,
            ',' if depth == 0 => {
                found.push(std::mem::take(&mut argument).trim().to_owned());
                continue;
            }
            _ => {}
        }
        argument.push(letter);
    }
    if !argument.trim().is_empty() {
        found.push(argument.trim().to_owned());
    }
    found
}

/// String literals of a text, in order.
fn literals(text: &str) -> Vec<String> {
    text.split('"').skip(1).step_by(2).map(|inner| inner.replace("\\u{2126}", "\u{2126}")).collect()
}

/// Every mark as its own message writes it, `{name}` first.
pub fn marks() -> Vec<String> {
    let text = read(&root().join("book/mark.rs"));
    let (_, list) = text.split_once("MARKS: [(&str, &str);").expect("the marks have their list");
    let (list, _) = list.split_once("];\n").expect("the list ends");
    let marks: Vec<String> = literals(list).into_iter().skip(1).step_by(2).collect();
    assert!(marks.iter().all(|mark| mark.starts_with('{') && mark.ends_with('}')), "{marks:?}");
    std::iter::once("{name}".to_owned()).chain(marks).collect()
}

/// The lists of words that the decoder takes, each beside what it stands for.
pub fn decoded_words() -> BTreeSet<BTreeSet<String>> {
    let folder = root().join("book/decode");
    let files = std::fs::read_dir(folder).expect("the decoder").map(|item| item.expect("a file").path()).filter(|path| path.is_file());
    let mut lists = BTreeSet::new();
    for text in files.map(|path| read(&path)) {
        for (at, start) in text.match_indices(": [(&str, ") {
            let list = text[at + start.len()..].split_once("] =").map_or("", |(_, rest)| rest);
            let (list, _) = list.split_once("];").expect("a list ends");
            lists.insert(literals(list).into_iter().collect());
        }
    }
    lists
}

/// Spellings of units besides their symbols.
pub fn other_spellings() -> BTreeMap<Unit, Vec<String>> {
    let text = read(&root().join("quantity/unit.rs"));
    let (_, list) = text.split_once("\nunits! {\n").expect("the units have their list");
    let (list, _) = list.split_once("\n}\n").expect("the list ends");
    let plain: String = list.lines().filter(|line| !line.trim_start().starts_with("//")).collect();
    let mut spellings = BTreeMap::new();
    for row in plain.split(';') {
        let mut words = literals(row).into_iter();
        let Some(symbol) = words.next() else { continue };
        let unit = Unit::parse(&symbol).unwrap_or_else(|error| panic!("{symbol}: {error}"));
        // Two characters of one look are one spelling to the eye.
        let others: Vec<String> = words.filter(|word| word != "\u{2126}").collect();
        for word in &others {
            assert_eq!(Unit::parse(word).ok(), Some(unit), "{word}");
        }
        spellings.insert(unit, others);
    }
    assert_eq!(spellings.len(), Unit::ALL.len(), "every unit has its row");
    spellings
}

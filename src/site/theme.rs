//! The theme: templates, style, script and words. One ships inside the binary; a `themes/NAME/`
//! folder beside the book replaces it file by file.

#![expect(clippy::disallowed_methods, reason = "reads a theme beside the book")]

mod tags;
mod unfold;

use super::escape;
use super::manifest::is_inside;
use super::words::{Words, WordsError};
use crate::book::diagnostic::{Diagnostic, Severity};
use crate::book::id::is_reserved;
use crate::book::model::Book;
use crate::disk;
use include_dir::{Dir, include_dir};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::path::Path;
use std::sync::OnceLock;
use tera::{Context, Kwargs, State, Tera, TeraResult, Value};

static SHIPPED: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/themes");

/// The theme that ships.
pub const DEFAULT: &str = "jobsheet";

/// Largest file of a theme, in bytes.
const LARGEST: u64 = 4 * 1024 * 1024;

/// Why a theme cannot be used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ThemeError {
    pub message: String,
    pub remedy: String,
}

impl fmt::Display for ThemeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl From<WordsError> for ThemeError {
    fn from(error: WordsError) -> Self {
        Self { message: error.0, remedy: "mend that file of the theme, or take it away to use the one that ships".to_owned() }
    }
}

/// The files of a theme, before anything is made of them.
#[derive(Debug, Clone, Default)]
pub struct ThemeFiles {
    pub name: String,
    /// Path in the theme to content.
    files: BTreeMap<String, Vec<u8>>,
}

impl ThemeFiles {
    /// Gathers the files of theme `name`: those that ship, replaced by those in `overrides/name`.
    ///
    /// # Errors
    /// There is no such theme, or a file of it cannot be read.
    pub fn gather(name: &str, overrides: Option<&Path>) -> Result<Self, ThemeError> {
        let mut files = BTreeMap::new();
        let mut known = false;
        // A theme of another name starts from the one that ships, so that it may hold a single file.
        for shipped in [DEFAULT, name] {
            if let Some(folder) = SHIPPED.get_dir(shipped) {
                known |= shipped == name;
                embedded(folder, shipped, &mut files);
            }
        }
        if let Some(folder) = overrides.map(|folder| folder.join(name)).filter(|folder| folder.is_dir()) {
            known = true;
            read_folder(&folder, &mut files)?;
        }
        if known {
            Ok(Self { name: name.to_owned(), files })
        } else {
            Err(ThemeError {
                message: format!("there is no theme `{name}`"),
                remedy: format!("put it into `themes/{name}/` beside the book, or use `{DEFAULT}`, which ships"),
            })
        }
    }

    /// The content of a file as text.
    #[must_use]
    pub fn text(&self, path: &str) -> Option<&str> {
        self.files.get(path).and_then(|bytes| std::str::from_utf8(bytes).ok())
    }

    /// Scripts, style sheets and icons at the top of the theme, by name: what pages load from `assets/`. The
    /// files of words and of the boat are made, not taken.
    pub fn assets(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.iter().filter(|(path, _)| is_asset(path) && !MADE.contains(path))
    }

    /// Whether all templates are those that ship.
    fn has_shipped_templates(&self) -> bool {
        let ships = |path: &str, bytes: &[u8]| SHIPPED.get_file(format!("{DEFAULT}/{path}")).is_some_and(|file| file.contents() == bytes);
        self.templates().all(|(path, bytes)| ships(path, bytes))
    }

    fn templates(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.iter().filter(|(path, _)| path.ends_with(".html"))
    }

    /// Every file with its content, sorted by path.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.files.iter().map(|(path, bytes)| (path.as_str(), bytes.as_slice()))
    }
}

/// Scripts in `assets/` that are made, not taken from a theme.
const MADE: [&str; 3] = ["words.js", "words-more.js", "boat.js"];

/// Whether pages can load a file of the theme.
fn is_asset(path: &str) -> bool {
    let ending = path.rsplit_once('.').map(|(_, ending)| ending);
    !path.contains('/') && matches!(ending, Some("js" | "css" | "png"))
}

/// Why a file of the theme cannot stand in a site under its name, if so: the site is carried on sticks and served by
/// web servers of any kind.
fn misnamed(name: &str, files: &BTreeMap<String, Vec<u8>>) -> Option<String> {
    // Windows takes none of the first; `?`, `#` and `%` mean something in an address.
    let odd = |character: &char| matches!(character, '<' | '>' | '"' | '|' | '?' | '*' | '#' | '%');
    if let Some(odd) = name.chars().find(odd) {
        return Some(format!("`{odd}` in a name is not taken everywhere"));
    }
    if !is_inside(name) || is_reserved(name) {
        return Some("not every disk takes this name".to_owned());
    }
    let small = name.to_lowercase();
    let others = files.keys().map(String::as_str).filter(|path| is_asset(path)).chain(MADE);
    let twin = others.into_iter().find(|other| *other != name && other.to_lowercase() == small)?;
    Some(format!("`{twin}` is there too, and many disks take both names for one"))
}

fn embedded(folder: &Dir<'_>, name: &str, files: &mut BTreeMap<String, Vec<u8>>) {
    for file in folder.files() {
        let path = file.path().iter().map(|part| part.to_string_lossy()).collect::<Vec<_>>().join("/");
        if let Some(path) = path.strip_prefix(&format!("{name}/")) {
            files.insert(path.to_owned(), file.contents().to_vec());
        }
    }
    for inner in folder.dirs() {
        embedded(inner, name, files);
    }
}

fn read_folder(folder: &Path, files: &mut BTreeMap<String, Vec<u8>>) -> Result<(), ThemeError> {
    let trouble = |path: &Path, why: String| ThemeError {
        message: format!("the theme file `{}` cannot be used: {why}", path.display()),
        remedy: "mend it, or take it away to use the one that ships".to_owned(),
    };
    for item in walkdir::WalkDir::new(folder).max_depth(4).sort_by_file_name() {
        let item = item.map_err(|error| trouble(folder, error.io_error().map_or_else(|| error.to_string(), disk::why)))?;
        if !item.file_type().is_file() || item.file_name().to_string_lossy().starts_with('.') {
            continue;
        }
        let path = item.path();
        if item.metadata().map_or(0, |meta| meta.len()) > LARGEST {
            return Err(trouble(path, "it is too large".to_owned()));
        }
        let bytes = std::fs::read(path).map_err(|error| trouble(path, disk::why(&error)))?;
        let inside = path.strip_prefix(folder).unwrap_or(path);
        let inside = inside.iter().map(|part| part.to_string_lossy()).collect::<Vec<_>>().join("/");
        if let Some(why) = misnamed(&inside, files).filter(|_| is_asset(&inside)) {
            return Err(ThemeError {
                remedy: "give it another name, and write that name where your templates load it".to_owned(),
                ..trouble(path, why)
            });
        }
        files.insert(inside, bytes);
    }
    Ok(())
}

/// The languages that there are words for: those that ship, and those of the theme `only`, or of all, in `themes`.
fn languages(themes: &Path, only: Option<&str>) -> BTreeSet<String> {
    let language = |file: &Path| {
        let is_words = file.extension().is_some_and(|ending| ending == "yaml");
        file.file_stem().filter(|_| is_words).map(|stem| stem.to_string_lossy().into_owned())
    };
    let shipped = SHIPPED.dirs().filter_map(|theme| SHIPPED.get_dir(theme.path().join("words")));
    let mut found: BTreeSet<String> = shipped.flat_map(Dir::files).filter_map(|file| language(file.path())).collect();
    let own = walkdir::WalkDir::new(themes).min_depth(3).max_depth(3).into_iter().filter_map(Result::ok);
    for file in own.filter(|item| item.file_type().is_file()) {
        let mut folders = file.path().ancestors().skip(1).filter_map(|folder| folder.file_name());
        if folders.next().is_some_and(|words| words == "words") && folders.next().is_some_and(|theme| only.is_none_or(|only| theme == only))
        {
            found.extend(language(file.path()));
        }
    }
    found
}

/// What is wrong with the language of a boat that no theme has words for, with the themes in `themes` beside the book:
/// her pages are in English. `only`: the theme they are made with, where that is known.
#[must_use]
pub fn language_without_words(book: &Book, themes: &Path, only: Option<&str>) -> Option<Diagnostic> {
    let boat = &book.boat;
    let span = boat.language_span?;
    let known = languages(themes, only);
    if tags(&boat.language).into_iter().any(|tag| known.contains(tag)) {
        return None;
    }
    let names: Vec<String> = known.iter().map(|name| format!("`{name}`")).collect();
    let language = &boat.language;
    Some(Diagnostic {
        rule: "language-without-words",
        severity: Severity::Warning,
        place: book.sources.get("boat.yaml")?.place(span),
        message: format!("there are no words in `{language}`: pages are in English"),
        remedy: format!(
            "write one that there are words for: {}; or write them yourself, in `themes/{}/words/{language}.yaml` beside the book",
            names.join(", "),
            only.unwrap_or(DEFAULT)
        ),
    })
}

/// A language as it is looked up: `de-AT`, then `de`.
fn tags(language: &str) -> [&str; 2] {
    [language, language.split('-').next().unwrap_or(language)]
}

/// A theme ready to print pages in one language.
#[derive(Debug)]
pub struct Theme {
    /// With words and small components put into the templates, where these are the ones that ship.
    engine: Tera,
    /// The templates as they are written: who is told of an error finds its place in them.
    written: Vec<(String, String)>,
    /// These, where they have been asked for.
    as_written: OnceLock<Result<Tera, ThemeError>>,
    pub words: Words,
}

impl Theme {
    /// Reads words and templates.
    ///
    /// # Errors
    /// A template or the words cannot be read; the message names the file and line.
    pub fn new(files: &ThemeFiles, language: &str) -> Result<Self, ThemeError> {
        let words = words(files, language)?;
        let templates: Vec<(&str, &str)> = files.templates().filter_map(|(path, _)| Some((path, files.text(path)?))).collect();
        let unfolded = files.has_shipped_templates().then(|| engine(&unfold::unfolded(&templates, &words), &words));
        let engine = match unfolded {
            Some(Ok(engine)) => engine,
            Some(Err(_)) | None => engine(&templates, &words)?,
        };
        let written = templates.into_iter().map(|(path, text)| (path.to_owned(), text.to_owned())).collect();
        Ok(Self { engine, written, as_written: OnceLock::new(), words })
    }

    /// Prints a page: `frame` and `page` are what the template finds under these names.
    ///
    /// # Errors
    /// The template asks for something that is not there.
    pub fn print<F: Serialize, P: Serialize>(&self, template: &str, frame: &F, page: &P) -> Result<String, ThemeError> {
        let context = context(frame, page)?;
        self.engine.render(template, &context).or_else(|_| {
            let engine = self.as_written.get_or_init(|| engine(&self.written, &self.words)).as_ref().map_err(Clone::clone)?;
            engine.render(template, &context).map_err(|error| broken_template(&error))
        })
    }

    /// What the script of the pages says, as a script of its own: pages opened from a folder cannot
    /// load anything but scripts.
    #[must_use]
    pub fn script_words(&self) -> String {
        let words: serde_json::Map<String, serde_json::Value> =
            self.words.section("script").map(|(key, value)| (key.to_owned(), value)).collect();
        format!("window.garboardWords={};\n", serde_json::Value::Object(words))
    }

    /// What the parts say that a page loads only when they are asked for: `script-deck.next` as
    /// `deck.next`. Added to the words of [`Self::script_words`]; the key `more` tells that they are there. `silent`
    /// parts are not there to say anything.
    #[must_use]
    pub fn more_script_words(&self, silent: &[&str]) -> String {
        let is_said = |key: &str| !key.split_once('.').is_some_and(|(part, _)| silent.contains(&part));
        let said = self.words.beginning("script-").filter(|(key, _)| is_said(key));
        let mut words: serde_json::Map<String, serde_json::Value> = said.map(|(key, value)| (key.to_owned(), value)).collect();
        words.insert("more".to_owned(), serde_json::Value::from("yes"));
        let words = serde_json::Value::Object(words);
        format!(
            "(function(more){{var all=window.garboardWords=window.garboardWords||{{}};for(var key in more)all[key]=more[key];}})({words});\n"
        )
    }
}

fn engine<P: AsRef<str>, T: AsRef<str>>(templates: &[(P, T)], words: &Words) -> Result<Tera, ThemeError> {
    let mut tera = Tera::new();
    tera.set_escape_fn(escape::write_html);
    let spoken = words.clone();
    tera.register_function("say", move |kwargs: Kwargs, _: &State| say(&spoken, &kwargs));
    let templates = templates.iter().map(|(path, text)| (path.as_ref(), text.as_ref()));
    tera.add_raw_templates(templates).map_err(|error| broken_template(&error))?;
    Ok(tera)
}

fn context<F: Serialize, P: Serialize>(frame: &F, page: &P) -> Result<Context, ThemeError> {
    let unfit = |error: tera::Error| ThemeError {
        message: format!("a page cannot be handed to its template: {error}"),
        remedy: "try again with the theme that ships".to_owned(),
    };
    let mut context = Context::new();
    context.insert_value("frame", Value::try_from_serializable(frame).map_err(unfit)?);
    context.insert_value("page", Value::try_from_serializable(page).map_err(unfit)?);
    Ok(context)
}

fn broken_template(error: &tera::Error) -> ThemeError {
    let mut message = format!("a template of the theme cannot be used: {error}");
    let mut cause = std::error::Error::source(error);
    while let Some(inner) = cause {
        message.push_str(&format!(": {inner}"));
        cause = inner.source();
    }
    ThemeError { message, remedy: "mend the template, or take it away to use the one that ships".to_owned() }
}

/// The words of a language, filled up from English where some are missing.
///
/// # Errors
/// They cannot be read; the message names the file.
pub fn words(files: &ThemeFiles, language: &str) -> Result<Words, ThemeError> {
    let english = files.text("words/en.yaml").ok_or_else(|| ThemeError {
        message: "the theme has no readable `words/en.yaml`".to_owned(),
        remedy: "take your copy away to use the one that ships".to_owned(),
    })?;
    let english = Words::parse("en", english)?;
    let chosen = tags(language).into_iter().find_map(|tag| files.text(&format!("words/{tag}.yaml")).map(|text| (tag, text)));
    match chosen {
        Some(("en", _)) => Ok(english),
        Some((tag, text)) => {
            let mut words = Words::parse(tag, text)?;
            words.fill_from(&english);
            Ok(words)
        }
        None => Ok(english),
    }
}

/// `say(k="guide.last-done", n=3, title="…")`.
fn say(words: &Words, kwargs: &Kwargs) -> TeraResult<String> {
    let mut key = String::new();
    let mut fill: Vec<(String, String)> = Vec::new();
    for (name, value) in kwargs.iter() {
        let text = value.as_str().map_or_else(|| value.to_string(), str::to_owned);
        if name.as_str() == Some("k") {
            key = text;
        } else {
            fill.push((name.to_string(), text));
        }
    }
    let fill: Vec<(&str, &str)> = fill.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    words.try_say(&key, &fill).map_err(|error| tera::Error::message(error.0))
}

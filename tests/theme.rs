//! The theme that ships: its colours, its words, and that templates ask only for what there is.

#![allow(clippy::disallowed_methods, reason = "tests lay and read files, and wait")]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

fn read(path: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).expect("a file of the project")
}

fn files(folder: &str, ending: &str) -> Vec<(String, String)> {
    walkdir::WalkDir::new(Path::new(env!("CARGO_MANIFEST_DIR")).join(folder))
        .sort_by_file_name()
        .into_iter()
        .filter_map(Result::ok)
        .filter(|item| item.file_type().is_file() && item.path().to_string_lossy().ends_with(ending))
        .map(|item| (item.file_name().to_string_lossy().into_owned(), fs::read_to_string(item.path()).expect("text")))
        .collect()
}

/// The colour tokens of one table of the style sheet.
fn tokens(style: &str, selector: &str) -> BTreeMap<String, String> {
    let (_, rest) = style.split_once(&format!("\n{selector} {{\n")).expect("the table is there");
    let (table, _) = rest.split_once("\n}").expect("and ends");
    table
        .lines()
        .filter_map(|line| line.trim().trim_end_matches(';').split_once(": "))
        .filter(|(name, _)| name.starts_with("--"))
        .map(|(name, value)| (name.to_owned(), value.to_owned()))
        .collect()
}

/// Contrast ratio by WCAG 2.2: (L1 + 0.05) / (L2 + 0.05), L = 0.2126 R + 0.7152 G + 0.0722 B.
fn contrast(a: &str, b: &str) -> f64 {
    let luminance = |colour: &str| {
        let channel = |at: usize| {
            let value = f64::from(u8::from_str_radix(&colour[at..at + 2], 16).expect("hexadecimal")) / 255.0;
            if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
    };
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn the_formula_gives_published_ratios() {
    // Computed by the npm package wcag-contrast 3.0.0 and PyPI's wcag-contrast-ratio 0.9, which agree.
    for (a, b, ratio) in
        [("#000000", "#ffffff", 21.0), ("#595959", "#ffffff", 7.0047), ("#ff8200", "#000000", 8.4451), ("#c8102e", "#ffffff", 5.8833)]
    {
        assert!((contrast(a, b) - ratio).abs() < 1e-3, "{a} on {b}");
    }
}

#[test]
fn text_stands_out_by_day_and_in_red_light() {
    let style = read("themes/jobsheet/style.css");
    let day = tokens(&style, ":root");
    let night = tokens(&style, "[data-light=\"night\"]");
    assert_eq!(day.keys().collect::<Vec<_>>(), night.keys().collect::<Vec<_>>(), "both tables set the same names");
    for (light, table, least) in [("day", &day, 7.0), ("night", &night, 4.5)] {
        for text in ["--ink", "--quiet", "--link", "--code-strong", "--code-quiet"] {
            for ground in ["--paper", "--tint"] {
                let ratio = contrast(&table[text], &table[ground]);
                assert!(ratio >= least, "{light}: {text} on {ground} is {ratio:.2}, and {least} is needed");
            }
        }
        for signal in ["danger", "warning", "caution", "notice"] {
            let ratio = contrast(&table[&format!("--{signal}-ink")], &table[&format!("--{signal}")]);
            assert!(ratio >= 4.5, "{light}: the {signal} panel has {ratio:.2}");
        }
    }
}

#[test]
fn every_custom_property_is_defined() {
    let style = read("themes/jobsheet/style.css");
    let defined: BTreeSet<&str> = style
        .split(['{', ';', '\n'])
        .filter_map(|part| part.trim().strip_prefix("--"))
        .filter_map(|part| part.split_once(':'))
        .map(|(name, _)| name.trim())
        .collect();
    // One with a value to fall back on may be defined elsewhere: `var(--lead, 3rem)`.
    let bare = style.split("var(--").skip(1).filter_map(|part| part.split(')').next()).filter(|name| !name.contains(','));
    let used: BTreeSet<&str> = bare.map(str::trim).collect();
    let missing: Vec<_> = used.difference(&defined).collect();
    assert!(missing.is_empty(), "{missing:?}");
}

/// Keys of a words file with the placeholders of each.
fn words(language: &str) -> BTreeMap<String, BTreeSet<String>> {
    fn walk(key: String, value: &serde_json::Value, into: &mut BTreeMap<String, BTreeSet<String>>) {
        let holes =
            |text: &str| text.split('{').skip(1).filter_map(|part| part.split('}').next()).map(str::to_owned).collect::<BTreeSet<_>>();
        match value {
            serde_json::Value::String(text) => {
                into.insert(key, holes(text));
            }
            serde_json::Value::Array(list) => {
                into.insert(key, BTreeSet::from([list.len().to_string()]));
            }
            serde_json::Value::Object(map) if map.contains_key("one") => {
                let other = map["other"].as_str().expect("text");
                into.insert(key, holes(other));
            }
            serde_json::Value::Object(map) => {
                for (name, inner) in map {
                    walk(if key.is_empty() { name.clone() } else { format!("{key}.{name}") }, inner, into);
                }
            }
            other => panic!("{key}: {other}"),
        }
    }
    let options = serde_yaml::options! { strict_booleans: true };
    let all: serde_json::Value =
        serde_yaml::from_str_with_options(&read(&format!("themes/jobsheet/words/{language}.yaml")), options).expect("reads");
    let mut found = BTreeMap::new();
    walk(String::new(), &all, &mut found);
    found
}

#[test]
fn both_languages_say_the_same_things() {
    assert_eq!(words("en"), words("de"), "the same keys, with the same names in braces");
}

#[test]
fn every_word_that_is_asked_for_is_there() {
    let known = words("en");
    let mut asked: BTreeSet<String> = BTreeSet::new();
    for (_, template) in files("themes/jobsheet", ".html") {
        asked.extend(template.split("say(k=\"").skip(1).filter_map(|part| part.split('"').next()).map(str::to_owned));
    }
    for (name, code) in files("src/site", ".rs") {
        if name == "words.rs" {
            continue;
        }
        for call in ["words.text(\"", "words.say(\"", "words.count(\""] {
            let flat = code.replace("words\n", "words").split_whitespace().collect::<Vec<_>>().join(" ").replace("( \"", "(\"");
            asked.extend(flat.split(call).skip(1).filter_map(|part| part.split('"').next()).map(str::to_owned));
        }
    }
    assert!(asked.len() > 150, "only {} were found", asked.len());
    let missing: Vec<_> = asked.iter().filter(|key| !known.contains_key(*key)).collect();
    assert!(missing.is_empty(), "{missing:?}");
}

/// Structs of the views with their fields.
fn views() -> BTreeMap<String, BTreeSet<String>> {
    let mut found = BTreeMap::new();
    for (_, code) in files("src/site/view", ".rs") {
        for part in code.split("pub struct ").skip(1) {
            let Some((name, rest)) = part.split_once(" {\n") else { continue };
            let (body, _) = rest.split_once("\n}").expect("a struct ends");
            let fields = body
                .lines()
                .filter_map(|line| line.trim().strip_prefix("pub ")?.split_once(':'))
                .map(|(field, _)| field.to_owned())
                .collect();
            found.insert(name.to_owned(), fields);
        }
    }
    found
}

#[test]
fn templates_ask_only_for_fields_that_views_have() {
    let views = views();
    let pages = [
        ("state.html", "HomePage"),
        ("guide.html", "GuidePage"),
        ("guides.html", "GuidesPage"),
        ("system.html", "SystemPage"),
        ("log-index.html", "LogIndex"),
        ("log.html", "LogPage"),
        ("stores.html", "StoresPage"),
        ("tools.html", "ToolsPage"),
        ("gear.html", "GearPage"),
        ("occasions.html", "OccasionsPage"),
        ("defects.html", "DefectsPage"),
        ("meters.html", "MetersPage"),
        ("cautions.html", "CautionsPage"),
        ("search.html", "SearchPage"),
        ("about.html", "AboutPage"),
    ];
    // Keys of words look like fields.
    let without_keys = |template: String| {
        let mut parts = template.split("k=\"");
        let first = parts.next().unwrap_or_default().to_owned();
        parts.fold(first, |text, part| text + part.split_once('"').map_or("", |(_, rest)| rest))
    };
    let templates: BTreeMap<String, String> =
        files("themes/jobsheet", ".html").into_iter().map(|(name, template)| (name, without_keys(template))).collect();
    let asked = |template: &str, variable: &str| -> BTreeSet<String> {
        template
            .split(&format!("{variable}."))
            .skip(1)
            .map(|part| part.chars().take_while(|c| c.is_ascii_lowercase() || *c == '_').collect::<String>())
            .filter(|name| !name.is_empty())
            .collect()
    };
    let files_said = ["html", "css", "js"];
    for (name, view) in pages {
        let wrong: Vec<String> = asked(&templates[name], "page")
            .into_iter()
            .filter(|field| !views[view].contains(field) && !files_said.contains(&field.as_str()))
            .collect();
        assert!(wrong.is_empty(), "{name}: {view} has no {wrong:?}");
    }
    for (name, template) in &templates {
        let wrong: Vec<String> = asked(template, "frame")
            .into_iter()
            .filter(|field| !views["Frame"].contains(field) && !files_said.contains(&field.as_str()))
            .collect();
        assert!(wrong.is_empty(), "{name}: Frame has no {wrong:?}");
    }
}

#[test]
fn every_word_that_a_script_says_is_there() {
    let known = words("en");
    let mut asked: BTreeMap<String, String> = BTreeMap::new();
    for (name, script) in files("themes/jobsheet", ".js") {
        for part in script.split("say(").skip(1) {
            // Either key of a choice; what is put together from pieces ends in a hyphen or a dot.
            let call = part.split([';', '{']).next().unwrap_or_default();
            for key in call
                .split('"')
                .skip(1)
                .step_by(2)
                .filter(|key| !key.contains(' '))
                .filter(|key| key.contains('.') || script.starts_with("/* What every page"))
            {
                asked.insert(key.to_owned(), name.clone());
            }
        }
    }
    assert!(asked.len() > 50, "only {} were found", asked.len());
    let has = |key: &str| known.contains_key(&format!("script-{key}")) || known.contains_key(&format!("script.{key}"));
    let begins =
        |key: &str| known.keys().any(|other| other.starts_with(&format!("script-{key}")) || other.starts_with(&format!("script.{key}")));
    let missing: Vec<_> = asked.iter().filter(|(key, _)| !(has(key) || key.ends_with(['-', '.']) && begins(key))).collect();
    assert!(missing.is_empty(), "{missing:?}");
}

#[test]
fn style_and_script_stay_light() {
    assert!(read("themes/jobsheet/style.css").len() <= 26_000);
    assert!(read("themes/jobsheet/script.js").len() <= 7_400);
    for (name, script) in files("themes/jobsheet", ".js") {
        assert!(script.len() <= 16 * 1024, "{name}");
    }
    // Of the search, which only its own page loads.
    assert!(read("themes/jobsheet/search.js").len() < 9_000);
    assert!(read("themes/jobsheet/search-index.js").len() < 12_500);
}

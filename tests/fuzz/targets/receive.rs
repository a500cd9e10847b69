//! A shared file, made to do harm: what it would write stays in its folders, under names that every system takes, and
//! is what it says or not there at all.

use garboard::book::diagnostic::any_error;
use garboard::book::load::guide_of;
use garboard::book::source::Source;
use garboard::share::hold::{Caution, FORMAT, From, Guide, Held, Picture, StoreItem, System, Tool, VERSION, block};
use garboard::share::receive::plan::{Receipt, Wish, plan};
use garboard::share::receive::{Maps, read};
use jiff::civil::date;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Component, Path};

pub fn check(bytes: &[u8]) {
    if let Ok(held) = read(bytes) {
        assert_sound(&received(&held), &held);
    }
    let Some(text) = super::text(bytes) else { return };
    // The first line names everything, what follows is the guide.
    let (name, guide) = text.split_once('\n').unwrap_or((text, ""));
    let held = held(name, guide);
    let page = format!("<!DOCTYPE html><p>x</p>{}", block(&held));
    if let Ok(again) = read(page.as_bytes()) {
        assert_eq!(again, held, "what was shared comes back as it was");
        assert_sound(&received(&again), &again);
    }
}

fn held(name: &str, guide: &str) -> Held {
    let name = name.to_owned();
    Held {
        format: FORMAT.to_owned(),
        version: VERSION,
        from: From { boat: name.clone(), kind: None },
        language: "en".to_owned(),
        units: "metric".to_owned(),
        licence: None,
        made: "a test".to_owned(),
        guides: vec![Guide { id: name.clone(), system: name.clone(), path: format!("guides/{name}/{name}.md"), text: guide.to_owned() }],
        systems: vec![System { id: name.clone(), title: name.clone() }],
        meters: Vec::new(),
        stores: vec![StoreItem {
            id: name.clone(),
            title: name.clone(),
            part_number: Some(name.clone()),
            sold_in: vec![name.clone()],
            also_fits: Vec::new(),
            note: None,
        }],
        tools: vec![Tool { id: name.clone(), title: name.clone() }],
        cautions: vec![Caution {
            id: name.clone(),
            title: name.clone(),
            signal: "warning".to_owned(),
            harm: name.clone(),
            avoid: vec![name.clone()],
            defer: None,
            words: Vec::new(),
        }],
        pictures: vec![Picture {
            path: format!("guides/{name}/{name}/a.svg"),
            kind: "image/svg+xml".to_owned(),
            bytes: guide.as_bytes().to_vec(),
        }],
    }
}

fn received(held: &Held) -> Receipt {
    let maps = Maps::default();
    plan(held, &mut super::book(), &Wish { on: date(2026, 11, 24), maps: &maps, revise: true }, &BTreeMap::new())
}

fn assert_sound(receipt: &Receipt, held: &Held) {
    let mut paths = BTreeSet::new();
    for file in &receipt.files {
        let path = format!("{}/{}", file.folder, file.name);
        assert!(Path::new(&path).components().all(|part| matches!(part, Component::Normal(_))) && path.starts_with("guides/"), "{path}");
        assert!(!file.name.contains('/') && !path.contains(|letter: char| letter.is_control() || r#"\:*?"<>|"#.contains(letter)), "{path}");
        assert!(paths.insert(path.to_lowercase()), "{path} stands twice");
        if !path.ends_with(".md") {
            continue;
        }
        let text = std::str::from_utf8(&file.bytes).expect("text");
        let (guide, problems) = guide_of(&Source::new(&path, text));
        assert!(guide.is_some() && !any_error(&problems), "{problems:?} in {text}");
        // Whatever is added above, the steps are theirs to the letter.
        let body = &text[guide.expect("a guide").body.range()];
        assert!(held.guides.iter().any(|one| one.text.ends_with(body)), "{body:?} is not as it was sent");
    }
    for list in &receipt.lists {
        assert!(list.new.starts_with(list.old.as_deref().unwrap_or_default()), "{} lost something", list.file);
    }
    for refused in &receipt.refused {
        assert!(!refused.why.is_empty() && refused.why.iter().all(|why| !why.is_empty()), "{refused:?}");
        let said =
            refused.why.iter().chain([&refused.what]).any(|words| words.contains(|letter: char| letter.is_control() && letter != '\n'));
        assert!(!said, "{refused:?} would reach a terminal");
    }
}

//! From Markdown to HTML: well-formed by an independent parser, nothing in it runs, and no step and no caution is lost.

use garboard::book::load::{entry_of, guide_of};
use garboard::book::markdown::parse;
use garboard::book::model::Book;
use garboard::book::private::without_tags;
use garboard::book::source::{Source, Span};
use garboard::site::assets::Assets;
use garboard::site::guide_body::render;
use garboard::site::map::SiteMap;
use garboard::site::markdown::Renderer;
use garboard::site::surroundings::PageSurroundings;
use garboard::site::view::{Block, CautionView};
use garboard::site::{DEFAULT_THEME, Theme, ThemeFiles, Words};
use std::sync::LazyLock;

static WORDS: LazyLock<Words> = LazyLock::new(|| {
    let files = ThemeFiles::gather(DEFAULT_THEME, None).expect("the theme");
    Theme::new(&files, "en").expect("the theme").words
});

/// Things for marks to name, with words that would be markup.
const FRONT: &str = "---
title: A <b>job</b> & \"more\"
values: {refill: 7.5 L, warm-up: 10 min}
torque: [{at: drain plug, value: 35 N·m, then: 90°}]
readings: {oil-pressure: {unit: bar, limits: 2.5..5.0}}
tools: ['strap <i>wrench</i>']
parts: [{item: 'filter\"<script>'}]
---
";

pub fn check(bytes: &[u8]) {
    let Some(text) = super::text(bytes) else { return };
    as_guide(text);
    as_notes(text);
}

fn as_guide(text: &str) {
    let source = Source::new("guides/engine/job.md", format!("{FRONT}{text}"));
    let (Some(guide), problems) = guide_of(&source) else { return };
    super::assert_told(&problems, source.text());
    let mut book = Book::default();
    book.guides.push(guide);
    let guide = &book.guides[0];
    let map = SiteMap::new(&book, &[]);
    let assets = Assets::default();
    let surroundings = PageSurroundings {
        map: &map,
        assets: &assets,
        words: &WORDS,
        file: "guides/engine/job.md".to_owned(),
        root: "../",
        received: None,
    };
    let body = render(&book, guide, &WORDS, &surroundings);

    let mut pieces: Vec<&str> = vec![&body.intro.0];
    let mut cautions: Vec<&CautionView> = body.intro_cautions.iter().collect();
    let mut steps = 0;
    for stage in &body.stages {
        pieces.extend(["<h2>", &stage.title.0, "</h2>"]);
        for block in &stage.blocks {
            match block {
                Block::Prose { html } => pieces.push(&html.0),
                Block::Cautions { cautions: all } => cautions.extend(all),
                Block::Steps { steps: all, .. } => {
                    for step in all {
                        steps += 1;
                        cautions.extend(&step.cautions);
                        pieces.push(&step.html.0);
                    }
                }
            }
        }
    }
    pieces.extend(cautions.iter().map(|caution| caution.body.0.as_str()));
    pieces.push(&body.footnotes.0);
    super::page::assert_sound(&pieces);
    assert_eq!(steps, guide.outline.stages.iter().map(|stage| stage.steps.len()).sum::<usize>(), "a step is lost");
    assert_eq!(cautions.len(), guide.outline.cautions.len(), "a caution is lost");
}

fn as_notes(text: &str) {
    let source = Source::new("log/2026/2026-03-14-note.md", format!("---\ndate: 2026-03-14\nwork: [A note]\n---\n{text}"));
    let (Some(entry), _) = entry_of(&source) else { return };
    let (map, assets) = (SiteMap::default(), Assets::default());
    let surroundings =
        PageSurroundings { map: &map, assets: &assets, words: &WORDS, file: source.path().to_owned(), root: "../", received: None };
    let shown = without_tags(source.slice(entry.body));
    let mut renderer = Renderer::new(&shown, &[], &surroundings, 2, "note--");
    let notes = renderer.blocks(&parse(&shown, Span::new(0, shown.len())));
    super::page::assert_sound(&[&notes, &renderer.footnotes()]);
}

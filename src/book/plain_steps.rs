//! The plain words of steps. They are read anew by the few who ask for them: to keep them for every guide would take
//! as much memory as the texts of the guides.

use super::flat::{self, Flat};
use super::markdown;
use super::model::Guide;
use super::source::Span;

/// The words of every step of a guide, in the order of its stages, without marks, cautions, code and links.
#[must_use]
pub fn plain_steps(guide: &Guide) -> Vec<String> {
    let text = guide.source.blanked();
    let steps: Vec<Span> = guide.outline.stages.iter().flat_map(|stage| &stage.steps).map(|step| step.span).collect();
    let mut words = vec![String::new(); steps.len()];
    // What stands between two cautions of a step.
    let mut run = Vec::new();
    let mut at = 0;
    let mut end_run = |at: usize, run: &mut Vec<_>| {
        if let Some(words) = words.get_mut(at).filter(|_| !run.is_empty()) {
            flat::blocks(run, &text).iter().for_each(|block| push_words(words, block));
        }
        run.clear();
    };
    for (event, range) in markdown::parse(&text, guide.body) {
        let span = Span::new(range.start, range.end);
        while steps.get(at).is_some_and(|step| step.end <= span.start) {
            end_run(at, &mut run);
            at += 1;
        }
        if steps.get(at).is_some_and(|step| step.contains(span)) && !is_of_caution(guide, span) {
            run.push((event, range));
        } else {
            end_run(at, &mut run);
        }
    }
    end_run(at, &mut run);
    words
}

fn is_of_caution(guide: &Guide, span: Span) -> bool {
    let cautions = &guide.outline.cautions;
    let behind = cautions.partition_point(|caution| caution.span.start <= span.start);
    behind.checked_sub(1).and_then(|last| cautions.get(last)).is_some_and(|caution| caution.span.contains(span))
}

/// Adds the plain words of a block, one space before each.
fn push_words(words: &mut String, block: &Flat) {
    words.reserve(block.text.len());
    let mut gap = true;
    for letter in block.outside_marks().into_iter().flat_map(str::chars) {
        if letter == flat::OBJECT || letter.is_whitespace() {
            gap = true;
            continue;
        }
        if gap && !words.is_empty() {
            words.push(' ');
        }
        gap = false;
        words.push(letter);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::load::guide_of;
    use crate::book::source::Source;
    use proptest::prelude::*;

    /// The letters that Markdown and marks are made of.
    const SIGNS: &str = "[a-c1.)\\n {}\\[\\]()<>`~!#*_|:;&/\u{fffc}-]{0,40}";

    #[track_caller]
    fn case(body: &str, expected: &[&str]) {
        let (guide, problems) = guide_of(&Source::new("guides/engine/a.md", format!("---\ntitle: A job\n---\n{body}")));
        assert_eq!(problems, []);
        assert_eq!(plain_steps(&guide.expect("a guide")), expected);
    }

    #[test]
    fn marks_cautions_code_and_links_are_left_out() {
        case("Before.\n\n## One\n\n1. Fit the belt. {takes 5 min}\n2. Type `25 Nm` with *care*.\n", &["Fit the belt.", "Type with care."]);
        case(
            "1. Lift it.\n\n   > WARNING: It bites. Stand clear.\n\n   Then put it down.\n\n   - gently\n\nBetween.\n\n## Two\n\n1. [See](https://example.org) this.\n",
            &["Lift it. Then put it down. gently", "this."],
        );
        case("1. Lift it.\n   > NOTICE: It is heavy.\n\n2. Go.\n", &["Lift it.", "Go."]);
        case("Nothing to do.\n", &[]);
    }

    #[test]
    fn a_word_is_whole_whatever_is_written_in_it() {
        case(
            "1. Shut the s*ea*cock.\n2. **L**et it cool.\n3. The fuel&nbsp;line.\n4. sea&shy;cock\n",
            &["Shut the seacock.", "Let it cool.", "The fuel line.", "sea\u{ad}cock"],
        );
    }

    proptest! {
        #[test]
        fn words_of_a_block_are_those_outside_its_marks(text in SIGNS) {
            let events = markdown::parse(&text, Span::new(0, text.len()));
            let (mut words, mut expected) = (String::new(), String::new());
            for block in flat::blocks(&events, &text) {
                push_words(&mut words, &block);
                let mut depth = 0_usize;
                for letter in block.text.chars() {
                    match letter {
                        '{' => depth += 1,
                        '}' if depth > 0 => depth -= 1,
                        flat::OBJECT if depth == 0 => expected.push(' '),
                        _ if depth == 0 => expected.push(letter),
                        _ => {}
                    }
                }
                expected.push(' ');
            }
            prop_assert_eq!(words, expected.split_whitespace().collect::<Vec<_>>().join(" "));
        }
    }
}

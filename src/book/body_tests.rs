use crate::book::load::guide_of;
use crate::book::source::Source;

/// The problems of a guide with this body, whose first line is line 1.
#[track_caller]
fn case(body: &str, expected: &[&str]) {
    let (_, problems) = guide_of(&Source::new("guides/engine/a.md", format!("---\ntitle: A job\n---\n{body}")));
    let found: Vec<String> = problems
        .iter()
        .map(|problem| format!("{}:{} {} {}", problem.place.line - 3, problem.place.column, problem.severity.word(), problem.rule))
        .collect();
    assert_eq!(found, expected, "{body}");
}

#[test]
fn a_signal_word_with_a_slip_is_told() {
    case("> WARNNING: It floods. Shut it.\n\n1. Do it.\n", &["1:3 warning caution-word"]);
    case("1. Do it.\n\n   > DANEGR : It kills. Stand back.\n", &["3:6 warning caution-word"]);
    case("> NOTE: It is cold.\n\n1. Do it.\n", &[]);
    case("> Warnning: a word\n\n1. Do it.\n", &[]);
}

#[test]
fn numbered_items_in_a_quote_a_footnote_or_a_bullet_are_told() {
    case("> 1. Do it.\n\n1. Do it.\n", &["1:3 warning swallowed-step"]);
    case("1. Do it.[^1]\n\n[^1]: Note.\n\n    2. Close.\n", &["5:5 warning swallowed-step"]);
    case("- First:\n  1. Open it.\n  2. Shut it.\n\n1. Do it.\n", &["2:3 warning swallowed-step"]);
    // Bullets in a step, and bullets that were given numbers, are what they look like.
    case("1. Do it:\n\n   - First:\n     1. Open it.\n", &[]);
    case("- 1. Open it.\n\n1. Do it.\n", &[]);
}

#[test]
fn a_caution_without_words_is_told() {
    case("> WARNING:\n\n1. Do it.\n", &["1:3 warning empty-caution"]);
    case("1. Do it.\n\n   > CAUTION:\n   >\n", &["3:6 warning empty-caution"]);
    case("> WARNING:\n>\n> It floods. Shut it.\n\n1. Do it.\n", &[]);
    case("> NOTICE: `x`\n\n1. Do it.\n", &[]);
}

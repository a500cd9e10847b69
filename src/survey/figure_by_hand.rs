//! A figure typed into a step, where the guide could declare it once and name it.
//!
//! What the size of a thing is (`the 17 mm socket`) is no figure of the job: a figure is told only
//! where no noun follows it. A torque is always told, for nothing is called by one. Times belong in
//! the marks, and parts of a whole are seldom set.

use super::own_words::Cautions;
use super::phrases::Language;
use super::vocabulary::small_words;
use super::{Check, Context, GuideCheck, Rule};
use crate::book::diagnostic::Notes;
use crate::book::model::{Guide, ValueFigure};
use crate::book::source::Span;
use crate::quantity::{Dimension, Figure, Quantity};

const ID: &str = "figure-by-hand";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "A figure typed into a step shows in one unit only, stands in no list of figures at the head of the sheet, and has to be \
          found again in every step when the handbook changes it. A torque typed by hand cannot be held against its bolt.",
    check: Check::Guides(check),
};

fn check<'c>(context: &'c Context<'_>) -> GuideCheck<'c> {
    Box::new(move |guide, words, notes| {
        let words = words.text(Cautions::Out);
        for step in guide.outline.stages.iter().flat_map(|stage| &stage.steps) {
            for (quantity, span) in figures(words, guide.source.text(), step.span, context.language) {
                tell(notes, guide, &quantity, span);
            }
        }
    })
}

fn tell(notes: &mut Notes<'_>, guide: &Guide, quantity: &Quantity, span: Span) {
    let written = quantity.written();
    let remedy = match declared(guide, quantity) {
        Some(name) => format!("the guide declares it: write `{{{name}}}`"),
        None if quantity.dimension() == Dimension::Torque => {
            format!("declare it under `torque` as `- {{at: …, value: {written}}}`, and write here in braces what stands at `at`")
        }
        None => format!("declare it under `values` as `name: {written}`, and write `{{name}}` here"),
    };
    notes.advice(ID, span, format!("`{}` is typed into this step by hand", guide.source.slice(span)), remedy);
}

/// The name under which the guide declares the same figure.
fn declared<'g>(guide: &'g Guide, quantity: &Quantity) -> Option<&'g str> {
    let same = |figure: &Figure| {
        let in_its_unit = figure.unit().and_then(|unit| quantity.in_unit(unit));
        in_its_unit.is_some_and(|value| figure.bounds() == (Some(value), Some(value)))
    };
    let torque = guide.torques.iter().find(|torque| same(&torque.value)).map(|torque| torque.id.as_str());
    torque.or_else(|| {
        let value = guide.values.iter().find(|value| matches!(&value.figure, ValueFigure::Figure(figure) if same(figure)));
        value.map(|value| value.id.as_str())
    })
}

/// The figures of a step with their places.
fn figures(words: &str, source: &str, step: Span, language: Option<Language>) -> Vec<(Quantity, Span)> {
    if !words.get(step.range()).is_some_and(|step| step.bytes().any(|byte| byte.is_ascii_digit())) {
        return Vec::new();
    }
    let tokens = tokens(words, step);
    let mut found = Vec::new();
    let mut next = 0;
    while let Some(&(start, token)) = tokens.get(next) {
        next += 1;
        let Some((number_at, number, rest)) = number(token) else { continue };
        // The unit in the same word, or in up to three words behind it: `US fl oz`.
        let behind = tokens.get(next..).unwrap_or_default();
        let most = if rest.is_empty() { 3.min(behind.len()) } else { 0 };
        let candidates = (usize::from(rest.is_empty())..=most).rev();
        for taken in candidates {
            let last = taken.checked_sub(1).and_then(|at| behind.get(at)).copied().unwrap_or((start, token));
            let whole_end = last.0 + last.1.len();
            let trimmed = last.1.trim_end_matches(['.', ',', ';', ':', '!', '?', ')', ']', '"', '”', '“', '\'']);
            let end = last.0 + trimmed.len();
            let Some(written) = words.get(start + number_at + number.len()..end) else { continue };
            let Ok(quantity) = Quantity::parse(&format!("{} {written}", number.replace(',', "."))) else { continue };
            let follows = behind.get(taken).filter(|follow| {
                let between = source.get(whole_end..follow.0).unwrap_or_default();
                end == whole_end && !between.contains(['{', '`', '!'])
            });
            if counts(&quantity, written.trim(), follows.map(|follow| follow.1), language) {
                found.push((quantity, Span::new(start + number_at, end)));
            }
            next += taken;
            break;
        }
    }
    found
}

/// The words of a step as they stand between spaces.
fn tokens(words: &str, step: Span) -> Vec<(usize, &str)> {
    let base = step.start as usize;
    let mut tokens = Vec::new();
    let part = words.get(step.range()).unwrap_or_default();
    let mut start = None;
    for (at, letter) in part.char_indices().chain(std::iter::once((part.len(), ' '))) {
        match (start, letter.is_whitespace()) {
            (None, false) => start = Some(at),
            (Some(begin), true) => {
                tokens.push((base + begin, &part[begin..at]));
                start = None;
            }
            _ => {}
        }
    }
    tokens
}

/// Signs that stand before a number.
const BEFORE: [char; 14] = ['(', '[', '"', '„', '“', '~', '±', '<', '>', '≈', '≤', '≥', '+', '-'];

/// The last number that a word begins with, where it stands in it, and what follows: of `20-25Nm` it
/// is 25.
fn number(token: &str) -> Option<(usize, &str, &str)> {
    let mut at = token.len() - token.trim_start_matches(BEFORE).len();
    loop {
        let rest = token.get(at..)?;
        let length =
            rest.len() - rest.trim_start_matches(|letter: char| letter.is_ascii_digit() || matches!(letter, '.' | ',' | '/')).len();
        let number = rest.get(..length)?.trim_end_matches(['.', ',', '/']);
        if !number.starts_with(|first: char| first.is_ascii_digit()) {
            return None;
        }
        let after = rest.get(number.len()..)?;
        // A range or a tolerance: what counts for the unit is its last number.
        let signs = after.len() - after.trim_start_matches(['-', '–', '—', '±', '.']).len();
        let next_is_number = after.get(signs..).is_some_and(|next| next.starts_with(|first: char| first.is_ascii_digit()));
        if signs == 0 || !next_is_number {
            return Some((at, number, after));
        }
        at += number.len() + signs;
    }
}

/// Whether it is a figure of the job and not the size of a thing.
fn counts(quantity: &Quantity, unit: &str, follows: Option<&str>, language: Option<Language>) -> bool {
    match quantity.dimension() {
        Dimension::Torque => true,
        Dimension::Time | Dimension::Share | Dimension::Distance => false,
        // `put 2 in the box` is no inch.
        _ if unit == "in" && follows.is_some() => false,
        _ => match (language, follows) {
            (None, _) => false,
            (Some(_), None) => true,
            (Some(language), Some(follow)) => {
                let word: String = follow.chars().take_while(|letter| letter.is_alphabetic()).collect();
                word.is_empty() || small_words(language).contains(&word.to_lowercase().as_str())
            }
        },
    }
}

#[cfg(test)]
mod tests {
    use super::ID;
    use crate::survey::small_book::{book_in, found, guide, guide_text, places};

    #[track_caller]
    fn case(step: &str, expected: &[&str]) {
        let book = guide("", &format!("## Work\n\n1. {step}\n"));
        assert_eq!(places(&found(ID, &book)), expected, "{step}");
    }

    #[test]
    fn a_figure_in_a_step_is_told() {
        case("Tighten to 25 Nm.", &["7:15 25 Nm"]);
        case("Tighten to 25Nm, crosswise.", &["7:15 25Nm"]);
        case("Tighten by 20-25 N·m in two rounds.", &["7:18 25 N·m"]);
        case("Tighten the (20 lbf-ft) nut.", &["7:17 20 lbf-ft"]);
        case("Fill with 2,5 L of oil.", &["7:14 2,5 L"]);
        case("Pump to 2 bar {takes 5 min} and stop.", &["7:12 2 bar"]);
        case("Pour in 12 US fl oz and 3 imp pt.", &["7:12 12 US fl oz", "7:28 3 imp pt"]);
        case("Heat to 80 °C.", &["7:12 80 °C"]);
        case("Leave 1/2 in.", &["7:10 1/2 in"]);
    }

    #[test]
    fn sizes_of_things_counts_times_and_what_is_no_running_text_are_not() {
        case("Take the 17 mm socket and a 12 V lamp.", &[]);
        case("Put 2 in the box, 3 A-shaped ones in the bag.", &[]);
        case("Wait 20 min, at 1,500 turns and 75 %.", &[]);
        case("Use an M8 bolt, 4 of them, grade 8.8.", &[]);
        case("Type `25 Nm`. ![Set to 25 Nm](a.jpg) {run 2 L at 1 L/min, 2 min on, 3 min off}", &[]);
        case("Tighten it.\n\n   > CAUTION: More than 25 Nm breaks the stud and cuts a hand. Stop there.", &[]);
    }

    #[test]
    fn a_declared_one_is_answered_with_its_name() {
        let book = guide("torque: [{at: drain plug, value: 25 N·m}]\nvalues: {refill: 7.5 L}", "## Work\n\n1. 25 Nm, 7500 mL, 4 L.\n");
        let remedies: Vec<String> = found(ID, &book).into_iter().map(|found| found.remedy).collect();
        assert!(remedies[0].contains("`{drain-plug}`") && remedies[1].contains("`{refill}`"), "{remedies:?}");
        assert!(remedies[2].contains("`name: 4 L`"), "{remedies:?}");
    }

    #[test]
    fn in_a_language_without_a_table_only_torques_are_told() {
        let text = guide_text("", "## Arbeit\n\n1. Mit 25 Nm anziehen, 2 L einfüllen und mit 3 bar prüfen. Die 2 L Kanne.\n");
        let rows = |language: &str| places(&found(ID, &book_in(language, &[("guides/engine/job.md", &text)])));
        assert_eq!(rows("de"), ["7:24 2 L", "7:46 3 bar", "7:8 25 Nm"].map(str::to_owned));
        assert_eq!(rows("fr"), ["7:8 25 Nm"].map(str::to_owned));
    }

    #[test]
    fn no_text_makes_it_panic() {
        for text in
            ["1", "1.", "-", "1/", "..5", "1..", "٣ L", "1-", "25\u{a0}Nm", "½ L", "9999999999999999999999999999999999999999 L", "1e5 L"]
        {
            case_any(text);
        }
    }

    fn case_any(step: &str) {
        let _ = found(ID, &guide("", &format!("## W\n\n1. x {step}\n")));
    }
}

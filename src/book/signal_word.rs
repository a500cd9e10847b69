//! Signal words that open no caution: with a slip of the pen (`WARNNING`), in square brackets (`[!WARNING]`), or behind
//! another that opened it.

use super::diagnostic::Notes;
use super::flat::Flat;
use super::model::Signal;
use super::source::Span;

/// Slips within which a word in capitals is taken for a signal word.
const MOST_SLIPS: usize = 2;

/// Words that are as near, and mean what they say.
const OTHERS: [&str; 16] = [
    "action", "auction", "caption", "dauer", "dinner", "hanger", "note", "notiz", "ranger", "waiting", "walking", "wanting", "warming",
    "warping", "washing", "working",
];

/// The signal word that was meant by a word in capitals, if it is near one.
pub(super) fn meant(word: &str) -> Option<Signal> {
    let lower = word.to_lowercase();
    if !word.chars().all(char::is_uppercase) || OTHERS.contains(&lower.as_str()) {
        return None;
    }
    let near = Signal::ALL.into_iter().map(|signal| (strsim::damerau_levenshtein(&lower, signal.word()), signal));
    // With two slips, the first letter is seldom one of them: `MORNING` is another word.
    let near = near.filter(|(slips, signal)| match slips {
        0 | 1 => true,
        &MOST_SLIPS => lower.chars().next() == signal.word().chars().next(),
        _ => false,
    });
    near.min_by_key(|(slips, _)| *slips).map(|(_, signal)| signal)
}

/// Notes a quote that opens as other programs mark their cautions: `> [!WARNING]`.
pub(super) fn alert(notes: &mut Notes<'_>, quote: &Flat) {
    let Some((word, _)) = quote.text.strip_prefix("[!").and_then(|rest| rest.split_once(']')) else { return };
    let Some(signal) = Signal::from_word(word) else { return };
    let start = quote.start();
    notes.warning(
        "caution-word",
        Span::new(start, start + "[!]".len() + word.len()),
        format!("this quote looks like a caution, and `[!{word}]` is no signal word"),
        format!("write the signal word in capitals with a colon, and what can happen behind it: `> {}: …`", signal.word().to_uppercase()),
    );
}

/// Notes signal words that open a line or a sentence of a caution which another opened: it has the rank of the first alone.
pub(super) fn second(notes: &mut Notes<'_>, caution: &[Flat]) {
    let mut first = None;
    for block in caution {
        for (at, _) in block.text.match_indices(':') {
            let before = &block.text[..at];
            let start = before.rfind(|letter: char| !letter.is_alphabetic()).map_or(0, |gap| gap + letter_len(before, gap));
            let word = &before[start..];
            let opens = block.line_starts.contains(&start)
                || before[..start].trim_end().is_empty()
                || before[..start].trim_end().ends_with(['.', '!', '?']);
            let Some(signal) = Signal::from_word(word).filter(|_| opens && word.chars().all(char::is_uppercase)) else { continue };
            let Some(opened) = first else {
                first = Some(signal);
                continue;
            };
            let place = block.source_at(start);
            notes.warning(
                "two-cautions",
                Span::new(place, place + word.len() + 1),
                format!("this stands in the same quote as `{}:` above, and is shown under that signal word", opened.word().to_uppercase()),
                "part the two by an empty line without `>`: each then is a caution of its own",
            );
        }
    }
}

/// How long the letter that begins there is.
fn letter_len(text: &str, at: usize) -> usize {
    text[at..].chars().next().map_or(0, char::len_utf8)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::load::guide_of;
    use crate::book::source::Source;

    #[track_caller]
    fn case(word: &str, expected: Option<Signal>) {
        assert_eq!(meant(word), expected, "{word}");
    }

    #[test]
    fn a_word_within_two_slips_is_meant() {
        for word in ["WARNNING", "WARNNIG", "WRANING", "WARNUNG", "WARNINGS", "ARNING", "AWRNING", "WARING"] {
            case(word, Some(Signal::Warning));
        }
        for word in ["DANGR", "DANEGR", "DANGERS", "DNAGRE"] {
            case(word, Some(Signal::Danger));
        }
        for word in ["CAUTON", "CUATION", "CAUTOIN", "CATION"] {
            case(word, Some(Signal::Caution));
        }
        for word in ["NOTCE", "NOTICES", "NOTIC", "NOTTICE"] {
            case(word, Some(Signal::Notice));
        }
    }

    #[test]
    fn other_words_mean_what_they_say() {
        for word in ["NOTE", "ACTION", "TIP", "MORNING", "WASHING", "DAUER", "FINGER", "Warnning", "HINWEIS", "ACHTUNG", "AGAIN", ""] {
            case(word, None);
        }
    }

    /// What is told of a guide with this body, whose first line is line 1, with what it points at.
    #[track_caller]
    fn told(body: &str, expected: &[&str]) {
        let (_, problems) = guide_of(&Source::new("guides/engine/a.md", format!("---\ntitle: A job\n---\n{body}")));
        let found = problems.iter().map(|one| {
            let place = &one.place;
            format!("{}:{} {} {}", place.line - 3, place.column, &place.excerpt[place.mark.clone()], one.rule)
        });
        assert_eq!(found.collect::<Vec<_>>(), expected, "{body}");
    }

    #[test]
    fn an_alert_of_other_programs_is_no_caution() {
        told("1. Open it.\n\n   > [!WARNING]\n   > Oil scalds.\n", &["3:6 [!WARNING] caution-word"]);
        told("> [!caution] Oil scalds.\n\n1. Open it.\n", &["1:3 [!caution] caution-word"]);
        told("> [!NOTE]\n> It is blue.\n\n> [!TIP]\n> So is that.\n\n1. Open it.\n", &[]);
    }

    #[test]
    fn two_cautions_in_one_quote_are_told_at_the_second() {
        told("1. Open it.\n\n   > NOTICE: The varnish marks.\n   > DANGER: Gas kills.\n", &["4:6 DANGER: two-cautions"]);
        told(
            "> CAUTION: It pinches.\n>\n> DANGER: Gas kills.\n> - WARNING: It bites.\n\n1. Out.\n",
            &["3:3 DANGER: two-cautions", "4:5 WARNING: two-cautions"],
        );
        told("> CAUTION: It pinches. DANGER: Gas kills.\n\n1. Out.\n", &["1:24 DANGER: two-cautions"]);
        told("> CAUTION: It pinches.\n\n> DANGER: Gas kills.\n\n1. Out.\n", &[]);
        told("1. Open it.\n\n   > CAUTION: It pinches.\n\n   > DANGER: Gas kills.\n", &[]);
        told("> WARNING: The plate says DANGER: 230 V. Read it. Danger: see the plate.\n\n1. Out.\n", &[]);
    }
}

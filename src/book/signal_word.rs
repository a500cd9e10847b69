//! Signal words with a slip of the pen: `WARNNING`.

use super::model::Signal;

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

#[cfg(test)]
mod tests {
    use super::*;

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
}

//! Words of a language that the rules about figures, parts and work look for.

use super::phrases::Language;

/// Words that follow a figure where it stands for itself: no noun is sized by it.
pub(super) fn small_words(language: Language) -> &'static [&'static str] {
    match language {
        Language::English => &[
            "of", "in", "at", "and", "or", "to", "from", "with", "without", "by", "for", "on", "over", "under", "above", "below", "before",
            "after", "until", "then", "than", "per", "is", "are", "when", "where", "while", "if", "but", "as", "into", "past", "between",
            "across", "round", "beyond", "behind", "more", "less", "deep", "long", "wide", "high", "thick", "apart", "clear", "away",
            "off", "out", "proud", "short", "each", "again", "first", "only", "warm", "cold", "hot", "the", "a", "an",
        ],
        Language::German => &[
            "von",
            "in",
            "im",
            "an",
            "am",
            "auf",
            "und",
            "oder",
            "bis",
            "mit",
            "ohne",
            "bei",
            "für",
            "über",
            "unter",
            "vor",
            "nach",
            "dann",
            "als",
            "je",
            "pro",
            "ist",
            "sind",
            "wenn",
            "wo",
            "aber",
            "zwischen",
            "hinter",
            "aus",
            "ab",
            "zu",
            "mehr",
            "weniger",
            "tief",
            "lang",
            "breit",
            "hoch",
            "dick",
            "weit",
            "frei",
            "nicht",
            "nur",
            "der",
            "die",
            "das",
            "den",
            "dem",
            "anziehen",
            "nachziehen",
            "festziehen",
            "einfüllen",
            "nachfüllen",
            "auffüllen",
            "füllen",
            "pumpen",
            "einstellen",
            "messen",
            "lassen",
            "warm",
            "kalt",
            "ablassen",
            "abpumpen",
            "prüfen",
            "spülen",
            "öl",
            "wasser",
        ],
    }
}

/// Words that come before a part that is put in: `a new oil filter`.
pub(super) fn new_words(language: Language) -> &'static [&'static str] {
    match language {
        Language::English => &["new", "fresh", "renew", "replace"],
        Language::German => &["neue", "neuer", "neuen", "neues", "neuem", "frische", "frischer", "frischen", "frisches", "erneuern"],
    }
}

/// Words that do not tell one work from another.
pub(super) fn empty_words(language: Language) -> &'static [&'static str] {
    match language {
        Language::English => {
            &["a", "an", "the", "and", "or", "of", "in", "on", "at", "to", "for", "from", "with", "by", "all", "both", "again", "as", "it"]
        }
        Language::German => &[
            "der", "die", "das", "den", "dem", "des", "ein", "eine", "einen", "einem", "einer", "und", "oder", "von", "vom", "in", "im",
            "an", "am", "auf", "zu", "zum", "zur", "fur", "mit", "aus", "bei", "beim", "alle", "beide", "wieder", "e",
        ],
    }
}

/// A word without the ending that says when it was done.
pub(super) fn ending(language: Language, word: &str) -> &str {
    let cut = match language {
        Language::English => ["ing", "ed"].iter().find_map(|ending| word.strip_suffix(ending)),
        Language::German => None,
    };
    // `red` and `ring` are words of their own.
    let stem = cut.filter(|stem| stem.len() >= 3).unwrap_or(word);
    match language {
        // `renewed` and `renew`, `replaced` and `replace`.
        Language::English => stem.strip_suffix('e').filter(|stem| stem.len() >= 3).unwrap_or(stem),
        Language::German => stem,
    }
}

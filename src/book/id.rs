//! Ids: the short names by which guides, gear, stores and figures are referred to.
//!
//! An id is lower-case Latin letters and digits joined by single hyphens, so that it can be a file
//! name on every system and part of a web address. Words become an id by [`id_of`].

use std::fmt;

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// Longest id in bytes: leaves room for an ending and a prefix within the 255 that file systems take.
const LONGEST: usize = 100;

/// Names that Windows keeps for devices, with or without an ending (Microsoft, "Naming Files, Paths,
/// and Namespaces"); `com` and `lpt` besides with a digit.
const RESERVED: [&str; 4] = ["con", "prn", "aux", "nul"];

/// Why a word cannot be an id; shown to the crew.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct IdError {
    pub message: String,
    pub remedy: String,
}

impl fmt::Display for IdError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

/// Makes an id of words: lower case, accents dropped, all else one hyphen, none at the ends.
///
/// Words of a script other than Latin leave nothing, which [`check_id`] refuses.
#[must_use]
pub fn id_of(words: &str) -> String {
    if looks_like_id(words) {
        return words.to_owned();
    }
    if words.is_ascii() {
        return joined(words.len(), words.bytes().map(|byte| char::from(byte.to_ascii_lowercase())));
    }
    folded(words)
}

/// The id of words in any script. Plain letters need none of this: for them it is what [`joined`] makes.
fn folded(words: &str) -> String {
    // Compatibility forms can hold capitals (`℡`), and capitals can hold accents: hence both twice.
    let lower = words.to_lowercase();
    let letters = lower.nfkd().flat_map(char::to_lowercase).nfkd().filter(|letter| !is_combining_mark(*letter));
    let plain = letters.flat_map(|letter| {
        let spelled = without_accent(letter);
        let whole = if spelled.is_none() { Some(letter) } else { None };
        spelled.unwrap_or_default().chars().chain(whole)
    });
    joined(words.len(), plain)
}

/// Small letters and digits as they come, one hyphen for whatever stands between them.
fn joined(length: usize, letters: impl Iterator<Item = char>) -> String {
    let mut id = String::with_capacity(length);
    let mut gap = false;
    for letter in letters {
        if letter.is_ascii_lowercase() || letter.is_ascii_digit() {
            if gap && !id.is_empty() {
                id.push('-');
            }
            gap = false;
            id.push(letter);
        } else {
            gap = true;
        }
    }
    id
}

/// Letters that decomposition leaves whole.
fn without_accent(letter: char) -> Option<&'static str> {
    Some(match letter {
        'ß' => "ss",
        'æ' => "ae",
        'œ' => "oe",
        'ø' => "o",
        'å' => "a",
        'đ' | 'ð' => "d",
        'ł' => "l",
        'ħ' => "h",
        'ŧ' => "t",
        'þ' => "th",
        'ı' => "i",
        'ŋ' => "n",
        'ĸ' => "k",
        _ => return None,
    })
}

/// What two names are compared by: their id, or, where a script has no Latin letters for it, the
/// words themselves in lower case. Unlike an id it never makes two different names one.
#[must_use]
pub fn key_of(words: &str) -> String {
    if words.is_ascii() {
        return id_of(words);
    }
    let foreign = words.chars().any(|letter| letter.is_alphanumeric() && id_of(letter.encode_utf8(&mut [0; 4])).is_empty());
    if foreign { words.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ") } else { id_of(words) }
}

/// Whether the words already have the shape of an id.
#[must_use]
pub fn looks_like_id(words: &str) -> bool {
    let mut after_hyphen = true;
    for byte in words.bytes() {
        match byte {
            b'a'..=b'z' | b'0'..=b'9' => after_hyphen = false,
            b'-' if !after_hyphen => after_hyphen = true,
            _ => return false,
        }
    }
    // Nothing at all counts as standing behind a hyphen.
    !after_hyphen
}

/// Whether words make this id: `id_of(words) == id`, mostly without making it.
#[must_use]
pub fn has_id(words: &str, id: &str) -> bool {
    if looks_like_id(words) { words == id } else { id_of(words) == id }
}

/// Whether a name, an id or the stem of a file, can be a file on every system.
///
/// # Errors
/// Nothing at all, more than 100 bytes, or a name that Windows keeps for a device.
pub fn check_id(id: &str) -> Result<(), IdError> {
    let error = |message: String, remedy: &str| Err(IdError { message, remedy: remedy.to_owned() });
    if id.is_empty() {
        return error("there is nothing here that an id can be made of".to_owned(), "use letters from a to z and digits");
    }
    if id.len() > LONGEST {
        return error(format!("this id is {} bytes long, and some file systems take no more than {LONGEST}", id.len()), "use fewer words");
    }
    if is_reserved(id) {
        return error(format!("Windows keeps the name `{id}` for itself, and no file there can be called that"), "add a word to it");
    }
    Ok(())
}

/// Whether Windows keeps this name for a device, in any case and whatever ending follows.
#[must_use]
pub fn is_reserved(name: &str) -> bool {
    let stem = name.split('.').next().unwrap_or_default().trim_end();
    // None of them is longer, and small letters are never fewer than the capitals they are made of.
    if stem.chars().nth(4).is_some() {
        return false;
    }
    let stem = stem.to_lowercase();
    let port = |prefix: &str| {
        let rest = stem.strip_prefix(prefix)?;
        let mut letters = rest.chars();
        let digit = letters.next()?;
        (letters.next().is_none() && matches!(digit, '0'..='9' | '¹' | '²' | '³')).then_some(())
    };
    RESERVED.contains(&stem.as_str()) || port("com").is_some() || port("lpt").is_some()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[track_caller]
    fn case(words: &str, id: &str) {
        assert_eq!(id_of(words), id, "for {words:?}");
    }

    #[test]
    fn words_become_ids() {
        case("drain plug", "drain-plug");
        case("Drain  Plug!", "drain-plug");
        case("oil-and-filter", "oil-and-filter");
        case("17 mm socket", "17-mm-socket");
        case("-- a -- b --", "a-b");
        case("bosun's chair", "bosun-s-chair");
        case("1/2 in", "1-2-in");
        case("a_b.c", "a-b-c");
        case("", "");
        case("…", "");
    }

    #[test]
    fn accents_are_dropped() {
        case("Ölwechsel", "olwechsel");
        case("Großsegel", "grosssegel");
        case("GROẞSEGEL", "grosssegel");
        case("Læsø Ærø", "laeso-aero");
        case("Ålesund", "alesund");
        case("A\u{30a}lesund", "alesund");
        case("Łódź đak", "lodz-dak");
        case("cœur", "coeur");
        case("İstanbul ırmak", "istanbul-irmak");
        case("ﬁlter", "filter");
        case("m²", "m2");
        case("½ L", "1-2-l");
        // A script that is not Latin leaves nothing, which is refused later.
        case("Лодка", "");
        case("船", "");
    }

    #[test]
    fn the_shape_of_an_id() {
        for id in ["oil", "oil-filter", "2025-11-02-rig-check", "m8"] {
            assert!(looks_like_id(id), "{id}");
        }
        for words in ["", "Oil", "oil filter", "-oil", "oil-", "oil--filter", "öl", "a/b", "../a"] {
            assert!(!looks_like_id(words), "{words}");
        }
    }

    #[test]
    fn names_that_no_file_can_have() {
        // Microsoft, "Naming Files, Paths, and Namespaces".
        for name in ["con", "CON", "prn", "aux", "nul", "com1", "com9", "lpt1", "lpt9", "com¹", "lpt³", "com0", "nul.txt", "con "] {
            let error = check_id(name).expect_err(name);
            assert!(error.message.contains("Windows"), "{name}: {error}");
        }
        for name in ["console", "com", "com10", "lpt", "null", "aux-pump", "com1-port"] {
            assert_eq!(check_id(name), Ok(()), "{name}");
        }
        assert!(check_id("").expect_err("empty").message.contains("nothing"));
        assert!(check_id(&"x".repeat(101)).expect_err("long").message.contains("101 bytes"));
        assert_eq!(check_id(&"x".repeat(100)), Ok(()));
    }

    proptest! {
        #[test]
        fn plain_letters_need_no_folding(words in "[ -~\t\n]{0,40}|[a-z0-9-]{0,12}") {
            prop_assert_eq!(id_of(&words), folded(&words));
        }

        #[test]
        fn what_looks_like_an_id_is_its_own(words in "\\PC{0,12}|[a-z0-9-]{0,12}") {
            prop_assert_eq!(looks_like_id(&words), !words.is_empty() && folded(&words) == words);
        }

        #[test]
        fn an_id_made_of_an_id_is_itself(words in "\\PC{0,40}") {
            let id = id_of(&words);
            prop_assert_eq!(id_of(&id), id.clone());
            prop_assert!(id.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'));
            prop_assert!(!id.starts_with('-') && !id.ends_with('-') && !id.contains("--"));
        }
    }
}

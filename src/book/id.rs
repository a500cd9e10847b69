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

/// What the names of two things are compared by: their words without case and accents, and their signs.
///
/// It does not matter how words are joined, by white space or by a hyphen, nor how a sign is set (`’` or `'`,
/// `−` or `-`) and spaced. Everything else does: `battery +` is not `battery -`, and `1/2"` is not `1 2`. A hyphen
/// joins words only where it stands between two letters or digits; elsewhere it is a sign. Accents are dropped from
/// Latin letters alone, for in other scripts a mark can make another letter.
///
/// Words that have the shape of an id are their own key. A key is nothing to make a file name or an anchor of.
#[must_use]
pub fn key_of(words: &str) -> String {
    if looks_like_id(words) {
        return words.to_owned();
    }
    let letters: Vec<char> =
        if words.is_ascii() { words.chars().map(|letter| letter.to_ascii_lowercase()).collect() } else { plainly_set(words) };
    let is_word = |at: Option<usize>| at.and_then(|at| letters.get(at)).is_some_and(|letter| is_of_word(*letter));
    let mut key = String::with_capacity(words.len());
    let mut gap = false;
    let mut after_sign = false;
    for (at, letter) in letters.iter().enumerate() {
        let joins = *letter == '-' && is_word(at.checked_sub(1)) && is_word(at.checked_add(1));
        if joins || letter.is_whitespace() {
            gap = true;
            continue;
        }
        // A sign is a word of its own, so that no two lists of words and signs read the same.
        let sign = !is_of_word(*letter);
        if (gap || sign || after_sign) && !key.is_empty() {
            key.push('-');
        }
        key.push(*letter);
        gap = false;
        after_sign = sign;
    }
    key
}

fn is_of_word(letter: char) -> bool {
    letter.is_alphanumeric() || is_combining_mark(letter)
}

/// Small letters without accents, and every sign as a keyboard has it.
fn plainly_set(words: &str) -> Vec<char> {
    let lower = words.to_lowercase();
    // Some signs decompose to capitals (the Kelvin sign), and those to a letter and its accent: hence both twice.
    let letters = lower.nfd().flat_map(char::to_lowercase).nfd().filter(|letter| !is_unseen(*letter));
    let mut latin = false;
    let mut plain = Vec::with_capacity(words.len());
    for letter in letters {
        if is_combining_mark(letter) {
            if !latin {
                plain.push(letter);
            }
            continue;
        }
        let spelled = without_accent(letter);
        latin = spelled.is_some() || letter.is_ascii_alphabetic();
        match spelled {
            Some(spelled) => plain.extend(spelled.chars()),
            None => plain.push(keyboard_sign(letter)),
        }
    }
    plain
}

/// Signs of a text that nobody sees: the hyphen of a possible break, spaces of no width, marks of direction, and
/// how an emoji is to be drawn.
fn is_unseen(letter: char) -> bool {
    matches!(letter, '\u{ad}' | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{2060}' | '\u{fe0e}' | '\u{fe0f}' | '\u{feff}')
}

/// The sign that a keyboard has for one that programs put in its place.
fn keyboard_sign(letter: char) -> char {
    match letter {
        '\u{2010}'..='\u{2015}' | '\u{2212}' | '\u{fe63}' | '\u{ff0d}' => '-',
        '‘' | '’' | 'ʼ' | '′' => '\'',
        '“' | '”' | '„' | '″' => '"',
        _ => letter,
    }
}

/// What names are called alike by: their id, or, where a script has no Latin letters for it, the words themselves
/// in lower case. Signs do not count, so two different names may be alike: for the names of things there is
/// [`key_of`].
#[must_use]
pub fn loose_key_of(words: &str) -> String {
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

/// A title for what has no other: `spring-cruise` is `Spring cruise`.
#[must_use]
pub fn title_of(id: &str) -> String {
    let words = id.replace('-', " ");
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
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

    #[track_caller]
    fn one_thing(names: &[&str]) {
        for name in names {
            assert_eq!(key_of(name), key_of(names[0]), "{name:?} and {:?}", names[0]);
        }
    }

    #[track_caller]
    fn different_things(names: &[&str]) {
        let keys: std::collections::BTreeSet<String> = names.iter().map(|name| key_of(name)).collect();
        assert_eq!(keys.len(), names.len(), "{names:?} have only the keys {keys:?}");
    }

    #[test]
    fn one_thing_may_be_written_in_several_ways() {
        one_thing(&[
            "start key",
            "Start key",
            "start-key",
            " START  KEY ",
            "start\u{a0}key",
            "start\u{2011}key",
            "start–key",
            "start\nkey",
        ]);
        one_thing(&["Kühlwasser", "kuhlwasser", "KU\u{308}HLWASSER"]);
        one_thing(&["Großsegel", "GROẞSEGEL", "grosssegel"]);
        one_thing(&["battery -", "Battery −", "battery –", "battery-", "battery  -"]);
        one_thing(&["bosun's chair", "Bosun’s chair"]);
        one_thing(&["seacock 1/2\"", "Seacock 1/2″", "seacock 1 / 2 \"", "sea\u{ad}cock 1/2\""]);
        one_thing(&["Кингстон", "кингстон"]);
        one_thing(&["й", "и\u{306}"]);
    }

    #[test]
    fn signs_tell_things_apart() {
        different_things(&["battery", "battery +", "battery -", "battery + -", "battery - +", "battery &", "battery ++", "- battery"]);
        different_things(&[
            "seacock 1 2",
            "seacock 1/2",
            "seacock 1/2\"",
            "seacock 1.2",
            "seacock 12",
            "seacock #12",
            "seacock ½",
            "seacock 1_2",
        ]);
        different_things(&["port - starboard", "port starboard", "port/starboard", "port-starboard -"]);
        different_things(&["pump (a)", "pump a", "pump a)", "pump a.", "pump a!", "pump @ a"]);
        different_things(&["m2", "m²", "m 2"]);
        different_things(&["кингстон", "батарея", "батарея +", "батарея -"]);
        // Marks that make another letter are no accents.
        different_things(&["и", "й"]);
        different_things(&["か", "が"]);
        different_things(&["", "…", "-", "+"]);
    }

    #[test]
    fn names_without_signs_have_the_key_that_their_id_is() {
        for name in ["drain plug", "Raw-water seacock", "Ölwechsel", "17 mm socket"] {
            assert_eq!(key_of(name), id_of(name), "{name}");
        }
    }

    /// A name as it means: words, and signs between them.
    fn meanings() -> impl Strategy<Value = Vec<String>> {
        proptest::collection::vec("[a-z0-9]{1,3}|[бйが船]{1,2}|[-+/#\".&!()_,:½²]", 0..6)
    }

    /// One way to write it: in any case, with any accents, with any gap between words and any space round signs.
    fn written(meaning: &[String], ways: &[u8]) -> String {
        let mut ways = ways.iter().cycle().copied();
        let mut way = || usize::from(ways.next().unwrap_or_default());
        let is_word = |token: &String| token.chars().all(char::is_alphanumeric);
        let mut name = String::new();
        for (at, token) in meaning.iter().enumerate() {
            let before = at.checked_sub(1).and_then(|before| meaning.get(before));
            name.push_str(match before {
                None => ["", " "][way() % 2],
                Some(before) if is_word(before) && is_word(token) => [" ", "-", "\u{a0}", "  ", "–", "\u{2011}", "\n"][way() % 7],
                // A hyphen without space beside it might join two words.
                Some(before) if before == "-" || token == "-" => [" ", "\u{a0}"][way() % 2],
                Some(_) => ["", " "][way() % 2],
            });
            for letter in token.chars() {
                match way() % 3 {
                    0 if letter.is_ascii_lowercase() => name.push(letter.to_ascii_uppercase()),
                    1 if letter.is_ascii_lowercase() => name.extend([letter, '\u{301}']),
                    _ => name.push(letter),
                }
            }
        }
        name
    }

    proptest! {
        #[test]
        fn only_names_of_one_meaning_have_one_key(one in meanings(), other in meanings(), ways in proptest::collection::vec(any::<u8>(), 1..40)) {
            let (first, second) = ways.split_at(ways.len() / 2);
            prop_assert_eq!(key_of(&written(&one, first)), key_of(&written(&one, second)));
            let (name, name_of_other) = (written(&one, first), written(&other, second));
            prop_assert_eq!(key_of(&name) == key_of(&name_of_other), one == other, "{:?} and {:?}", name, name_of_other);
        }

        /// Names that are nearly the same are what is mixed up.
        #[test]
        fn a_sign_more_or_less_makes_another_key(meaning in meanings(), sign in "[-+/#\".&]", at in 0_usize..6, ways in proptest::collection::vec(any::<u8>(), 1..40)) {
            let mut more = meaning.clone();
            more.insert(at.min(meaning.len()), sign);
            prop_assert_ne!(key_of(&written(&meaning, &ways)), key_of(&written(&more, &ways)));
        }

        #[test]
        fn a_key_is_one_for_ascii_and_for_what_is_set_plainly(words in "[ -~\t\n]{0,30}") {
            // An accent sends the words the other way.
            prop_assert_eq!(key_of(&format!("{words} e")), key_of(&format!("{words} é")));
        }

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

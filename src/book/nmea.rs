//! The check of NMEA 0183 sentences that stand in fenced blocks of a guide.
//!
//! A sentence copied by hand is easily copied wrong, and its own checksum shows it. The check knows the
//! frame of a sentence (start, checksum, length), never the meaning of its fields. A right checksum proves
//! little: two equal fields cancel out.

use super::diagnostic::Notes;
use super::markdown::Placed;
use super::source::Span;
use pulldown_cmark::{CodeBlockKind, Event, Tag, TagEnd};
use std::ops::Range;

/// The longest sentence the standard allows, in bytes: the start character and CR LF included.
const LONGEST: usize = 82;
/// CR LF, which ends each sentence on the wire, whatever line end the file has.
const LINE_END: usize = 2;

/// What is wrong with one sentence, and how to mend it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NmeaProblem {
    /// The faulty bytes of the line; always on character boundaries and inside the line.
    pub range: Range<usize>,
    /// What the line gives and what it computes to; lower case, no full stop.
    pub message: String,
    /// One way to mend it.
    pub remedy: String,
}

/// Checks the sentences in the fenced blocks of a text.
pub fn check_blocks(notes: &mut Notes<'_>, events: &[Placed<'_>]) {
    let mut inside: Option<bool> = None;
    for (event, range) in events {
        match event {
            Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(info))) => inside = Some(is_nmea(info)),
            Event::End(TagEnd::CodeBlock) => inside = None,
            Event::Text(code) if inside == Some(true) => {
                let mut offset = range.start;
                for line in code.split_inclusive('\n') {
                    let sentence = line.trim_end_matches(['\n', '\r']);
                    if let Some(problem) = check_line(sentence) {
                        let span = Span::new(offset + problem.range.start, offset + problem.range.end);
                        notes.warning("nmea-checksum", span, problem.message, problem.remedy);
                    }
                    offset += line.len();
                }
            }
            _ => {}
        }
    }
}

/// Whether a fence says that it holds NMEA 0183 sentences.
#[must_use]
pub fn is_nmea(info: &str) -> bool {
    let word = info.split([' ', ',', '\t']).next().unwrap_or_default();
    ["nmea", "nmea0183", "nmea-0183"].iter().any(|name| name.eq_ignore_ascii_case(word))
}

/// Checks one line of a block of NMEA 0183 sentences.
///
/// Lines that do not start with `$` or `!` (blank lines, comments, prose) are passed over, and so is a
/// sentence without a checksum, which the standard allows for many sentences. The first problem found is given: a
/// checksum that cannot be read, one that is wrong, a sentence that is too long.
///
/// ```text
/// $IIMTW,17.9,C*1C      passes
/// $IIMTW,17.9,C*1D      checksum `1D` is wrong: the sentence computes to `1C`
/// ```
#[must_use]
pub fn check_line(line: &str) -> Option<NmeaProblem> {
    let sentence = line.trim();
    let start = line.len() - line.trim_start().len();
    let body = sentence.strip_prefix('$').or_else(|| sentence.strip_prefix('!'))?;
    check_checksum(body, start + 1).or_else(|| check_length(sentence, start))
}

/// The NMEA 0183 checksum: the exclusive or of all bytes of `body`, which is what stands after the `$` or
/// `!` and before the `*`.
#[must_use]
pub fn checksum(body: &str) -> u8 {
    body.bytes().fold(0, |sum, byte| sum ^ byte)
}

fn check_checksum(body: &str, body_start: usize) -> Option<NmeaProblem> {
    let (fields, given) = body.split_once('*')?;
    let computed = checksum(fields);
    let given_start = body_start + fields.len() + 1;
    let Some(read) = read_checksum(given) else {
        let message = if given.is_empty() {
            format!("nothing follows the `*`: a checksum is two hex digits, and this sentence computes to `{computed:02X}`")
        } else {
            format!("`{given}` is not a checksum, which is two hex digits: this sentence computes to `{computed:02X}`")
        };
        return Some(NmeaProblem {
            range: given_start - 1..given_start + given.len(),
            message,
            remedy: format!("end the sentence with `*{computed:02X}` if all else in it is right"),
        });
    };
    (read != computed).then(|| NmeaProblem {
        range: given_start..given_start + given.len(),
        message: format!("checksum `{given}` is wrong: the sentence computes to `{computed:02X}`"),
        remedy: format!("hold the fields against where they were copied from; if they are right, write `*{computed:02X}`"),
    })
}

/// Reads exactly two hex digits. `from_str_radix` alone would let a sign through.
fn read_checksum(given: &str) -> Option<u8> {
    let two_digits = given.len() == 2 && given.bytes().all(|byte| byte.is_ascii_hexdigit());
    two_digits.then(|| u8::from_str_radix(given, 16).ok())?
}

fn check_length(sentence: &str, start: usize) -> Option<NmeaProblem> {
    let length = sentence.len() + LINE_END;
    (length > LONGEST).then(|| {
        let allowed = sentence.floor_char_boundary(LONGEST - LINE_END);
        NmeaProblem {
            range: start + allowed..start + sentence.len(),
            message: format!("this sentence is {length} bytes long with its line end: the standard allows {LONGEST}"),
            remedy: "look for two sentences run together, or a field that does not belong".to_owned(),
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Published samples with their checksums. Source: gpsd's notes on NMEA 0183 (each recomputed, and all
    /// but the `!` one accepted by pynmea2 1.19.0).
    const PUBLISHED: [&str; 8] = [
        "$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47",
        "$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A",
        "$GPVTG,054.7,T,034.4,M,005.5,N,010.2,K*48",
        "$SDDBT,16.5,f,5.0,M,2.8,F*3B",
        "$VWVLW,2.8,N,2.8,N*4C",
        "$IIMTW,17.9,C*1C",
        "$ERRPM,S,1,251.0,A*53",
        "!AIVDM,1,1,,B,177KQJ5000G?tO`K>RA1wUbN0TKH,0*5C",
    ];

    #[test]
    fn published_sentences_pass_however_the_line_ends() {
        for sentence in PUBLISHED {
            for line in [sentence.to_owned(), format!("{sentence}\r\n"), format!("  {sentence} \n")] {
                assert_eq!(check_line(&line), None, "{line:?}");
            }
        }
    }

    #[test]
    fn the_checksum_is_that_of_the_published_sentences() {
        for sentence in PUBLISHED {
            let (body, given) = sentence[1..].split_once('*').expect("a published checksum");
            assert_eq!(format!("{:02X}", checksum(body)), given, "{sentence}");
        }
        // Two equal fields cancel: both of these are also 4C (same source).
        assert_eq!(checksum("VWVLW,49.6,N,49.6,N"), 0x4C);
        assert_eq!(checksum("VWVLW,1072.381,N,1072.381,N"), 0x4C);
        assert_eq!(checksum(""), 0);
    }

    #[test]
    fn a_changed_digit_is_noticed_in_every_published_sentence() {
        for sentence in PUBLISHED {
            let changed = sentence.replacen(',', ",7", 1);
            assert!(check_line(&changed).is_some(), "{changed}");
        }
    }

    #[test]
    fn wrong_checksums_in_circulation_are_refused_with_the_right_value() {
        #[track_caller]
        fn case(line: &str, given: &str, computed: &str) {
            let problem = check_line(line).expect("a problem");
            assert_eq!(problem.message, format!("checksum `{given}` is wrong: the sentence computes to `{computed}`"));
            assert_eq!(&line[problem.range.clone()], given);
            assert!(problem.remedy.contains(&format!("`*{computed}`")), "{problem:?}");
        }
        // Samples in circulation whose printed checksum is wrong; source: as above, recomputed.
        case("$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,47.0,M,,*47", "47", "4F");
        case("$GPVTG,054.7,T,034.4,M,005.5,N,010.2,K*41", "41", "48");
        case("$ERRPM,E,1,22.6,0.0,A*4A\r\n", "4A", "77");
        case("  $IIMTW,17.9,C*1d", "1d", "1C");
    }

    #[test]
    fn lower_case_hex_is_accepted() {
        assert_eq!(check_line("$SDDBT,16.5,f,5.0,M,2.8,F*3b"), None);
        assert_eq!(check_line("$IIMTW,17.9,C*1c"), None);
    }

    #[test]
    fn other_lines_and_sentences_without_a_checksum_are_passed_over() {
        for line in ["", "   ", "# depth, every second", "// from the log: *00", "GPGGA*00", "$", "!", "$IIMTW,17.9,C"] {
            assert_eq!(check_line(line), None, "{line:?}");
        }
    }

    #[test]
    fn a_checksum_that_cannot_be_read_is_a_problem() {
        #[track_caller]
        fn case(line: &str, marked: &str, message: &str) {
            let problem = check_line(line).expect("a problem");
            assert_eq!(&line[problem.range.clone()], marked);
            assert_eq!(problem.message, message);
            assert_eq!(problem.remedy, "end the sentence with `*1C` if all else in it is right");
        }
        case("$IIMTW,17.9,C*", "*", "nothing follows the `*`: a checksum is two hex digits, and this sentence computes to `1C`");
        for given in ["1", "1G", "+C", "1CC", "1C,", "*1C", "¼"] {
            case(
                &format!("$IIMTW,17.9,C*{given}\r\n"),
                &format!("*{given}"),
                &format!("`{given}` is not a checksum, which is two hex digits: this sentence computes to `1C`"),
            );
        }
    }

    #[test]
    fn a_sentence_may_be_82_bytes_with_its_line_end() {
        // Source: gpsd's notes on NMEA 0183 (82 bytes with `$` and CR LF).
        let longest = format!("${}", "A".repeat(79));
        assert_eq!(check_line(&format!("{longest}\r\n")), None);
        let line = format!(" {longest}BC");
        let problem = check_line(&line).expect("a problem");
        assert_eq!(&line[problem.range], "BC");
        assert_eq!(problem.message, "this sentence is 84 bytes long with its line end: the standard allows 82");
        let inside_a_character = format!("${}é", "A".repeat(78));
        let problem = check_line(&inside_a_character).expect("a problem");
        assert_eq!(&inside_a_character[problem.range], "é");
    }

    proptest::proptest! {
        #[test]
        fn any_line_gives_a_range_inside_it(line in "[ \t]{0,3}[$!]?(?s:.){0,120}\\*?.{0,3}") {
            if let Some(problem) = check_line(&line) {
                proptest::prop_assert!(line.get(problem.range).is_some());
            }
        }
    }
}

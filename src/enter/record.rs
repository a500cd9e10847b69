//! Which record a text is: the same one may come twice, as it was or in a later state.
//!
//! A page that writes an entry puts a comment line `# record: ID N` into the front matter: an id made
//! at random, and how many times the record was made out so far. The log keeps that line, and by it
//! the record is known again, whatever the crew changed in it since.

use super::front_lines::front_lines;

/// Fewest and most letters and digits of a record's id.
const LENGTHS: std::ops::RangeInclusive<usize> = 16..=32;
/// What the line begins with.
const OPENING: &str = "# record:";

/// What the line of a record says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Record<'t> {
    pub id: &'t str,
    /// Which state of the record it is; 1 unless said.
    pub state: u32,
}

/// The line `# record: ID N` of the front matter, if there is one.
///
/// ```
/// let text = "---\n# record: 0123456789abcdef 2\ndate: 2026-11-24\n---\n";
/// let record = garboard::enter::record_of(text).expect("there is one");
/// assert_eq!((record.id, record.state), ("0123456789abcdef", 2));
/// assert_eq!(garboard::enter::record_of("---\ndate: 2026-11-24\n---\n# record: 0123456789abcdef\n"), None);
/// ```
#[must_use]
pub fn record_of(text: &str) -> Option<Record<'_>> {
    front_lines(text).find_map(read_line)
}

fn read_line(line: &str) -> Option<Record<'_>> {
    let mut words = line.strip_prefix(OPENING)?.split_whitespace();
    let id = words.next()?;
    let state = words.next().map_or(Some(1), |state| state.parse().ok())?;
    let plain = id.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit());
    (plain && LENGTHS.contains(&id.len()) && words.next().is_none()).then_some(Record { id, state })
}

/// Whether two texts say the same: byte for byte, but for a byte-order mark, the kind of line ends,
/// what is blank at the very end (programs on the way change these), and the line of the record.
#[must_use]
pub fn same_content(one: &str, other: &str) -> bool {
    lines_of(one).eq(lines_of(other))
}

fn lines_of(text: &str) -> impl Iterator<Item = &str> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text).trim_end();
    text.split('\n').map(|line| line.strip_suffix('\r').unwrap_or(line)).filter(|line| read_line(line).is_none())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(line: &str, expected: Option<(&str, u32)>) {
        let text = format!("---\njobs: [oil]\n{line}\ndate: 2026-03-14\n---\nnotes\n");
        assert_eq!(record_of(&text), expected.map(|(id, state)| Record { id, state }), "for {line:?}");
    }

    #[test]
    fn a_record_is_known_by_its_line() {
        case("# record: 0123456789abcdef", Some(("0123456789abcdef", 1)));
        case("# record: 0123456789abcdef 3", Some(("0123456789abcdef", 3)));
        case("# record:0123456789abcdef  ", Some(("0123456789abcdef", 1)));
        case("# record: abcdefghijklmnopqrstuvwxyz234567", Some(("abcdefghijklmnopqrstuvwxyz234567", 1)));
        case("# record: 0123456789abcdef\r", Some(("0123456789abcdef", 1)));
        case("# record: 0123456789abcde", None);
        case("# record: 0123456789abcdef0123456789abcdef0", None);
        case("# record: 0123456789ABCDEF", None);
        case("# record: 0123456789abcdef two", None);
        case("# record: 0123456789abcdef -1", None);
        case("# record: 0123456789abcdef 1 2", None);
        case("# record: 0123456789abcdef 99999999999999999999", None);
        case("# record: ../../../../etc/x", None);
        case("# record:", None);
        case("  # record: 0123456789abcdef", None);
        case("work: ['# record: 0123456789abcdef']", None);
        assert_eq!(record_of(""), None);
        assert_eq!(record_of("# record: 0123456789abcdef"), None);
        assert_eq!(record_of("\u{feff}---\r\n# record: 0123456789abcdef\r\n---\r\n").map(|record| record.id), Some("0123456789abcdef"));
    }

    #[test]
    fn what_programs_on_the_way_change_makes_no_other_content() {
        for (one, other, same) in [
            ("a\nb\n", "a\r\nb\r\n", true),
            ("a\n", "\u{feff}a\n", true),
            ("a\n", "a", true),
            ("a\n\n", "a\n", true),
            ("a\n# record: 0123456789abcdef 1\nb", "a\n# record: 0123456789abcdef 2\nb", true),
            ("a\nb", "a b", false),
            ("a \nb", "a\nb", false),
            ("a", "A", false),
        ] {
            assert_eq!(same_content(one, other), same, "{one:?} {other:?}");
        }
    }
}

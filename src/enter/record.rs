//! Which record a text is: the same one may come twice, as it was or in a later state.
//!
//! A page that writes an entry puts a comment line `# record: ID` into the front matter, with an id
//! made at random. The log keeps that line, and by it the record is known again.

/// Fewest and most letters and digits of a record's id.
const LENGTHS: std::ops::RangeInclusive<usize> = 16..=32;

/// The id in the line `# record: ID` of the front matter, if there is one.
///
/// ```
/// assert_eq!(garboard::enter::record_id("---\n# record: 0123456789abcdef\ndate: 2026-11-24\n---\n"), Some("0123456789abcdef"));
/// assert_eq!(garboard::enter::record_id("---\ndate: 2026-11-24\n---\n# record: 0123456789abcdef\n"), None);
/// ```
#[must_use]
pub fn record_id(text: &str) -> Option<&str> {
    let mut lines = text.strip_prefix('\u{feff}').unwrap_or(text).lines();
    if lines.next()?.trim_end() != "---" {
        return None;
    }
    lines.take_while(|line| line.trim_end() != "---").find_map(|line| {
        let id = line.strip_prefix("# record:")?.trim();
        let plain = id.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit());
        (plain && LENGTHS.contains(&id.len())).then_some(id)
    })
}

/// Whether two texts say the same: byte for byte, but for a byte-order mark, the kind of line ends
/// and what is blank at the very end, which programs on the way may change.
#[must_use]
pub fn same_content(one: &str, other: &str) -> bool {
    let lines = |text: &str| -> Vec<String> {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text).trim_end();
        text.split('\n').map(|line| line.strip_suffix('\r').unwrap_or(line).to_owned()).collect()
    };
    lines(one) == lines(other)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(line: &str, id: Option<&str>) {
        assert_eq!(record_id(&format!("---\njobs: [oil]\n{line}\ndate: 2026-03-14\n---\nnotes\n")), id, "for {line:?}");
    }

    #[test]
    fn a_record_is_known_by_its_line() {
        case("# record: 0123456789abcdef", Some("0123456789abcdef"));
        case("# record:0123456789abcdef  ", Some("0123456789abcdef"));
        case("# record: abcdefghijklmnopqrstuvwxyz234567", Some("abcdefghijklmnopqrstuvwxyz234567"));
        case("# record: 0123456789abcdef\r", Some("0123456789abcdef"));
        case("# record: 0123456789abcde", None);
        case("# record: 0123456789abcdef0123456789abcdef0", None);
        case("# record: 0123456789ABCDEF", None);
        case("# record: ../../../../etc/x", None);
        case("# record:", None);
        case("  # record: 0123456789abcdef", None);
        case("work: ['# record: 0123456789abcdef']", None);
        assert_eq!(record_id(""), None);
        assert_eq!(record_id("# record: 0123456789abcdef"), None);
        assert_eq!(record_id("\u{feff}---\r\n# record: 0123456789abcdef\r\n---\r\n"), Some("0123456789abcdef"));
    }

    #[test]
    fn what_programs_on_the_way_change_makes_no_other_content() {
        for (one, other, same) in [
            ("a\nb\n", "a\r\nb\r\n", true),
            ("a\n", "\u{feff}a\n", true),
            ("a\n", "a", true),
            ("a\n\n", "a\n", true),
            ("a\nb", "a b", false),
            ("a \nb", "a\nb", false),
            ("a", "A", false),
        ] {
            assert_eq!(same_content(one, other), same, "{one:?} {other:?}");
        }
    }
}

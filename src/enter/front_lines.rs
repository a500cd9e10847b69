//! The lines of a front matter, for what comments in it say: the record or the row that an entry was made of.

/// The lines between the two `---`; none where there is no front matter. One that is never closed goes to the end.
pub fn front_lines(text: &str) -> impl Iterator<Item = &str> {
    let mut lines = text.strip_prefix('\u{feff}').unwrap_or(text).lines();
    let opened = lines.next().is_some_and(is_fence);
    lines.take_while(move |line| opened && !is_fence(line))
}

fn is_fence(line: &str) -> bool {
    line.trim_end() == "---"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_stands_between_the_fences() {
        for (text, expected) in [
            ("---\na: 1\n# b\n---\nc\n---\nd\n", &["a: 1", "# b"][..]),
            ("\u{feff}---\r\na: 1\r\n---  \r\n", &["a: 1"]),
            ("---\na: 1\n", &["a: 1"]),
            ("a: 1\n---\nb: 2\n---\n", &[]),
            ("", &[]),
        ] {
            assert_eq!(front_lines(text).collect::<Vec<_>>(), expected, "{text:?}");
        }
    }
}

//! Numbers of a spreadsheet: with decimal points or commas, and marks between thousands.

use super::CsvProblem;

/// What stands before the decimals.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DecimalMark {
    Point,
    Comma,
}

impl DecimalMark {
    fn letter(self) -> char {
        match self {
            Self::Point => '.',
            Self::Comma => ',',
        }
    }

    fn other(self) -> Self {
        match self {
            Self::Point => Self::Comma,
            Self::Comma => Self::Point,
        }
    }

    /// The mark that these numbers show beyond doubt, where they agree.
    #[must_use]
    pub fn shown_by<'t>(numbers: impl Iterator<Item = &'t str>) -> Option<Self> {
        let mut marks = numbers.filter_map(|written| shape(&compact(written)).and_then(|shape| shape.mark()));
        let first = marks.next()?;
        marks.all(|mark| mark == first).then_some(first)
    }
}

/// What a number shows of its marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Shape {
    Whole,
    /// This mark stands before decimals, the other, if any, between thousands.
    Decimals(DecimalMark),
    /// This mark stands between thousands.
    Thousands(DecimalMark),
    /// `1,240`: either.
    Either(DecimalMark),
}

impl Shape {
    fn mark(self) -> Option<DecimalMark> {
        match self {
            Self::Decimals(mark) => Some(mark),
            Self::Thousands(mark) => Some(mark.other()),
            Self::Whole | Self::Either(_) => None,
        }
    }
}

/// Reads a number into how the book writes it: digits, a point, digits. `said` is the mark of the
/// file, where the crew or its other numbers tell it.
///
/// # Errors
/// No number, or one that can be two.
pub fn read_number(written: &str, said: Option<DecimalMark>) -> Result<String, CsvProblem> {
    let text = compact(written);
    let no_number = || CsvProblem::new(format!("`{written}` is not a number"), "write digits, and a mark before the decimals: `1840.5`");
    let shape = shape(&text).ok_or_else(no_number)?;
    let mark = match (shape, said) {
        (Shape::Whole, _) => DecimalMark::Point,
        (Shape::Decimals(mark), None) => mark,
        (Shape::Thousands(mark), None) => mark.other(),
        (Shape::Either(mark), None) => {
            let (whole, rest) = text.split_once(mark.letter()).ok_or_else(no_number)?;
            return Err(CsvProblem::new(
                format!("`{written}` can be {whole}{rest} or {whole}.{rest}"),
                "say `--decimal point` or `--decimal comma`",
            ));
        }
        (_, Some(mark)) => mark,
    };
    let between = mark.other().letter();
    let (whole, decimals) = text.split_once(mark.letter()).map_or((text.as_str(), ""), |(whole, decimals)| (whole, decimals));
    if !grouped(whole, between) || !decimals.bytes().all(|byte| byte.is_ascii_digit()) {
        return Err(CsvProblem::new(
            format!(
                "`{written}` is not a number, where a {} stands before the decimals",
                if mark == DecimalMark::Point { "point" } else { "comma" }
            ),
            "write digits, and one mark before the decimals",
        ));
    }
    let whole = whole.replace(between, "");
    Ok(if decimals.is_empty() { whole } else { format!("{whole}.{decimals}") })
}

/// Without the blanks and apostrophes that stand between thousands.
fn compact(written: &str) -> String {
    written.trim().chars().filter(|letter| !matches!(letter, ' ' | '\u{a0}' | '\u{202f}' | '\u{2009}' | '\'' | '’')).collect()
}

fn shape(text: &str) -> Option<Shape> {
    let plain = text.chars().all(|letter| letter.is_ascii_digit() || matches!(letter, '.' | ','));
    if !plain || !text.starts_with(|first: char| first.is_ascii_digit()) || !text.ends_with(|last: char| last.is_ascii_digit()) {
        return None;
    }
    let count = |mark: DecimalMark| text.matches(mark.letter()).count();
    let one = |mark: DecimalMark| {
        let (whole, rest) = text.split_once(mark.letter()).unwrap_or((text, ""));
        let either = rest.len() == 3 && (1..=3).contains(&whole.len()) && !whole.starts_with('0');
        if either { Shape::Either(mark) } else { Shape::Decimals(mark) }
    };
    match (count(DecimalMark::Point), count(DecimalMark::Comma)) {
        (0, 0) => Some(Shape::Whole),
        (1, 0) => Some(one(DecimalMark::Point)),
        (0, 1) => Some(one(DecimalMark::Comma)),
        (_, 0) => Some(Shape::Thousands(DecimalMark::Point)),
        (0, _) => Some(Shape::Thousands(DecimalMark::Comma)),
        // The last of two kinds stands before the decimals.
        _ => Some(Shape::Decimals(if text.rfind('.') > text.rfind(',') { DecimalMark::Point } else { DecimalMark::Comma })),
    }
}

/// Digits, perhaps with a mark before every three of them.
fn grouped(whole: &str, between: char) -> bool {
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    let mut parts = whole.split(between);
    let first = parts.next().unwrap_or_default();
    let rest: Vec<&str> = parts.collect();
    digits(first) && (rest.is_empty() || first.len() <= 3) && rest.iter().all(|part| digits(part) && part.len() == 3)
}

#[cfg(test)]
mod tests {
    use super::*;
    use DecimalMark::{Comma, Point};

    #[track_caller]
    fn case(written: &str, said: Option<DecimalMark>, expected: &str) {
        assert_eq!(read_number(written, said).map_err(|problem| problem.message).as_deref(), Ok(expected), "for {written:?}");
    }

    #[test]
    fn numbers_are_read_as_written() {
        case("1840.5", None, "1840.5");
        case("1840,5", None, "1840.5");
        case("1.840,5", None, "1840.5");
        case("1,840.5", None, "1840.5");
        case("1 840,5", None, "1840.5");
        case("1'840.5", None, "1840.5");
        case("12,034,567", None, "12034567");
        // Four digits before a mark: it does not stand between thousands.
        case("1840.500", None, "1840.500");
        case("0,125", None, "0.125");
        case("1,240", Some(Point), "1240");
        case("1,240", Some(Comma), "1.240");
        case("1.240", Some(Comma), "1240");
        case("12034", Some(Comma), "12034");
    }

    #[test]
    fn what_can_be_two_numbers_is_asked_about() {
        for written in ["1,240", "1.240", "12,034"] {
            assert!(read_number(written, None).expect_err("two").remedy.contains("--decimal"), "{written}");
        }
        for (written, said) in [("1840,5", Some(Point)), ("12x", None), ("", None), ("-5", None), ("1.2.3,4.5", None), ("1,84,5.0", None)] {
            assert!(read_number(written, said).is_err(), "{written}");
        }
    }

    #[test]
    fn other_numbers_of_the_file_tell_the_mark() {
        assert_eq!(DecimalMark::shown_by(["1.240", "1840,5"].into_iter()), Some(Comma));
        assert_eq!(DecimalMark::shown_by(["1,240", "12,034,567"].into_iter()), Some(Point));
        assert_eq!(DecimalMark::shown_by(["1.5", "1,5"].into_iter()), None);
        assert_eq!(DecimalMark::shown_by(["1,240", "7"].into_iter()), None);
    }
}

//! Cells as values of an entry: meters, times, money, and who did it.

use super::CsvProblem;
use super::columns::is_code;
use super::numbers::{DecimalMark, read_number};
use super::units::{pairs, unit_of};
use crate::quantity::{Duration, Unit};

/// Words that say which sort of hand did it, in English and German.
const HANDS: &[(&str, &[&str])] = &[
    ("owner", &["owner", "self", "own", "me", "us", "crew", "eigner", "selbst", "selber", "eigenleistung"]),
    ("yard", &["yard", "boatyard", "werft"]),
    ("licensed", &["licensed", "fachbetrieb", "zugelassen"]),
];

/// A number without its unit: what stands before the first letter, and the letters.
fn split(written: &str) -> (&str, &str) {
    let at = written.find(|letter: char| letter.is_alphabetic() || letter == '€').unwrap_or(written.len());
    let (number, unit) = written.split_at(at);
    (number.trim(), unit.trim().trim_end_matches('.'))
}

/// The number of a cell as the crew wrote it, for telling the decimal mark of the file.
#[must_use]
pub fn number_in(written: &str) -> &str {
    let bare = without_about(written).1;
    let from = bare.find(|letter: char| letter.is_ascii_digit()).unwrap_or(bare.len());
    split(bare.get(from..).unwrap_or_default()).0
}

/// `~1200` and `ca. 1200` are about.
fn without_about(written: &str) -> (bool, &str) {
    let text = written.trim();
    match ["~", "ca.", "ca ", "approx.", "about "].iter().find_map(|word| text.strip_prefix(word)) {
        Some(rest) => (true, rest.trim()),
        None => (false, text),
    }
}

/// Reads what a meter showed: `1840.5`, `~1200`.
///
/// # Errors
/// No number, or another unit than that of the meter.
pub fn meter(written: &str, unit: Unit, mark: Option<DecimalMark>) -> Result<String, CsvProblem> {
    let (about, text) = without_about(written);
    let (number, said) = split(text);
    if !(said.is_empty() || said == unit.symbol() || unit_of(said) == Some(unit)) {
        return Err(CsvProblem::new(
            format!("`{written}` is not in {}, which this meter counts", unit.symbol()),
            format!("write what the meter showed in {}", unit.symbol()),
        ));
    }
    Ok(format!("{}{}", if about { "~" } else { "" }, read_number(number, mark)?))
}

/// Reads how long it took: `2 h 40 min`, `2:40`, or a bare number in the unit of its column.
///
/// # Errors
/// No time, or a bare number whose unit nobody knows; `column` is its name.
pub fn time(written: &str, unit: Option<&str>, mark: Option<DecimalMark>, column: &str) -> Result<String, CsvProblem> {
    let text = written.trim();
    let written_out = if let Some((hours, minutes)) = text.split_once(':') {
        let digits = |part: &str, most: usize| (1..=most).contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_digit());
        let minutes = minutes.strip_suffix(":00").unwrap_or(minutes);
        if !digits(hours, 4) || !digits(minutes, 2) || minutes.parse().is_ok_and(|minutes: u32| minutes > 59) {
            return Err(CsvProblem::new(format!("`{written}` is not a time"), "write hours and minutes: `2 h 40 min`"));
        }
        format!("{} h {} min", hours.parse::<u32>().unwrap_or(0), minutes.parse::<u32>().unwrap_or(0))
    } else if split(text).1.is_empty() {
        let number = read_number(text, mark)?;
        let Some(unit) = unit else {
            return Err(CsvProblem::new(
                format!("`{written}` does not say whether hours or minutes are meant"),
                format!("say it for the whole column: `--column \"{column}=time:h\"`, or `time:min`"),
            ));
        };
        format!("{number} {unit}")
    } else {
        let piece = |(number, word): (&str, &str)| {
            let unit = unit_of(word).map_or_else(|| word.to_lowercase(), |unit| unit.symbol().to_owned());
            Ok(format!("{} {unit}", read_number(number, mark)?))
        };
        pairs(text).into_iter().map(piece).collect::<Result<Vec<_>, CsvProblem>>()?.join(" ")
    };
    match Duration::parse(&written_out) {
        Ok(_) => Ok(written_out),
        Err(problem) => Err(CsvProblem::new(format!("`{written}` is not a time: {problem}"), problem.remedy())),
    }
}

/// Reads what it cost: `18.50 EUR`, `18,50 €`, or a bare number in the currency of its column.
///
/// # Errors
/// No money, or a number whose currency nobody knows; `column` is its name.
pub fn cost(written: &str, code: Option<&str>, mark: Option<DecimalMark>, column: &str) -> Result<String, CsvProblem> {
    let text = written.trim();
    let first = text.trim_start_matches(|letter: char| !letter.is_ascii_digit());
    let before = text.get(..text.len() - first.len()).unwrap_or_default().trim();
    let (number, after) = split(first);
    let said = match (before, after) {
        ("", "") => None,
        ("", said) | (said, "") => Some(said),
        _ => return Err(CsvProblem::new(format!("`{written}` is not a sum of money"), "write `18.50 EUR`")),
    };
    let said = match said {
        Some("€") => Some("EUR"),
        other => other,
    };
    let Some(code) = said.or(code).filter(|code| is_code(code)) else {
        return Err(CsvProblem::new(
            format!("`{written}` does not say its currency"),
            format!("say it for the whole column, with its three capitals: `--column \"{column}=cost:EUR\"`"),
        ));
    };
    let sum = format!("{} {code}", read_number(number, mark)?);
    match crate::quantity::Money::parse(&sum) {
        Ok(_) => Ok(sum),
        Err(problem) => Err(CsvProblem::new(format!("`{written}` is not a sum of money: {problem}"), problem.remedy())),
    }
}

/// The sort of hand that a word means; `None`: it is a name.
#[must_use]
pub fn hand(written: &str) -> Option<&'static str> {
    let word = written.trim().to_lowercase();
    HANDS.iter().find(|(_, words)| words.contains(&word.as_str())).map(|(hand, _)| *hand)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn message(result: Result<String, CsvProblem>) -> Result<String, String> {
        result.map_err(|problem| format!("{}; {}", problem.message, problem.remedy))
    }

    #[test]
    fn meters() {
        for (written, expected) in
            [("1840.5", "1840.5"), ("1.840,5 h", "1840.5"), ("~1200", "~1200"), ("ca. 1200 Std.", "~1200"), ("1840 hrs", "1840")]
        {
            assert_eq!(message(meter(written, Unit::Hour, None)).as_deref(), Ok(expected), "{written}");
        }
        assert!(meter("12 km", Unit::NauticalMile, None).is_err());
        assert!(meter("n/a", Unit::Hour, None).is_err());
    }

    #[test]
    fn times() {
        for (written, unit, expected) in [
            ("2 h 40 min", None, "2 h 40 min"),
            ("2:40", None, "2 h 40 min"),
            ("02:05:00", None, "2 h 5 min"),
            ("1,5 Std.", None, "1.5 h"),
            ("90 min", None, "90 min"),
            ("1 hour", None, "1 h"),
            ("90 minutes", None, "90 min"),
            ("1 Stunde", None, "1 h"),
            ("2 Stunden", None, "2 h"),
            ("1 Std. 30 Min.", None, "1 h 30 min"),
            ("1 hour 5 mins", None, "1 h 5 min"),
            ("2h40min", None, "2 h 40 min"),
            ("3 Tage", None, "3 days"),
            ("90 s", None, "90 s"),
            ("1.5", Some("h"), "1.5 h"),
            ("45", Some("min"), "45 min"),
        ] {
            assert_eq!(message(time(written, unit, None, "Time")).as_deref(), Ok(expected), "{written}");
        }
        for written in ["2", "a day", "2:75", "3 months", "1:2:3:4", "2 h 40", "1 mile", "40 min 2 h", "1 hour and a half"] {
            assert!(time(written, None, None, "Time").is_err(), "{written}");
        }
        assert!(time("2", None, None, "Time").expect_err("which").remedy.contains("\"Time=time:h\""));
    }

    #[test]
    fn money() {
        for (written, code, expected) in [
            ("18.50 EUR", None, "18.50 EUR"),
            ("€18.50", None, "18.50 EUR"),
            ("1.118,50 €", None, "1118.50 EUR"),
            ("18", Some("CHF"), "18 CHF"),
            ("USD 20", None, "20 USD"),
            ("0,00 €", None, "0.00 EUR"),
        ] {
            assert_eq!(message(cost(written, code, None, "Cost")).as_deref(), Ok(expected), "{written}");
        }
        // Many currencies are called by these signs.
        for written in ["$20", "£20", "20", "-5 EUR", "kr 20", "EUR"] {
            assert!(cost(written, None, None, "Cost").is_err(), "{written}");
        }
    }
}

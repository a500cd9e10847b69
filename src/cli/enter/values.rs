//! Single values as they are typed, by options and at prompts alike: read, checked, and spelled as
//! the format has them.

use crate::book::decode::entry::amount_of;
use crate::book::model::{Amount, Meter, ReadingSpec};
use crate::quantity::{Approximate, Duration, Money, Quantity, QuantityError};

/// What is wrong with a value, and how to mend it.
pub type Wrong = (String, String);

/// What a meter showed: `1840.5`, `~1840`.
pub fn meter(text: &str, meter: &Meter) -> Result<Approximate, Wrong> {
    let text = with_point(text)?;
    let bare = text.trim().trim_start_matches('~').trim().bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    let read = if bare { Approximate::parse(&text) } else { Approximate::parse_bare(&text, meter.unit) };
    read.map_err(|error| (error.to_string(), error.remedy()))
}

/// A meter's value as an entry spells it.
pub fn meter_text(value: &Approximate) -> String {
    format!("{}{}", if value.about { "~" } else { "" }, value.number.written())
}

/// A number of pieces, or so much of something.
pub fn amount(text: &str) -> Result<Amount, Wrong> {
    amount_of(with_point(text)?.trim())
}

/// A reading in the unit of its guide, which may be left out, or in another that fits.
pub fn reading(text: &str, spec: &ReadingSpec) -> Result<Quantity, Wrong> {
    let text = with_point(text)?;
    let read = match Quantity::parse_in(&text, spec.unit.dimension()) {
        Err(QuantityError::MissingUnit { .. }) => Quantity::parse_bare(&text, spec.unit),
        other => other,
    };
    read.map_err(|error| (error.to_string(), error.remedy()))
}

/// How long it took.
pub fn time(text: &str) -> Result<Duration, Wrong> {
    Duration::parse(&with_point(text)?).map_err(|error| (error.to_string(), error.remedy()))
}

/// A sum of money, as written.
pub fn money(text: &str) -> Result<String, Wrong> {
    let text = with_point(text)?;
    Money::parse(&text).map(|_| text.trim().to_owned()).map_err(|error| (error.to_string(), error.remedy()))
}

/// A decimal comma made a point. Before three digits it may part thousands, and nobody can tell.
fn with_point(text: &str) -> Result<String, Wrong> {
    let letters: Vec<char> = text.chars().collect();
    let digits_after = |at: usize| letters.iter().skip(at + 1).take_while(|letter| letter.is_ascii_digit()).count();
    let mut told = String::with_capacity(text.len());
    for (at, letter) in letters.iter().enumerate() {
        let before = at.checked_sub(1).and_then(|at| letters.get(at)).is_some_and(char::is_ascii_digit);
        match (letter, digits_after(at)) {
            (',', 3) if before => {
                let one = format!("{}{}", told, letters.iter().skip(at + 1).collect::<String>());
                let message = format!("`{}` may be a fraction or thousands", text.trim());
                return Err((message, format!("write `{}`, or a decimal point", one.trim())));
            }
            (',', 1..) if before => told.push('.'),
            (letter, _) => told.push(*letter),
        }
    }
    Ok(told)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(text: &str, expected: Result<&str, &str>) {
        let found = with_point(text).map_err(|(message, _)| message);
        assert_eq!(found.as_deref().map_err(String::as_str), expected, "for {text:?}");
    }

    #[test]
    fn a_decimal_comma_is_a_point() {
        case("7,5 L", Ok("7.5 L"));
        case("1840,5", Ok("1840.5"));
        case("18,50 EUR", Ok("18.50 EUR"));
        case("3.8 bar", Ok("3.8 bar"));
        case("a, b", Ok("a, b"));
        case("1,840", Err("`1,840` may be a fraction or thousands"));
    }
}

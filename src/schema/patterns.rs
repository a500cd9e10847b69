//! How single values are spelled, as patterns (ECMA-262) for the schemas.
//!
//! They hold what a glance at the text tells: a number in front, the digits of a date. Everything finer
//! (which units fit, which days a month has) is the decoder's.

/// A digit, or a fraction of one character.
const DIGIT: &str = "[0-9½¼¾⅛⅜⅝⅞⅓⅔]";
const MONTH: &str = "(0[1-9]|1[0-2])";
const DAY_OF_MONTH: &str = "(0[1-9]|[12][0-9]|3[01])";

/// Something besides white space.
pub(super) const WORDS: &str = r"\S";
/// Lower-case letters and digits, joined by single hyphens.
pub(super) const ID: &str = r"^\s*[a-z0-9]+(-[a-z0-9]+)*\s*$";
pub(super) const FLAG: &str = r"^\s*(true|false)\s*$";
pub(super) const YEAR: &str = r"^\s*~?\s*(1[89]|2[0-9])[0-9]{2}\s*$";
pub(super) const COUNT: &str = r"^\s*0*[1-9][0-9]*(\.0+)?\s*$";
/// A guide's id, perhaps with `/` and gear.
pub(super) const JOB: &str = r"^\s*[^/\s][^/]*(/\s*[^/\s][^/]*)?$";
/// An entry's id, `/` and a number.
pub(super) const FINDING: &str = r"^\s*\S.*/0*[1-9][0-9]*\s*$";
pub(super) const LANGUAGE: &str = r"^\s*[a-z]{2,3}(-[A-Za-z0-9]{2,8})*\s*$";
pub(super) const WEB_ADDRESS: &str = r"^\s*https?://[A-Za-z0-9\[][^\s?#]*$";

/// `2026-03-14`.
pub(super) fn day() -> String {
    format!(r"^\s*[0-9]{{4}}-{MONTH}-{DAY_OF_MONTH}\s*$")
}

/// `2026-03-14`, `~2021-05`, `~1998`.
pub(super) fn log_day() -> String {
    format!(r"^\s*([0-9]{{4}}-{MONTH}-{DAY_OF_MONTH}|~\s*[0-9]{{4}}(-{MONTH}(-{DAY_OF_MONTH})?)?)\s*$")
}

/// `2029-05` or a day.
pub(super) fn month_or_day() -> String {
    format!(r"^\s*[0-9]{{4}}-{MONTH}(-{DAY_OF_MONTH})?\s*$")
}

/// A month, a day, or a word: what begins with no digit.
pub(super) fn month_or_occasion() -> String {
    format!(r"^\s*([0-9]{{4}}-{MONTH}(-{DAY_OF_MONTH})?\s*$|[^0-9\s])")
}

/// A number below zero perhaps, then a unit.
pub(super) fn measure() -> String {
    format!(r"^\s*[-−]?\s*{DIGIT}[^,]*[^0-9.,/\s]")
}

/// A number, a fraction or a number with its unit; never below zero.
pub(super) fn amount() -> String {
    format!(r"^\s*{DIGIT}[^,]*$")
}

/// As [`amount`], perhaps about.
pub(super) fn about() -> String {
    format!(r"^\s*~?\s*{DIGIT}[^,]*$")
}

/// A digit somewhere and a unit behind it.
pub(super) fn figure() -> String {
    format!(r"{DIGIT}.*[^0-9.,/\s]")
}

/// A digit somewhere: `..5`.
pub(super) fn limits() -> String {
    DIGIT.to_owned()
}

/// A number and three capitals.
pub(super) fn money() -> String {
    format!(r"^\s*{DIGIT}[^,]*[A-Z]{{3}}\s*$")
}

/// A number and the sign of hundredths.
pub(super) fn share() -> String {
    format!(r"^\s*{DIGIT}[^,]*%\s*$")
}

//! Reading a fastener as the trade writes it.
//!
//! First the thread, then what is left over must be its strength. Marks that hands and catalogues
//! put between (`×`, `class`, `"`, tolerance classes) are let pass.

use super::Exact;
use super::fastener::{Fastener, Thread};
use super::fastener_error::FastenerError;
use super::fastener_strength::{GRADES, STAINLESS, STEEL, Strength};
use super::number::Number;

/// Coarse pitches in hundredths of a millimetre, by the size in tenths of a millimetre (ISO 261).
const COARSE: [(i128, i128); 38] = [
    (10, 25),
    (12, 25),
    (14, 30),
    (16, 35),
    (18, 35),
    (20, 40),
    (22, 45),
    (25, 45),
    (30, 50),
    (35, 60),
    (40, 70),
    (45, 75),
    (50, 80),
    (60, 100),
    (70, 100),
    (80, 125),
    (90, 125),
    (100, 150),
    (110, 150),
    (120, 175),
    (140, 200),
    (160, 200),
    (180, 250),
    (200, 250),
    (220, 250),
    (240, 300),
    (270, 300),
    (300, 350),
    (330, 350),
    (360, 400),
    (390, 400),
    (420, 450),
    (450, 450),
    (480, 500),
    (520, 500),
    (560, 550),
    (600, 550),
    (640, 600),
];

/// Screws by number are 0.060 in and 0.013 in a number thick (ASME B1.1); with their sign they go up to 14.
const MOST_NUMBER: i128 = 14;
/// Largest number that is taken for one without its sign: the last of the tables of ASME B1.1.
const MOST_BARE_NUMBER: i128 = 12;
/// The coarsest thread of those tables, 10-24 and 12-24, in threads an inch.
const THREADS_BY_NUMBER: i128 = 24;
/// Every thread of those tables has more turns than this on a length as long as its screw is thick: 6-32, the fewest, has 4.4.
const TURNS_BY_NUMBER: i128 = 4;

/// Reads tidied text.
pub(super) fn read(text: &str) -> Result<Fastener, FastenerError> {
    if let Some(error) = decimal_comma(text) {
        return Err(error);
    }
    // A letter for a letter, so that what is left over can be found in what the crew wrote.
    let plain: String = text.chars().map(|letter| plain_sign(letter.to_ascii_lowercase())).collect();
    let own = Own { text, plain: &plain };
    let read = match plain.strip_prefix('m') {
        Some(rest) => metric(rest.trim_start(), &own),
        None => inch(&own),
    };
    let (thread, strength) = read.map_err(|error| error.unwrap_or_else(|| FastenerError::Unreadable { written: text.to_owned() }))?;
    Ok(Fastener { thread, strength, written: text.to_owned() })
}

/// What the crew wrote, beside the plain letters that are read.
struct Own<'t> {
    text: &'t str,
    plain: &'t str,
}

impl<'t> Own<'t> {
    /// Splits what was written before the last plain letters. `None`: they are not its last, for
    /// something between them was left out.
    fn split(&self, last: &str) -> Option<(&'t str, &'t str)> {
        let before = self.plain.strip_suffix(last)?;
        let at = self.text.char_indices().nth(before.chars().count()).map_or(self.text.len(), |(at, _)| at);
        self.text.split_at_checked(at)
    }

    fn last(&self, last: &str) -> String {
        self.split(last).map_or(last, |(_, last)| last).to_owned()
    }

    fn before(&self, last: &str) -> Option<String> {
        self.split(last).map(|(before, _)| before.trim_end_matches(BETWEEN).to_owned())
    }
}

/// Marks between a thread and its strength.
const BETWEEN: [char; 3] = [' ', '-', ','];

fn plain_sign(letter: char) -> char {
    match letter {
        '×' | '*' => 'x',
        '‐' | '‑' | '–' | '—' => '-',
        '″' | '”' | '“' => '"',
        other => other,
    }
}

/// `M8 8,8`: taken for a comma between two things it would be read as something else.
fn decimal_comma(text: &str) -> Option<FastenerError> {
    let letters: Vec<char> = text.chars().collect();
    let comma = letters.windows(3).any(|three| matches!(three, [a, ',', b] if a.is_ascii_digit() && b.is_ascii_digit()));
    comma.then(|| FastenerError::Comma { written: text.to_owned(), better: text.replace(',', ".") })
}

/// A number at the start of text.
struct Leading<'t> {
    value: Exact,
    written: &'t str,
    /// What follows it, without the space between.
    rest: &'t str,
}

fn leading_number(text: &str) -> Option<Leading<'_>> {
    let end = text.find(|letter: char| !letter.is_ascii_digit() && letter != '.').unwrap_or(text.len());
    let (written, rest) = text.split_at(end);
    Some(Leading { value: Number::parse(written).ok()?.value(), written, rest: rest.trim_start() })
}

/// What follows the `M`. `Err(None)`: no thread at all.
fn metric(text: &str, own: &Own<'_>) -> Result<(Thread, Option<Strength>), Option<FastenerError>> {
    let size = leading_number(text).filter(|size| size.value >= whole(1) && size.value <= whole(200)).ok_or(None)?;
    let mut pitch = None;
    let mut rest = size.rest;
    while let Some(after) = rest.strip_prefix('x') {
        let number = leading_number(after.trim_start()).filter(|number| number.value > whole(0)).ok_or(None)?;
        // No thread is as coarse as a third of its size, and no fastener as short.
        if pitch.is_some() || number.value * whole(3) > size.value {
            let better = format!("{} {}", own.before(rest).unwrap_or_default(), own.last(number.rest.trim_start_matches(BETWEEN)));
            return Err(Some(FastenerError::Length { length: number.written.to_owned(), better: better.trim_end().to_owned() }));
        }
        rest = number.rest;
        pitch = Some(number.value);
    }
    let pitch = pitch
        .or_else(|| coarse_pitch(&size.value))
        .ok_or_else(|| Some(FastenerError::NoPitch { size: own.before(rest).unwrap_or_default() }))?;
    let after = rest.trim_start_matches(BETWEEN);
    let strength = without_tolerance(after);
    let found = metric_strength(strength).ok_or_else(|| {
        Some(FastenerError::Strength { strength: own.last(strength), thread: own.before(strength).unwrap_or_default(), metric: true })
    })?;
    Ok((Thread::Metric { diameter: size.value, pitch }, found))
}

/// What follows a metric thread, without its tolerance: `6g`, `5g6g`, `6H/6g` (ISO 965-1).
fn without_tolerance(text: &str) -> &str {
    let Some(rest) = after_class(text) else { return text };
    let rest = rest.strip_prefix('/').and_then(after_class).unwrap_or(rest);
    let rest = if rest.is_empty() || rest.starts_with(BETWEEN) { rest } else { text };
    rest.trim_start_matches(BETWEEN)
}

/// What follows a tolerance class: a grade and a position for the pitch, and perhaps others for the
/// other diameter.
fn after_class(text: &str) -> Option<&str> {
    let rest = after_grade(text)?;
    Some(after_grade(rest).unwrap_or(rest))
}

fn after_grade(text: &str) -> Option<&str> {
    text.strip_prefix(|grade| ('3'..='9').contains(&grade))?.strip_prefix(|place| ('a'..='h').contains(&place))
}

fn whole(number: i128) -> Exact {
    Exact::from_integer(number)
}

fn coarse_pitch(diameter: &Exact) -> Option<Exact> {
    COARSE.iter().find(|(size, _)| Exact::new(*size, 10) == *diameter).map(|(_, pitch)| Exact::new(*pitch, 100))
}

/// What follows a metric thread: nothing, a class, or the kind of stainless steel alone. `None`: it
/// is none of these.
fn metric_strength(text: &str) -> Option<Option<Strength>> {
    let text = text.trim_matches(['(', ')', ' ']);
    let text = ["class", "cl.", "cl", "grade"].iter().find_map(|word| text.strip_prefix(word)).unwrap_or(text).trim_start();
    if text.is_empty() {
        return Some(None);
    }
    if let Some((_, strength)) = STEEL.iter().find(|(class, _)| *class == text) {
        return Some(Some(*strength));
    }
    let rest = text.strip_prefix('a')?;
    let mut letters = rest.chars();
    let kind = letters.next().filter(|kind| ('1'..='5').contains(kind))?;
    let class = letters.as_str().trim_start_matches(['-', '/', ' ']);
    if class.is_empty() {
        return Some(None);
    }
    let (_, strength) = STAINLESS.iter().find(|(name, _)| *name == class)?;
    Some(Some(if matches!(kind, '2' | '4') { *strength } else { Strength::Untabled }))
}

/// An inch thread. `Err(None)`: not one at all.
fn inch(own: &Own<'_>) -> Result<(Thread, Option<Strength>), Option<FastenerError>> {
    let text = own.plain.replace(['"', '\''], "").replace("inch", "").replace(" in-", "-").replace(" in ", " ");
    let text = text.trim();
    let (by_number, text) = match ["#", "no.", "no "].iter().find_map(|sign| text.strip_prefix(sign)) {
        Some(rest) => (true, rest.trim_start()),
        None => (false, text),
    };
    let end = text.find(|letter: char| !(letter.is_ascii_digit() || "./- ".contains(letter))).unwrap_or(text.len());
    let (sizes, rest) = text.split_at(end);
    let (size, threads) = sizes.trim().trim_end_matches('-').rsplit_once('-').ok_or_else(|| {
        let size = sizes.trim();
        let named = !size.is_empty() && (size.contains('/') || rest.starts_with("un"));
        named.then(|| FastenerError::NoThreads { written: own.text.to_owned() })
    })?;
    let (size, threads) = (size.trim(), threads.trim());
    let number = |text: &str| Number::parse(text).ok().map(|number| number.value());
    let per_inch = number(threads).filter(|threads| *threads >= whole(2) && *threads <= whole(100)).ok_or(None)?;
    // `1-1/8` is one and an eighth.
    let size = number(&size.replace('-', " ")).ok_or(None)?;
    let by_number_thick = Exact::new(60, 1000) + size * Exact::new(13, 1000);
    let is_number = by_number
        || (size.is_integer()
            && size <= whole(MOST_BARE_NUMBER)
            && per_inch >= whole(THREADS_BY_NUMBER)
            && by_number_thick * per_inch > whole(TURNS_BY_NUMBER));
    if by_number && !(size.is_integer() && size <= whole(MOST_NUMBER)) {
        return Err(None);
    }
    let diameter = if is_number { by_number_thick } else { size };
    // A thread cannot be deeper than its bolt is thick.
    if diameter > whole(6) || diameter * per_inch <= whole(2) {
        return Err(None);
    }
    let rest = rest.trim();
    let strength = inch_strength(rest).ok_or_else(|| {
        Some(FastenerError::Strength {
            strength: own.last(without_series(rest)),
            thread: own.before(rest).unwrap_or_else(|| sizes.trim().to_owned()),
            metric: false,
        })
    })?;
    Ok((Thread::Inch { diameter, threads: per_inch }, strength))
}

/// What follows an inch thread, without the name of its series and its tolerance: `UNC-2A`.
fn without_series(text: &str) -> &str {
    let text = text.strip_prefix("tpi").unwrap_or(text).trim_start();
    let Some(rest) = ["unef", "unc", "unf", "uns", "un"].iter().find_map(|series| text.strip_prefix(series)) else { return text };
    let rest = rest.trim_start_matches([' ', '-', ',']);
    ["1a", "2a", "3a", "1b", "2b", "3b"]
        .iter()
        .find_map(|class| rest.strip_prefix(class))
        .unwrap_or(rest)
        .trim_start_matches([' ', '-', ','])
}

fn inch_strength(text: &str) -> Option<Option<Strength>> {
    let text = without_series(text).trim_matches(['(', ')', ' ']);
    if text.is_empty() {
        return Some(None);
    }
    let mut grade = text;
    for word in ["sae", "j429", "grade", "gr.", "gr"] {
        grade = grade.strip_prefix(word).unwrap_or(grade).trim_start();
    }
    // A bare number could be anything.
    if grade == text {
        return None;
    }
    GRADES.iter().find(|(name, _)| *name == grade).map(|(_, strength)| Some(*strength))
}

//! Exact minutes as people read them: a length of time, or a place on a clock that starts with the job.

use super::{Duration, Exact, plain_decimal};

/// Minutes in a day.
const DAY: i128 = 24 * 60;
/// From so many days on the clock counts days.
const DAYS_FROM: i128 = 2;

/// `1 h 45 min`, rounded to a minute.
#[must_use]
pub fn minutes_text(minutes: &Exact) -> String {
    let seconds = i64::try_from(minutes.round().to_integer()).ok().and_then(|minutes| minutes.checked_mul(60));
    seconds.and_then(Duration::from_seconds).map_or_else(|| format!("{} min", plain_decimal(minutes, 0)), |time| time.to_string())
}

/// `1:05`, hours and minutes from the start, and from two days on `2 d 1:05`; rounded to a minute.
/// `say_days` puts a number of days into words.
#[must_use]
pub fn clock_text(minutes: &Exact, say_days: impl FnOnce(&str) -> String) -> String {
    let minutes = minutes.round().to_integer();
    if minutes < DAYS_FROM * DAY {
        return format!("{}:{:02}", minutes / 60, minutes % 60);
    }
    let (days, rest) = (minutes / DAY, minutes % DAY);
    format!("{} {}:{:02}", say_days(&days.to_string()), rest / 60, rest % 60)
}

#[cfg(test)]
mod tests {
    use super::{clock_text, minutes_text};
    use crate::quantity::Exact;

    #[track_caller]
    fn case(minutes: (i128, i128), time: &str, clock: &str) {
        let minutes = Exact::new(minutes.0, minutes.1);
        assert_eq!((minutes_text(&minutes).as_str(), clock_text(&minutes, |n| format!("{n} d")).as_str()), (time, clock));
    }

    #[test]
    fn to_the_minute_and_from_two_days_on_with_days() {
        case((0, 1), "0 min", "0:00");
        case((65, 1), "1 h 5 min", "1:05");
        case((196, 3), "1 h 5 min", "1:05");
        case((2 * 1440 - 1, 1), "47 h 59 min", "47:59");
        // A length of time is told in days from 48 hours on too.
        case((2 * 1440, 1), "2 days", "2 d 0:00");
        case((20 * 1440 + 5, 1), "20 days 5 min", "20 d 0:05");
    }

    #[test]
    fn what_no_duration_holds_is_said_in_minutes() {
        assert_eq!(minutes_text(&Exact::from_integer(i128::from(i64::MAX))), "9223372036854775807 min");
    }
}

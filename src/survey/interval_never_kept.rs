//! An interval that the log shows was never kept.
//!
//! Each rule of a job is judged by itself: of `{engine: 200 h, calendar: 12 months}` a boat that
//! motors little never sees the hours, and that is well. A rule is told only where every stretch
//! between two records, three at least, went clearly beyond it.

use super::{Check, Context, Rule};
use crate::book::diagnostic::{Diagnostic, Notes};
use crate::book::model::{Rule as Interval, RuleBy};
use crate::quantity::{Exact, plain_decimal};
use crate::reckon::{JobState, MeterState, Reckoning};
use jiff::civil::Date;

const ID: &str = "interval-never-kept";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "A job that is always overdue teaches the crew to pass over what is due. Either the interval is right, and the job needs \
          another habit; or experience has shown a longer one, which the maker's instructions allow.",
    check: Check::Book(check),
};

/// Fewest stretches that show a habit.
const AT_LEAST: usize = 3;

fn check(context: &Context<'_>) -> Vec<Diagnostic> {
    let reckoning = context.reckoning;
    let mut found = Vec::new();
    for guide in context.book.guides.iter().filter(|guide| !guide.routine) {
        let jobs: Vec<(&JobState<'_>, Vec<(Date, Date)>)> = reckoning
            .jobs_of(&guide.id)
            .iter()
            .map(|job| (job, reckoning.stretches(job)))
            .filter(|(_, all)| all.len() >= AT_LEAST)
            .collect();
        let mut notes = Notes::new(&guide.source);
        for rule in &guide.every {
            let late = jobs.iter().filter_map(|(job, stretches)| shortest_late(reckoning, job, rule, stretches).map(|late| (*job, late)));
            tell(&mut notes, rule, &late.collect::<Vec<_>>());
        }
        found.append(&mut notes.found);
    }
    found
}

fn tell(notes: &mut Notes<'_>, rule: &Interval, late: &[(&JobState<'_>, Late)]) {
    let Some((_, first)) = late.first() else { return };
    let gear: Vec<String> = late.iter().filter_map(|(job, _)| job.gear).map(|gear| format!("`{}`", gear.id.value)).collect();
    let of = if gear.is_empty() { String::new() } else { format!(" for {}", gear.join(", ")) };
    let (times, shortest) = late
        .iter()
        .map(|(_, late)| late)
        .min_by_key(|late| late.times)
        .map_or((first.times, &first.shortest), |late| (late.times, &late.shortest));
    notes.advice(
        ID,
        rule.span,
        format!("this interval was never kept{of}: of {times} in the log the shortest was {shortest}"),
        "do it in time, or hold the interval against the maker's instructions and write the one you mean to keep",
    );
}

/// A rule that was never kept.
struct Late {
    times: usize,
    /// As it is told: `412 days`.
    shortest: String,
}

/// Whether every stretch went clearly beyond the rule, and the shortest of them.
fn shortest_late(reckoning: &Reckoning<'_>, job: &JobState<'_>, rule: &Interval, stretches: &[(Date, Date)]) -> Option<Late> {
    match &rule.by {
        RuleBy::Calendar(span) => {
            let beyond = |(from, to): &(Date, Date)| {
                let span = jiff::Span::new().try_months(span.months()).ok()?.try_days(span.days()).ok()?;
                let allowed = days(*from, from.checked_add(span).ok()?);
                let really = days(*from, *to);
                clearly_beyond(&whole(really), &whole(allowed)).then_some(really)
            };
            let lengths: Vec<i64> = stretches.iter().map(beyond).collect::<Option<_>>()?;
            let shortest = lengths.iter().min()?;
            Some(Late { times: lengths.len(), shortest: format!("{shortest} days") })
        }
        RuleBy::Meter { meter, interval } => by_meter(reckoning.meter(meter)?, interval, stretches),
        RuleBy::Own { interval } => by_meter(reckoning.meter(&job.gear?.meter.as_ref()?.value)?, interval, stretches),
    }
}

fn by_meter(meter: &MeterState<'_>, interval: &crate::quantity::Quantity, stretches: &[(Date, Date)]) -> Option<Late> {
    let unit = meter.meter.unit;
    let allowed = interval.in_unit(unit)?;
    let read = |day: Date| meter.value_on(day).filter(|value| !value.estimated).map(|value| value.value);
    // A stretch without readings at both ends tells nothing.
    let runs: Vec<Exact> =
        stretches.iter().filter_map(|(from, to)| num_traits::CheckedSub::checked_sub(&read(*to)?, &read(*from)?)).collect();
    let all_beyond = runs.len() >= AT_LEAST && runs.iter().all(|run| clearly_beyond(run, &allowed));
    let shortest = runs.iter().min().filter(|_| all_beyond)?;
    let shortest = format!("{} {}", plain_decimal(shortest, 1), unit.symbol());
    Some(Late { times: runs.len(), shortest })
}

/// By a quarter: a fortnight on two months, three months on a year.
fn clearly_beyond(really: &Exact, allowed: &Exact) -> bool {
    let most = num_traits::CheckedMul::checked_mul(allowed, &Exact::new(5, 4));
    most.is_some_and(|most| *really > most)
}

fn whole(value: i64) -> Exact {
    Exact::from_integer(i128::from(value))
}

fn days(from: Date, to: Date) -> i64 {
    i64::from((to - from).get_days())
}

#[cfg(test)]
mod tests {
    use super::ID;
    use crate::survey::small_book::{book, found, guide_text, places};

    /// A book with the job done on these days, `gear` behind the day, and these rows of `meters.csv`.
    #[track_caller]
    fn case(front: &str, done: &[&str], rows: &str, expected: &[&str]) -> Vec<String> {
        let mut files = vec![("guides/engine/job.md".to_owned(), guide_text(front, "## Work\n\n1. Do it.\n"))];
        for (number, line) in done.iter().enumerate() {
            let mut words = line.split(' ');
            let day = words.next().unwrap_or_default();
            let gear = words.next().map(|gear| format!("/{gear}")).unwrap_or_default();
            let more = words.next().map(|more| format!("fitted: [{{gear: {more}}}]\n")).unwrap_or_default();
            files.push((
                format!("log/2020/{}-{number}.md", day.trim_start_matches('~')),
                format!("---\njobs: [job{gear}]\ndate: {day}\n{more}---\n"),
            ));
        }
        files.push(("meters.csv".to_owned(), format!("date,meter,value,replaced\n{rows}")));
        let files: Vec<(&str, &str)> = files.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
        let found = found(ID, &book(&files));
        assert_eq!(places(&found), expected, "{front}: {done:?}");
        found.into_iter().map(|problem| problem.message).collect()
    }

    const YEAR: &str = "every: {calendar: 12 months}";

    #[test]
    fn three_stretches_all_clearly_longer_are_told() {
        // 2019-01-01 to 2020-06-01 is 365 + 152 = 517 days (2020 is a leap year), to 2021-10-01 another
        // 487, to 2023-01-15 another 471; a year and a quarter is 456.25, or 457.5 from a leap day on.
        let told = case(YEAR, &["2019-01-01", "2020-06-01", "2021-10-01", "2023-01-15"], "", &["3:9 calendar: 12 months"]);
        assert!(told[0].contains("of 3 in the log the shortest was 471 days"), "{told:?}");
    }

    #[test]
    fn one_that_was_kept_or_was_late_by_little_and_too_few_are_not() {
        case(YEAR, &["2019-01-01", "2020-06-01", "2021-10-01", "2022-10-01", "2024-05-01"], "", &[]);
        // 14 months each: late, but by a habit of the season.
        case(YEAR, &["2019-01-01", "2020-03-01", "2021-05-01", "2022-07-01"], "", &[]);
        case(YEAR, &["2019-01-01", "2020-06-01", "2021-10-01"], "", &[]);
        // A day only known about begins and ends nothing.
        case(YEAR, &["~2019-01-01", "2020-06-01", "2021-10-01", "2023-01-15"], "", &[]);
        case("routine: true\nevery: {calendar: 12 months}", &["2019-01-01", "2020-06-01", "2021-10-01", "2023-01-15"], "", &[]);
    }

    #[test]
    fn each_rule_is_judged_by_itself() {
        let rows = "2020-01-01,engine,0\n2020-04-01,engine,100\n2020-07-01,engine,200\n2020-10-01,engine,330\n";
        let done = ["2020-01-01", "2020-04-01", "2020-07-01", "2020-10-01"];
        // 100, 100 and 130 h against 50 h; a quarter of a year against a whole one.
        let told = case("every: {engine: 50 h, calendar: 12 months}", &done, rows, &["3:9 engine: 50 h"]);
        assert!(told[0].contains("of 3 in the log the shortest was 100 h"), "{told:?}");
        // 80 h and a quarter are 100 h: not beyond.
        case("every: {engine: 80 h}", &done, rows, &[]);
    }

    #[test]
    fn gear_is_told_by_name_and_a_new_piece_begins_anew() {
        let late = ["2019-01-01 port", "2020-06-01 port", "2021-10-01 port", "2023-01-15 port"];
        let told = case("every: {calendar: 12 months}\nfor: [port, starboard]", &late, "", &["3:9 calendar: 12 months"]);
        assert!(told[0].contains("for `port`:"), "{told:?}");
        let renewed = ["2019-01-01 port", "2020-06-01 port", "2021-10-01 port port", "2023-01-15 port"];
        case("every: {calendar: 12 months}\nfor: [port, starboard]", &renewed, "", &[]);
    }
}

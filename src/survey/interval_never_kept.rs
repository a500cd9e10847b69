//! An interval that the log shows was never kept.
//!
//! Each rule of a job is judged by itself: of `{engine: 200 h, calendar: 12 months}` a boat that
//! motors little never sees the hours, and that is well. A rule is told only where every stretch
//! between two records, three at least, went clearly beyond it.

use super::{Check, Context, Rule};
use crate::book::diagnostic::{Diagnostic, Notes};
use crate::book::model::Rule as Interval;
use crate::quantity::{Exact, plain_decimal};
use crate::reckon::{JobState, RuleSpans, Span};

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
        let jobs: Vec<(&JobState<'_>, Vec<RuleSpans<'_>>)> =
            reckoning.jobs_of(&guide.id).iter().map(|job| (job, reckoning.spans(job))).collect();
        let mut notes = Notes::new(&guide.source);
        for rule in &guide.every {
            let late = jobs.iter().filter_map(|(job, kept)| {
                let kept = kept.iter().find(|kept| kept.rule.span == rule.span)?;
                Some((*job, shortest_late(kept)?))
            });
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

/// Whether every stretch went clearly beyond the rule, and the shortest of them. One without readings at both ends
/// tells nothing.
fn shortest_late(kept: &RuleSpans<'_>) -> Option<Late> {
    let all_beyond = kept.spans.len() >= AT_LEAST && kept.spans.iter().all(is_clearly_beyond);
    let shortest = kept.spans.iter().map(|span| span.length).min().filter(|_| all_beyond)?;
    let unit = kept.meter.map_or("days", |meter| meter.unit.symbol());
    Some(Late { times: kept.spans.len(), shortest: format!("{} {unit}", plain_decimal(&shortest, 1)) })
}

/// By a quarter: a fortnight on two months, three months on a year.
fn is_clearly_beyond(span: &Span) -> bool {
    let most = span.allowed.and_then(|allowed| num_traits::CheckedMul::checked_mul(&allowed, &Exact::new(5, 4)));
    most.is_some_and(|most| span.length > most)
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

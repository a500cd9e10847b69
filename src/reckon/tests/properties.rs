//! What holds for any book: no panic, no date that moves the wrong way.

use jiff::civil::Date;
use proptest::prelude::*;

use crate::book::model::Book;
use crate::quantity::Exact;
use crate::reckon::days;
use crate::reckon::testing::{Writing, book, day, entry, gear, guide, item, passage};
use crate::reckon::{Course, Falls, MOST_DAYS, State, reckon};

/// Days from 2020 on with rising readings.
fn rising() -> impl Strategy<Value = Vec<(i64, u32)>> {
    prop::collection::vec((1_i64..200, 0_u32..500), 0..8).prop_map(|steps| {
        let mut sum = (0, 0);
        steps
            .into_iter()
            .map(|(days, run)| {
                sum = (sum.0 + days, sum.1 + run);
                sum
            })
            .collect()
    })
}

fn date(offset: i64) -> Date {
    days::later_by_days(day("2020-01-01"), offset).expect("a date")
}

fn with_readings(readings: &[(i64, u32)]) -> Book {
    readings.iter().fold(book(), |book, (offset, value)| book.row(&format!("{},engine,{value}", date(*offset))))
}

proptest! {
    #[test]
    fn a_shorter_interval_is_never_due_later(
        readings in rising(),
        done in 0_i64..1500,
        hours in (1_u32..2000, 1_u32..2000),
        months in (1_u32..100, 1_u32..100),
        on in 1500_i64..3000,
    ) {
        let due = |hours: u32, months: u32| {
            let book = with_readings(&readings)
                .guide(guide("oil").every(&format!("engine: {hours} h")).every(&format!("calendar: {months} months")))
                .entry(entry(&format!("{}-oil", date(done))).job("oil"));
            let (reckoning, _) = reckon(&book, date(on));
            let job = reckoning.jobs.first().expect("a job");
            (job.due_on, job.state)
        };
        let long = due(hours.0.max(hours.1), months.0.max(months.1));
        let short = due(hours.0.min(hours.1), months.0.min(months.1));
        prop_assert!(short.0.expect("a date") <= long.0.expect("a date"));
        if long.1 == State::Overdue {
            prop_assert_eq!(short.1, State::Overdue);
        }
    }

    #[test]
    fn a_shorter_interval_never_falls_due_less_often_nor_later(
        readings in rising(),
        done in 0_i64..1500,
        hours in (1_u32..2000, 1_u32..2000),
        months in (1_u32..100, 1_u32..100),
        on in 1500_i64..3000,
        trip in (-400_i64..400, 0_u32..400, prop::option::of(0_u32..2000), 0_u32..100),
    ) {
        let (depart, days, runs, reserve) = trip;
        let falls = |hours: u32, months: u32| {
            let book = with_readings(&readings)
                .guide(guide("oil").every(&format!("engine: {hours} h")).every(&format!("calendar: {months} months")))
                .entry(entry(&format!("{}-oil", date(done))).job("oil"));
            let trip = passage(&date(on + depart).to_string()).days(days).with_reserve(&reserve.to_string());
            let trip = runs.iter().fold(trip, |trip, run| trip.runs("engine", &format!("{run} h")));
            let (reckoning, _) = reckon(&book, date(on));
            let job = reckoning.jobs.first().expect("a job");
            let falls = reckoning.falls(job, &Course::of_passage(&reckoning, &trip));
            let kept = falls.days.len() as u64 + u64::from(falls.at_start);
            prop_assert!(falls.times == kept || (falls.days.len() == MOST_DAYS && falls.times > kept));
            prop_assert!(falls.days.is_sorted());
            prop_assert!(falls.days.iter().all(|day| *day >= trip.depart && *day <= date(on + depart + i64::from(days))));
            Ok(falls)
        };
        let long = falls(hours.0.max(hours.1), months.0.max(months.1))?;
        let short = falls(hours.0.min(hours.1), months.0.min(months.1))?;
        prop_assert!(short.times >= long.times);
        let all = |falls: &Falls| falls.at_start.then_some(Date::MIN).into_iter().chain(falls.days.clone()).collect::<Vec<_>>();
        prop_assert!(all(&short).iter().zip(all(&long)).all(|(short, long)| *short <= long));
    }

    #[test]
    fn the_first_day_it_falls_due_at_the_use_rates_is_the_day_it_is_due(
        readings in rising(),
        done in 0_i64..1500,
        hours in 1_u32..2000,
        months in 1_u32..100,
        on in 1500_i64..3000,
    ) {
        let book = with_readings(&readings)
            .guide(guide("oil").every(&format!("engine: {hours} h")).every(&format!("calendar: {months} months")))
            .entry(entry(&format!("{}-oil", date(done))).job("oil"));
        let (reckoning, _) = reckon(&book, date(on));
        let job = reckoning.jobs.first().expect("a job");
        let due_on = job.due_on.expect("a date");
        let falls = reckoning.falls(job, &Course::at_use_rates(&reckoning, due_on));
        prop_assert_eq!(falls.times, 1);
        prop_assert_eq!(falls.at_start, due_on <= date(on));
        if !falls.at_start {
            prop_assert_eq!(falls.days, vec![due_on]);
        }
    }

    #[test]
    fn a_value_between_two_readings_lies_between_them_and_never_falls(readings in rising(), at in 0_i64..1600) {
        let book = with_readings(&readings);
        let (reckoning, problems) = reckon(&book, date(3000));
        // A meter that gains more hours than there were is only told of.
        prop_assert!(problems.iter().all(|problem| problem.rule == "meter-too-fast"));
        let meter = reckoning.meter("engine").expect("the meter");
        let value = |offset: i64| meter.value_on(date(offset)).map(|on| on.value);
        let whole = |run: u32| Exact::from_integer(i128::from(run));
        let before = readings.iter().rev().find(|(day, _)| *day <= at);
        let after = readings.iter().find(|(day, _)| *day >= at);
        if let (Some(before), Some(after)) = (before, after) {
            let value = value(at).expect("a value");
            prop_assert!(whole(before.1) <= value && value <= whole(after.1));
        }
        if let (Some(today), Some(tomorrow)) = (value(at), value(at + 1)) {
            prop_assert!(today <= tomorrow);
        }
    }

    #[test]
    fn the_day_a_value_is_reached_is_the_first_on_which_the_meter_is_there(
        readings in rising(),
        target in 1_u32..4000,
    ) {
        let book = with_readings(&readings);
        let (reckoning, _) = reckon(&book, date(3000));
        let meter = reckoning.meter("engine").expect("the meter");
        let target = Exact::from_integer(target.into());
        if let Some(reached) = meter.reached(&target)
            && !reached.at_first_reading
        {
            let on = |date: Date| meter.value_on(date).expect("a value").value;
            prop_assert!(on(reached.on) >= target);
            prop_assert!(on(days::later_by_days(reached.on, -1).expect("a date")) < target);
        }
    }

    #[test]
    fn no_book_makes_it_panic(
        rows in prop::collection::vec(("[12][0-9]{3}-(0[1-9]|1[0-2])-[0-2][1-8]", "[0-9]{1,12}\\.[0-9]{1,9}|[0-9]{1,4}/[1-9][0-9]{0,3}", prop::option::of("[0-9]{1,4}/[1-9][0-9]{3}")), 0..12),
        days in prop::collection::vec("2[0-9]{3}-(0[1-9]|1[0-2])-[0-2][1-8]( open| on ~2[0-9]{3}|)", 0..6),
        interval in "[0-9]{1,12}\\.[0-9]{1,9}|[0-9]{1,4}/[1-9][0-9]{0,3}",
        months in 1_i32..1200,
        on in (-9999_i16..=9999, 1_i8..=12, 1_i8..=28),
    ) {
        let mut book = book()
            .gear(gear("port").with_meter("engine").fitted_on("~2001").at(&format!("{interval} h")))
            .gear(gear("cold").with_meter("gone"))
            .guide(guide("a").every(&format!("engine: {interval} h")).every(&format!("miles: {interval} mi")).covers("b").covers("a"))
            .guide(guide("b").first(&format!("own: {interval} weeks")).every(&format!("calendar: {months} months")).for_gear("port").for_gear("cold"))
            .guide(guide("c").first(&format!("calendar: {months} months")).notice(&format!("{months} months")))
            .item(item("oil").counted("2001-01-01", &interval).minimum(&interval));
        book.boat.in_service = Some(Date::MAX);
        for (date, value, replaced) in &rows {
            if crate::book::date::parse_day(date).is_ok() {
                let replaced = replaced.as_ref().map(|first| format!(",{first}")).unwrap_or_default();
                book = book.row(&format!("{date},engine,{value}{replaced}"));
            }
        }
        for day in &days {
            let day = entry(&format!("{}-x{}", day.get(..10).unwrap_or_default(), day.get(10..).unwrap_or_default()));
            let value = interval.as_str();
            book = book.entry(day.job("a").job("b/port").reads("engine", value).uses("oil", value).fits("port", "2030-01"));
        }
        let on = Date::new(on.0, on.1, on.2).expect("a date");
        let (reckoning, _) = reckon(&book, on);
        prop_assert_eq!(reckoning.jobs.len(), 4);
        prop_assert_eq!(reckoning.by_urgency().len(), 4);
        for job in &reckoning.jobs {
            let _ = crate::reckon::testing::line(job);
            let trip = passage("2026-01-01").days(months.unsigned_abs()).miles(&interval).runs("engine", &format!("{interval} h"));
            let _ = reckoning.falls(job, &Course::of_passage(&reckoning, &trip));
        }
    }
}

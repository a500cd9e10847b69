//! `meters.csv`.

use crate::book::decode::testing::meters_of;

#[track_caller]
fn rows(text: &str) -> Vec<String> {
    meters_of(text)
        .clean()
        .into_iter()
        .map(|row| {
            format!("{} {} {} {}", row.date, row.meter.value, row.value, row.replaced.map_or_else(String::new, |value| value.to_string()))
                .trim()
                .to_owned()
        })
        .collect()
}

#[test]
fn rows_read() {
    let plain = ["2026-03-14 engine 1840.5", "2026-03-15 miles 12034"];
    assert_eq!(rows("date,meter,value\n2026-03-14,engine,1840.5\n2026-03-15,miles,12034\n"), plain);
    assert_eq!(rows("date,meter,value\r\n2026-03-14,engine,1840.5\r\n2026-03-15,miles,12034"), plain);
    assert_eq!(rows("\u{feff}date,meter,value\n\n2026-03-14,engine,1840.5\n\n2026-03-15,miles,12034\n\n"), plain);
    // RFC 4180: fields may stand in quotation marks.
    assert_eq!(rows("\"date\",\"meter\",\"value\"\n\"2026-03-14\",\"engine\",\"1840.5\"\n2026-03-15 , miles,\"12034\" \n"), plain);
    assert_eq!(
        rows("date,meter,value,replaced\n2026-03-14,engine,1840.5,0\n2026-03-15,miles,12034,\n2026-03-16,miles,12040\n"),
        ["2026-03-14 engine 1840.5 0", "2026-03-15 miles 12034", "2026-03-16 miles 12040"]
    );
    for nothing in ["date,meter,value\n", "", "\u{feff}\r\n"] {
        assert_eq!(rows(nothing), Vec::<String>::new());
    }
}

#[test]
fn the_header_is_needed() {
    meters_of("\n2026-03-14,engine,1840.5\n").expect_one("1:1 csv-header", "not the header", "date,meter,value");
    meters_of("2026-03-14,engine,1840.5\n").expect(&["1:1 csv-header"]);
    meters_of("date;meter;value\n2026-03-14;engine;1840,5\n").expect_one("1:1 csv-header", "not the header", "with commas");
    meters_of("date,meter,value,note\n").expect(&["1:1 csv-header"]);
}

#[test]
fn a_bad_row_is_told_and_the_rest_goes_on() {
    let text = "\
date,meter,value
2026-02-30,engine,1
2026-03-01,Engine,2
2026-03-02,engine,x
2026-03-03,engine
2026-03-04,engine,1,5
2026-03-05,\"engine,5
2026-03-06,en\"gine,6
2026-03-07,engine,7
2026-13-08,,-1
";
    let read = meters_of(text);
    read.expect(&[
        "2:1 bad-date",
        "3:12 bad-id",
        "4:19 bad-figure",
        "5:1 csv-row",
        "6:1 csv-row",
        "7:12 csv-row",
        "8:14 csv-row",
        "10:1 bad-date",
        "10:12 bad-id",
        "10:13 bad-figure",
    ]);
    assert_eq!(read.value.expect("decoded").len(), 1);
    meters_of("date,meter,value\n2026-03-04,engine,1,5\n").expect_one("2:1 csv-row", "4 values", "decimals with a point");
    meters_of("date,meter,value\n2026-03-04;engine;1\n").expect_one("2:1 csv-row", "1 values", "with commas");
    meters_of("date,meter,value\n2026-03-04,engine,\"1,5\"\n").expect_one("2:19 bad-figure", "decimal comma", "`1.5`");
    meters_of("date,meter,value,replaced\n2026-03-04,engine,1,x\n").expect(&["2:21 bad-figure"]);
}

#[test]
fn a_file_that_is_something_else_is_not_told_row_by_row() {
    let text = format!("date,meter,value\n{}", "nonsense\n".repeat(5000));
    let read = meters_of(&text);
    assert_eq!(read.problems.len(), 51);
    assert_eq!(read.problems.last().map(|problem| problem.rule), Some("too-many-problems"));
}

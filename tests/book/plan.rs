//! `plan` as a process: JSON, text, and what cannot be planned. Times are added up by hand.

use crate::support::{Book, Run, guide, job};
use serde_json::json;

const BOAT: &str = "name: Test boat\nsystems: [{id: engine, title: Engine}]\n";

/// A book with one guide of two stages: glue that sets for half an hour, and other work meanwhile.
fn book() -> Book {
    let body = "\
## Glue

1. Mix and spread. {takes 10 min}
2. Let it set. {wait 30 min: glue sets}
3. Take the clamps off. {takes 5 min} {hands 2}

## Sand {alongside Glue}

1. Sand the rail. {takes 20 min}
2. Pump the bilge. {run 10 L at 3 L/min, 2 min on, 1 min off}
";
    let text = guide("Mend the rail", "crew: 2\nformerly: [rail]\n", body);
    Book::new().file("boat.yaml", BOAT).file("guides/engine/mend-rail.md", text)
}

fn with(front: &str, body: &str) -> Book {
    Book::new().file("boat.yaml", BOAT).file("guides/engine/job.md", guide("The job", front, body))
}

#[track_caller]
fn planned(book: &Book, arguments: &[&str]) -> Run {
    book.run(["plan"].iter().chain(arguments).copied().chain(["--on", "2026-06-01"])).without_panic()
}

#[test]
fn a_plan_as_json_by_hand() {
    // Glue: 10, wait to 40, 5 by two people: 45. Sand 20 beside it from 0, then the pump: 10 / 3 min of
    // running, one rest of 1. Hands-on 10 + 5 × 2 + 20 + 3 1/3; in sequence 10 + 30 + 5 + 20 + 3 1/3 + 1.
    let run = planned(&book(), &["mend-rail", "--format", "json"]).status(0);
    let task = |stage: &str, step: u32, kind: &str, start: serde_json::Value, end: serde_json::Value| json!({"stage": stage, "step": step, "kind": kind, "start_min": start, "end_min": end});
    let third = 10.0 / 3.0;
    let plan = run.json();
    assert_eq!(plan["hands_on_min"].as_f64(), Some(40.0 + third));
    assert_eq!(plan["in_sequence_min"].as_f64(), Some(66.0 + third));
    assert_eq!((&plan["guide"], &plan["crew"], &plan["elapsed_min"]), (&json!("mend-rail"), &json!(2), &json!(45)));
    assert_eq!((&plan["optimal"], &plan["bound_min"]), (&json!(true), &json!(45)));
    assert_eq!(
        plan["tasks"],
        json!([
            task("Glue", 1, "hands-on", json!(0), json!(10)),
            task("Sand", 1, "hands-on", json!(0), json!(20)),
            task("Glue", 2, "wait", json!(10), json!(40)),
            task("Sand", 2, "run", json!(20), json!(22)),
            task("Sand", 2, "rest", json!(22), json!(23)),
            task("Sand", 2, "run", json!(23), json!(73.0 / 3.0)),
            task("Glue", 3, "hands-on", json!(40), json!(45)),
        ])
    );
    // Whole minutes are integers in the text too.
    assert!(run.stdout.contains("\"elapsed_min\": 45,"), "{}", run.stdout);
    let keys: Vec<&String> = plan.as_object().expect("a map").keys().collect();
    assert_eq!(keys, ["guide", "crew", "hands_on_min", "elapsed_min", "in_sequence_min", "tasks", "optimal", "bound_min"]);
}

#[test]
fn a_plan_as_text_by_hand() {
    let expected = "\
Mend the rail, 2 people

0:00  0:10  Glue 1  Mix and spread.
0:00  0:20  Sand 1  Sand the rail.
0:10  0:40  Glue 2  wait: glue sets
0:20  0:22  Sand 2  runs: Pump the bilge.
0:22  0:23  Sand 2  rests
0:23  0:24  Sand 2  runs: Pump the bilge.
0:40  0:45  Glue 3  2 hands: Take the clamps off.

while Glue 2 waits (glue sets), do Sand 1 to 2

from start to end  45 min
hands-on           43 min 20 s, all people together
one after another  1 h 9 min 20 s
";
    planned(&book(), &["mend-rail"]).status(0).stdout(expected);
}

#[test]
fn words_of_lists_and_lines_stay_apart() {
    let case = |step: &str, expected: &str| {
        let run = planned(&with("", step), &["job"]).status(0);
        let line = run.stdout.lines().find(|line| line.contains(expected.split(' ').next().unwrap_or_default()));
        assert!(line.is_some_and(|line| line.ends_with(&format!("The job 1  {expected}"))), "{expected}: {}", run.stdout);
    };
    case("1. Run her, look at:\n   - forward cock\n   - aft cock {takes 5 min}\n", "Run her, look at: forward cock, aft cock");
    case("1. Look at\n   - bow,\n   - keel\n\n   Then go on. {takes 5 min}\n", "Look at bow, keel Then go on.");
    case("1. Shut the cock.<br>Open the lid. {takes 5 min}\n", "Shut the cock. Open the lid.");
    case("1. Shut the <b>aft</b>er cock. {takes 5 min}\n", "Shut the after cock.");
    case("1. Look at\n   1. bow\n      - port\n      - starboard\n   2. keel {takes 5 min}\n", "Look at bow port, starboard, keel");
    case("1. Look.\n   - bow\n\n   > CAUTION: Mind\n   > - this\n   > - that\n\n   Go on. {takes 5 min}\n", "Look. bow Go on.");
}

#[test]
fn who_begins_before_it_is_dead_is_warned() {
    let body = "\
## Drain

1. Run the engine, stop it, and take the key out. {takes 15 min} {isolate start key}
2. Let the oil run down. {wait 10 min: oil drains}

## Filter {alongside Drain}

1. Spin it off. {takes 5 min}

## Refill

1. Put the key back. {takes 1 min} {restore start key} {prove no leak}
";
    let told = "take care: `Filter` begins before start key is isolated in Drain 1\n";
    assert!(planned(&with("crew: 2\n", body), &["job"]).status(0).stdout.contains(told));
    assert!(!planned(&with("crew: 1\n", body), &["job"]).status(0).stdout.contains("take care"));
}

#[test]
fn a_guide_is_found_by_its_former_id() {
    assert_eq!(planned(&book(), &["rail", "--format", "json"]).status(0).json()["guide"], "mend-rail");
}

#[test]
fn an_unknown_guide_is_told_with_the_nearest() {
    let run = planned(&book(), &["mend-rial"]).status(2).stdout("");
    run.stderr_has("error: there is no guide `mend-rial` in this book").stderr_has("help: did you mean `mend-rail`?");
    planned(&book(), &["zzz", "--format", "json"]).status(2).stdout("").stderr_has("help: a guide's id is the name of its file");
}

#[test]
fn a_crew_too_small_is_told() {
    let run = planned(&book(), &["mend-rail", "--crew", "1", "--format", "json"]).status(1).stdout("");
    run.stderr_has("error: step 3 of `Glue` needs 2 people at once, and the crew is 1")
        .stderr_has("help: plan it for more people: `--crew 2`");
}

#[test]
fn a_wrong_command_line_ends_with_two() {
    for arguments in [&["mend-rail", "--crew", "0"][..], &["mend-rail", "--crew", "none"], &["mend-rail", "--format", "xml"], &[]] {
        planned(&book(), arguments).status(2).stdout("");
    }
}

#[test]
fn a_guide_without_times_says_so() {
    let book = with("", "## Work\n\n1. Do it.\n");
    let text = "The job, one person\n\nthis guide has no times: its steps carry no `{takes …}`, and its front matter no `time:`\n";
    planned(&book, &["job"]).status(0).stdout(text);
    let expected = json!({
        "guide": "job", "crew": 1, "hands_on_min": 0, "elapsed_min": 0, "in_sequence_min": 0, "tasks": [], "optimal": true, "bound_min": 0,
    });
    assert_eq!(planned(&book, &["job", "--format", "json"]).status(0).json(), expected);
}

#[test]
fn a_time_of_the_front_matter_stands_for_the_steps() {
    let book = with("time: 1 h 30 min\n", "## Work\n\n1. Do it.\n");
    planned(&book, &["job"]).status(0).stdout_has("the steps carry no times; the front matter says 1 h 30 min");
    let plan = planned(&book, &["job", "--format", "json"]).status(0).json();
    assert_eq!((&plan["hands_on_min"], &plan["elapsed_min"], &plan["tasks"]), (&json!(90), &json!(90), &json!([])));
}

#[test]
fn stages_in_a_circle_are_told() {
    let book = with("", "## A {after B}\n\n1. a {takes 1 min}\n\n## B {after A}\n\n1. b {takes 1 min}\n");
    planned(&book, &["job"]).status(1).stdout("").stderr_has("none can begin");
    let own = with("", "## A {alongside A}\n\n1. a {takes 1 min}\n");
    planned(&own, &["job"]).status(1).stdout("").stderr_has("error");
    // The page does without a plan.
    own.run(["publish", "--on", "2026-06-01", "--despite-errors"]).status(1);
    assert!(!own.text("site/guides/job.html").contains("id=\"plan\""));
}

#[test]
fn errors_elsewhere_in_the_book_are_told_and_the_plan_is_printed() {
    let book = book().file("tools.yaml", "- {id: saw, titel: Saw}\n");
    planned(&book, &["mend-rail"]).status(1).stdout_has("from start to end  45 min").stderr_has("garboard survey");
}

#[test]
fn no_book_is_no_plan() {
    let book = Book::new();
    book.run(["plan", "job", "--book", "nowhere"]).status(1).stdout("");
}

#[test]
fn long_waits_are_told_in_days() {
    let book = with("", "## A\n\n1. Paint. {takes 30 min} {wait 10 days: cures}\n2. Launch. {takes 1 h}\n");
    planned(&book, &["job"]).status(0).stdout_has("10 d 0:30  10 d 1:30  A 2  Launch.");
}

#[test]
fn the_page_shows_the_plan_in_words_and_as_rows() {
    let book = book().published();
    let page = book.text("site/guides/mend-rail.html");
    for words in
        ["id=\"plan\"", "While Glue 2 waits (glue sets): Sand 1 to 2", "45 min from start to end", "0:00 to 0:10: Glue 1", "43 min"]
    {
        assert!(page.contains(words), "`{words}` is not on the page");
    }
    assert_eq!(page.matches("viewBox=\"0 -5 1000 10\"").count(), 2);
    // One task says nothing.
    let alone = with("", "## A\n\n1. a {takes 5 min}\n").published();
    assert!(!alone.text("site/guides/job.html").contains("id=\"plan\""));
}

#[test]
fn the_page_tells_long_times_as_the_terminal_does() {
    // The paint dries for 20 days, which are 480 h, and meanwhile a pad is made in five minutes.
    let body = "## Paint\n\n1. Dry. {wait 20 days: paint dries}\n2. Sand. {takes 5 min}\n\n## Pad {alongside Paint}\n\n1. Cut a pad. {takes 5 min}\n";
    let book = with("", body).published();
    planned(&book, &["job"]).status(0).stdout_has(" 20 d 0:05  Paint 2");
    let page = book.site().page("guides/job.html").to_owned();
    assert!(page.contains("20 d 0:00 to 20 d 0:05: Paint 2"), "{page}");
    assert!(!page.contains("480:0"), "{page}");
}

#[test]
fn where_no_id_is_near_those_with_the_words_are_offered() {
    let book = Book::sound()
        .file("guides/engine/change-the-gearbox-oil.md", job("Gearbox", ""))
        .file("guides/engine/lift-pump.md", job("Change the oil of the lift pump", ""));
    book.run(["plan", "Gearbox oil"]).status(2).stderr_has("help: did you mean `change-the-gearbox-oil`?");
    let words = "help: did you mean one of these: `change-the-gearbox-oil`, `lift-pump`, `oil`?";
    book.run(["plan", "change-the"]).status(2).stderr_has(words);
    book.run(["plan", "anchor"]).status(2).stderr_has("help: a guide's id is the name of its file");
    book.run(["plan", "?"]).status(2).stderr_has("help: a guide's id is the name of its file");
}

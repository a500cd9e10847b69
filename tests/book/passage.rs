//! `due --passage`, `--occasion` and `--within`, and the sheets of the passages.
//!
//! Figures of the demo book were worked out from its entries and `meters.csv` with fractions in
//! Python 3.13; the sums stand beside them.

use crate::support::{Book, Run, entry, guide, job, run_within};
use scraper::{Html, Selector};
use serde_json::{Value, json};
use std::path::Path;
use std::time::Duration;

const ON: &str = "2026-05-01";

/// 1 h of the engine a day, 230 h on 1 May 2026, when everything but the gas test was done.
fn book() -> Book {
    let mut book = Book::new()
        .file(
            "boat.yaml",
            "name: Test boat\nsystems: [{id: engine, title: Engine}]\nmeters: [{id: engine, title: Engine hours, unit: h}]\n\
             gear: [{id: flares, title: Flares, expires: 2026-05}]\noccasions: [{id: regatta, title: Regatta}]\n",
        )
        .file("meters.csv", "date,meter,value\n2026-01-21,engine,130\n2026-05-01,engine,230\n")
        .file(
            "passages.yaml",
            "- {id: north, title: To the north, depart: 2026-06-01, days: 10, meters: {engine: 40 h}, reserve: 25 %}\n\
             - {id: south, title: To the south, depart: 2026-08-09, days: 1}\n",
        );
    for (id, title, front) in [
        ("look", "Look", "every: {calendar: 1 month}\nwhere: [moored]\n"),
        ("oil", "Oil", "every: {engine: 40 h}\nwhere: [at-anchor, moored]\n"),
        ("wipe", "Wipe", "every: {engine: 45 h}\nwhere: [under-way]\noccasions: [regatta]\n"),
        ("belt", "Belt", "every: {engine: 100 h}\n"),
        ("gas", "Gas", "every: {calendar: 1 year}\n"),
        ("round", "Round", "routine: true\noccasions: [regatta]\n"),
    ] {
        book = book.file(&format!("guides/engine/{id}.md"), job(title, front));
    }
    book.file("log/2026/2026-05-01-all.md", entry("jobs: [look, oil, wipe, belt]\ndate: 2026-05-01\n"))
        .file(
            "log/2026/2026-04-01-seen.md",
            entry(
                "date: 2026-04-01\nfindings:\n  - {what: Wire broken, grade: act, limits-use: no sail}\n  \
                 - {what: Paint dull, grade: watch, before: regatta}\n  - {what: Play, grade: watch, before: before-passage}\n",
            ),
        )
        .file("log/2026/2026-04-02-begun.md", entry("jobs: [gas]\nstarted: 2026-04-02\nleft: [gas shut]\n"))
}

#[track_caller]
fn due(book: &Book, arguments: &[&str]) -> Run {
    book.run(["due", "--on", ON].iter().chain(arguments))
}

/// Rows of a table, cells set apart by two spaces or more; other lines are one cell.
fn rows(stdout: &str) -> Vec<Vec<&str>> {
    stdout.lines().map(|line| line.split("  ").map(str::trim).filter(|cell| !cell.is_empty()).collect()).collect()
}

#[test]
fn the_text_comes_in_the_order_in_which_it_is_worked_off() {
    let run = due(&book(), &["--passage", "north"]).status(0);
    // 261 h on 1 June; 40 h and a quarter are 50 h, 5 h a day. Oil is due at 270 h: 9 h are day 1.8; 40 h
    // later are 49 h, day 9.8. Wipe at 275 h: 14 h are day 2.8; the next at 320 h is past 311 h.
    let expected: &[&[&str]] = &[
        &["To the north: 2026-06-01 to 2026-06-11"],
        &[],
        &["to be put right first of all:"],
        &["act", "Wire broken (2026-04-01-seen/1)"],
        &["until then: no sail"],
        &[],
        &["shut, off or apart:"],
        &["gas shut (2026-04-02-begun)"],
        &[],
        &["to be put right before the return:"],
        &["watch", "Play (2026-04-01-seen/3)"],
        &[],
        &["to be done before departure:"],
        &["state", "due on", "left", "job", "last done", "times"],
        &["open", "-", "-", "Gas", "never recorded", "1"],
        &["later", "2026-06-01", "31 days", "Look", "2026-05-01", "1"],
        &[],
        &["fall due under way, and cannot be done there: bring them forward:"],
        &["due on", "job", "by", "times"],
        &["~2026-06-03, ~2026-06-11", "Oil", "by engine", "2"],
        &[],
        &["fall due under way, and can be done there:"],
        &["due on", "job", "by", "times"],
        &["~2026-06-04", "Wipe", "by engine", "1"],
        &[],
        &["expires before the return:"],
        &["2026-05-31", "Flares"],
        &[],
        &["2 jobs are not due by these figures: --all lists them"],
        &[],
        &["reckoned with:"],
        &["meter", "at departure", "runs", "at return", "figure"],
        &["Engine hours", "~261 h", "~50 h", "~311 h", "40 h and 25 % in reserve"],
    ];
    assert_eq!(rows(&run.stdout), expected, "{}", run.stdout);
    assert_eq!(run.stderr, "");
}

#[test]
fn all_lists_what_is_clear_too() {
    let run = due(&book(), &["--passage", "north", "--all"]).status(0).stdout_has("not due by these figures:");
    let found = rows(&run.stdout);
    let at = found.iter().position(|row| row == &["not due by these figures:"]).expect("the heading");
    // Belt is due at 330 h: 100 days after 1 May.
    assert_eq!(found[at + 2], ["later", "~2026-08-09", "100 h", "Belt", "2026-05-01"]);
    assert_eq!(found[at + 3][0], "as needed");
    assert!(!run.stdout.contains("--all"));
}

/// `before 1` of each job, by guide.
#[track_caller]
fn on_passage(book: &Book, arguments: &[&str], expected: &Value) {
    let run = due(book, &[&["--format", "json"], arguments].concat()).status(0);
    let rows = run.json();
    let rows = rows.as_array().expect("a list");
    assert_eq!(rows.len(), 6, "every job: {rows:?}");
    let found: serde_json::Map<String, Value> =
        rows.iter().map(|row| (row["guide"].as_str().expect("an id").to_owned(), json!([row["on_passage"], row["times_due"]]))).collect();
    assert_eq!(&Value::from(found), expected);
}

#[test]
fn json_says_of_every_job_how_it_stands_to_the_passage() {
    let north = json!({
        "belt": ["clear", 0], "gas": ["before", 1], "look": ["before", 1], "oil": ["under way", 2], "round": ["clear", 0],
        "wipe": ["under way", 1],
    });
    on_passage(&book(), &["--passage", "north"], &north);
    // 330 h on 9 August; oil and wipe are over by then, and a day at 1 h uses nothing up.
    let south = json!({
        "belt": ["before", 1], "gas": ["before", 1], "look": ["before", 1], "oil": ["before", 1], "round": ["clear", 0],
        "wipe": ["before", 1],
    });
    on_passage(&book(), &["--passage", "south"], &south);
    let none = json!([null, null]);
    let without = json!({"belt": none, "gas": none, "look": none, "oil": none, "round": none, "wipe": none});
    on_passage(&book(), &[], &without);
    on_passage(&book(), &["--occasion", "regatta"], &without);
    on_passage(&book(), &["--within", "1 day"], &without);
}

#[test]
fn an_unknown_name_is_a_wrong_command_line_and_is_answered_with_the_nearest() {
    let wrong = |arguments: &[&str], message: &str, remedy: &str| {
        for format in ["text", "json"] {
            let run = due(&book(), &[arguments, &["--format", format]].concat()).status(2).stdout("");
            let run = run.stderr_has(message);
            run.stderr_has(remedy);
        }
    };
    wrong(&["--passage", "nort"], "no passage `nort`", "did you mean `north`?");
    wrong(&["--passage", "elsewhere"], "no passage `elsewhere`", "there is `north`, `south`");
    wrong(&["--occasion", "haulout"], "no occasion `haulout`", "did you mean `haul-out`?");
    wrong(&["--occasion", "regata"], "no occasion `regata`", "did you mean `regatta`?");
    wrong(&["--within", "60"], "`60` has no unit", "days, weeks, months or years");
    wrong(&["--within", "5 h"], "`5 h` is not a calendar interval", "12 months");
}

#[test]
fn a_name_that_an_unreadable_file_may_hold_is_no_slip_of_the_command_line() {
    let run = due(&book().file("passages.yaml", "- {id: north, depart: soon}\n"), &["--passage", "north"]).status(1);
    run.stdout("").stderr_has("`soon` is not a date").stderr_has("no passage `north`");
}

#[test]
fn only_one_thing_can_be_asked_about() {
    for two in [
        ["--passage", "north", "--occasion", "regatta"],
        ["--passage", "north", "--within", "1 day"],
        ["--occasion", "regatta", "--within", "1 day"],
    ] {
        due(&book(), &two).status(2).stderr_has("cannot be used with");
    }
}

#[test]
fn an_occasion_lists_its_jobs_and_what_is_to_be_put_right_before_it() {
    let run = due(&book(), &["--occasion", "regatta"]).status(0);
    let expected: &[&[&str]] = &[
        &["state", "due on", "left", "job", "last done"],
        // 275 h at 1 h a day: 45 days after 1 May.
        &["later", "~2026-06-15", "45 h", "Wipe", "2026-05-01"],
        &["as needed", "-", "-", "Round", "never recorded"],
        &[],
        &["to be put right before regatta:"],
        &["watch", "Paint dull (2026-04-01-seen/2)"],
    ];
    assert_eq!(rows(&run.stdout), expected, "{}", run.stdout);
    due(&book(), &["--occasion", "lay-up"]).status(0).stdout("no job and no finding names the occasion `lay-up`\n");
}

#[test]
fn within_adds_what_falls_due_by_then() {
    let jobs = |within: &str| {
        let run = due(&book(), &["--within", within]).status(0);
        rows(&run.stdout)[1..].iter().map(|row| row[3].to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(jobs("30 days"), ["Gas"]);
    // Look on 1 June, oil (40 h) on 10 June, wipe on 15 June.
    assert_eq!(jobs("31 days"), ["Gas", "Look"]);
    assert_eq!(jobs("1 month"), ["Gas", "Look"]);
    assert_eq!(jobs("6 weeks"), ["Gas", "Look", "Oil"]);
    assert_eq!(jobs("45 days"), ["Gas", "Look", "Oil", "Wipe"]);
    // Belt on 9 August.
    assert_eq!(jobs("1 year"), ["Gas", "Look", "Oil", "Wipe", "Belt"]);
    let run = Book::new().file("boat.yaml", "name: Solo\n").run(["due", "--on", ON, "--within", "60 days"]).status(0);
    run.stdout("nothing needs attention as of 2026-05-01, and nothing falls due until 2026-06-30\n");
}

#[test]
fn a_forecast_shows_both_dates_where_they_differ() {
    // The year before: 365 h, 1 h a day; the last 90 days of it 270 h, 3 h a day. 100 h are 100 days, or 34.
    let book = Book::new()
        .file("boat.yaml", "name: B\nsystems: [{id: engine, title: Engine}]\nmeters: [{id: engine, title: Engine hours, unit: h}]\n")
        .file("meters.csv", "date,meter,value\n2025-05-01,engine,0\n2026-01-31,engine,95\n2026-05-01,engine,365\n")
        .file("guides/engine/belt.md", job("Belt", "every: {engine: 100 h}\n"))
        .file("log/2026/2026-05-01-belt.md", entry("jobs: [belt]\ndate: 2026-05-01\n"));
    let run = due(&book, &["--all"]).status(0);
    let expected = [
        vec!["state", "due on", "by last 90 days", "left", "job", "last done"],
        vec!["later", "~2026-08-09", "~2026-06-04", "100 h", "Belt", "2026-05-01"],
    ];
    assert_eq!(rows(&run.stdout), expected, "{}", run.stdout);
    book.run(["publish", "--on", ON]).status(0);
    let page = book.text("site/guides/belt.html");
    assert!(page.contains("; by the last 90 days: 4 June 2026<"), "{page}");
}

#[test]
fn what_has_left_says_so() {
    let run = book().run(["due", "--on", "2026-06-05", "--passage", "north"]).status(0);
    run.stdout_has("she left before the day of this list").stderr_has("1 warning");
}

fn demo(arguments: &[&str]) -> Run {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    run_within(root, ["due", "--on", "2026-11-24"].iter().chain(arguments), Duration::from_secs(60)).status(0)
}

#[test]
fn the_demo_book_by_hand() {
    let rows = demo(&["--passage", "southern-crossing", "--format", "json"]).json();
    let of = |guide: &str, gear: Option<&str>| {
        let found = rows.as_array().expect("a list").iter().find(|row| row["guide"] == guide && row["gear"] == json!(gear));
        let row = found.unwrap_or_else(|| panic!("no {guide}"));
        (row["on_passage"].as_str().expect("a word").to_owned(), row["times_due"].as_u64().expect("a number"))
    };
    let is = |stage: &str, times: u64| (stage.to_owned(), times);
    // Engine: 512.5 h on 10 October 2026, 20803/40150 h a day: 650.84 h after 267 days, on 4 July 2027.
    // 70 h and a quarter are 87.5 h in 28 days, 3.125 h a day.
    // Oil: at 512.5 h, due at 662.5 h: 11.66 h, day 3.73; the next at 812.5 h is past 738.34 h.
    assert_eq!(of("oil-and-filter", None), is("under way", 1));
    // Impeller: at 436.9 h, due at 736.9 h: 86.06 h, day 27.54.
    assert_eq!(of("raw-water-impeller", Some("main-engine")), is("under way", 1));
    // Steering wires: due in March; then 1500 of 1812.5 nmi are day 23.2.
    assert_eq!(of("steering-wire", None), is("before", 2));
    // Done on 2026-10-24 and due a year later; back on 1 August.
    assert_eq!(of("seacocks", Some("seacock-galley-drain")), is("clear", 0));
    let text = demo(&["--passage", "southern-crossing"]).stdout;
    for part in [
        "~650.8 h ",
        "~87.5 h ",
        "~738.3 h ",
        "~2027-07-08  Change the engine oil and filter ",
        "~2027-08-01  Look at the raw-water impeller",
    ] {
        assert!(text.contains(part), "{part}: {text}");
    }
    // 830.5 h of the charging set: 763 h on 6 October 2026 and 200/803 h a day for 271 days. 60 h and a quarter.
    for part in ["~830.5 h ", "~75 h ", "60 h and 25 % in reserve"] {
        assert!(text.contains(part), "{part}: {text}");
    }
}

fn texts(page: &str, select: &str) -> Vec<String> {
    let html = Html::parse_document(page);
    let selector = Selector::parse(select).expect("a selector");
    let squeezed = |words: Vec<&str>| words.concat().split_whitespace().collect::<Vec<_>>().join(" ");
    html.select(&selector).map(|element| squeezed(element.text().collect())).collect()
}

#[test]
fn each_passage_has_a_sheet_in_the_order_of_the_work() {
    let book = book();
    book.run(["publish", "--on", ON]).status(0);
    let list = book.text("site/passages.html");
    assert_eq!(texts(&list, "main .name a"), ["To the north", "To the south"]);
    let sheet = book.text("site/passages/north.html");
    let parts = [
        "To be put right first of all",
        "Shut, off or apart",
        "To be put right by then",
        "Before departure",
        "Due under way",
        "Expires before the return",
        "Figures used",
        "Not due by these figures",
    ];
    assert_eq!(texts(&sheet, "main h2"), parts);
    assert_eq!(texts(&sheet, "#_before .name"), ["Gas", "Look"]);
    assert_eq!(texts(&sheet, "#_under-way .label"), ["Cannot be done under way: do before departure", "Can be done under way"]);
    assert_eq!(texts(&sheet, "#_under-way .state"), ["about 3 June 2026, about 11 June 2026", "about 4 June 2026"]);
    assert_eq!(texts(&sheet, "#_meters td"), ["about 261 h", "50 h 40 h and 25 % in reserve", "about 311 h"]);
    assert_eq!(texts(&sheet, "#_clear a"), ["Belt", "Round"]);
    // The contents of every page lead there.
    assert!(texts(&book.text("site/index.html"), ".contents a").contains(&"Passages".to_owned()));
}

#[test]
fn without_passages_nothing_is_said_of_them() {
    let book = book()
        .without("passages.yaml")
        .file("guides/engine/link.md", "---\ntitle: Link\n---\nSee [where](../../passages.yaml).\n\n## Work\n\n1. Do it.\n");
    book.run(["publish", "--on", ON]);
    let site = book.site();
    assert!(site.files.keys().all(|path| !path.contains("passage")), "{:?}", site.files.keys());
    assert!(site.pages().all(|(_, page)| !page.contains("passages.html")));
}

#[test]
fn what_was_shut_for_the_winter_is_told_until_it_is_opened() {
    let shut = "## Shut\n\n1. Shut it. {isolate engine intake until fitting-out} {prove no water}\n";
    let open = "## Open\n\n1. Open it. {restore engine intake} {prove no leak}\n";
    let book = book()
        .file("guides/engine/lay-up.md", guide("Lay up the engine", "occasions: [lay-up]\nhazards: [flooding]\n", shut))
        .file("guides/engine/fit-out.md", guide("Fit out the engine", "occasions: [fitting-out]\nhazards: [flooding]\n", open))
        .file("log/2026/2026-04-03-lay-up.md", entry("jobs: [lay-up]\ndate: 2026-04-03\n"));
    let told = "shut, off or apart:\n  gas shut (2026-04-02-begun)\n  engine intake, until fitting-out (2026-04-03-lay-up)\n";
    let run = due(&book, &["--passage", "north"]).status(0);
    assert!(run.stdout.contains(told), "{}", run.stdout);
    let left = |page: &str| {
        let page = Html::parse_document(&book.text(page));
        let items = Selector::parse(".openjob .left li, .openjob .aside").expect("a selector");
        let texts = page.select(&items).map(|item| item.text().collect::<Vec<_>>().concat());
        texts.map(|text| text.split_whitespace().collect::<Vec<_>>().join(" ")).collect::<Vec<_>>()
    };
    book.run(["publish", "--on", ON]).status(0);
    for page in ["site/index.html", "site/guides.html", "site/passages/north.html"] {
        let found = left(page);
        assert!(found.iter().any(|line| line == "engine intake, until: Fitting-out"), "{page}: {found:?}");
        assert!(found.iter().any(|line| line.starts_with("finished on 3 April 2026")), "{page}: {found:?}");
    }
    // Others do not see all entries, and so cannot say that nobody has opened it.
    book.run(["publish", "--on", ON, "--edition", "public"]).status(0);
    assert!(!left("site-public/index.html").iter().any(|line| line.contains("engine intake")));
    book.put("content/log/2026/2026-04-20-fit-out.md", entry("jobs: [fit-out]\ndate: 2026-04-20\n").as_bytes());
    assert!(!due(&book, &["--passage", "north"]).status(0).stdout.contains("engine intake"));
    book.run(["publish", "--on", ON]).status(0);
    assert!(!left("site/index.html").iter().any(|line| line.contains("engine intake")));
}

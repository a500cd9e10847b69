//! Five reports as a sailor sees them.

use crate::broken::case;

/// The whole text of `survey` for a case.
fn survey(name: &str) -> String {
    case(name).run(["survey", "--on", "2026-06-01"]).stdout
}

#[test]
fn a_mistyped_key() {
    insta::assert_snapshot!(survey("unknown-key-in-a-guide"), @r#"
    error[unknown-key]: `torqe` is not a key of a guide
     --> content/guides/engine/job.md:3:1
      |
    3 | torqe:
      | ^^^^^
      |
      = help: did you mean `torque`?

    1 error
    "#);
}

#[test]
fn a_step_that_would_be_lost() {
    insta::assert_snapshot!(survey("step-after-a-line-of-text"), @r#"
    error[swallowed-step]: the numbered item `3.` is swallowed into the text above it
     --> content/guides/engine/job.md:7:1
      |
    7 | 3. Open the cock.
      | ^^
      |
      = help: put a blank line before it, and indent it like the other steps

    1 error
    "#);
}

#[test]
fn a_meter_mistyped() {
    insta::assert_snapshot!(survey("meter-that-runs-backwards"), @r#"
    error[meter-backwards]: meter `engine` runs backwards: 1804.5 on 2026-04-01 is lower than 1840.5 on 2026-03-14 (log/2026/2026-03-14-oil.md:4)
     --> content/log/2026/2026-04-01-work.md:3:18
      |
    3 | meters: {engine: 1804.5}
      |                  ^^^^^^
      |
      = help: correct the one of the two that is mistyped; if the counter was replaced in between, say so in `meters.csv`: a row with the day, `engine`, the old counter's last value and, under `replaced`, the new one's first

    1 error
    "#);
}

#[test]
fn a_seacock_left_shut() {
    insta::assert_snapshot!(survey("isolated-and-never-restored"), @r#"
    error[isolate-without-restore]: `intake seacock` is isolated here, and never restored
     --> content/guides/engine/job.md:6:13
      |
    6 | 1. Shut it. {isolate intake seacock}
      |             ^^^^^^^^^^^^^^^^^^^^^^^^
      |
      = help: write `{restore intake seacock}` at the step that opens or reconnects it, or `{isolate intake seacock until fitting-out}` if another guide does

    1 error
    "#);
}

#[test]
fn a_title_with_a_colon() {
    insta::assert_snapshot!(survey("unquoted-colon"), @r#"
    error[yaml-syntax]: from here on this cannot be read as YAML
     --> content/guides/engine/job.md:2:11
      |
    2 | title: Oil: change
      |           ^
      |
      = help: put the value in quotes: "Oil: change"

    1 error
    "#);
}

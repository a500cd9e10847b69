//! A guide of another boat that nobody has held against this one since it was received.

use super::{Check, Context, GuideCheck, Rule};

const ID: &str = "received-not-checked";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "Torques, amounts and intervals of another boat can break this one: a bolt of another size, a sump of another volume. Until \
          somebody has looked, pages say so beside each figure.",
    check: Check::Guides(check),
};

fn check<'c>(_: &'c Context<'_>) -> GuideCheck<'c> {
    Box::new(move |guide, _, notes| {
        if let Some(received) = guide.unchecked() {
            notes.advice(
                ID,
                guide.title_span,
                format!("this guide came from {}, and nobody has held it against this boat yet", received.from),
                if guide.checked.is_some() {
                    "hold its figures against this boat and the maker's book, mend what differs, then write the day over hers in `checked`"
                } else {
                    "hold its figures against this boat and the maker's book, mend what differs, then write the day: `checked: …`"
                },
            );
        }
    })
}

#[cfg(test)]
mod tests {
    use crate::survey::testing::found;

    #[test]
    fn it_is_told_until_it_is_checked() {
        let front = |day: &str| format!("occasions: [haul-out]\n{day}received: {{from: Tern, on: 2026-05-01}}");
        assert_eq!(found("received-not-checked", &front(""), "1. Do it."), ["2:8"]);
        assert_eq!(found("received-not-checked", &front("checked: 2026-04-30\n"), "1. Do it."), ["2:8"]);
        assert!(found("received-not-checked", &front("checked: 2026-05-01\n"), "1. Do it.").is_empty());
        let same_day = "occasions: [haul-out]\nchecked: 2026-05-01\nreceived: {from: Tern, on: 2026-05-01, checked: 2026-05-01}";
        assert_eq!(found("received-not-checked", same_day, "1. Do it."), ["2:8"], "that is the day of the other boat");
        assert!(found("received-not-checked", "occasions: [haul-out]", "1. Do it.").is_empty());
    }
}

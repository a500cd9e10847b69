//! A guide that shuts something off and never proves that it is off.

use super::figure_never_used::marks;
use super::{Check, Context, GuideCheck, Rule};
use crate::book::outline::MarkKind;

const ID: &str = "never-proved";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "A seacock that does not close, a breaker that is mislabelled or a key that is a copy looks like an isolation. Try it \
          before you trust it, and prove the whole tight or working once it is restored.",
    check: Check::Guides(check),
};

fn check<'c>(_: &'c Context<'_>) -> GuideCheck<'c> {
    Box::new(move |guide, _, notes| {
        let isolation = marks(guide).find(|mark| matches!(mark.kind, MarkKind::Isolate { until: None, .. }));
        let proved = marks(guide).any(|mark| matches!(mark.kind, MarkKind::Prove(_)));
        if let Some(isolation) = isolation.filter(|_| !proved) {
            notes.warning(
                ID,
                isolation.span,
                "this guide isolates something and never proves anything",
                "write `{prove …}` where it is tried that it is off, and where all is found tight and working again",
            );
        }
    })
}

#[cfg(test)]
mod tests {
    use crate::survey::testing::found;

    #[test]
    fn what_is_isolated_is_proved() {
        assert_eq!(found("never-proved", "crew: 1", "1. Shut it. {isolate intake}\n2. Open it. {restore intake}"), ["5:13"]);
        assert!(found("never-proved", "crew: 1", "1. Shut it. {isolate intake}\n2. Open it. {restore intake} {prove no leak}").is_empty());
        assert!(found("never-proved", "crew: 1", "1. Look.").is_empty());
    }
}

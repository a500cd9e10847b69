//! Another revision of a guide came from another boat, and both stand in the book.

use super::{Check, Context, GuideCheck, Rule};

const ID: &str = "received-revision";

pub(super) const RULE: Rule = Rule {
    id: ID,
    why: "Two sheets for one job part company: one is done and logged, the other falls due, and nobody knows which figure is right.",
    check: Check::Guides(check),
};

fn check<'c>(context: &'c Context<'_>) -> GuideCheck<'c> {
    Box::new(move |guide, _, notes| {
        let revises = guide.received.as_ref().and_then(|received| received.revises.as_ref());
        if let Some(other) = revises.and_then(|name| context.book.guide_or_former(&name.value))
            && other.id != guide.id
        {
            notes.advice(
                ID,
                guide.title_span,
                format!("this is another revision of `{}`, and both stand in the book", other.id),
                format!("compare the two, take what is better over into `{}` by hand, then take this file and its folder away", other.id),
            );
        }
    })
}

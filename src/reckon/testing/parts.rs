//! Parts that guides need and how stores are sold, for tests.

use super::{amount, month, name};
use crate::book::model::{Guide, PartUse, StoreItem};
use crate::book::source::Span;
use crate::quantity::Money;

impl Guide {
    /// A part; an empty amount is one that is not said, `?` one that cannot be read.
    pub(in crate::reckon) fn needs(mut self, item: &str, needed: &str) -> Self {
        self.parts.push(PartUse {
            item: name(item),
            amount: (!matches!(needed, "" | "?")).then(|| amount(needed)),
            unclear: needed == "?",
            if_worn: false,
            span: Span::default(),
        });
        self
    }

    /// The part named last is only changed if worn.
    pub(in crate::reckon) fn if_worn(mut self) -> Self {
        if let Some(part) = self.parts.last_mut() {
            part.if_worn = true;
        }
        self
    }
}

impl StoreItem {
    pub(in crate::reckon) fn sold_in(mut self, sizes: &[&str]) -> Self {
        self.sold_in = sizes.iter().map(|size| amount(size)).collect();
        self
    }

    pub(in crate::reckon) fn price(mut self, price: &str) -> Self {
        self.price = Some(Money::parse(price).expect("a price"));
        self
    }

    pub(in crate::reckon) fn expires(mut self, expires: &str) -> Self {
        self.expires = Some(month(expires));
        self
    }
}

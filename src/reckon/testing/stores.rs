//! Stores for tests.

use super::{amount, day, name};
use crate::book::model::{Bought, Counted, Level, StoreItem};
use crate::book::source::Span;

pub(in crate::reckon) fn item(id: &str) -> StoreItem {
    StoreItem { id: name(id), title: id.to_owned(), ..StoreItem::default() }
}

impl StoreItem {
    pub(in crate::reckon) fn counted(mut self, on: &str, counted: &str) -> Self {
        self.counted = Some(Counted { on: day(on), amount: amount(counted), span: Span::default() });
        self
    }

    pub(in crate::reckon) fn bought(mut self, on: &str, bought: &str) -> Self {
        self.bought.push(Bought { on: day(on), amount: amount(bought), span: Span::default() });
        self
    }

    pub(in crate::reckon) fn minimum(mut self, minimum: &str) -> Self {
        self.minimum = Some(amount(minimum));
        self
    }

    pub(in crate::reckon) fn level(mut self, level: Level) -> Self {
        self.level = Some(level);
        self
    }
}

//! The root of a file that is a plain list: `stores.yaml`, `tools.yaml`, `passages.yaml`, `cautions.yaml`.

use super::fields::{Fields, open_item};
use super::scalar::Spot;
use super::wrong_shape::wrong_shape;
use crate::book::diagnostic::Notes;
use crate::book::keys::{Shape, Table};
use crate::book::node::{Kind, Node};

/// Opens every record of the file and reads it. The list may stand under a key of the file's own
/// name, as someone may copy it from the format reference.
pub(super) fn records<'n, 't, T>(
    notes: &mut Notes<'_>,
    node: &'n Node<'t>,
    name: &'n str,
    table: &'static Table,
    mut read: impl FnMut(&mut Notes<'_>, Fields<'n, 't>) -> Option<T>,
) -> Option<Vec<T>> {
    let spot = Spot { node: under_own_name(node, name), key: name, shape: Shape::Records(table), in_list: false };
    if spot.node.is_null() {
        return Some(Vec::new());
    }
    let Kind::List(items) = &spot.node.kind else {
        wrong_shape(notes, spot);
        return None;
    };
    let mut found = Vec::new();
    for item in items {
        if let Some(fields) = open_item(notes, spot.item(item)) {
            found.extend(read(notes, fields));
        }
    }
    Some(found)
}

fn under_own_name<'n, 't>(node: &'n Node<'t>, name: &str) -> &'n Node<'t> {
    match &node.kind {
        Kind::Map(pairs) => match pairs.as_slice() {
            [(key, value)] if key.text == name => value,
            _ => node,
        },
        _ => node,
    }
}

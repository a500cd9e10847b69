//! All usual cautions with the guides they stand in.

use super::guide::usual;
use crate::site::press::Press;
use crate::site::view::{CautionsPage, HazardView};

/// Fills the page of the cautions.
#[must_use]
pub fn cautions(press: &Press<'_>) -> CautionsPage {
    let cautions = press
        .book
        .hazards
        .iter()
        .map(|hazard| HazardView {
            id: hazard.id.clone(),
            caution: usual(press, hazard),
            guides: press
                .users
                .hazards
                .get(hazard.id.as_str())
                .map(Vec::as_slice)
                .unwrap_or_default()
                .iter()
                .map(|guide| press.guide(guide, ""))
                .collect(),
            guides_more: None,
        })
        .collect();
    CautionsPage { cautions }
}

//! Provisions as CSV (RFC 4180): comma-separated, lines ended by CR LF, the heads in the first line.

use crate::quantity::Rounding;
use crate::reckon::{Held, Provision, ProvisionLine, Remark};
use crate::spreadsheet::harmless;

/// Heads of the columns; never changed, new ones are put behind.
const HEADS: [&str; 13] =
    ["item", "title", "part-number", "stowed", "needed", "aboard", "minimum", "short", "buy", "packs", "for", "cost", "notes"];

/// All lines of a list. `say` puts a remark into words.
#[must_use]
pub fn provision_csv(provision: &Provision<'_>, say: impl Fn(&Remark<'_>) -> String) -> Vec<u8> {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    // Writing into memory does not fail.
    let _ = writer.write_record(HEADS);
    for line in &provision.lines {
        let _ = writer.write_record(fields(line, &say));
    }
    writer.into_inner().unwrap_or_default()
}

fn fields(line: &ProvisionLine<'_>, say: impl Fn(&Remark<'_>) -> String) -> [String; HEADS.len()] {
    let item = line.item;
    let up = |held: &Option<Held>| held.map(|held| held.said(Rounding::Up)).unwrap_or_default();
    let packs: Vec<String> = line.packs.iter().map(|(size, count)| format!("{count} x {}", size.written())).collect();
    let guides: Vec<&str> = line.uses().iter().map(|used| used.guide.id.as_str()).collect();
    let remarks: Vec<String> = line.remarks.iter().map(say).collect();
    [
        line.id.to_owned(),
        line.title.to_owned(),
        item.and_then(|item| item.part_number.clone()).unwrap_or_default(),
        item.and_then(|item| item.stowed.clone()).unwrap_or_default(),
        up(&line.needed),
        line.aboard.map(|held| held.said(Rounding::Down)).unwrap_or_default(),
        up(&line.minimum),
        up(&line.short),
        up(&line.buy),
        packs.join(" + "),
        guides.join("; "),
        line.cost.as_ref().map(ToString::to_string).unwrap_or_default(),
        remarks.join("; "),
    ]
    .map(harmless)
}

//! What a shared file carries for programs, gathered from the book.

use super::ShareError;
use super::hold::{self, Caution, From, Held};
use super::lend::Named;
use super::written::Written;
use crate::book::check::{Target, resolve};
use crate::book::cut::without_keys;
use crate::book::id::key_of;
use crate::book::keys::KeySpec;
use crate::book::model::{Amount, Book, Guide, Units};
use crate::book::outline::MarkKind;
use crate::book::public::Withheld;
use crate::book::source::{Source, Span};
use crate::book::usual::usual;
use crate::site::LentPicture;
use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet, HashMap};

/// Keys at the top of front matter that are of one boat alone.
const OWN_KEYS: [&str; 1] = ["received"];

/// What is carried, and what was kept back.
pub struct Gathered {
    pub held: Held,
    pub kept_back: usize,
    /// Guides that are not carried, for they have a name that means another thing in another guide; by id.
    pub apart: BTreeSet<String>,
}

/// Gathers the guides of `lent` as they stand in `book`, and what they name as `lent` has it.
/// `not_shown` stands in the texts where they named what is kept back.
pub fn gather(book: &Book, lent: &Book, pictures: Vec<hold::Picture>, not_shown: &str) -> Result<Gathered, ShareError> {
    let withheld = Withheld::of(&book.boat);
    let named = Named::of(&lent.guides);
    let written = Written::of(&lent.guides);
    let mut kept_back = 0;
    let mut guides = Vec::new();
    for guide in &lent.guides {
        let (Some(whole), Some((id, system))) = (book.guide(&guide.id), written.place(&guide.id)) else { continue };
        let (text, cut) = text(whole, guide, &withheld, not_shown)?;
        kept_back += cut;
        guides.push(hold::Guide { id: id.to_owned(), system: system.to_owned(), path: format!("guides/{system}/{id}.md"), text });
    }
    let shipped: BTreeSet<String> = usual(&lent.boat.language).into_iter().map(|hazard| hazard.id).collect();
    let own = lent.hazards.iter().filter(|hazard| named.hazards.contains(&hazard.id) && !shipped.contains(&hazard.id));
    let held = Held {
        format: hold::FORMAT.to_owned(),
        version: hold::VERSION,
        from: From { boat: lent.boat.name.clone(), kind: lent.boat.kind.clone() },
        language: lent.boat.language.clone(),
        units: units(lent.boat.units).to_owned(),
        licence: lent.boat.licence.clone(),
        made: concat!("garboard ", env!("CARGO_PKG_VERSION")).to_owned(),
        guides,
        systems: all(&lent.boat.systems, |one| written.systems(&one.id.value), |one, id| hold::System { id, title: one.title.clone() }),
        meters: all(
            lent.boat.meters.iter().filter(|meter| named.meters.contains(&meter.id.value)),
            |one| written.meters(&one.id.value),
            |one, id| hold::Meter { id, title: one.title.clone(), unit: one.unit.symbol().to_owned() },
        ),
        stores: all(
            &lent.stores,
            |one| written.items(&one.id.value),
            |one, id| hold::StoreItem {
                id,
                title: one.title.clone(),
                part_number: one.part_number.clone(),
                sold_in: one.sold_in.iter().map(Amount::written).map(str::to_owned).collect(),
                also_fits: one.also_fits.clone(),
                note: one.note.clone(),
            },
        ),
        tools: all(&lent.tools, |one| written.items(&one.id.value), |one, id| hold::Tool { id, title: one.title.clone() }),
        cautions: all(
            own,
            |one| written.hazards(&one.id),
            |one, id| Caution {
                id,
                title: one.title.clone(),
                signal: one.signal.word().to_owned(),
                harm: one.harm.clone(),
                avoid: one.avoid.clone(),
                defer: one.defer.clone(),
                words: one.words.clone(),
            },
        ),
        pictures: pictures
            .into_iter()
            .filter_map(|picture| written.picture(&picture.path).map(|path| hold::Picture { path, ..picture }))
            .collect(),
    };
    Ok(Gathered { held, kept_back, apart: written.apart })
}

/// Each thing under each of the names that texts have for it.
fn all<'t, 'n, T: 't, H, N: Iterator<Item = &'n str>>(
    things: impl IntoIterator<Item = &'t T>,
    names: impl Fn(&'t T) -> N,
    hold: impl Fn(&T, String) -> H,
) -> Vec<H> {
    let named = things.into_iter().flat_map(|one| names(one).map(move |name| (one, name.to_owned())));
    named.map(|(one, name)| hold(one, name)).collect()
}

/// The text of a guide as it was written, without what is kept back; and how many keys that were. `lent` is the guide as
/// it may be seen: what its marks may not name goes out of the Markdown, or whoever receives it would miss it there.
fn text(guide: &Guide, lent: &Guide, withheld: &Withheld, not_shown: &str) -> Result<(String, usize), ShareError> {
    let text = without_names(guide.source.text(), lent, not_shown);
    let source = Source::new(guide.source.path(), text.strip_prefix("\u{feff}").unwrap_or(&text).replace("\r\n", "\n"));
    let cut = |hides: &dyn Fn(&KeySpec) -> bool| {
        without_keys(&source, hides, &OWN_KEYS)
            .map_err(|error| ShareError::CannotCut { path: guide.source.path().to_owned(), key: error.key })
    };
    let kept_back = Cell::new(BTreeSet::new());
    let left = cut(&|key| {
        let hides = withheld.hides(key);
        if hides {
            let mut names = kept_back.take();
            names.insert(key.name);
            kept_back.set(names);
        }
        hides
    })?;
    Ok((left, kept_back.take().len()))
}

/// A text with plain words where it names what is kept back. A heading only loses the name: other stages call it by the rest.
fn without_names(text: &str, lent: &Guide, not_shown: &str) -> String {
    let headings: BTreeSet<Span> = lent.outline.stages.iter().flat_map(|stage| &stage.heading_marks).map(|mark| mark.span).collect();
    let withheld = lent.outline.marks().filter_map(|mark| match mark.kind {
        MarkKind::Withheld { shown } => Some((mark.span, shown && !headings.contains(&mark.span))),
        _ => None,
    });
    let mut left = String::with_capacity(text.len());
    let mut at = 0;
    for (span, shown) in withheld.collect::<BTreeMap<Span, bool>>() {
        left.push_str(text.get(at..span.start as usize).unwrap_or_default());
        if shown {
            left.push_str(not_shown);
        }
        at = span.end as usize;
    }
    left.push_str(text.get(at..).unwrap_or_default());
    left
}

/// A picture for programs.
pub fn picture(lent: LentPicture<'_>) -> hold::Picture {
    let kind = match lent.ending {
        "svg" => "image/svg+xml",
        "png" => "image/png",
        _ => "image/jpeg",
    };
    hold::Picture { path: lent.path.to_owned(), kind: kind.to_owned(), bytes: lent.bytes.to_vec() }
}

/// What the guides of `lent` lead to and a file of them does not hold: guides by id, and other files of the book.
pub fn left_behind(book: &Book, lent: &Book) -> (BTreeSet<String>, BTreeSet<String>) {
    let mut guides = BTreeSet::new();
    let mut files = BTreeSet::new();
    for guide in &lent.guides {
        let folder = guide.source.folder();
        for link in &guide.outline.links {
            let Target::Inside { path, .. } = resolve(folder, &link.target.value) else { continue };
            match book.guides.iter().find(|known| known.source.path() == path) {
                Some(known) if lent.guide(&known.id).is_none() => drop(guides.insert(known.id.clone())),
                Some(_) => {}
                None => drop(files.insert(path)),
            }
        }
        let covered = guide.covers.iter().filter_map(|name| book.guide_or_former(&name.value));
        guides.extend(covered.filter(|known| lent.guide(&known.id).is_none()).map(|known| known.id.clone()));
    }
    (guides, files)
}

/// What a guide of a file isolates for another guide or restores after one, where no guide of the file is that other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unpaired {
    /// The guide in the file, by id.
    pub guide: String,
    /// As it is written there.
    pub what: String,
    /// It is restored there; else it is left isolated.
    pub restored: bool,
    /// The guides of the book that pair with it, by id.
    pub partners: BTreeSet<String>,
}

/// The isolations that a file of `lent` but those `apart` tears from their other half. Where the book itself has no
/// other half, nothing can be shared along.
pub fn unpaired(book: &Book, lent: &Book, apart: &BTreeSet<String>) -> Vec<Unpaired> {
    let carried: Vec<&Guide> = lent.guides.iter().filter(|guide| !apart.contains(&guide.id)).collect();
    let ids: BTreeSet<&str> = carried.iter().map(|guide| guide.id.as_str()).collect();
    let halves = Halves::of(&book.guides);
    let mut found: Vec<Unpaired> = Vec::new();
    for guide in &carried {
        let restored = guide.outline.restored_for_others();
        for mark in guide.outline.step_marks() {
            let (what, is_restored, partners) = match &mark.kind {
                MarkKind::Restore(what) if restored.contains(&key_of(what)) => {
                    let occasions = guide.occasions.iter().map(|name| name.value.as_str());
                    (what, true, occasions.flat_map(|occasion| Halves::named(&halves.left, what, occasion)).collect::<BTreeSet<&str>>())
                }
                MarkKind::Isolate { what, until: Some(occasion) } => {
                    (what, false, Halves::named(&halves.restored, what, &occasion.value).collect())
                }
                _ => continue,
            };
            let torn = !partners.is_empty() && partners.is_disjoint(&ids);
            let partners = partners.into_iter().map(str::to_owned).collect();
            let one = Unpaired { guide: guide.id.clone(), what: what.clone(), restored: is_restored, partners };
            if torn && !found.contains(&one) {
                found.push(one);
            }
        }
    }
    found
}

/// What guides do for each other, by what it is about and the occasion; the guides by their ids.
#[derive(Default)]
struct Halves<'b> {
    /// Isolated until the occasion.
    left: HashMap<(String, &'b str), BTreeSet<&'b str>>,
    /// Restored on the occasion, and not isolated by the same guide.
    restored: HashMap<(String, &'b str), BTreeSet<&'b str>>,
}

impl<'b> Halves<'b> {
    fn of(guides: &'b [Guide]) -> Self {
        let mut halves = Self::default();
        for guide in guides {
            for mark in guide.outline.step_marks() {
                if let MarkKind::Isolate { what, until: Some(occasion) } = &mark.kind {
                    halves.left.entry((key_of(what), &occasion.value)).or_default().insert(&guide.id);
                }
            }
            for key in guide.outline.restored_for_others() {
                for occasion in &guide.occasions {
                    halves.restored.entry((key.clone(), &occasion.value)).or_default().insert(&guide.id);
                }
            }
        }
        halves
    }

    fn named<'h>(half: &'h HashMap<(String, &'b str), BTreeSet<&'b str>>, what: &str, occasion: &'h str) -> impl Iterator<Item = &'h str> {
        half.get(&(key_of(what), occasion)).into_iter().flatten().copied()
    }
}

fn units(units: Units) -> &'static str {
    match units {
        Units::Metric => "metric",
        Units::Imperial => "imperial",
        Units::Both => "both",
    }
}

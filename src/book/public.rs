//! The book as others may read it: everything private taken out first.
//!
//! Where all that is withheld of an entry is what its private keys say, it stands apart in
//! [`Kept`](super::model::Kept), and the public entry is the same one without. Any other file is read again from its
//! text, and the keys that are withheld are passed over as if they had not been written, so that none can be forgotten.
//! Of either no more than the Markdown can be seen in the text that goes on: nothing later can show what nobody read.
//!
//! A guide or an entry with an error is left out, for what is mistyped may be what was to keep something private; and of
//! a boat whose `boat.yaml` has one there is nothing but her name.

use super::check::paths_of_paper;
use super::keys::KeySpec;
use super::load::{read_again, read_entry_again, read_guide_again};
use super::model::{Boat, Book, Entry, FindingRef, Guide};
use super::names_of_guide::NamesOfGuide;
use super::outline::{Mark, MarkKind};
use super::received;
use super::source::{Source, Span};
use super::unlisted::name_systems;
use super::usual::usual;
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet, HashMap};

/// The keys that a public edition passes over.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Withheld {
    /// Optional keys that the boat keeps to herself.
    private: BTreeSet<String>,
    /// Private keys that she shows all the same.
    public: BTreeSet<String>,
}

impl Withheld {
    /// What `boat.yaml` says of it.
    #[must_use]
    pub fn of(boat: &Boat) -> Self {
        let names = |list: &[super::source::Name]| list.iter().map(|name| name.value.clone()).collect();
        Self { private: names(&boat.private_fields), public: names(&boat.public_fields) }
    }

    /// Whether a key is passed over.
    #[must_use]
    pub fn hides(&self, key: &KeySpec) -> bool {
        // A record that is private as a whole is passed over where it begins; what it needs goes with it.
        !key.required && (self.private.contains(key.name) || (key.private && !self.public.contains(key.name)))
    }

    /// Whether a key of an entry is one of those that are kept apart, and left out together.
    #[must_use]
    pub fn is_apart(&self, key: &KeySpec) -> bool {
        key.private && !self.shows_private()
    }

    /// Whether the boat shows private keys.
    fn shows_private(&self) -> bool {
        !self.public.is_empty()
    }
}

/// The public book. What refers to something that was taken out is dropped without a word.
#[must_use]
pub fn public(book: &Book) -> Book {
    // Whoever points at a place in one of them finds nothing there.
    let no_lists = || LISTS.iter().map(|path| ((*path).into(), Source::new(*path, ""))).collect();
    if !book.says_what_is_private() {
        let Boat { name, language, units, .. } = &book.boat;
        let boat = Boat { name: name.clone(), language: language.clone(), units: *units, ..Boat::default() };
        return Book { hazards: usual(&boat.language), boat, sources: no_lists(), ..Book::default() };
    }
    let withheld = Withheld::of(&book.boat);
    // Else what was found out in reading is of no use.
    let known = withheld == book.withheld;
    let kept: Vec<&Entry> = book.entries.iter().filter(|entry| !is_kept_back(book, entry)).collect();
    let mut public = Book { files: files(book, &kept, &withheld), hazards: usual(&book.boat.language), ..Book::default() };
    let lists = LISTS.iter().filter_map(|path| book.sources.get(*path));
    read_again(&mut public, &lists.cloned().collect::<Vec<_>>(), &withheld);
    let guides = book.guides.par_iter().filter(|guide| !book.faulty.contains(guide.source.path()));
    public.guides = guides.filter_map(|guide| public_guide(guide, &withheld, known)).collect();
    public.entries = kept.par_iter().filter_map(|entry| public_entry(entry, &withheld, known)).collect();
    // Again, for what is private may name a system of its own.
    name_systems(&mut public);
    received::settle(&mut public);
    drop_loose_ends(&mut public);
    public.sources = no_lists();
    public
}

/// Whether an entry is private, or may have been meant to be.
fn is_kept_back(book: &Book, entry: &Entry) -> bool {
    entry.private || book.faulty.contains(entry.source.path())
}

/// The files that are read again as a whole.
const LISTS: [&str; 5] = ["boat.yaml", "cautions.yaml", "meters.csv", "stores.yaml", "tools.yaml"];

/// A guide without what is withheld; `None` where nothing of it can be used then. `known`: it was read knowing what that is.
fn public_guide(guide: &Guide, withheld: &Withheld, known: bool) -> Option<Guide> {
    if known && guide.is_apart() {
        return Some(guide.without_front_matter());
    }
    read_guide_again(&guide.source, withheld).map(|mut read| {
        withhold_names(guide, &mut read);
        read.without_front_matter()
    })
}

/// A name of the front matter that is withheld is withheld in the Markdown too: it says there what nobody may read above.
fn withhold_names(whole: &Guide, read: &mut Guide) {
    let names = |mark: &Mark| match &mark.kind {
        MarkKind::Name(name) => Some((mark.span, (name.clone(), true))),
        MarkKind::Read(name) => Some((mark.span, (name.clone(), false))),
        _ => None,
    };
    // By its place, for a guide of another boat may be called other names now.
    let named: HashMap<Span, (String, bool)> = whole.outline.marks().filter_map(names).collect();
    let (known, left) = (NamesOfGuide::of(whole), NamesOfGuide::of(read));
    let withheld = |mark: &Mark| {
        let (name, shown) = named.get(&mark.span)?;
        (known.find(name).is_some() && left.find(name).is_none()).then_some(MarkKind::Withheld { shown: *shown })
    };
    let gone: Vec<Option<MarkKind>> = read.outline.marks().map(withheld).collect();
    for (mark, gone) in read.outline.marks_mut().zip(gone) {
        if let Some(gone) = gone {
            mark.kind = gone;
        }
    }
}

/// An entry without what is withheld, as [`public_guide`] takes it out of a guide.
fn public_entry(entry: &Entry, withheld: &Withheld, known: bool) -> Option<Entry> {
    if known && entry.is_apart() {
        return Some(if withheld.shows_private() { entry.without_front_matter() } else { entry.without_kept() });
    }
    let text = without(entry.source.text(), &entry.private_passages);
    let mut read = read_entry_again(&Source::new(entry.source.path(), text), withheld)?.without_front_matter();
    read.paper_on_file = entry.paper_on_file;
    Some(read)
}

/// A text without these stretches of it.
fn without(text: &str, cuts: &[Span]) -> String {
    let mut kept = String::with_capacity(text.len());
    let mut from = 0;
    for cut in cuts {
        kept.push_str(text.get(from..cut.start as usize).unwrap_or_default());
        from = from.max(cut.end as usize);
    }
    kept.push_str(text.get(from..).unwrap_or_default());
    kept
}

/// Drops what leads to findings that are not there.
fn drop_loose_ends(public: &mut Book) {
    let leads_on = |one: &FindingRef| public.entry(&one.entry).is_some_and(|entry| (1..=entry.findings.len()).contains(&one.number));
    let loose = |entry: &Entry| entry.clears.iter().any(|one| !leads_on(one));
    let there = |entry: &Entry| entry.clears.iter().filter(|one| leads_on(one)).cloned().collect();
    let mended: Vec<(usize, Vec<FindingRef>)> =
        public.entries.iter().enumerate().filter(|(_, entry)| loose(entry)).map(|(at, entry)| (at, there(entry))).collect();
    for (at, clears) in mended {
        if let Some(entry) = public.entries.get_mut(at) {
            entry.clears = clears;
        }
    }
}

/// Pictures and other files, without the papers and without those of entries that are kept back.
fn files(book: &Book, kept: &[&Entry], withheld: &Withheld) -> BTreeMap<String, u64> {
    let mut files = book.files.clone();
    let hides_papers = super::keys::ENTRY.key("papers").is_some_and(|key| withheld.hides(key));
    for entry in book.entries.iter().filter(|_| hides_papers) {
        for paper in &entry.kept().papers {
            for path in paths_of_paper(entry.source.folder(), &entry.id, &paper.value) {
                files.remove(&path);
            }
        }
    }
    let folder = |path: &str| path.trim_end_matches(".md").to_owned() + "/";
    let shown: BTreeSet<String> = kept.iter().map(|entry| folder(entry.source.path())).collect();
    let private = book.entries.iter().filter(|entry| entry.private).map(|entry| entry.source.path());
    // Of some of these nothing could be read.
    let faulty = book.faulty.iter().map(String::as_str).filter(|path| path.starts_with("log/"));
    let hidden: BTreeSet<String> = private.chain(faulty).map(folder).filter(|own| !shown.contains(own)).collect();
    files.retain(|path, _| !path.match_indices('/').any(|(at, _)| path.get(..=at).is_some_and(|above| hidden.contains(above))));
    files
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::decode;
    use crate::book::diagnostic::Notes;
    use crate::book::keys::{COST, ENTRY, ENTRY_PART, FINDING, GUIDE, GUIDE_PART, READING, RECEIVED, RENEWAL, TORQUE};
    use crate::book::source::Name;

    const FULL: &str = "---\njobs: [oil]\ndate: 2026-03-14\nmeters: {engine: 1840.5}\n\
        parts: [{item: filter, qty: 2, cost: 18.50 EUR}, {item: belt, cost: 9 EUR}]\ncosts: [{what: crane, cost: 90 EUR}]\n\
        findings: [{what: wear, grade: watch}]\nclears: [2025-11-02-rig-check/1]\n\
        fitted: [{gear: raft}, {gear: anode, serial: LR-6}]\ndone-by: yard\nby: [Maren]\nplace: Hollen\npapers: [invoice.pdf]\n\
        basis: invoice\nexcept: [the pump]\n---\nNotes ![](seat.jpg) and a [link](a.md).\n";

    fn withheld(private: &[&str], public: &[&str]) -> Withheld {
        let set = |names: &[&str]| names.iter().map(|name| (*name).to_owned()).collect();
        Withheld { private: set(private), public: set(public) }
    }

    fn entry(text: &str, withheld: &Withheld) -> Entry {
        let source = Source::new("log/2026/2026-03-14-oil.md", text);
        let mut notes = Notes::knowing(&source, withheld);
        let entry = decode::entry::read(&mut notes);
        assert_eq!(notes.found, []);
        entry.expect("an entry")
    }

    /// What is shown of an entry, whether it was read again for that, and what of its text.
    fn shown(entry: &Entry, withheld: &Withheld) -> (String, String) {
        let shown = public_entry(entry, withheld, true).expect("an entry");
        (format!("{:#?} {:#?}", *shown, shown.kept()), shown.source.slice(shown.body).to_owned())
    }

    #[track_caller]
    fn case(text: &str, private: &[&str], public: &[&str], apart: bool) {
        let withheld = withheld(private, public);
        let whole = entry(text, &withheld);
        assert_eq!(whole.is_apart(), apart);
        let again = crate::book::load::entry_of(&whole.source).0.expect("an entry");
        assert!(!again.is_apart(), "what is withheld was not known");
        assert_eq!(shown(&whole, &withheld), shown(&again, &withheld));
    }

    #[test]
    fn what_is_kept_apart_is_left_out_as_if_it_had_not_been_read() {
        case(FULL, &[], &[], true);
        case(FULL, &["by", "stowed"], &[], true);
        case(FULL, &["basis"], &[], false);
        case(FULL, &[], &["place"], false);
        case("---\nwork: [paint]\ndate: 2026-03-14\nplace: Hollen\n---\n", &[], &["place"], true);
        case("---\nwork: [paint]\ndate: 2026-03-14\n---\na <!-- private -->b<!-- /private --> c\n", &[], &[], false);
    }

    #[test]
    fn nothing_private_is_left_in_a_public_entry() {
        let whole = entry(FULL, &Withheld::default());
        assert_eq!(whole.kept().by, ["Maren"]);
        let public = public_entry(&whole, &Withheld::default(), true).expect("an entry");
        assert_eq!(*public.kept(), crate::book::model::Kept::default());
        assert!(public.paper_on_file);
        let debug = format!("{public:?}");
        for private in ["18.50", "9 EUR", "crane", "90", "LR-6", "Maren", "Hollen", "invoice.pdf"] {
            assert!(!debug.contains(private), "{private}");
        }
        assert_eq!(public.source.text(), "");
        assert_eq!(public.source.slice(Span::new(0, 20)), "");
        assert_eq!(public.source.blanked().trim_start(), "Notes ![](seat.jpg) and a [link](a.md).\n");
    }

    #[test]
    fn every_private_key_of_an_entry_is_kept_apart() {
        let tables = [&ENTRY, &ENTRY_PART, &COST, &FINDING, &RENEWAL];
        let private = |key: &&KeySpec| key.private;
        let names: BTreeSet<&str> = tables.into_iter().flat_map(|table| table.keys.iter()).filter(private).map(|key| key.name).collect();
        // With a new one, `Kept` needs a place for it.
        assert_eq!(names, BTreeSet::from(["by", "cost", "costs", "papers", "place", "serial", "what"]));
        for name in names {
            assert!(FULL.contains(&format!("{name}: ")), "{name}");
        }
    }

    #[test]
    fn no_key_of_a_guide_is_private() {
        // A guide has no `Kept`: with the first, what hides nothing of an entry would hide nothing of a guide either.
        for table in [&GUIDE, &GUIDE_PART, &TORQUE, &READING, &RECEIVED] {
            assert!(table.keys.iter().all(|key| !key.private), "{}", table.name);
        }
    }

    #[test]
    fn a_guide_is_shared_where_nothing_of_it_is_withheld() {
        let text = "---\ntitle: Oil\nsummary: change it\n# Kurt says twice a year\n---\n## Drain\n\n1. Drain it.\n";
        let guide = |withheld: &Withheld| {
            let source = Source::new("guides/engine/oil.md", text);
            let read = decode::guide::read(&mut Notes::knowing(&source, withheld)).expect("a guide");
            (read.is_apart(), public_guide(&read, withheld, true).expect("a guide"))
        };
        let (apart, public) = guide(&withheld(&["stowed"], &[]));
        assert!(apart && public.summary.is_some());
        assert!(!public.source.blanked().contains("Kurt") && public.source.blanked().contains("## Drain"));
        let (apart, public) = guide(&withheld(&["summary"], &[]));
        assert!(!apart && public.summary.is_none());
    }

    #[test]
    fn findings_that_are_not_shown_are_not_cleared() {
        let book = Book { entries: vec![entry(FULL, &Withheld::default())], ..Book::default() };
        assert!(public(&book).entries[0].clears.is_empty());
        assert_eq!(book.entries[0].clears.len(), 1);
    }

    #[test]
    fn a_guide_or_an_entry_with_an_error_is_left_out_with_its_files() {
        let guide = |path: &str| {
            let source = Source::new(path, "---\ntitle: Oil\n---\n## Drain\n\n1. Drain it.\n");
            decode::guide::read(&mut Notes::new(&source)).expect("a guide")
        };
        let whole = entry(FULL, &Withheld::default());
        let mut book = Book {
            guides: vec![guide("guides/engine/belt.md"), guide("guides/engine/oil.md")],
            entries: vec![whole],
            files: ["seat.jpg", "invoice.jpg"].iter().map(|name| (format!("log/2026/2026-03-14-oil/{name}"), 1)).collect(),
            ..Book::default()
        };
        let told = |book: &Book| {
            let public = public(book);
            (public.guides.len(), public.entries.len(), public.files.len())
        };
        assert_eq!(told(&book), (2, 1, 2));
        book.faulty.insert("guides/engine/oil.md".to_owned());
        assert_eq!(told(&book), (1, 1, 2));
        book.faulty.insert("log/2026/2026-03-14-oil.md".to_owned());
        assert_eq!(told(&book), (1, 0, 0));
        // Nothing could be read of it, and its pictures are still nobody's business.
        book.entries.clear();
        assert_eq!(told(&book), (1, 0, 0));
    }

    #[test]
    fn a_system_that_only_a_private_entry_names_is_in_no_list() {
        let boat = Source::new("boat.yaml", "name: Wren\n");
        let open = entry("---\ndate: 2026-03-14\nsystem: rig\n---\n", &Withheld::default());
        let kept = entry("---\ndate: 2026-03-14\nsystem: dinghy\nprivate: true\n---\n", &Withheld::default());
        let mut book = Book { entries: vec![open, kept], ..Book::default() };
        book.sources.insert(boat.shared_path(), boat);
        let titles = |book: &Book| book.boat.systems.iter().map(|system| system.title.clone()).collect::<Vec<_>>();
        name_systems(&mut book);
        assert_eq!(titles(&book), ["Dinghy", "Rig"]);
        assert_eq!(titles(&public(&book)), ["Rig"]);
    }

    #[test]
    fn of_a_boat_that_does_not_say_what_is_private_there_is_her_name() {
        let text = "name: Wren\nlanguage: de\nhome-port: Hollen\n";
        let source = Source::new("boat.yaml", text);
        let mut book = Book { entries: vec![entry(FULL, &Withheld::default())], ..Book::default() };
        crate::book::load::read_list_again(&mut book, &source);
        assert_eq!(public(&book).boat.home_port.as_deref(), Some("Hollen"));
        book.faulty.insert("boat.yaml".to_owned());
        let public = public(&book);
        assert_eq!((public.boat.name.as_str(), public.boat.language.as_str()), ("Wren", "de"));
        assert_eq!((public.boat.home_port, public.entries.len(), public.files.len()), (None, 0, 0));
        assert_eq!(public.sources["boat.yaml"].text(), "");
    }

    #[test]
    fn what_the_boat_came_to_withhold_since_is_withheld() {
        let mut book = Book { entries: vec![entry(FULL, &Withheld::default())], ..Book::default() };
        assert!(public(&book).entries[0].basis.is_some());
        book.boat.private_fields.push(Name::new("basis".to_owned(), Span::default()));
        let text = "name: Wren\nprivate-fields: [basis]\n";
        book.sources.insert("boat.yaml".into(), Source::new("boat.yaml", text));
        assert!(public(&book).entries[0].basis.is_none());
    }
}

//! Cuts pages whose lists are too long for a phone: what matters first stays, the rest is one link away.
//!
//! A page that is light anyway stays whole. The numbers keep every page of a book of 10,000 guides and 100,000
//! entries under 300,000 bytes; a job, a defect and a line of the stores take about 900 bytes each.

use super::tools::OTHER_TOOLS;
use crate::site::long::{Cutter, GEAR, Leaf, STORES, TOOLS, path};
use crate::site::press::Press;
use crate::site::view::{
    CautionsPage, DefectsPage, GearGroup, GearPage, GuidesPage, HomePage, Link, MetersPage, More, MoreList, OccasionsPage, PassagePage,
    ProvisionRow, ProvisionsPage, StoreRow, StoresPage, SystemPage, ToolsPage,
};

/// Rows on each further page of a list.
const EACH: usize = 100;
/// Links on each further page of them.
const LINKS: usize = 500;
/// Jobs that a page of all guides holds whole.
const WHOLE: usize = 250;
/// Small things inside the rows of one page, such as the guides that use a tool: with more in all, each row keeps a few.
const INSIDE: usize = 800;
const KEPT_INSIDE: usize = 8;

/// Rows for each of several lists that share a page.
fn share(all: usize, lists: usize) -> usize {
    (all / lists.max(1)).max(3)
}

/// Cuts the first page.
pub fn home(press: &Press<'_>, page: &mut HomePage) -> Vec<Leaf> {
    let words = press.words;
    let title = words.text("pages.state");
    let mut cutter = Cutter::new(words, "index", &title);
    let heading = |key: &str| words.text(&format!("home.{key}"));
    page.left_more = cutter.cut(&mut page.left, "left", &heading("left"), (20, EACH), MoreList::OpenJobs);
    page.late_more = cutter.cut(&mut page.late, "due", &heading("due"), (80, EACH), MoreList::Jobs);
    page.soon_more = cutter.cut(&mut page.soon, "soon", &heading("soon"), (40, EACH), MoreList::Jobs);
    page.open_more = cutter.cut(&mut page.open, "open", &heading("open"), (20, EACH), MoreList::OpenJobs);
    page.expiring_more = cutter.cut(&mut page.expiring, "expiring", &heading("expiring"), (30, EACH), MoreList::Expiring);
    // The further pages of what uses them stand beside those of the stores, which make them.
    used_by(&mut Cutter::new(words, "stores", ""), &mut page.low_stores);
    page.low_stores_more = cutter.cut(&mut page.low_stores, "low-stores", &heading("low-stores"), (30, EACH), MoreList::BriefStores);
    cutter.leaves()
}

/// Cuts the list of all guides: of each system a few, and the pages of the system for the others.
pub fn guides(press: &Press<'_>, page: &mut GuidesPage) -> Vec<Leaf> {
    let words = press.words;
    let title = words.text("pages.guides");
    let mut cutter = Cutter::new(words, "guides", &title);
    page.left_more = cutter.cut(&mut page.left, "left", &words.text("home.left"), (20, EACH), MoreList::OpenJobs);
    if page.groups.iter().map(|group| group.jobs.len()).sum::<usize>() <= WHOLE {
        return cutter.leaves();
    }
    let first = share(WHOLE, page.groups.len());
    for (at, group) in page.groups.iter_mut().enumerate() {
        let Some(stem) = press.map.system(&group.id).and_then(|page| page.strip_suffix(".html")) else {
            group.jobs_more = cutter.cut(&mut group.jobs, &format!("in-{at}"), &group.system.text, (first, EACH), MoreList::Jobs);
            continue;
        };
        if group.jobs.len() <= first {
            continue;
        }
        let parts = group.jobs.len().div_ceil(EACH);
        let further = (2..=parts)
            .map(|part| Link { text: words.say("more.page", &[("n", &part.to_string())]), href: path(stem, SYSTEM_GUIDES, part) });
        group.jobs_more = Some(More {
            count: i64::try_from(group.jobs.len() - first).unwrap_or(i64::MAX),
            pages: std::iter::once(group.system.clone()).chain(further).collect(),
        });
        group.jobs.truncate(first);
    }
    cutter.leaves()
}

const SYSTEM_GUIDES: &str = "guides";

/// Cuts the page of a system.
pub fn system(press: &Press<'_>, stem: &str, page: &mut SystemPage) -> Vec<Leaf> {
    let words = press.words;
    let mut cutter = Cutter::new(words, stem, &page.title);
    page.defects_more = cutter.cut(&mut page.defects, "defects", &words.text("system.defects"), (40, EACH), MoreList::Defects);
    page.jobs_more = cutter.cut(&mut page.jobs, SYSTEM_GUIDES, &words.text("system.guides"), (EACH, EACH), MoreList::Jobs);
    page.gear_more = cutter.cut(&mut page.gear, "gear", &words.text("system.gear"), (50, EACH), MoreList::BriefGear);
    cutter.leaves()
}

/// Cuts the stores.
pub fn stores(press: &Press<'_>, page: &mut StoresPage) -> Vec<Leaf> {
    let title = press.words.text("pages.stores");
    let mut cutter = Cutter::new(press.words, "stores", &title);
    used_by(&mut cutter, &mut page.stores);
    page.stores_more = cutter.cut(&mut page.stores, "", &title, (STORES, STORES), MoreList::Stores);
    cutter.leaves()
}

fn used_by(cutter: &mut Cutter<'_>, stores: &mut [StoreRow]) {
    if stores.iter().map(|row| row.guides.len()).sum::<usize>() > INSIDE {
        for row in stores {
            row.guides_more = cutter.cut(&mut row.guides, &of(&row.id), &row.title, (KEPT_INSIDE, LINKS), MoreList::Links);
        }
    }
}

/// The name of a list that belongs to one thing; no list of a whole page begins like it.
fn of(id: &str) -> String {
    format!("of-{id}")
}

/// Cuts the tools.
pub fn tools(press: &Press<'_>, page: &mut ToolsPage) -> Vec<Leaf> {
    let title = press.words.text("pages.tools");
    let mut cutter = Cutter::new(press.words, "tools", &title);
    let rows = || page.tools.iter().chain(&page.other);
    if rows().map(|row| row.guides.len()).sum::<usize>() > INSIDE {
        for row in page.tools.iter_mut().chain(&mut page.other) {
            row.guides_more = cutter.cut(&mut row.guides, &of(&row.id), &row.title, (KEPT_INSIDE, LINKS), MoreList::Links);
        }
    }
    page.tools_more = cutter.cut(&mut page.tools, "", &press.words.text("tools.aboard"), (TOOLS, TOOLS), MoreList::Tools);
    page.other_more = cutter.cut(&mut page.other, OTHER_TOOLS, &press.words.text("tools.other"), (TOOLS, TOOLS), MoreList::Tools);
    cutter.leaves()
}

/// Cuts the gear, which stands in groups by system.
pub fn gear(press: &Press<'_>, page: &mut GearPage) -> Vec<Leaf> {
    let words = press.words;
    let title = words.text("pages.gear");
    let mut cutter = Cutter::new(words, "gear", &title);
    page.dated_more = cutter.cut(&mut page.dated, "dates", &words.text("gear.dates"), (50, EACH), MoreList::Expiring);
    if page.groups.iter().flat_map(|group| &group.gear).map(|row| row.jobs.len()).sum::<usize>() > EACH {
        for row in page.groups.iter_mut().flat_map(|group| &mut group.gear) {
            row.jobs_more = cutter.cut(&mut row.jobs, &of(&row.id), &row.title, (4, EACH), MoreList::Jobs);
        }
    }
    // Each piece with the title of its group, and grouped again once they are cut.
    let mut pieces: Vec<(String, _)> =
        page.groups.drain(..).flat_map(|group| group.gear.into_iter().map(move |row| (group.title.clone(), row))).collect();
    page.groups_more = cutter.cut(&mut pieces, "", &title, (GEAR, GEAR), |pieces| MoreList::Gear(grouped(pieces)));
    page.groups = grouped(pieces);
    cutter.leaves()
}

fn grouped(pieces: Vec<(String, crate::site::view::GearRow)>) -> Vec<GearGroup> {
    let mut groups: Vec<GearGroup> = Vec::new();
    for (title, row) in pieces {
        match groups.last_mut() {
            Some(group) if group.title == title => group.gear.push(row),
            _ => groups.push(GearGroup { title, gear: vec![row] }),
        }
    }
    groups
}

/// Cuts what occasions call for.
pub fn occasions(press: &Press<'_>, page: &mut OccasionsPage) -> Vec<Leaf> {
    let title = press.words.text("pages.occasions");
    let mut cutter = Cutter::new(press.words, "occasions", &title);
    let all = page.occasions.iter().map(|group| group.jobs.len() + group.defects.len()).sum::<usize>();
    if all > WHOLE {
        let lists = page.occasions.len();
        for group in &mut page.occasions {
            let (jobs, defects) = (format!("jobs-{}", group.id), format!("defects-{}", group.id));
            group.jobs_more = cutter.cut(&mut group.jobs, &jobs, &group.title, (share(160, lists), EACH), MoreList::Jobs);
            group.defects_more = cutter.cut(&mut group.defects, &defects, &group.title, (share(80, lists), EACH), MoreList::Defects);
        }
    }
    cutter.leaves()
}

/// Cuts the defects.
pub fn defects(press: &Press<'_>, page: &mut DefectsPage) -> Vec<Leaf> {
    let words = press.words;
    let title = words.text("pages.defects");
    let mut cutter = Cutter::new(words, "defects", &title);
    page.act_more = cutter.cut(&mut page.act, "act", &words.text("defects.act"), (120, EACH), MoreList::Defects);
    page.watch_more = cutter.cut(&mut page.watch, "watch", &words.text("defects.watch"), (80, EACH), MoreList::Defects);
    cutter.leaves()
}

/// Cuts the meters.
pub fn meters(press: &Press<'_>, page: &mut MetersPage) -> Vec<Leaf> {
    let title = press.words.text("pages.meters");
    let mut cutter = Cutter::new(press.words, "meters", &title);
    let lists = page.meters.len();
    for meter in &mut page.meters {
        let name = meter.now.title.clone();
        let (due, readings) = (format!("due-{}", meter.id), format!("readings-{}", meter.id));
        let jobs = press.words.say("meter-due.title", &[("meter", &name)]);
        meter.due_more = cutter.cut(&mut meter.due, &due, &jobs, (share(200, lists), 2 * EACH), MoreList::MeterDue);
        let heading = press.words.say("meter.readings", &[("meter", &name)]);
        let first = share(600, lists).min(2 * EACH);
        meter.readings_more = cutter.cut(&mut meter.readings, &readings, &heading, (first, LINKS), MoreList::Readings);
    }
    cutter.leaves()
}

/// Cuts the cautions.
pub fn cautions(press: &Press<'_>, page: &mut CautionsPage) -> Vec<Leaf> {
    let title = press.words.text("pages.cautions");
    let mut cutter = Cutter::new(press.words, "cautions", &title);
    if page.cautions.iter().map(|hazard| hazard.guides.len()).sum::<usize>() > INSIDE {
        for hazard in &mut page.cautions {
            let heading = hazard.caution.title.clone().unwrap_or_else(|| hazard.id.clone());
            hazard.guides_more = cutter.cut(&mut hazard.guides, &of(&hazard.id), &heading, (KEPT_INSIDE, LINKS), MoreList::Links);
        }
    }
    cutter.leaves()
}

/// Cuts the sheet of a passage.
pub fn passage(press: &Press<'_>, stem: &str, title: &str, page: &mut PassagePage) -> Vec<Leaf> {
    let words = press.words;
    let mut cutter = Cutter::new(words, stem, title);
    let heading = |key: &str| words.text(&format!("passage.{key}"));
    page.act_more = cutter.cut(&mut page.act, "act", &heading("act"), (40, EACH), MoreList::Defects);
    page.left_more = cutter.cut(&mut page.left, "left", &words.text("home.left"), (20, EACH), MoreList::OpenJobs);
    let put_right = words.text("occasion.defects");
    page.to_put_right_more = cutter.cut(&mut page.to_put_right, "put-right", &put_right, (30, EACH), MoreList::Defects);
    page.limiting_more = cutter.cut(&mut page.limiting, "limits", &heading("limits"), (30, EACH), MoreList::Defects);
    page.before_more = cutter.cut(&mut page.before, "before", &heading("before"), (60, EACH), MoreList::Before);
    for (at, group) in page.under_way.iter_mut().enumerate() {
        group.jobs_more = cutter.cut(&mut group.jobs, &format!("under-way-{at}"), &group.heading, (25, EACH), MoreList::UnderWay);
    }
    page.expiring_more = cutter.cut(&mut page.expiring, "expiring", &heading("expires"), (25, EACH), MoreList::Expiring);
    page.clear_more = cutter.cut(&mut page.clear, "clear", &heading("clear"), (150, LINKS), MoreList::Links);
    cutter.leaves()
}

/// Cuts a list of provisions.
pub fn provisions(press: &Press<'_>, stem: &str, title: &str, page: &mut ProvisionsPage) -> Vec<Leaf> {
    let words = press.words;
    let mut cutter = Cutter::new(words, stem, title);
    let lists: [(&str, &mut Vec<ProvisionRow>); 3] = [("buy", &mut page.buy), ("look", &mut page.look), ("enough", &mut page.enough)];
    let all: usize = lists.iter().flat_map(|(_, rows)| rows.iter()).map(|row| row.uses.len()).sum();
    if all > INSIDE {
        for (list, rows) in lists {
            for (at, row) in rows.iter_mut().enumerate() {
                let name = of(&format!("{list}-{at}"));
                row.uses_more = cutter.cut(&mut row.uses, &name, &row.title, (KEPT_INSIDE, LINKS), MoreList::Uses);
            }
        }
    }
    let heading = |key: &str| words.text(&format!("provisions.{key}"));
    page.buy_more = cutter.cut(&mut page.buy, "buy", &heading("buy"), (80, EACH), MoreList::Provisions);
    page.look_more = cutter.cut(&mut page.look, "look", &heading("look"), (30, EACH), MoreList::Provisions);
    page.enough_more = cutter.cut(&mut page.enough, "enough", &heading("enough"), (60, EACH), MoreList::Enough);
    cutter.leaves()
}

//! Names of the command line and of prompts, looked up in the book.

use crate::book::diagnostic::{nearest, offer};
use crate::book::id::{id_of, key_of, looks_like_id};
use crate::book::model::{Book, Gear, Guide, Meter, ReadingSpec};
use crate::book::stages::titled;
use crate::cli::reckoned::{Slip, guides_with};

/// Most names that a remedy lists.
const MOST_OFFERED: usize = 6;

fn slip(message: String, remedy: impl Into<String>) -> Slip {
    Slip { message, remedy: remedy.into() }
}

/// A job, by the id or the title of its guide, and after `/` the gear.
pub fn job<'b>(book: &'b Book, text: &str) -> Result<(&'b Guide, Option<String>), Slip> {
    let (name, gear) = match text.split_once('/') {
        Some((name, gear)) => (name.trim(), Some(gear.trim())),
        None => (text.trim(), None),
    };
    let key = key_of(name);
    let by_title = || book.guides.iter().find(|guide| key_of(&guide.title) == key);
    let guide = book.guide_or_former(name).or_else(by_title).or_else(|| book.guide_or_former(&id_of(name)));
    let guide = guide.ok_or_else(|| slip(format!("there is no job `{name}` in the book"), near_jobs(book, name)))?;
    let Some(gear) = gear else { return Ok((guide, None)) };
    let wanted = id_of(gear);
    match guide.for_gear.iter().find(|name| name.value == gear || name.value == wanted) {
        Some(name) => Ok((guide, Some(name.value.clone()))),
        None if guide.for_gear.is_empty() => Err(slip(
            format!("the job `{}` is for no gear of its own, and `{gear}` follows it", guide.id),
            format!("write `{}` alone", guide.id),
        )),
        None => {
            let known = guide.for_gear.iter().map(|name| name.value.as_str());
            Err(slip(format!("the job `{}` is not for `{gear}`", guide.id), offer(gear, known, "write gear that its guide is `for`")))
        }
    }
}

/// The nearest id, else those that have the word in them.
fn near_jobs(book: &Book, name: &str) -> String {
    let ids = book.guides.iter().map(|guide| guide.id.as_str());
    if nearest(name, ids.clone()).is_some() {
        return offer(name, ids, "");
    }
    let title = nearest(name, book.guides.iter().map(|guide| guide.title.as_str()));
    if let Some(guide) = title.and_then(|title| book.guides.iter().find(|guide| guide.title == title)) {
        return format!("did you mean `{}`?", guide.id);
    }
    let with: Vec<String> = guides_with(book, name).map(|id| format!("`{id}`")).take(MOST_OFFERED).collect();
    if with.is_empty() {
        let otherwise = "write the name of a guide's file without `.md`, or `--work` for work that no guide describes";
        return offer(name, ids, otherwise);
    }
    format!("with these words there is {}", with.join(", "))
}

/// A meter, by its id or its title.
pub fn meter<'b>(book: &'b Book, name: &str) -> Result<&'b Meter, Slip> {
    let meters = &book.boat.meters;
    let found = book.boat.meter(name).or_else(|| meters.iter().find(|meter| key_of(&meter.title) == key_of(name)));
    let ids = meters.iter().map(|meter| meter.id.value.as_str());
    found.ok_or_else(|| {
        slip(format!("there is no meter `{name}` in `boat.yaml`"), offer(name, ids, "write the `id` of a meter of `boat.yaml`"))
    })
}

/// Gear of the boat, by its id or its title.
pub fn gear<'b>(book: &'b Book, name: &str) -> Result<&'b Gear, Slip> {
    let all = &book.boat.gear;
    let found = book.boat.gear(name).or_else(|| all.iter().find(|gear| key_of(&gear.title) == key_of(name)));
    let ids = all.iter().map(|gear| gear.id.value.as_str());
    found
        .ok_or_else(|| slip(format!("there is no gear `{name}` in `boat.yaml`"), offer(name, ids, "write the `id` of gear of `boat.yaml`")))
}

/// A system of the boat.
pub fn system(book: &Book, name: &str) -> Result<String, Slip> {
    let systems = &book.boat.systems;
    let found = systems.iter().find(|system| system.id.value == name || key_of(&system.title) == key_of(name));
    let ids = systems.iter().map(|system| system.id.value.as_str());
    let otherwise = "write the `id` of a system of `boat.yaml`";
    found
        .map(|system| system.id.value.clone())
        .ok_or_else(|| slip(format!("there is no system `{name}` in `boat.yaml`"), offer(name, ids, otherwise)))
}

/// What a part is called in the entry: an id of the stores or of the guides of the jobs, or plain
/// words. One that looks like an id that nobody knows is a slip.
pub fn part<'b>(book: &'b Book, guides: impl Iterator<Item = &'b Guide> + Clone, name: &str) -> Result<String, Slip> {
    if let Some(item) = book.stores.iter().find(|item| item.id.value == name || key_of(&item.title) == key_of(name)) {
        return Ok(item.id.value.clone());
    }
    let of_guides = guides.flat_map(|guide| guide.parts.iter().map(|part| part.item.value.as_str()));
    if of_guides.clone().any(|item| item == name) {
        return Ok(name.to_owned());
    }
    let ids = book.stores.iter().map(|item| item.id.value.as_str()).chain(of_guides);
    let near = nearest(name, ids);
    // One plain word may be a name or an id: only a hyphen, or a near id, tells.
    if name.is_empty() || (looks_like_id(name) && (name.contains('-') || near.is_some())) {
        let otherwise = "write an `id` of `stores.yaml`, or plain words such as `Tin of grease`";
        let remedy = near.map_or_else(|| otherwise.to_owned(), |near| format!("did you mean `{near}`? else {otherwise}"));
        return Err(slip(format!("there is no part `{name}` in `stores.yaml`"), remedy));
    }
    Ok(name.to_owned())
}

/// A reading that a guide of the jobs asks for, and its point, as the guide spells it.
pub fn reading<'b>(
    guides: impl Iterator<Item = &'b Guide> + Clone,
    name: &str,
    point: Option<&str>,
) -> Result<(&'b ReadingSpec, Option<String>), Slip> {
    let specs = guides.flat_map(|guide| guide.readings.iter());
    let wanted = id_of(name);
    let Some(spec) = specs.clone().find(|spec| spec.id == wanted) else {
        let remedy = offer(name, specs.map(|spec| spec.id.as_str()), "write a reading that the guide of the job declares under `readings`");
        return Err(slip(format!("no guide of this entry asks for the reading `{name}`"), remedy));
    };
    let points = spec.points.iter().map(String::as_str);
    match point {
        None if spec.points.is_empty() => Ok((spec, None)),
        Some(point) if spec.points.is_empty() => {
            Err(slip(format!("the reading `{}` has no points, and `{point}` follows it", spec.id), format!("write `{}=…` alone", spec.id)))
        }
        Some(point) => match points.clone().find(|known| key_of(known) == key_of(point)) {
            Some(known) => Ok((spec, Some(known.to_owned()))),
            None => Err(slip(
                format!("the reading `{}` has no point `{point}`", spec.id),
                offer(point, points, "write a point as the guide has it"),
            )),
        },
        None => {
            let first = spec.points.first().map_or("", String::as_str);
            Err(slip(
                format!("the reading `{}` is taken at several points, and this names none", spec.id),
                format!("write the point after a slash: `{}/{first}=…`", spec.id),
            ))
        }
    }
}

/// The title of a stage of the jobs' guides.
pub fn stage<'b>(guides: impl Iterator<Item = &'b Guide> + Clone, name: &str) -> Result<String, Slip> {
    let titles = guides.flat_map(|guide| guide.outline.stages.iter().map(|stage| stage.title.as_str()));
    match titled(titles.clone(), name).and_then(|at| titles.clone().nth(at)) {
        Some(title) => Ok(title.to_owned()),
        None => {
            Err(slip(format!("no job of this entry has a stage `{name}`"), offer(name, titles, "write the title of a stage of the guide")))
        }
    }
}

//! The lines of one item: what can be summed on one, what cannot be compared on lines of its own.

use jiff::civil::Date;

use super::super::exact::{minus, plus, times, whole};
use super::super::packs::packs;
use super::super::{Held, MOST_TIMES, StockState, stock};
use super::needs::ItemNeeds;
use super::{Asked, Need, Pack, ProvisionLine, Remark, Standing};
use crate::book::model::{Amount, Entry, Level, StoreItem};
use crate::quantity::{Exact, Unit};

/// Adds the lines of an item of the stores: none where nothing needs it and enough is aboard.
pub(super) fn of_stores<'b>(stock: &StockState<'b>, needs: ItemNeeds<'b>, end: Date, lines: &mut Vec<ProvisionLine<'b>>) {
    let ItemNeeds { needs, begun } = needs;
    let item = stock.item;
    let level = stock.aboard.is_none().then_some(item.level).flatten();
    let unit = unit_of(stock, &needs);
    // What nobody counts is used a little at a time: no amount need be said.
    let with_item = |need: &Need<'b>| match need.asked {
        Asked::Much(held) => held.in_unit(unit).is_some() || level == Some(Level::Plenty),
        Asked::Unsaid => unit.is_none() || level.is_some(),
        Asked::Unclear => level == Some(Level::Plenty),
    };
    let (needs, apart): (Vec<Need<'b>>, Vec<Need<'b>>) = needs.into_iter().partition(with_item);
    if !needs.is_empty() || stock.low {
        let mut line = line(&item.id.value, &item.title, needs);
        line.item = Some(item);
        sum_up(&mut line, unit, level);
        shelf(&mut line, stock, unit, end);
        reckon(&mut line, unit, level);
        line.remarks.extend(begun.into_iter().filter_map(|entry| used_already(entry, item, unit)));
        lines.push(line);
    }
    for (asked, needs) in grouped(apart) {
        let mut line = line(&item.id.value, &item.title, needs);
        line.item = Some(item);
        line.remarks.push(match asked {
            Asked::Much(_) => Remark::NotComparable(unit),
            Asked::Unsaid => Remark::NoAmount,
            Asked::Unclear => Remark::Unclear,
        });
        if let Asked::Much(held) = asked {
            sum_up(&mut line, held.unit, None);
        }
        shelf(&mut line, stock, unit, end);
        lines.push(line);
    }
}

/// Adds the lines of a part that the stores do not list: one for each kind of measure.
pub(super) fn unlisted<'b>(words: &'b str, needs: Vec<Need<'b>>, lines: &mut Vec<ProvisionLine<'b>>) {
    let one = Held { value: whole(1), unit: None };
    let needs = needs.into_iter().map(|need| if need.asked == Asked::Unsaid { Need { asked: Asked::Much(one), ..need } } else { need });
    for (asked, needs) in grouped(needs.collect()) {
        let mut line = line(words, words, needs);
        line.remarks.push(Remark::NotInStores);
        if let Asked::Much(held) = asked {
            sum_up(&mut line, held.unit, None);
            line.aboard = Some(Held { value: whole(0), unit: held.unit });
            reckon(&mut line, held.unit, None);
        } else {
            line.aboard = Some(Held { value: whole(0), unit: None });
            line.remarks.push(Remark::Unclear);
        }
        lines.push(line);
    }
}

/// A line without any figure: somebody has to look.
fn line<'b>(id: &'b str, title: &'b str, needs: Vec<Need<'b>>) -> ProvisionLine<'b> {
    let mut remarks = Vec::new();
    if needs.iter().any(|need| need.times >= MOST_TIMES) {
        remarks.push(Remark::CountedNoFurther);
    }
    if needs.iter().any(|need| need.guide.unchecked().is_some()) {
        remarks.push(Remark::NotChecked);
    }
    ProvisionLine {
        id,
        title,
        item: None,
        needed: None,
        aboard: None,
        minimum: None,
        short: None,
        buy: None,
        packs: Vec::new(),
        cost: None,
        needs,
        remarks,
        standing: Standing::Look,
    }
}

/// The unit of the line of an item: that it is counted in; where nothing is written about it, that
/// of the first need that says one.
fn unit_of(stock: &StockState<'_>, needs: &[Need<'_>]) -> Option<Unit> {
    stock::unit_of(stock.item, stock.counted).unwrap_or_else(|| {
        needs.iter().find_map(|need| match need.asked {
            Asked::Much(held) => Some(held.unit),
            _ => None,
        })?
    })
}

/// Needs that can be summed together, in the order they were found.
fn grouped(needs: Vec<Need<'_>>) -> Vec<(Asked, Vec<Need<'_>>)> {
    let alike = |a: &Asked, b: &Asked| match (a, b) {
        (Asked::Much(a), Asked::Much(b)) => a.unit.map(Unit::dimension) == b.unit.map(Unit::dimension),
        (a, b) => a == b,
    };
    let mut groups: Vec<(Asked, Vec<Need<'_>>)> = Vec::new();
    for need in needs {
        match groups.iter_mut().find(|(asked, _)| alike(asked, &need.asked)) {
            Some((_, group)) => group.push(need),
            None => groups.push((need.asked, vec![need])),
        }
    }
    groups
}

/// Sums what is needed in a unit. What nobody counts and no guide gives an amount of is needed once
/// in all: a tin serves several jobs.
fn sum_up(line: &mut ProvisionLine<'_>, unit: Option<Unit>, level: Option<Level>) {
    let mut sum = Some(whole(0));
    let (mut said, mut once) = (line.needs.is_empty(), false);
    for need in &line.needs {
        let each = match need.asked {
            Asked::Much(held) => held.in_unit(unit),
            Asked::Unsaid if level.is_none() => Some(whole(1)),
            Asked::Unsaid if unit.is_none() && !once => {
                once = true;
                sum = sum.and_then(|sum| plus(&sum, &whole(1)));
                said = true;
                continue;
            }
            _ => continue,
        };
        said = true;
        let all = each.and_then(|each| times(&each, &Exact::from_integer(i128::from(need.times))));
        sum = sum.zip(all).and_then(|(sum, all)| plus(&sum, &all));
    }
    if !said {
        line.remarks.push(Remark::NoAmount);
        return;
    }
    match sum {
        Some(value) => line.needed = Some(Held { value, unit }),
        // What is plenty need not be compared.
        None if level == Some(Level::Plenty) => {}
        None => line.remarks.push(Remark::TooLarge),
    }
}

/// What is on the shelf, and what there is to say of it.
fn shelf<'b>(line: &mut ProvisionLine<'b>, stock: &StockState<'b>, unit: Option<Unit>, end: Date) {
    let item = stock.item;
    line.aboard = stock.usable().map(|held| if held.value == whole(0) { Held { unit, ..held } } else { held });
    let minimum = match stock.aboard {
        Some(_) => stock.minimum,
        None => item.minimum.as_ref().and_then(|minimum| Held::of(minimum).in_unit(unit)),
    };
    line.minimum = minimum.map(|value| Held { value, unit });
    if stock.never_counted() {
        line.remarks.push(Remark::NeverCounted);
    }
    if let (Some(aboard), Some(counted)) = (stock.aboard, stock.counted)
        && aboard.value < whole(0)
    {
        line.remarks.push(Remark::Negative { by: Held { value: -aboard.value, unit: aboard.unit }, counted: counted.on });
    }
    if let (None, Some(level @ (Level::Low | Level::None))) = (stock.aboard, item.level) {
        line.remarks.push(Remark::Level(level));
    }
    if let Some(expires) = item.expires.as_ref().filter(|month| month.last_day < end) {
        line.remarks.push(Remark::Expires(expires));
    }
}

/// What an unfinished job has used of an item so far. It is not taken off what the job needs: what
/// is left to do may need it all the same.
fn used_already<'b>(entry: &'b Entry, item: &StoreItem, unit: Option<Unit>) -> Option<Remark<'b>> {
    let mut used = whole(0);
    for part in entry.parts.iter().filter(|part| part.item.value == item.id.value && !part.unclear) {
        let amount = part.amount.as_ref().map_or(Held { value: whole(1), unit: None }, Held::of);
        used = plus(&used, &amount.in_unit(unit)?)?;
    }
    (used > whole(0)).then_some(Remark::Begun { entry, used: Held { value: used, unit } })
}

/// What is short, what to buy and what that costs.
fn reckon(line: &mut ProvisionLine<'_>, unit: Option<Unit>, level: Option<Level>) {
    let zero = Held { value: whole(0), unit };
    if level == Some(Level::Plenty) {
        (line.short, line.buy, line.standing) = (Some(zero), Some(zero), Standing::Enough);
        return;
    }
    let Some(needed) = line.needed else {
        // What is low is to be bought, however much of it.
        if level.is_some() && !line.remarks.iter().any(|remark| matches!(remark, Remark::TooLarge)) {
            line.standing = Standing::Buy;
        }
        return;
    };
    let minimum = line.minimum.map_or(zero.value, |minimum| minimum.value);
    let aboard = line.aboard.map_or(zero.value, |aboard| aboard.value);
    let short = plus(&needed.value, &minimum).and_then(|wanted| minus(&wanted, &aboard));
    let Some(short) = short.map(|short| short.max(zero.value)) else {
        line.remarks.push(Remark::TooLarge);
        return;
    };
    if level.is_some() && short == zero.value {
        line.standing = Standing::Buy;
        return;
    }
    line.short = Some(Held { value: short, unit });
    if short == zero.value {
        (line.buy, line.standing) = (Some(zero), Standing::Enough);
        return;
    }
    line.standing = Standing::Buy;
    purchase(line, &short, unit);
}

/// Rounds up to how it is sold.
fn purchase<'b>(line: &mut ProvisionLine<'b>, short: &Exact, unit: Option<Unit>) {
    let item: Option<&'b StoreItem> = line.item;
    let written: Vec<&'b Amount> = item.map(|item| item.sold_in.iter().collect()).unwrap_or_default();
    let sizes: Vec<(&'b Amount, Exact)> = written.iter().filter_map(|&size| Some(size).zip(Held::of(size).in_unit(unit))).collect();
    if sizes.is_empty() && !written.is_empty() {
        line.remarks.push(Remark::SoldOtherwise(unit));
    }
    let bought = if sizes.is_empty() {
        // Pieces are sold one by one, all else by the measure.
        match unit {
            None => packs(short, &[whole(1)]).map(|found| found.total),
            Some(_) => Some(*short),
        }
    } else {
        let values: Vec<Exact> = sizes.iter().map(|(_, value)| *value).collect();
        packs(short, &values).map(|found| {
            let size = |pack: &Pack| sizes.get(pack.size).map(|(size, _)| (*size, pack.count));
            line.packs = found.packs.iter().filter_map(size).collect();
            if !found.best {
                line.remarks.push(Remark::OtherPacks);
            }
            found.total
        })
    };
    let Some(value) = bought else {
        line.remarks.push(Remark::TooLarge);
        return;
    };
    line.buy = Some(Held { value, unit });
    line.cost = item.and_then(|item| item.price.as_ref()).and_then(|price| price.checked_mul(&value));
}

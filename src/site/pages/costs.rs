//! What was spent, by year and system; only in the crew's edition.

use crate::quantity::Money;
use crate::reckon::{CostPlace, CurrencyCosts};
use crate::site::press::Press;
use crate::site::view::{CostRow, CostsOfCurrency, CostsPage, CostsTable, Link};
use std::ops::Range;

/// Years that stand beside each other in one table: as many as a sheet of paper holds.
const YEARS: usize = 5;

/// Fills the page of the costs.
#[must_use]
pub fn costs(press: &Press<'_>) -> CostsPage {
    let currencies = &press.reckoning.costs.currencies;
    CostsPage {
        several: currencies.iter().any(|costs| costs.systems.iter().any(|system| system.place == CostPlace::Several)),
        currencies: currencies
            .iter()
            .map(|costs| CostsOfCurrency {
                code: costs.code.to_owned(),
                tables: (0..costs.years.len())
                    .step_by(YEARS)
                    .map(|from| table(press, costs, from..costs.years.len().min(from + YEARS)))
                    .collect(),
            })
            .collect(),
    }
}

/// The table of some of the years.
fn table(press: &Press<'_>, costs: &CurrencyCosts<'_>, years: Range<usize>) -> CostsTable {
    // All sums of a currency have as many decimals, so that they stand under each other.
    let decimals = costs.total.as_ref().map_or(2, Money::decimals);
    let shown = |sum: Option<&Money>| sum.map_or_else(|| press.words.text("costs.too-large"), |sum| sum.amount_with(decimals));
    let with_total = years.start == 0 && costs.years.len() > 1;
    let rows = costs.systems.iter().filter_map(|system| {
        let of_years = system.by_year.get(years.clone()).unwrap_or_default();
        if !with_total && of_years.iter().all(Option::is_none) {
            return None;
        }
        let (name, href) = place(press, system.place);
        let sums = of_years.iter().map(|sum| sum.as_ref().map_or_else(String::new, |sum| shown(sum.as_ref()))).collect();
        Some(CostRow { name, href, sums, total: with_total.then(|| shown(system.total.as_ref())) })
    });
    let shown_years = costs.years.get(years.clone()).unwrap_or_default();
    CostsTable {
        caption: caption(press, costs.code, shown_years),
        years: shown_years.iter().map(|year| Link { text: year.to_string(), href: log_page(press, *year) }).collect(),
        rows: rows.collect(),
        sums: costs.by_year.get(years).unwrap_or_default().iter().map(|sum| shown(sum.as_ref())).collect(),
        total: with_total.then(|| shown(costs.total.as_ref())),
        total_head: total_head(press, costs),
    }
}

/// Over the sums of all years; where they stand in several tables, it names them.
fn total_head(press: &Press<'_>, costs: &CurrencyCosts<'_>) -> String {
    match costs.years.as_slice() {
        [latest, .., earliest] if costs.years.len() > YEARS => format!("{earliest}–{latest}"),
        _ => press.words.text("costs.all-years"),
    }
}

fn caption(press: &Press<'_>, code: &str, years: &[i16]) -> String {
    let year = |year: Option<&i16>| year.map_or_else(String::new, ToString::to_string);
    let (from, to) = (year(years.last()), year(years.first()));
    let key = if from == to { "costs.one-year" } else { "costs.years" };
    press.words.say(key, &[("currency", code), ("from", &from), ("to", &to)])
}

fn place(press: &Press<'_>, place: CostPlace<'_>) -> (String, Option<String>) {
    match place {
        CostPlace::System(_, id) => {
            let link = press.system(id, "");
            (link.text, press.map.system(id).map(|_| link.href))
        }
        CostPlace::Several => (press.words.text("costs.several"), None),
        CostPlace::None => (press.words.text("costs.none"), None),
    }
}

/// The page of the log with the entries of a year.
fn log_page(press: &Press<'_>, year: i16) -> String {
    let page = press.map.log_pages.iter().find(|plan| plan.year == year);
    page.map_or_else(|| "log.html".to_owned(), |plan| plan.path.clone())
}

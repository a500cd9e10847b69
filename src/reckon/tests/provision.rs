//! Provisions: what is short and what to buy, each sum by hand.

use super::{Ahead, Provision, ProvisionLine, Remark, Standing, totals};
use crate::book::model::{Book, Level};
use crate::quantity::{Exact, Rounding};
use crate::reckon::testing::{Writing, book, day, entry, gear, guide, item};
use crate::reckon::{Held, reckon};
use proptest::prelude::*;

const ON: &str = "2026-06-01";

/// Lines of the list where every job is done so many times.
fn lines(book: &Book, times: u64) -> Vec<String> {
    let (reckoning, _) = reckon(book, day(ON));
    let provision = reckoning.provision_by(Ahead::Until(day("2026-08-30")), day("2026-08-30"), |_| times);
    provision.lines.iter().map(line).collect()
}

/// `buy oil: needed 15 L, aboard 4 L, at least 2 L, short 13 L, buy 13 L (2 × 5 L, 3 × 1 L) for 93.60 EUR; never counted`.
fn line(line: &ProvisionLine<'_>) -> String {
    let said = |held: &Option<Held>| held.map_or("-".to_owned(), |held| held.said(Rounding::Up));
    let standing = match line.standing {
        Standing::Buy => "buy",
        Standing::Look => "look",
        Standing::Enough => "enough",
    };
    let mut text = format!(
        "{standing} {}: needed {}, aboard {}, at least {}, short {}, buy {}",
        line.id,
        said(&line.needed),
        said(&line.aboard),
        said(&line.minimum),
        said(&line.short),
        said(&line.buy),
    );
    if !line.packs.is_empty() {
        let packs: Vec<String> = line.packs.iter().map(|(size, count)| format!("{count} × {}", size.written())).collect();
        text.push_str(&format!(" ({})", packs.join(", ")));
    }
    if let Some(cost) = &line.cost {
        text.push_str(&format!(" for {cost}"));
    }
    for remark in &line.remarks {
        text.push_str("; ");
        text.push_str(&match remark {
            Remark::NeverCounted => "never counted".to_owned(),
            Remark::Negative { by, counted } => format!("{} more used since {counted}", by.said(Rounding::Up)),
            Remark::Level(level) => format!("level {level:?}").to_lowercase(),
            Remark::NotInStores => "not in the stores".to_owned(),
            Remark::NotComparable(unit) => format!("counted in {}", unit.map_or("pieces", crate::quantity::Unit::symbol)),
            Remark::NoAmount => "no amount".to_owned(),
            Remark::Unclear => "unclear".to_owned(),
            Remark::Expires(month) => format!("expires {}", month.last_day),
            Remark::Begun { entry, used } => format!("{} used {}", entry.id, used.said(Rounding::Down)),
            Remark::SoldOtherwise(_) => "sold otherwise".to_owned(),
            Remark::NotChecked => "not checked".to_owned(),
            Remark::CountedNoFurther => "counted no further".to_owned(),
            Remark::OtherPacks => "other packs".to_owned(),
            Remark::TooLarge => "too large".to_owned(),
        });
    }
    text
}

/// `change ×2 on port, starboard if worn`.
fn uses(line: &ProvisionLine<'_>) -> Vec<String> {
    let used = line.uses().into_iter().map(|used| {
        let gear: Vec<&str> = used.gear.iter().map(|gear| gear.id.value.as_str()).collect();
        let times = if used.times == 1 { String::new() } else { format!(" ×{}", used.times) };
        let on = if gear.is_empty() { String::new() } else { format!(" on {}", gear.join(", ")) };
        format!("{}{times}{on}{}", used.guide.id, if used.if_worn { " if worn" } else { "" })
    });
    used.collect()
}

#[track_caller]
fn case(book: &Book, times: u64, expected: &[&str]) {
    assert_eq!(lines(book, times), expected);
}

fn oil() -> crate::book::model::StoreItem {
    item("oil").counted("2026-01-05", "4 L").minimum("2 L").sold_in(&["1 L", "5 L"]).price("7.20 EUR")
}

#[test]
fn short_is_needed_and_minimum_less_what_is_aboard() {
    let book = book().item(oil()).guide(guide("change").needs("oil", "7.5 L"));
    // Once: 7.5 + 2 − 4 = 5.5; by 5 and 1 that is 5 + 1 = 6, 0.5 over. 6 × 7.20 = 43.20.
    case(&book, 1, &["buy oil: needed 7.5 L, aboard 4 L, at least 2 L, short 5.5 L, buy 6 L (1 × 5 L, 1 × 1 L) for 43.20 EUR"]);
    // Twice: 15 + 2 − 4 = 13: two of five and three of one. 13 × 7.20 = 93.60.
    case(&book, 2, &["buy oil: needed 15 L, aboard 4 L, at least 2 L, short 13 L, buy 13 L (2 × 5 L, 3 × 1 L) for 93.60 EUR"]);
    // Not at all, and 4 L are over the minimum: no line.
    case(&book, 0, &[]);
}

#[test]
fn what_is_used_since_the_count_is_off_the_shelf() {
    // 4 − 3.5 = 0.5 L aboard: under the minimum though nothing needs it. 2 − 0.5 = 1.5: two of one.
    let used = book().item(oil()).entry(entry("2026-02-01-a").uses("oil", "3.5 L"));
    case(&used, 0, &["buy oil: needed 0 L, aboard 0.5 L, at least 2 L, short 1.5 L, buy 2 L (2 × 1 L) for 14.40 EUR"]);
    // 4 − 4.5 = −0.5: none can be taken, and the short is of that. 2 − 0 = 2.
    let overdrawn = book().item(oil()).entry(entry("2026-02-01-a").uses("oil", "4.5 L"));
    case(
        &overdrawn,
        0,
        &["buy oil: needed 0 L, aboard 0 L, at least 2 L, short 2 L, buy 2 L (2 × 1 L) for 14.40 EUR; 0.5 L more used since 2026-01-05"],
    );
}

#[test]
fn a_sum_too_large_to_hold_is_left_out() {
    let money = |text: &str| crate::quantity::Money::parse(text).expect("money");
    // A hundred and one of these are as much as an `i128` holds, and one more is too much.
    let large = money("1 USD").checked_mul(&Exact::from_integer(i128::MAX / 101)).expect("an amount");
    let mut costs = vec![money("7 EUR")];
    costs.extend(std::iter::repeat_n(large, 102));
    assert_eq!(totals(costs.iter().take(102)).len(), 2);
    costs.push(money("2 USD"));
    costs.push(money("1.50 EUR"));
    // What comes after the sum that was too large begins no new one: twice 7 + 1.50.
    costs.extend(costs.clone());
    let said: Vec<String> = totals(costs.iter()).iter().map(ToString::to_string).collect();
    assert_eq!(said, ["17.00 EUR"]);
}

#[test]
fn enough_is_said_too() {
    let book = book().item(item("filter").counted("2026-01-05", "3").minimum("1")).guide(guide("change").needs("filter", "2"));
    case(&book, 1, &["enough filter: needed 2, aboard 3, at least 1, short 0, buy 0"]);
    // 2 + 1 − 3 = 0, 4 + 1 − 3 = 2.
    case(&book, 2, &["buy filter: needed 4, aboard 3, at least 1, short 2, buy 2"]);
}

#[test]
fn parts_if_worn_are_needed_once_for_each_job() {
    let book = book()
        .gear(gear("port"))
        .gear(gear("starboard"))
        .item(item("washer").counted("2026-01-05", "0").sold_in(&["10"]).price("0.60 EUR"))
        .guide(guide("change").for_gear("port").for_gear("starboard").needs("washer", "2").if_worn().needs("washer", "1"));
    let (reckoning, _) = reckon(&book, day(ON));
    let provision = reckoning.provision_by(Ahead::Until(day(ON)), day(ON), |_| 3);
    assert_eq!(uses(&provision.lines[0]), ["change ×6 on port, starboard"]);
    // Three times each: 2 once for either engine, and 3 × 1: 2 × 2 + 2 × 3 = 10, one pack of ten.
    case(&book, 3, &["buy washer: needed 10, aboard 0, at least -, short 10, buy 10 (1 × 10) for 6.00 EUR"]);
}

#[test]
fn units_of_one_kind_are_converted_exactly() {
    // A US quart is 0.946352946 L (NIST SP 811 appendix B.8). 8 of them are 7.570823568 L; less 4 L
    // and with 2 L at least 5.570823568 L are short; in quarts 5.8866…: six, 5.678117676 L.
    let book = book()
        .item(item("oil").counted("2026-01-05", "4 L").minimum("2 L").sold_in(&["1 US qt", "1 US gal"]).price("10 EUR"))
        .guide(guide("change").needs("oil", "8 US qt"));
    // A gallon is four quarts: one gallon and two quarts hold six in three packs. 56.78117676 EUR.
    case(
        &book,
        1,
        &["buy oil: needed 7.58 L, aboard 4 L, at least 2 L, short 5.58 L, buy 5.68 L (1 × 1 US gal, 2 × 1 US qt) for 56.78 EUR"],
    );
}

#[test]
fn what_cannot_be_compared_stands_on_a_line_of_its_own() {
    let book = book()
        .item(oil())
        .guide(guide("a").needs("oil", "3 L"))
        .guide(guide("b").needs("oil", "2").needs("oil", ""))
        .guide(guide("c").needs("oil", "500 g").needs("oil", "0.5 kg").needs("oil", "?"));
    case(
        &book,
        2,
        &[
            // 2 × 3 + 2 − 4 = 4 L. 4 × 7.20 = 28.80.
            "buy oil: needed 6 L, aboard 4 L, at least 2 L, short 4 L, buy 4 L (4 × 1 L) for 28.80 EUR",
            "look oil: needed 4, aboard 4 L, at least 2 L, short -, buy -; counted in L",
            "look oil: needed -, aboard 4 L, at least 2 L, short -, buy -; no amount",
            "look oil: needed 2000 g, aboard 4 L, at least 2 L, short -, buy -; counted in L",
            "look oil: needed -, aboard 4 L, at least 2 L, short -, buy -; unclear",
        ],
    );
    // Nothing else needs it and enough is aboard: only the line that cannot be reckoned.
    let alone = self::book().item(oil()).guide(guide("b").needs("oil", ""));
    case(&alone, 1, &["look oil: needed -, aboard 4 L, at least 2 L, short -, buy -; no amount"]);
    let pieces = self::book().item(item("filter").counted("2026-01-05", "1")).guide(guide("a").needs("filter", "2 L"));
    case(&pieces, 1, &["look filter: needed 2 L, aboard 1, at least -, short -, buy -; counted in pieces"]);
}

#[test]
fn what_was_never_counted_is_none_aboard_and_says_so() {
    let never = |item| book().item(item).guide(guide("a").needs("hose", "2 m"));
    // Nothing is written about it: it is reckoned in the unit it is needed in.
    case(&never(item("hose")), 1, &["buy hose: needed 2 m, aboard 0 m, at least -, short 2 m, buy 2 m; never counted"]);
    let sold = item("hose").sold_in(&["1.5 m"]).minimum("0.5 m");
    case(&never(sold), 1, &["buy hose: needed 2 m, aboard 0 m, at least 0.5 m, short 2.5 m, buy 3 m (2 × 1.5 m); never counted"]);
    case(&book().item(item("hose").minimum("1")), 0, &["buy hose: needed 0, aboard 0, at least 1, short 1, buy 1; never counted"]);
    // Never counted, nothing needs it, and no minimum: no line.
    case(&book().item(item("hose")), 0, &[]);
}

#[test]
fn levels_are_enough_or_none() {
    let grease =
        |level| book().item(item("grease").level(level)).guide(guide("a").needs("grease", "")).guide(guide("b").needs("grease", ""));
    case(&grease(Level::Plenty), 2, &["enough grease: needed 1, aboard -, at least -, short 0, buy 0"]);
    // Nobody counts it and no guide says how much: one in all, however often.
    case(&grease(Level::Low), 2, &["buy grease: needed 1, aboard -, at least -, short 1, buy 1; level low"]);
    case(&grease(Level::None), 2, &["buy grease: needed 1, aboard -, at least -, short 1, buy 1; level none"]);
    // Nothing needs it: some is to be bought, how much nobody can say.
    case(&grease(Level::Low), 0, &["buy grease: needed 0, aboard -, at least -, short -, buy -; level low"]);
    case(&grease(Level::Plenty), 0, &[]);
    // With amounts it is reckoned: 3 × 50 + 100 − 0 = 250 mL.
    let said = item("grease").level(Level::None).minimum("100 mL").sold_in(&["400 mL"]).price("0.02 EUR");
    let book = book().item(said).guide(guide("a").needs("grease", "50 mL").needs("grease", ""));
    case(
        &book,
        3,
        &["buy grease: needed 150 mL, aboard -, at least 100 mL, short 250 mL, buy 400 mL (1 × 400 mL) for 8.00 EUR; level none"],
    );
}

#[test]
fn what_the_stores_do_not_list_is_listed_by_its_words() {
    let book = book()
        .item(item("oil").counted("2026-01-05", "1 L"))
        .guide(guide("a").needs("Sheet of glass paper", "2").needs("oil", "1 L").needs("oli", "2 L"))
        .guide(guide("b").needs("sheet of glass paper", "").needs("a rag", "").needs("a rag", "1 m").needs("a rag", "?"));
    case(
        &book,
        2,
        &[
            "buy oil: needed 2 L, aboard 1 L, at least -, short 1 L, buy 1 L",
            "buy a rag: needed 2, aboard 0, at least -, short 2, buy 2; not in the stores",
            "buy a rag: needed 2 m, aboard 0 m, at least -, short 2 m, buy 2 m; not in the stores",
            "look a rag: needed -, aboard 0, at least -, short -, buy -; not in the stores; unclear",
            "buy oli: needed 4 L, aboard 0 L, at least -, short 4 L, buy 4 L; not in the stores",
            // Twice 2 and twice 1, under the words first found.
            "buy Sheet of glass paper: needed 6, aboard 0, at least -, short 6, buy 6; not in the stores",
        ],
    );
}

#[test]
fn what_an_unfinished_job_has_used_is_told_and_not_taken_off() {
    // 12 − 5.5 = 6.5 m aboard; 11 + 6 − 6.5 = 10.5 m.
    let book = book()
        .item(item("wire").counted("2026-01-05", "12 m").minimum("6 m"))
        .guide(guide("renew").needs("wire", "11 m"))
        .entry(entry("2026-02-01-a open").job("renew").uses("wire", "5 m").uses("wire", "50 cm"))
        .entry(entry("2026-02-02-b open").job("renew"));
    case(&book, 1, &["buy wire: needed 11 m, aboard 6.5 m, at least 6 m, short 10.5 m, buy 10.5 m; 2026-02-01-a used 5.5 m"]);
}

#[test]
fn how_it_is_sold_may_not_fit_how_it_is_counted() {
    let book = book().item(item("oil").counted("2026-01-05", "1 L").sold_in(&["1"]).price("9 EUR")).guide(guide("a").needs("oil", "2.5 L"));
    case(&book, 1, &["buy oil: needed 2.5 L, aboard 1 L, at least -, short 1.5 L, buy 1.5 L for 13.50 EUR; sold otherwise"]);
    // Half a piece is a whole one at the counter; nothing says how it is sold.
    let half = self::book().item(item("sheet").counted("2026-01-05", "0").price("3 EUR")).guide(guide("a").needs("sheet", "0.5"));
    case(&half, 1, &["buy sheet: needed 0.5, aboard 0, at least -, short 0.5, buy 1 for 3 EUR"]);
}

#[test]
fn what_expires_before_the_end_counts_and_is_marked() {
    let with = |expires: &str| book().item(item("raft").counted("2026-01-05", "1").expires(expires)).guide(guide("a").needs("raft", "1"));
    // The list looks until 2026-08-30: July is over by then, August is not.
    case(&with("2026-07"), 1, &["enough raft: needed 1, aboard 1, at least -, short 0, buy 0; expires 2026-07-31"]);
    case(&with("2026-08"), 1, &["enough raft: needed 1, aboard 1, at least -, short 0, buy 0"]);
}

#[test]
fn huge_figures_are_exact_or_none() {
    // 3 × 5,000,000 L = 15,000,000 L: three million of five.
    let book = |needed: &str| {
        book().item(item("oil").counted("2026-01-05", "0 L").sold_in(&["1 L", "5 L"])).guide(guide("a").needs("oil", needed))
    };
    case(&book("5000000 L"), 3, &["buy oil: needed 15000000 L, aboard 0 L, at least -, short 15000000 L, buy 15000000 L (3000000 × 5 L)"]);
    let most = lines(&book("999999999999 L"), 100_000);
    assert_eq!(most.len(), 1, "{most:?}");
    assert!(most[0].ends_with("(19999999999980000 × 5 L); counted no further"), "{most:?}");
}

#[test]
fn sums_are_kept_by_currency() {
    let book = book()
        .item(item("a").counted("2026-01-05", "0").price("2.50 EUR"))
        .item(item("b").counted("2026-01-05", "0").price("4 USD"))
        .item(item("c").counted("2026-01-05", "0"))
        .guide(guide("g").needs("a", "3").needs("b", "1").needs("c", "1").needs("words", "1"));
    let (reckoning, _) = reckon(&book, day(ON));
    let provision: Provision<'_> = reckoning.provision_by(Ahead::Occasion("haul-out"), day(ON), |_| 1);
    let total: Vec<String> = provision.total.iter().map(ToString::to_string).collect();
    // 3 × 2.50 and 1 × 4; `c` and the words have no price.
    assert_eq!((total, provision.unpriced), (vec!["7.50 EUR".to_owned(), "4 USD".to_owned()], 2));
}

#[test]
fn an_occasion_calls_for_every_job_that_names_it_once() {
    let book = book()
        .item(item("anode").counted("2026-01-05", "0"))
        .guide(guide("a").occasion("haul-out").needs("anode", "2"))
        .guide(guide("b").occasion("lay-up").needs("anode", "5"))
        .guide(guide("c").occasion("haul-out").every("calendar: 1 months").needs("anode", "1"));
    let (reckoning, _) = reckon(&book, day(ON));
    let provision = reckoning.provision(Ahead::Occasion("haul-out"));
    assert_eq!(provision.lines.iter().map(line).collect::<Vec<_>>(), ["buy anode: needed 3, aboard 0, at least -, short 3, buy 3"]);
    assert_eq!(uses(&provision.lines[0]), ["a", "c"]);
    assert_eq!(provision.end, day(ON));
}

#[test]
fn a_date_counts_what_falls_due_up_to_and_including_it() {
    // Done on 2026-01-15, monthly: due 2026-02-15, late on 2026-06-01: once then; after that on
    // 2026-07-01, 2026-08-01 and 2026-09-01.
    let book = book()
        .item(item("pad").counted("2026-01-05", "0"))
        .guide(guide("a").every("calendar: 1 months").needs("pad", "1"))
        .entry(entry("2026-01-15-a").job("a"));
    let (reckoning, _) = reckon(&book, day(ON));
    let needed = |until: &str| reckoning.provision(Ahead::Until(day(until))).lines[0].needed.map(|held| held.said(Rounding::Up));
    assert_eq!(needed("2026-06-01").as_deref(), Some("1"));
    assert_eq!(needed("2026-06-30").as_deref(), Some("1"));
    assert_eq!(needed("2026-07-01").as_deref(), Some("2"));
    // 90 days from 2026-06-01: 29 in June, 31 in July, 30 in August: 2026-08-30.
    assert_eq!(reckoning.days_ahead(), day("2026-08-30"));
    assert_eq!(needed("2026-08-30").as_deref(), Some("3"));
    assert_eq!(needed("2026-09-01").as_deref(), Some("4"));
}

proptest! {
    #[test]
    fn what_is_bought_is_never_less_than_is_needed(
        counted in prop::option::of(0_u32..300),
        used in 0_u32..400,
        minimum in prop::option::of(0_u32..300),
        needed in prop::collection::vec((0_u32..500, 0_usize..4), 0..4),
        sizes in prop::collection::vec((1_u32..900, 0_usize..4), 0..4),
        times in 0_u64..2000,
    ) {
        let units = ["L", "mL", "US qt", "imp gal"];
        let tenths = |value: u32| format!("{}.{}", value / 10, value % 10);
        let written = |(value, unit): &(u32, usize)| format!("{} {}", tenths(*value), units[*unit]);
        let mut oil = item("oil");
        if let Some(counted) = counted {
            oil = oil.counted("2026-01-05", &format!("{} L", tenths(counted)));
        }
        if let Some(minimum) = minimum {
            oil = oil.minimum(&format!("{} L", tenths(minimum)));
        }
        let sold: Vec<String> = sizes.iter().map(&written).collect();
        oil = oil.sold_in(&sold.iter().map(String::as_str).collect::<Vec<_>>());
        let job = needed.iter().fold(guide("a"), |job, need| job.needs("oil", &written(need)));
        let book = book().item(oil).guide(job).entry(entry("2026-02-01-b").uses("oil", &format!("{} L", tenths(used))));
        let (reckoning, _) = reckon(&book, day(ON));
        let provision = reckoning.provision_by(Ahead::Until(day(ON)), day(ON), |_| times);
        prop_assert!(!provision.lines.is_empty() || needed.is_empty() || times == 0);
        for line in &provision.lines {
            let value = |held: &Option<Held>| held.expect("a figure").value;
            let least = line.minimum.map_or_else(|| value(&line.needed), |minimum| minimum.value + value(&line.needed));
            prop_assert!(value(&line.aboard) + value(&line.buy) >= least, "{}", self::line(line));
            prop_assert!(value(&line.buy) >= value(&line.short));
            // And the packs hold what is said.
            if !line.packs.is_empty() {
                let unit = line.buy.and_then(|buy| buy.unit);
                let packs = line.packs.iter().map(|(size, count)| Held::of(size).in_unit(unit).expect("a volume") * i128::from(*count));
                prop_assert_eq!(packs.sum::<crate::quantity::Exact>(), value(&line.buy));
            }
        }
    }
}

//! Prices that are taken as those of a millilitre or a gram, where hardly anybody gives such a price.

use super::fields::Fields;
use crate::book::diagnostic::Notes;
use crate::book::model::{Amount, StoreItem};
use crate::quantity::{Exact, Unit, convert};

/// How many of one unit make another that is much larger: grams and kilograms, not litres and US quarts.
const MUCH_SMALLER: i128 = 100;

/// The unit by which people sell what is counted in a small one; `None`: the unit is not small.
fn usual(unit: Unit) -> Option<Unit> {
    match unit {
        Unit::Millilitre => Some(Unit::Litre),
        Unit::Gram => Some(Unit::Kilogram),
        Unit::Millimetre | Unit::Centimetre => Some(Unit::Metre),
        Unit::UsFluidOunce => Some(Unit::UsGallon),
        Unit::ImperialFluidOunce => Some(Unit::ImperialGallon),
        Unit::Ounce => Some(Unit::Pound),
        Unit::Inch => Some(Unit::Foot),
        _ => None,
    }
}

/// Who counts in millilitres what is sold by the litre or the cartridge hardly gives the price of a millilitre; nobody
/// does of what is not said to be sold in any way. A few cents may well be one: `0.03 EUR`.
pub(super) fn check(notes: &mut Notes<'_>, fields: Fields<'_, '_>, item: &StoreItem) {
    let Some(price) = &item.price else { return };
    let Some(Amount::Measured(reckoned)) = item.reckoned_as(item.counted.as_ref()) else { return };
    let unit = reckoned.unit();
    let one = Exact::from_integer(1);
    let symbol = unit.symbol();
    let (is_sold, remedy) = match (item.sold_in.first(), usual(unit)) {
        (Some(Amount::Measured(pack)), _)
            if convert(&one, pack.unit(), unit).is_some_and(|one| one >= Exact::from_integer(MUCH_SMALLER)) =>
        {
            let sold = pack.unit().symbol();
            (format!("it is sold by the {sold}"), format!("count it in {sold} where the price is that of one {sold}"))
        }
        (Some(Amount::Measured(pack)), Some(usual)) if pack.in_unit(unit).is_some_and(|pack| pack > one) && price.amount() >= one => {
            let usual = usual.symbol();
            (
                format!("it is sold in packs of {}", pack.written()),
                format!(
                    "where it is that of a pack, count whole packs: `qty: 1`, `sold-in: 1`; where it is that of one {usual}, give all its amounts in {usual}"
                ),
            )
        }
        (None, Some(usual)) => {
            let usual = usual.symbol();
            (format!("such things are usually sold by the {usual}"), format!("count it in {usual} where the price is that of one {usual}"))
        }
        _ => return,
    };
    notes.warning(
        "price-of-which-unit",
        fields.key_span("price"),
        format!("the price is taken as that of one {symbol}, in which it is reckoned, and {is_sold}"),
        remedy,
    );
}

#[cfg(test)]
mod tests {
    use crate::book::decode::testing::stores_of;

    /// What is told of the price of an item with these keys.
    #[track_caller]
    fn case(keys: &str, expected: &[&str]) {
        let told = stores_of(&format!("- {{id: a, title: A, {keys}}}\n"));
        let told: Vec<String> = told.problems.iter().map(|one| format!("{}: {} | {}", one.rule, one.message, one.remedy)).collect();
        assert_eq!(told, expected, "{keys}");
    }

    #[test]
    fn a_pack_in_the_small_unit_itself_is_told() {
        let told = |unit: &str, sold: &str, usual: &str| {
            format!(
                "price-of-which-unit: the price is taken as that of one {unit}, in which it is reckoned, and it is sold in packs of {sold} | \
                 where it is that of a pack, count whole packs: `qty: 1`, `sold-in: 1`; where it is that of one {usual}, give all its amounts \
                 in {usual}"
            )
        };
        case("counted: {on: 2026-01-01, qty: 0 mL}, minimum: 310 mL, sold-in: 310 mL, price: 9.00 EUR", &[&told("mL", "310 mL", "L")]);
        case("minimum: 100 g, sold-in: [400 g, 100 g], price: 7 EUR", &[&told("g", "400 g", "kg")]);
        case("minimum: 30 cm, sold-in: 200 cm, price: 4 EUR", &[&told("cm", "200 cm", "m")]);
        case("minimum: 10 US fl oz, sold-in: 1 US qt, price: 12 USD", &[&told("US fl oz", "1 US qt", "US gal")]);
    }

    #[test]
    fn what_is_sold_by_a_much_larger_unit_is_told() {
        let told = "price-of-which-unit: the price is taken as that of one cm, in which it is reckoned, and it is sold by the m | \
                    count it in m where the price is that of one m";
        case("minimum: 300 cm, sold-in: 2 m, price: 4 EUR", &[told]);
    }

    #[test]
    fn both_ways_of_mending_it_are_sound() {
        for sound in [
            "counted: {on: 2026-01-01, qty: 0}, minimum: 1, sold-in: 1, price: 9.00 EUR",
            "counted: {on: 2026-01-01, qty: 0 L}, minimum: 0.31 L, sold-in: 0.31 L, price: 29.00 EUR",
            "counted: {on: 2026-01-01, qty: 2 L}, sold-in: 5 L, price: 7.20 EUR",
            // A few cents are the price of a gram.
            "counted: {on: 2026-01-01, qty: 0 g}, sold-in: 400 g, price: 0.03 EUR",
            "counted: {on: 2026-01-01, qty: 5 g}, sold-in: 1 g, price: 9.00 EUR",
            "counted: {on: 2026-01-01, qty: 0 mL}, sold-in: 310 mL",
        ] {
            case(sound, &[]);
        }
    }
}

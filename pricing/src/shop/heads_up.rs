//! What to know before one drives to the store.

use super::{Entry, Fact, Inputs, ShoppingList};
use crate::buying::Buying;
use crate::catalog::Unit;
use crate::matching::{Purchase, sources};
use bom::quantity::{Length, Units};
use rust_decimal::Decimal;

/// A pound in kilograms (international avoirdupois pound, exact by definition).
const KILOGRAMS: Decimal = Decimal::from_parts(45_359_237, 0, 0, false, 8);

/// Every fact that the job has.
pub(super) fn facts(
    inputs: &Inputs<'_>,
    entries: &[Entry],
    buying: &Buying,
    list: &ShoppingList,
) -> Vec<Fact> {
    let purchases = entries.iter().filter_map(|entry| entry.purchase.clone());
    let purchases: Vec<Purchase> = purchases.collect();
    let said = buying.sentences();
    [
        ("Longest", longest(inputs, &purchases)),
        ("Weight", weight(inputs, entries)),
        ("Packs", packs(entries, buying)),
        ("Spares", spares(list)),
        ("Tees", tees(inputs)),
        ("Suppliers", (!said.is_empty()).then(|| said.join(" "))),
        ("Prices", prices(&purchases, list)),
    ]
    .into_iter()
    .filter_map(|(label, text)| text.map(|text| Fact { label, text }))
    .collect()
}

/// Of the sticks and the pieces, or of the ready lengths where none is cut.
fn longest(inputs: &Inputs<'_>, purchases: &[Purchase]) -> Option<String> {
    let units = inputs.summary.units;
    let pieces = inputs.takeoff.pipe.iter().flat_map(|line| &line.pieces);
    let Some(piece) = pieces.map(|piece| piece.length).max() else {
        let lines = inputs.takeoff.lines.iter();
        let ready = lines.filter(|line| line.key.part == "ready-pipe");
        let longest = ready.filter_map(|line| line.key.size.length()).max()?;
        return Some(format!(
            "ready length {}. Will it fit in your car? Ask the store to deliver.",
            longest.show(units)
        ));
    };
    let stick = purchases
        .iter()
        .filter_map(|purchase| match purchase.sold {
            Unit::Stick(length) => Some((length, purchase.sold)),
            Unit::Each | Unit::Foot | Unit::Metre => None,
        })
        .max();
    let stick = stick.map_or_else(String::new, |(_, unit)| format!("{}; ", unit.words(1, "")));
    Some(format!(
        "{stick}longest cut piece {}. Will it fit in your car? Ask the store to cut or to deliver.",
        piece.show(units)
    ))
}

/// Of the pipe as it is bought; a heap is never lighter than it says.
fn weight(inputs: &Inputs<'_>, entries: &[Entry]) -> Option<String> {
    let mut pounds = Decimal::ZERO;
    for line in &inputs.takeoff.pipe {
        let bought = entries.iter().filter(|entry| entry.line.key == line.key);
        let mut bought = bought
            .filter_map(|entry| entry.purchase.as_ref())
            .peekable();
        let feet = if bought.peek().is_none() {
            feet(line.end_to_end, Decimal::ONE)?
        } else {
            bought.try_fold(Decimal::ZERO, |sum, purchase| {
                sum.checked_add(long(purchase)?)
            })?
        };
        let per_foot = Decimal::try_from(line.mass_lb_per_ft).ok()?;
        pounds = pounds.checked_add(feet.checked_mul(per_foot)?)?;
    }
    let kilograms = pounds.checked_mul(KILOGRAMS)?;
    (!pounds.is_zero()).then(|| {
        let pounds = format!("{} lb", pounds.ceil().normalize());
        let kilograms = format!("{} kg", kilograms.ceil().normalize());
        match inputs.summary.units {
            Units::Feet => format!("{pounds} ({kilograms}), pipe only."),
            Units::Metric => format!("{kilograms} ({pounds}), pipe only."),
        }
    })
}

/// The pipe of a purchase in feet.
fn long(purchase: &Purchase) -> Option<Decimal> {
    let pack = Decimal::from(purchase.pack);
    let count = purchase.quantity.checked_mul(pack)?;
    match purchase.sold {
        Unit::Stick(length) => feet(length, count),
        Unit::Metre => feet(Length::from_mm(1_000), count),
        Unit::Foot => Some(count),
        Unit::Each => None,
    }
}

fn feet(length: Length, count: Decimal) -> Option<Decimal> {
    Decimal::from(length.nm())
        .checked_mul(count)?
        .checked_div(Decimal::from(Length::from_feet(1).nm()))
}

fn packs(entries: &[Entry], buying: &Buying) -> Option<String> {
    let over = entries.iter().filter(|entry| !entry.line.surplus.is_zero());
    let over: Vec<String> = over
        .map(|entry| format!("{} of {}", entry.line.surplus, entry.line.words))
        .collect();
    let packs = |entry: &Entry| entry.purchase.as_ref().is_some_and(|p| p.pack > 1);
    if over.is_empty() {
        let rounded = entries.iter().any(packs);
        return rounded.then(|| "nothing is left over.".to_owned());
    }
    let (over, worth) = (over.join(", "), buying.surplus_cost);
    let (code, worth) = (worth.currency(), worth.show());
    Some(format!("{over} left over, worth {code} {worth}."))
}

fn spares(list: &ShoppingList) -> Option<String> {
    let lines = || list.groups.iter().flat_map(|group| &group.lines);
    let count: u64 = lines().map(|line| line.spare.count).sum();
    if count == 0 {
        return None;
    }
    // With a sum from which delivery is free, spares may cost nothing.
    let cost = list.spares.filter(|spares| spares.amount() > Decimal::ZERO);
    let cost = cost.map_or_else(String::new, |spares| {
        format!(" for {} {}", list.currency, spares.show())
    });
    let back = if lines().any(|line| line.spare.returnable) {
        "; * can go back unused: keep the receipt"
    } else {
        ""
    };
    Some(format!("{count}{cost}{back}."))
}

fn tees(inputs: &Inputs<'_>) -> Option<String> {
    let reducing = inputs
        .takeoff
        .lines
        .iter()
        .any(|line| line.key.part == "tee" && line.key.size.reduces());
    reducing.then(|| "sizes read run x run x branch.".to_owned())
}

/// Whose prices they are and how old.
fn prices(purchases: &[Purchase], list: &ShoppingList) -> Option<String> {
    let undated = match sources::undated(purchases) {
        0 => None,
        count => Some(format!("{count} without a date")),
    };
    let said: Vec<String> = list
        .suppliers
        .iter()
        .map(|supplier| {
            format!("{} {}", supplier.mark, supplier.name)
                .trim()
                .to_owned()
        })
        .chain(sources::dated(purchases))
        .chain(undated)
        .collect();
    (!said.is_empty()).then(|| format!("{}.", said.join("; ")))
}

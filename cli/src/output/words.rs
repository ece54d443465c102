//! What every form of a paper says in the same words.

pub(super) mod air;
pub(super) mod change;
mod compare;
mod crew;
mod estimate;
pub(super) mod quote;
mod rating;
pub(crate) mod sizes;
pub(super) mod system;
mod water;

pub(super) use compare::{
    BREAK_EVEN, CompareRow, MOVERS, NOT_COMPARED, break_even, compare_holes, compare_rows, movers,
    own_cautions,
};
pub(super) use crew::{crew_facts, mind, needs, step_height, step_joints};
pub(super) use estimate::{INTERNAL, estimate_steps, holes, margin};
pub(super) use rating::{carries, other_views, weakest};
pub(super) use water::{
    arrival, end_kind, end_name, freezing, freezing_kind, water_days, water_either_way, water_ends,
    water_faults, water_heads, water_profile, wet_kind,
};

use bom::quantity::{Length, Size, Units};
use bom::system::Joint;
use bom::takeoff::{JointCount, PipeLine};
use jiff::civil::Date;
use pricing::cut_sheet::{Bound, CutSection, CutSheet, CutStick, StraightLine};
use pricing::money::Money;
use pricing::quote::{Quote, Tax};
use pricing::shop::{ShopGroup, ShopLine, ShoppingList};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// The joints of a count, by method where there are several.
pub(crate) fn joints(joints: &[JointCount]) -> String {
    let methods: BTreeSet<Joint> = joints.iter().map(|joints| joints.joint).collect();
    let of = |method: Joint| -> String {
        let mut by_size: BTreeMap<Reverse<Size>, u64> = BTreeMap::new();
        for own in joints.iter().filter(|joints| joints.joint == method) {
            *by_size.entry(Reverse(own.size)).or_default() += own.count;
        }
        let said: Vec<String> = by_size
            .into_iter()
            .map(|(Reverse(size), count)| format!("{count} at {size}"))
            .collect();
        said.join(", ")
    };
    match methods.len() {
        0 => String::new(),
        1 => methods
            .into_iter()
            .map(|method| format!("Joints to make up: {}.", of(method)))
            .collect(),
        _ => {
            let said: Vec<String> = methods
                .into_iter()
                .map(|method| format!("{}: {}", method.word(), of(method)))
                .collect();
            format!("Joints to make up, {}.", said.join("; "))
        }
    }
}

/// What becomes of the pipe of one size.
pub(super) fn pieces(pipe: &PipeLine) -> String {
    match pipe.pieces.len() {
        _ if pipe.ready => "built of ready-threaded lengths".to_owned(),
        1 => "1 piece".to_owned(),
        count => format!("{count} pieces"),
    }
}

/// Stands over a quote without a total.
pub(super) const INCOMPLETE: &str = "PRICE INCOMPLETE - this is not an offer";

/// `1 outlet`, `2 outlets`.
pub(crate) fn count(number: usize, one: &str) -> String {
    match number {
        1 => format!("1 {one}"),
        number => format!("{number} {one}s"),
    }
}

/// A price or amount of a line.
pub(super) fn price(money: Option<Money>) -> String {
    money.map_or_else(|| "no price".to_owned(), |money| money.show())
}

/// The words beside the sum of the sections.
pub(super) const fn before_tax(quote: &Quote) -> &'static str {
    match quote.total {
        Some(_) => "Total before tax",
        None => "Priced so far, before tax",
    }
}

/// The tax with what it is taken on.
pub(super) fn tax(tax: &Tax) -> String {
    format!("{}, {} % of {}", tax.label, tax.percent, tax.base.show())
}

/// The total.
pub(super) fn total(quote: &Quote) -> String {
    let total = quote.total.map(|total| total.show());
    total.unwrap_or_else(|| "incomplete".to_owned())
}

/// Stands over a shopping list without a total.
pub(super) const OPEN: &str = "PRICES ARE MISSING - the total is open";

/// Stands over what goes together with the list.
pub(super) const ALSO: &str = "Also needed, not counted";

/// A line as its label has it, with the unit where that is no single piece.
pub(super) fn on_shelf(line: &ShopLine) -> String {
    match line.unit.as_str() {
        "each" => line.words.clone(),
        unit => format!("{} ({unit})", line.words),
    }
}

/// Where a line goes, and its spares.
pub(super) fn where_used(line: &ShopLine) -> String {
    let back = if line.spare.returnable { "*" } else { "" };
    let spare = match line.spare.count {
        0 => None,
        count => Some(format!("{count} spare{back}")),
    };
    let over = (!line.surplus.is_zero()).then(|| format!("{} left over", line.surplus));
    let used = Some(line.used.clone()).filter(|used| !used.is_empty());
    let said: Vec<String> = used.into_iter().chain(spare).chain(over).collect();
    said.join("; ")
}

/// The letter of the supplier and the order number.
pub(super) fn order(line: &ShopLine) -> String {
    format!("{} {}", line.mark, line.code).trim().to_owned()
}

/// The words beside a group's sum.
pub(super) fn group_sum(group: &ShopGroup) -> &'static str {
    if group.lines.iter().any(|line| line.amount.is_none()) {
        "Subtotal, without its missing prices"
    } else {
        "Subtotal"
    }
}

/// The sums at the foot of a shopping list.
pub(super) fn shop_sums(shop: &ShoppingList) -> [(String, String); 2] {
    let code = shop.currency.code();
    match (shop.total, shop.without_spares) {
        (Some(total), Some(without)) => [
            (format!("Without spares {code}"), without.show()),
            (format!("TOTAL {code}, spares included"), total.show()),
        ],
        _ => [
            (format!("Priced so far {code}"), shop.priced.show()),
            (format!("TOTAL {code}"), "open".to_owned()),
        ],
    }
}

/// What each cut takes, by system where that differs.
pub(super) fn cut_kerf(sheet: &CutSheet) -> String {
    let takes = |kerf: Length| match (kerf, sheet.heading.units) {
        (Length::ZERO, _) => "a wheel cutter takes nothing".to_owned(),
        (_, Units::Feet) => format!("the saw takes {} at each cut", kerf.show(Units::Feet)),
        (_, Units::Metric) => format!("the saw takes {} mm at each cut", kerf.to_mm_text()),
    };
    let mut kerfs: Vec<(Length, Vec<&str>)> = Vec::new();
    for section in &sheet.sections {
        match kerfs.iter_mut().find(|(kerf, _)| *kerf == section.kerf) {
            Some((_, systems)) if systems.contains(&section.system.as_str()) => {}
            Some((_, systems)) => systems.push(&section.system),
            None => kerfs.push((section.kerf, vec![&section.system])),
        }
    }
    let said: Vec<String> = match &kerfs[..] {
        [(kerf, _)] => vec![takes(*kerf)],
        _ => kerfs
            .iter()
            .map(|(kerf, systems)| format!("{} of {}", takes(*kerf), systems.join(", ")))
            .collect(),
    };
    system::sentence(&format!(
        "{}; a last piece may finish flush",
        said.join("; ")
    ))
}

/// A size on the cut sheet: `3/4in`, and of which system where there are
/// several.
pub(super) fn cut_size(sheet: &CutSheet, system: &str, size: &str) -> String {
    let sections = sheet.sections.iter().map(|section| &section.system);
    let straights = sheet.straights.iter().map(|straight| &straight.system);
    if sections.chain(straights).all(|other| other == system) {
        size.to_owned()
    } else {
        format!("{system} {size}")
    }
}

/// What one size takes, and how sure that is.
pub(super) fn cut_summary(sheet: &CutSheet, section: &CutSection) -> String {
    let sticks = match section.bought {
        1 => "1 stick".to_owned(),
        count => format!("{count} sticks"),
    };
    let bought = match (section.cost, section.bound) {
        (Some(cost), Bound::Cost(bound)) => format!(
            "{sticks} to buy for {} {}; no plan costs less than {}",
            cost.currency().code(),
            cost.show(),
            bound.show()
        ),
        (_, Bound::Sticks(bound)) => {
            format!("{sticks} to buy; no plan takes fewer than {bound}")
        }
        (None, Bound::Cost(_)) => format!("{sticks} to buy"),
    };
    let proven = if section.proven {
        "proven the best"
    } else {
        "not proven the best"
    };
    match section.size.as_str() {
        "" => format!("{bought} ({proven})."),
        size => {
            let size = cut_size(sheet, &section.system, size);
            format!("{size}: {bought} ({proven}).")
        }
    }
}

/// `stick 3, 21'-0": 12.1 10'-4", 13.1 8'-2"; left 2'-5 1/2"`.
pub(super) fn cut_caption(number: usize, stick: &CutStick, units: Units) -> String {
    let pieces: Vec<String> = stick
        .pieces
        .iter()
        .map(|piece| {
            let length = piece.length.show(units);
            format!("{} {length}", piece.label).trim().to_owned()
        })
        .collect();
    let what = if stick.offcut { "offcut" } else { "stick" };
    format!(
        "{what} {number}, {}: {}; left {}",
        stick.stock.show(units),
        pieces.join(", "),
        stick.waste.show(units)
    )
}

/// The table of straights: its heads, and a row for each.
pub(super) const STRAIGHT_HEADS: [&str; 5] = ["No.", "Size", "From", "To", "Pieces in order"];

pub(super) fn straight_row(sheet: &CutSheet, straight: &StraightLine) -> Vec<String> {
    let units = sheet.heading.units;
    let mut pieces = String::new();
    for (index, piece) in straight.pieces.iter().enumerate() {
        if index > 0 {
            pieces += if index == 1 && straight.union {
                " union "
            } else {
                " + "
            };
        }
        pieces += &piece.show(units);
    }
    vec![
        straight.number.to_string(),
        cut_size(sheet, &straight.system, &straight.size),
        straight.from.clone(),
        straight.to.clone(),
        pieces,
    ]
}

/// What stands over a sheet on which nothing is cut.
pub(super) const NOTHING_CUT: &str =
    "Nothing is cut: every straight is built of ready-threaded lengths and nipples.";

/// How pieces are named.
pub(super) const LABELS: &str = "A piece 1.1 is the first of straight 1 in the list below.";

/// `Revision A`; nothing for an empty text.
pub(super) fn labelled(label: &str, text: &str) -> String {
    match text.trim() {
        "" => String::new(),
        text => format!("{label} {text}"),
    }
}

/// The texts that are not empty.
pub(super) fn joined(texts: &[&str], between: &str) -> String {
    let texts: Vec<_> = texts
        .iter()
        .copied()
        .filter(|text| !text.is_empty())
        .collect();
    texts.join(between)
}

/// A day as people write it: `1 October 2026`.
pub(super) fn day(date: Date) -> String {
    date.strftime("%-d %B %Y").to_string()
}

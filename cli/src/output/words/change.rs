//! What every form of a change order says in the same words.

use super::system::capital;
use pricing::change::{Both, Change, Kind, Line, Side, Totals, Worst};
use pricing::money::Money;
use pricing::quote::MissingPrice;
use pricing::rates::TaxOn;

/// Stands over one without a sum.
pub(in crate::output) const OPEN: &str = "PRICE INCOMPLETE - this is no change order";

/// Stands where nothing differs.
pub(in crate::output) const NOTHING: &str =
    "Nothing changes: both revisions have the same layout, the same parts and the same price.";

/// What stands above the signatures.
pub(in crate::output) const TERMS: &str = "Work on this change starts after both have signed. How changes are agreed and paid is a matter of the contract, which goes before this paper.";

/// Beside the line for the days.
pub(in crate::output) const DAYS: &str = "Days added to the finish, or taken off it:";

/// The heading of a kind of line.
pub(in crate::output) const fn heading(kind: Kind) -> &'static str {
    match kind {
        Kind::Parts => "Parts",
        Kind::Work => "Hours of work",
        Kind::Other => "Other costs",
        Kind::Prices => "Price changes of the same parts and work",
        Kind::Provisional => "Provisional sums, to be settled after the work",
        Kind::Rounding => "Rounding of the price",
    }
}

/// The same for programs.
pub(in crate::output) const fn key(kind: Kind) -> &'static str {
    match kind {
        Kind::Parts => "parts",
        Kind::Work => "work",
        Kind::Other => "other",
        Kind::Prices => "prices",
        Kind::Provisional => "provisional",
        Kind::Rounding => "rounding",
    }
}

/// What there is more of has its sign too.
fn signed(figure: String) -> String {
    let some = figure.contains(|digit| ('1'..='9').contains(&digit));
    match some && !figure.starts_with('-') {
        true => format!("+{figure}"),
        false => figure,
    }
}

/// A change of a sum: `+12.50`.
pub(in crate::output) fn by(money: Money) -> String {
    signed(money.show())
}

/// A change of a figure: `+1.5`.
pub(in crate::output) fn more(figure: impl ToString) -> String {
    signed(figure.to_string())
}

/// A revision as tables head it.
pub(in crate::output) fn revisions(change: &Change) -> [String; 2] {
    let Both { old, new } = &change.revision;
    let of = |what: &str, revision: &str| match revision.trim() {
        "" => what.to_owned(),
        revision => format!("{what}, {revision}"),
    };
    [of("Old", old), of("New", new)]
}

/// One row of what differs in the layout.
pub(in crate::output) struct ItemRow {
    /// The thing and what became of it; empty where the row goes on with it.
    pub(in crate::output) item: String,
    /// What of it.
    pub(in crate::output) what: String,
    pub(in crate::output) old: String,
    pub(in crate::output) new: String,
}

/// What differs in the layout, a row for each fact.
pub(in crate::output) fn item_rows(change: &Change) -> Vec<ItemRow> {
    let mut rows = Vec::new();
    for item in &change.items {
        let was = item.was.as_ref();
        let was = was.map_or_else(String::new, |was| format!(" (was {was})"));
        let name = format!("{} {}{was}", item.kind.word(), item.name);
        let mut title = capital(&format!("{}: {}", name.trim_end(), item.fate_words()));
        for fact in &item.facts {
            rows.push(ItemRow {
                item: std::mem::take(&mut title),
                what: fact.label.to_owned(),
                old: or_dash(fact.old.as_ref()),
                new: or_dash(fact.new.as_ref()),
            });
        }
        if !title.is_empty() {
            rows.push(ItemRow {
                item: title,
                what: "name".to_owned(),
                old: or_dash(item.was.as_ref()),
                new: item.name.clone(),
            });
        }
    }
    rows
}

fn or_dash(words: Option<&String>) -> String {
    words.map_or_else(|| "–".to_owned(), String::clone)
}

/// The heads of the lines of a kind.
pub(in crate::output) fn line_heads(kind: Kind, priced: bool) -> Vec<&'static str> {
    let mut heads = match kind {
        Kind::Prices => vec!["What", "Quantity", "Price was", "Price now"],
        Kind::Parts | Kind::Work | Kind::Other | Kind::Provisional | Kind::Rounding => {
            vec!["What", "Was", "Now", "+/-"]
        }
    };
    if priced {
        heads.extend(["Sum was", "Sum now", "Change"]);
    }
    heads
}

/// A line in the cells under these heads.
pub(in crate::output) fn line_cells(line: &Line, priced: bool) -> Vec<String> {
    let what = match line.unit.as_str() {
        "each" | "job" => line.text.clone(),
        unit => format!("{} ({unit})", line.text),
    };
    let quantity = |side: &Option<Side>| {
        let side = side.as_ref();
        side.map_or_else(|| "–".to_owned(), |side| side.quantity.to_string())
    };
    let money = |side: &Option<Side>, of: fn(&Side) -> Option<Money>| {
        let money = side.as_ref().and_then(of);
        money.map_or_else(|| "–".to_owned(), |money| money.show())
    };
    let mut cells = match line.kind {
        Kind::Prices => {
            let (was, now) = (quantity(&line.old), quantity(&line.new));
            let quantity = match was == now {
                true => now,
                false => format!("{was} / {now}"),
            };
            let price = |side| money(side, |side| side.unit_price);
            vec![what, quantity, price(&line.old), price(&line.new)]
        }
        Kind::Provisional | Kind::Rounding => {
            vec![what, String::new(), String::new(), String::new()]
        }
        Kind::Parts | Kind::Work | Kind::Other => vec![
            what,
            quantity(&line.old),
            quantity(&line.new),
            more(line.more),
        ],
    };
    if priced {
        let sum = |side| money(side, |side| side.amount);
        let change = line.change.map_or_else(String::new, by);
        cells.extend([sum(&line.old), sum(&line.new), change]);
    }
    cells
}

/// What the lines of each kind come to.
pub(in crate::output) fn kinds(change: &Change) -> Vec<[String; 4]> {
    let sums = change.parts.iter().map(|part| {
        let sum = part.change.map_or_else(String::new, by);
        let blank = String::new;
        [heading(part.kind).to_owned(), blank(), blank(), sum]
    });
    sums.collect()
}

/// Both sums and their difference: before tax, tax, total; the total alone where there
/// is no tax.
pub(in crate::output) fn sums(change: &Change, totals: &Totals) -> Vec<[String; 4]> {
    let tax = &totals.tax_of;
    let label = match tax.old.percent == tax.new.percent && tax.old.label == tax.new.label {
        true => format!("{}, {} %", tax.new.label, tax.new.percent),
        false => format!(
            "{}, {} % (was {}, {} %)",
            tax.new.label, tax.new.percent, tax.old.label, tax.old.percent
        ),
    };
    let total = format!("Total {}", change.currency.code());
    let of_tax = [
        ("Price before tax".to_owned(), totals.before_tax),
        (label, totals.tax),
    ];
    let of_tax = of_tax.into_iter().filter(|_| is_taxed(totals));
    of_tax
        .chain([(total, totals.total)])
        .map(|(words, step)| [words, step.old.show(), step.new.show(), by(step.change)])
        .collect()
}

fn is_taxed(totals: &Totals) -> bool {
    let tax = &totals.tax_of;
    [&tax.old, &tax.new].iter().any(|tax| tax.on != TaxOn::None)
}

/// Hours and days of both, and their difference.
pub(in crate::output) fn times(change: &Change) -> Vec<[String; 4]> {
    let times = [
        ("Hours of work", change.hours),
        ("Days on site", change.days),
    ];
    let times = times.into_iter().filter_map(|(words, step)| {
        let step = step?;
        let (old, new) = (step.old.to_string(), step.new.to_string());
        Some([words.to_owned(), old, new, more(step.change)])
    });
    times.collect()
}

/// The pressure of the tool that is worst off.
pub(in crate::output) fn worst(change: &Change) -> Option<String> {
    let new = change.worst.new.as_ref()?;
    let gets = |worst: &Worst| match worst.gets {
        Some(gets) => format!("{} at its inlet", gets.show(change.units)),
        None => "no air".to_owned(),
    };
    let tool = |worst: &Worst| format!("{} at {}", worst.tool, worst.outlet);
    let before = match &change.worst.old {
        None => "before, nothing said what tools need".to_owned(),
        Some(old) if old == new => "as before".to_owned(),
        Some(old) if tool(old) == tool(new) => format!("before, it got {}", gets(old)),
        Some(old) => format!("before, it was {}, which got {}", tool(old), gets(old)),
    };
    Some(format!(
        "The tool that is worst off, with old pipe, is {}: it gets {}; {before}.",
        tool(new),
        gets(new)
    ))
}

/// What keeps it from its sum, a line each.
pub(in crate::output) fn holes(change: &Change) -> Vec<String> {
    let mut holes = Vec::new();
    let [old, new] = revisions(change);
    for (name, missing, unrated) in [
        (old, &change.missing.old, &change.unrated.old),
        (new, &change.missing.new, &change.unrated.new),
    ] {
        let all = unrated.iter().cloned().chain(missing.iter().map(hole));
        holes.extend(all.map(|hole| format!("{name}: {hole}")));
    }
    holes
}

fn hole(part: &MissingPrice) -> String {
    let words = format!("{} {}", part.words, part.key.size);
    let words = format!("{} {} {}", part.quantity, part.unit, words.trim_end());
    match part.reason.as_str() {
        "" => format!("{words}: no price"),
        reason => format!("{words}: {reason}"),
    }
}

/// What is signed.
pub(in crate::output) fn signed_for(change: &Change, totals: &Totals) -> String {
    let Both { old, new } = &change.fingerprint;
    let [was, is] =
        [&change.revision.old, &change.revision.new].map(|revision| match revision.trim() {
            "" => String::new(),
            revision => format!("revision {revision}, "),
        });
    let tax = if is_taxed(totals) { " with tax" } else { "" };
    format!(
        "Change order of {} from {was}fingerprint {old}, to {is}fingerprint {new}: {} {}{tax}.",
        change.date.strftime("%-d %B %Y"),
        change.currency.code(),
        by(totals.total.change)
    )
}

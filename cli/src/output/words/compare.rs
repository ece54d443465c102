//! What every form of a comparison says in the same words.

use super::count;
use bom::quantity::Units;
use pricing::compare::{CompareOption, Comparison, Figures, PriceAge};
use pricing::money::{Money, tenths};
use pricing::rates::TaxOn;

/// Stands over a comparison in which an option has no total.
pub(in crate::output) const NOT_COMPARED: &str = "AN OPTION HAS NO TOTAL - it is not compared";

/// Stands over the break-even wages.
pub(in crate::output) const BREAK_EVEN: &str = "Break-even wage";

/// Stands over the prices that weigh most.
pub(in crate::output) const MOVERS: &str = "Prices that move the total most, 10 % either way";

/// A line of the table with a cell for each option.
#[derive(Debug)]
pub(in crate::output) struct CompareRow {
    pub(in crate::output) label: String,
    pub(in crate::output) cells: Vec<String>,
    /// Whether it is the total.
    pub(in crate::output) total: bool,
}

/// The table of some of the options. What no option has is left out.
pub(in crate::output) fn compare_rows(
    comparison: &Comparison,
    options: &[CompareOption],
) -> Vec<CompareRow> {
    let built = || {
        let options = comparison.options.iter();
        options.filter_map(|option| option.figures.as_ref().ok())
    };
    let units = comparison.units;
    let mut rows = Vec::new();
    let mut row = |label: String, cell: &dyn Fn(&Figures) -> String| {
        let cells = options.iter().map(|option| match &option.figures {
            Ok(figures) => cell(figures),
            Err(_) => "–".to_owned(),
        });
        rows.push(CompareRow {
            label,
            cells: cells.collect(),
            total: false,
        });
    };
    row("Size of the main".to_owned(), &|one| {
        let sizes = one.main_sizes.iter().map(ToString::to_string);
        sizes.collect::<Vec<_>>().join(", ")
    });
    row("Materials".to_owned(), &|one| open(one.materials));
    if built().any(|one| one.hire.minor_units() != Some(0)) {
        row("Tool hire".to_owned(), &|one| one.hire.show());
    }
    let is_some = |money: Money| money.minor_units() != Some(0);
    if built().any(|one| one.costs.is_some_and(is_some)) {
        row("Other costs".to_owned(), &|one| open(one.costs));
    }
    row("Labour".to_owned(), &|one| open(one.labour));
    if built().any(|one| one.rounding.is_some()) {
        row("Rounding".to_owned(), &|one| open(one.rounding));
    }
    let tax = built().find_map(|one| one.tax.as_ref());
    if let Some(tax) = tax.filter(|tax| tax.on != TaxOn::None) {
        row(tax.label.clone(), &|one| {
            open(one.tax.as_ref().map(|tax| tax.amount))
        });
    }
    row(format!("Total {}", comparison.currency.code()), &|one| {
        open(one.total)
    });
    row("Dearer by".to_owned(), &|one| match one.difference {
        Some(difference) if difference.minor_units() == Some(0) => "cheapest".to_owned(),
        difference => open(difference),
    });
    // Tenths are enough to weigh one against another.
    row("Hours of work".to_owned(), &|one| {
        figure(one.labour_hours.map(tenths))
    });
    if built().any(|one| one.days.is_some()) {
        row("Days on site".to_owned(), &|one| figure(one.days));
    }
    row("Mass of the pipe".to_owned(), &|one| one.mass.show(units));
    row("Supports".to_owned(), &|one| one.supports.to_string());
    row("Joints to make".to_owned(), &joints);
    row("Fittings, pieces to cut".to_owned(), &|one| {
        format!("{}, {}", one.fittings, one.pieces)
    });
    if built().any(|one| one.facts.growth.is_some()) {
        // The same step in both.
        let warmer = match units {
            Units::Feet => "Growth over 100 F",
            Units::Metric => "Growth over 55.6 C",
        };
        row(warmer.to_owned(), &|one| {
            let growth = one.facts.growth;
            growth.map_or_else(unknown, |growth| growth.show(units))
        });
    }
    if built().any(|one| one.facts.worst_outlet_kpa.is_some()) {
        row("Loss in the pipe".to_owned(), &|one| {
            let lost = one.facts.worst_outlet_kpa;
            lost.map_or_else(unknown, |lost| pressure(lost, units))
        });
    }
    row("Oldest price".to_owned(), &|one| {
        one.oldest.map_or_else(unknown, age)
    });
    if built().any(|one| one.undated > 0) {
        row("Prices without a date".to_owned(), &|one| {
            one.undated.to_string()
        });
    }
    for row in &mut rows {
        row.total = row.label.starts_with("Total ");
    }
    rows
}

fn open(money: Option<Money>) -> String {
    money.map_or_else(|| "open".to_owned(), |money| money.show())
}

fn unknown() -> String {
    "not known".to_owned()
}

fn figure(figure: Option<impl ToString>) -> String {
    figure.map_or_else(|| "open".to_owned(), |figure| figure.to_string())
}

fn joints(figures: &Figures) -> String {
    let methods = figures.joints.iter();
    let methods = methods.map(|(joint, count)| format!("{count} {}", joint.word()));
    match figures.joints.is_empty() {
        true => "none".to_owned(),
        false => methods.collect::<Vec<_>>().join("\n"),
    }
}

fn pressure(kpa: f64, units: Units) -> String {
    match units {
        // A psi is 6.894757 kPa.
        Units::Feet => format!("{:.1} psi", kpa / 6.894_757),
        Units::Metric => format!("{kpa:.1} kPa"),
    }
}

/// `2026-09-24, 39 days`.
fn age(age: PriceAge) -> String {
    match usize::try_from(age.days) {
        Ok(days) => format!("{}, {}", age.date, count(days, "day")),
        Err(_) => format!("{}, after this paper", age.date),
    }
}

/// Why an option has no total, a line each; nothing if it has one.
pub(in crate::output) fn compare_holes(option: &CompareOption) -> Vec<String> {
    let figures = match &option.figures {
        Ok(figures) => figures,
        Err(reason) => return vec![format!("cannot be built: {reason}")],
    };
    let parts = figures.missing.iter().map(|part| {
        let unit = match part.unit.as_str() {
            "each" => String::new(),
            unit => format!("{unit} "),
        };
        let words = format!("{} {unit}{} {}", part.quantity, part.words, part.key.size);
        format!("no price: {}: {}", words.trim_end(), part.reason)
    });
    let work = figures.unrated.iter();
    parts
        .chain(work.map(|work| format!("no hours: {work}")))
        .collect()
}

/// A sentence for each pair that meets; nothing for fewer than two totals.
pub(in crate::output) fn break_even(comparison: &Comparison) -> Vec<String> {
    let totals = comparison.options.iter().filter_map(CompareOption::total);
    if comparison.break_even.is_empty() && totals.count() > 1 {
        return vec!["None: no wage changes which option is cheaper.".to_owned()];
    }
    let currency = comparison.currency.code();
    let pairs = comparison.break_even.iter();
    pairs
        .map(|pair| {
            format!(
                "Below {currency} {} an hour {} is cheaper than {}, above it dearer.",
                pair.wage.show(),
                pair.cheaper_below,
                pair.cheaper_above
            )
        })
        .collect()
}

/// `pipe 1in (ft): +29.82 / -28.75`, for each price that weighs.
pub(in crate::output) fn movers(figures: &Figures) -> Vec<String> {
    let movers = figures.movers.iter();
    movers
        .map(|mover| {
            format!(
                "{}: +{} / {}",
                mover.text,
                mover.up.show(),
                mover.down.show()
            )
        })
        .collect()
}

/// What must be said of an option's system.
pub(in crate::output) fn own_cautions(option: &CompareOption) -> &[String] {
    match &option.figures {
        Ok(figures) => &figures.cautions,
        Err(_) => &[],
    }
}

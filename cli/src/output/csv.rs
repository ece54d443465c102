//! For spreadsheets. Sizes keep their unit, so that none becomes a date, and
//! no cell can be taken for a formula.

mod change;
mod estimate;
mod quote;

pub use change::change;
pub use estimate::estimate;
pub use quote::quote;

use super::{AirPaper, words};
use bom::network::NodeId;
use bom::quantity::Pressure;
use bom::survey::sheet::Blank;
use bom::takeoff::{Because, Hanger, Takeoff};
use bom::water::{Amounts, WaterMap};
use pricing::compare::Comparison;
use pricing::cut_sheet::CutSheet;
use pricing::money::Money;
use pricing::request::Request;
use pricing::shop::ShoppingList;
use std::borrow::Cow;
use std::io::{self, Write};

/// The count: the parts, then the pipe by size.
///
/// # Errors
/// What the writer says.
pub fn parts(
    takeoff: &Takeoff,
    reason: &dyn Fn(Because) -> String,
    out: &mut dyn Write,
) -> io::Result<()> {
    let mut table = Table::new(out);
    table.row([
        "part", "system", "size", "quantity", "unit", "words", "because",
    ])?;
    for line in &takeoff.pipe {
        table.row([
            line.key.part.as_str(),
            &line.key.system,
            &line.size.to_string(),
            &line.end_to_end.to_mm_text(),
            "mm",
            &line.words,
            &format!("{}, end to end", words::pieces(line)),
        ])?;
    }
    for line in &takeoff.lines {
        let because: Vec<String> = line.because.iter().copied().map(reason).collect();
        table.row([
            line.key.part.as_str(),
            &line.key.system,
            &line.key.size.to_string(),
            &line.quantity.to_string(),
            &line.unit,
            &line.words,
            &because.join("; "),
        ])?;
    }
    table.end()
}

/// The shopping list: its lines, then its sums.
///
/// # Errors
/// What the writer says.
pub fn shop(shop: &ShoppingList, out: &mut dyn Write) -> io::Result<()> {
    let currency = shop.currency.code();
    let price =
        |money: Option<Money>| money.map_or_else(|| "no price".to_owned(), |money| money.plain());
    let mut table = Table::new(out);
    table.row([
        "group",
        "part",
        "system",
        "size",
        "words",
        "quantity",
        "unit",
        "used",
        "spare",
        "returnable",
        "unit_price",
        "amount",
        "running_total",
        "currency",
        "supplier",
        "code",
        "aisle",
        "left_over",
    ])?;
    for group in &shop.groups {
        for line in &group.lines {
            table.row([
                group.title.as_str(),
                &line.key.part,
                &line.key.system,
                &line.key.size.to_string(),
                &line.words,
                &line.quantity.to_string(),
                &line.unit,
                &line.used,
                &line.spare.count.to_string(),
                if line.spare.returnable { "yes" } else { "no" },
                &price(line.unit_price),
                &price(line.amount),
                &line.running.map_or_else(String::new, |sum| sum.plain()),
                currency,
                &line.supplier,
                &line.code,
                &line.aisle,
                &line.surplus.to_string(),
            ])?;
        }
    }
    let open =
        |money: Option<Money>| money.map_or_else(|| "open".to_owned(), |money| money.plain());
    let subtotals = shop
        .groups
        .iter()
        .map(|group| (group.title.as_str(), "Subtotal", group.subtotal.plain()));
    let sums = [
        ("Sums", "Priced", shop.priced.plain()),
        ("Sums", "Without spares", open(shop.without_spares)),
        ("Sums", "Total", open(shop.total)),
    ];
    for (group, words, sum) in subtotals.chain(sums) {
        table.row([
            group, "", "", "", words, "", "", "", "", "", "", &sum, "", currency, "", "", "", "",
        ])?;
    }
    table.end()
}

/// The request for prices, in the form in which price lists are read.
///
/// # Errors
/// What the writer says.
pub fn request(request: &Request, out: &mut dyn Write) -> io::Result<()> {
    let mut table = Table::new(out);
    table.row([
        "part",
        "system",
        "size",
        "description",
        "quantity",
        "unit",
        "pack",
        "price",
        "currency",
        "supplier",
        "code",
        "priced_on",
        "from_quantity",
    ])?;
    for line in &request.lines {
        table.row([
            line.key.part.as_str(),
            &line.key.system,
            &line.key.size.to_string(),
            &line.words,
            &line.quantity.to_string(),
            &line.unit,
            &line.pack.to_string(),
            "",
            &request.currency,
            &request.supplier,
            &line.code,
            "",
            &line.from_quantity.to_string(),
        ])?;
    }
    table.end()
}

/// The empty run sheet, with rows that say how to fill it in and are not read back.
///
/// # Errors
/// What the writer says.
pub fn run_sheet(blank: &Blank, out: &mut dyn Write) -> io::Result<()> {
    let mut table = Table::new(out);
    for remark in blank.remarks() {
        table.row(remark.iter().map(String::as_str))?;
    }
    table.row(blank.heads.iter().map(|column| column.head()))?;
    for row in &blank.rows {
        table.row(row.iter().map(String::as_str))?;
    }
    table.end()
}

/// The comparison, a row for each option.
///
/// # Errors
/// What the writer says.
pub fn compare(comparison: &Comparison, out: &mut dyn Write) -> io::Result<()> {
    let open =
        |money: Option<Money>| money.map_or_else(|| "open".to_owned(), |money| money.plain());
    let mut table = Table::new(out);
    table.row([
        "system",
        "title",
        "materials",
        "hire",
        "labour",
        "tax",
        "total",
        "difference",
        "currency",
        "labour_hours",
        "days_on_site",
        "mass_kg",
        "supports",
        "joints",
        "fittings",
        "pieces",
        "growth_mm",
        "worst_outlet_kpa",
        "oldest_price",
        "oldest_price_days",
        "why_open",
        "break_even",
        "other_costs",
        "rounding",
    ])?;
    for option in &comparison.options {
        let why_open = words::compare_holes(option).join("; ");
        let Ok(one) = &option.figures else {
            let mut cells = [""; 24];
            cells[0] = &option.system;
            cells[1] = &option.title;
            cells[6] = "open";
            cells[20] = &why_open;
            table.row(cells)?;
            continue;
        };
        let joints = one.joints.iter();
        let joints = joints.map(|(joint, count)| format!("{count} {}", joint.word()));
        let pairs = comparison.break_even.iter();
        let meets = pairs.filter_map(|pair| match &option.system {
            system if *system == pair.a => Some(format!("{} {}", pair.b, pair.wage.plain())),
            system if *system == pair.b => Some(format!("{} {}", pair.a, pair.wage.plain())),
            _ => None,
        });
        table.row([
            option.system.as_str(),
            &option.title,
            &open(one.materials),
            &one.hire.plain(),
            &open(one.labour),
            &open(one.tax.as_ref().map(|tax| tax.amount)),
            &open(one.total),
            &open(one.difference),
            comparison.currency.code(),
            &one.labour_hours
                .map_or_else(|| "open".to_owned(), |hours| hours.to_string()),
            &one.days.map_or_else(String::new, |days| days.to_string()),
            &format!("{:.1}", one.mass.kg()),
            &one.supports.to_string(),
            &joints.collect::<Vec<_>>().join("; "),
            &one.fittings.to_string(),
            &one.pieces.to_string(),
            &one.facts
                .growth
                .map_or_else(String::new, |growth| growth.to_mm_text()),
            &one.facts
                .worst_outlet_kpa
                .map_or_else(String::new, |lost| format!("{lost:.2}")),
            &one.oldest
                .map_or_else(String::new, |oldest| oldest.date.to_string()),
            &one.oldest
                .map_or_else(String::new, |oldest| oldest.days.to_string()),
            &why_open,
            &meets.collect::<Vec<_>>().join("; "),
            &open(one.costs),
            &one.rounding.map_or_else(String::new, |sum| sum.plain()),
        ])?;
    }
    table.end()
}

/// The cut plan, a row for each piece.
///
/// # Errors
/// What the writer says.
pub fn cut(sheet: &CutSheet, out: &mut dyn Write) -> io::Result<()> {
    let mut table = Table::new(out);
    table.row([
        "system",
        "size",
        "stick",
        "stock_mm",
        "offcut",
        "piece",
        "length_mm",
        "left_mm",
    ])?;
    for section in &sheet.sections {
        for (number, stick) in section.sticks.iter().enumerate() {
            for piece in &stick.pieces {
                table.row([
                    section.system.as_str(),
                    &section.size,
                    &(number + 1).to_string(),
                    &stick.stock.to_mm_text(),
                    if stick.offcut { "yes" } else { "no" },
                    &piece.label,
                    &piece.length.to_mm_text(),
                    &stick.waste.to_mm_text(),
                ])?;
            }
        }
    }
    table.end()
}

/// Where the water goes, a row for each end and each level stretch, and for
/// each of the hangers.
///
/// # Errors
/// What the writer says.
pub fn water(
    map: &WaterMap,
    amounts: Option<&Amounts>,
    hangers: &[Hanger],
    place: &dyn Fn(NodeId) -> String,
    out: &mut dyn Write,
) -> io::Result<()> {
    let mut table = Table::new(out);
    table.row([
        "kind",
        "name",
        "height_mm",
        "pipe_mm",
        "at_risk_mm",
        "litres_per_day",
    ])?;
    let litres = |litres: Option<f64>| litres.map_or_else(String::new, |one| format!("{one:.3}"));
    for (number, end) in map.ends.iter().enumerate() {
        table.row([
            words::end_kind(end),
            &words::end_name(end, place),
            &end.height.to_mm_text(),
            &end.pipe.to_mm_text(),
            &end.at_risk.to_mm_text(),
            &litres(amounts.map(|amounts| amounts.mean.at_ends[number])),
        ])?;
    }
    for one in &map.standing {
        let between = format!("{} to {}", place(one.from), place(one.to));
        table.row(["standing", &between, "", &one.length.to_mm_text(), "", ""])?;
    }
    for hanger in hangers {
        let (along, from) = (hanger.along.to_mm_text(), place(hanger.from));
        let at = format!("{along} mm from {from} to {}", place(hanger.to));
        table.row(["hanger", &at, &hanger.height.to_mm_text(), "", "", ""])?;
    }
    table.end()
}

/// The way to every tool, a row for each item on it, after years.
///
/// # Errors
/// What the writer says.
pub fn air(paper: &AirPaper<'_>, out: &mut dyn Write) -> io::Result<()> {
    let mut table = Table::new(out);
    table.row([
        "outlet",
        "tool",
        "state",
        "gets_kpa",
        "gets_as_new_kpa",
        "least_kpa",
        "best_kpa",
        "case",
        "step",
        "item",
        "loss_kpa",
        "held_back_kpa",
        "left_kpa",
    ])?;
    let kpa = |pressure: Option<Pressure>| {
        pressure.map_or_else(String::new, |one| format!("{:.3}", one.kpa()))
    };
    let air = paper.air;
    for (judged, way) in air.tools.iter().zip(&air.aged.tools) {
        let tool = &air.demand.tools[way.tool];
        let own = [
            paper.plan.job.outlets[tool.outlet].name.value.clone(),
            tool.name.clone(),
            judged.state().word().to_owned(),
            kpa(judged.aged.gets),
            kpa(judged.new.gets),
            kpa(tool.least.map(|least| least.value)),
            kpa(tool.best.map(|best| best.value)),
            words::air::case(air, way.case),
        ];
        let [outlet, name, state, gets, new, least, best, case] =
            own.each_ref().map(String::as_str);
        if way.steps.is_empty() {
            table.row([
                outlet, name, state, gets, new, least, best, case, "", "", "", "", "",
            ])?;
        }
        for (number, step) in way.steps.iter().enumerate() {
            table.row([
                outlet,
                name,
                state,
                gets,
                new,
                least,
                best,
                case,
                &(number + 1).to_string(),
                &step.item,
                &kpa(Some(step.loss)),
                &kpa(Some(step.held_back)),
                &kpa(Some(step.left)),
            ])?;
        }
    }
    table.end()
}

struct Table<'a> {
    writer: csv::Writer<&'a mut dyn Write>,
}

impl<'a> Table<'a> {
    fn new(out: &'a mut dyn Write) -> Self {
        Self {
            writer: csv::Writer::from_writer(out),
        }
    }

    fn row<'c>(&mut self, cells: impl IntoIterator<Item = &'c str>) -> io::Result<()> {
        let cells = cells.into_iter().map(|cell| harmless(cell).into_owned());
        self.writer.write_record(cells).map_err(io::Error::from)
    }

    fn end(mut self) -> io::Result<()> {
        self.writer.flush()
    }
}

/// A cell that a spreadsheet program takes for text or a figure, not for a formula.
fn harmless(cell: &str) -> Cow<'_, str> {
    let figure = |text: &str| {
        let plain = |letter: char| letter.is_ascii_digit() || letter == '.';
        !text.is_empty() && text.chars().all(plain)
    };
    // What is less than nothing stays a figure.
    let less = cell.strip_prefix('-').is_some_and(figure);
    if cell.starts_with(['=', '+', '-', '@', '\t', '\r']) && !less {
        Cow::Owned(format!("'{cell}"))
    } else {
        Cow::Borrowed(cell)
    }
}

#[cfg(test)]
mod tests {
    use super::harmless;

    #[test]
    fn cells_that_look_like_formulas_are_made_text() {
        for cell in ["=1+1", "+1", "-1+1", "-", "-x", "@sum", "\tx", "\rx"] {
            assert_eq!(harmless(cell), format!("'{cell}"));
        }
        for cell in ["3/4in", "-1", "-1204.50"] {
            assert_eq!(harmless(cell), cell);
        }
    }
}

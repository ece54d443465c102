//! The contractor's estimate: the way from the costs to the price, and both sides
//! of every line. Each sheet says whose it is.

mod way;

use super::book::{self, About};
use super::formula::{self, Factor, cell, on};
use super::notes;
use super::sheet::{Cell, Column, Look, Sheet};
use crate::output::pdf::Paper;
use crate::output::words::{self, INCOMPLETE, INTERNAL, day, joined};
use pricing::estimate::{EstimateSection, EstimateSheet, Price};
use std::io::{self, Write};

const LINES: &str = "Lines";
const COLUMNS: &[Column] = &[
    Column::left("What", 40.0),
    Column::left("From", 32.0),
    Column::right("Quantity", 10.0),
    Column::left("Unit", 13.0),
    Column::right("Cost of one", 12.0),
    Column::right("Cost", 12.0),
    Column::right("Price of one", 12.0),
    Column::right("Price", 13.0),
];
const QUANTITY: u8 = 2;
/// Unit and amount of each side.
const COST: [u8; 2] = [4, 5];
const PRICE: [u8; 2] = [6, 7];

/// Writes the estimate as a workbook.
///
/// # Errors
/// Those of `out`, and sums of more digits than a workbook keeps.
pub fn estimate(sheet: &EstimateSheet, paper: Paper, out: &mut dyn Write) -> io::Result<()> {
    let (lines, places) = lines(sheet)?;
    let sheets = vec![front(sheet, &places)?, lines];
    let heading = &sheet.heading;
    let about = About {
        title: &joined(&["Estimate", heading.title.trim()], ": "),
        author: "",
        revision: &heading.revision,
        fingerprint: &heading.fingerprint,
        date: Some(heading.date),
        warning: Some(INTERNAL),
        paper,
    };
    book::write(&about, sheets, out)
}

fn warnings(sheet: &EstimateSheet) -> Vec<&'static str> {
    let incomplete = sheet.total.is_none().then_some(INCOMPLETE);
    [INTERNAL].into_iter().chain(incomplete).collect()
}

/// The cells of the lines' sheet that the front takes up.
#[derive(Default)]
struct Places {
    costs: Vec<String>,
    prices: Vec<String>,
    taxed: Vec<String>,
}

fn lines(estimate: &EstimateSheet) -> io::Result<(Sheet, Places)> {
    let currency = estimate.estimate.price.currency();
    let mut sheet = Sheet::new(LINES, COLUMNS, Some(currency))?;
    sheet.lying();
    for warning in warnings(estimate) {
        sheet.row(Look::Strong, [Cell::text(warning)])?;
    }
    sheet.heads()?;
    let mut places = Places::default();
    for section in &estimate.estimate.sections {
        self::section(&mut sheet, section, &mut places)?;
    }
    Ok((sheet, places))
}

fn section(sheet: &mut Sheet, section: &EstimateSection, places: &mut Places) -> io::Result<()> {
    sheet.row(Look::Strong, [Cell::text(section.title)])?;
    let first = sheet.next();
    let mut taxed = Vec::new();
    for line in &section.lines {
        let at = sheet.next();
        let quantity = line.quantity.to_string();
        let factor = Factor {
            printed: &quantity,
            cell: &cell(QUANTITY, at),
        };
        let side = |price: Option<Price>, [unit, _]: [u8; 2]| match price {
            Some(price) => [
                Cell::Money(price.unit),
                formula::product(&factor, &cell(unit, at), false, price.amount),
            ],
            None => [Cell::price(None), Cell::price(None)],
        };
        if line.taxed && line.price.is_some() {
            taxed.push(on(LINES, &cell(PRICE[1], at)));
        }
        let words = [Cell::text(&line.text), Cell::text(&line.origin)];
        let count = [Cell::Number(quantity.clone()), Cell::text(&line.unit)];
        let sides = [side(line.cost, COST), side(line.price, PRICE)];
        let cells = words.into_iter().chain(count);
        sheet.row(Look::Plain, cells.chain(sides.into_iter().flatten()))?;
    }
    let last = sheet.next() - 1;
    let sides = [(COST, section.cost), (PRICE, section.price)];
    let sums =
        sides.map(|([_, amount], sum)| [Cell::Blank, formula::down(amount, first, last, sum)]);
    let words = [
        Cell::text("Subtotal"),
        Cell::Blank,
        Cell::Blank,
        Cell::Blank,
    ];
    let cells = words.into_iter().chain(sums.into_iter().flatten());
    let at = sheet.row(Look::Sum, cells)?;
    sheet.skip();
    let price = on(LINES, &cell(PRICE[1], at));
    if section.lines.iter().all(|line| line.taxed) {
        taxed = vec![price.clone()];
    }
    places.costs.push(on(LINES, &cell(COST[1], at)));
    places.prices.push(price);
    places.taxed.extend(taxed);
    Ok(())
}

fn front(estimate: &EstimateSheet, places: &Places) -> io::Result<Sheet> {
    let heading = &estimate.heading;
    let currency = estimate.estimate.price.currency();
    let mut sheet = notes::front("Estimate", Some(currency), &warnings(estimate))?;
    let title = [Cell::text("Estimate"), Cell::text(&heading.title)];
    sheet.row(Look::Strong, title)?;
    notes::facts(
        &mut sheet,
        &[
            ("For", &estimate.customer),
            ("Revision", &heading.revision),
            ("Fingerprint", &heading.fingerprint),
            ("Date", &day(heading.date)),
        ],
    )?;
    let model = &estimate.estimate;
    let holes = words::holes(&model.missing, &estimate.unrated);
    notes::list(&mut sheet, "Still open", &holes)?;
    notes::list(&mut sheet, "Warnings", &model.warnings)?;
    way::write(&mut sheet, estimate, places)?;
    notes::list(&mut sheet, "How it was reckoned", &model.notes)?;
    notes::payment(&mut sheet, &estimate.payment, estimate.total)?;
    notes::list(&mut sheet, "Assumptions", &estimate.assumptions)?;
    notes::list(&mut sheet, "Notices", &estimate.notices)?;
    Ok(sheet)
}

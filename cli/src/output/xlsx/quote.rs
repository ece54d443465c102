//! The customer's quote: a front page, the lines with their formulas, and the
//! outlets. It holds nothing that the printed quote does not.

use super::book::{self, About};
use super::formula::{self, Factor, cell, on};
use super::notes;
use super::sheet::{Cell, Column, Look, Sheet};
use crate::output::pdf::Paper;
use crate::output::words::{self, INCOMPLETE, day, joined};
use pricing::quote::{Quote, Section};
use pricing::rates::TaxOn;
use std::io::{self, Write};

const LINES: &str = "Lines";
const COLUMNS: &[Column] = &[
    Column::left("What", 52.0),
    Column::right("Quantity", 10.0),
    Column::left("Unit", 15.0),
    Column::right("Unit price", 13.0),
    Column::right("Amount", 14.0),
];
const QUANTITY: u8 = 1;
const UNIT_PRICE: u8 = 3;
const SUM: u8 = 4;
const OUTLETS: &[Column] = &[
    Column::right("No.", 5.0),
    Column::left("Outlet", 18.0),
    Column::right("Height", 10.0),
    Column::left("Drop", 18.0),
    Column::left("Sides", 40.0),
    Column::left("Drain", 16.0),
];

/// Writes the quote as a workbook.
///
/// # Errors
/// Those of `out`, and sums of more digits than a workbook keeps.
pub fn quote(quote: &Quote, paper: Paper, out: &mut dyn Write) -> io::Result<()> {
    let (lines, places) = lines(quote)?;
    let mut sheets = vec![front(quote, &places)?, lines];
    if !quote.outlets.is_empty() {
        sheets.push(outlets(quote)?);
    }
    let about = About {
        title: &joined(&["Quote", quote.title.trim()], ": "),
        author: &quote.company.name,
        revision: &quote.revision,
        fingerprint: &quote.fingerprint,
        date: Some(quote.date),
        warning: warning(quote),
        paper,
    };
    book::write(&about, sheets, out)
}

fn warning(quote: &Quote) -> Option<&'static str> {
    quote.total.is_none().then_some(INCOMPLETE)
}

/// The cells of the lines' sheet that others take up.
struct Places {
    sections: Vec<String>,
    before_tax: String,
    tax: String,
    total: String,
}

fn lines(quote: &Quote) -> io::Result<(Sheet, Places)> {
    let currency = quote.subtotal.currency();
    let mut sheet = Sheet::new(LINES, COLUMNS, Some(currency))?;
    if let Some(warning) = warning(quote) {
        sheet.row(Look::Strong, [Cell::text(warning)])?;
    }
    sheet.heads()?;
    let (mut sections, mut taxed) = (Vec::new(), Vec::new());
    for section in &quote.sections {
        let (subtotal, of_it) = self::section(&mut sheet, section)?;
        sections.push(subtotal);
        taxed.extend(of_it);
    }
    let mut parts = sections.clone();
    let row = |words: &str, amount| {
        let words = Cell::text(words);
        [words, Cell::Blank, Cell::Blank, Cell::Blank, amount]
    };
    if let Some(rounding) = quote.rounding {
        let at = sheet.row(Look::Plain, row("Rounding", Cell::Money(rounding)))?;
        parts.push(cell(SUM, at));
    }
    let before_tax = formula::sum(&parts, quote.subtotal);
    let at = sheet.row(Look::Sum, row(words::before_tax(quote), before_tax))?;
    let before_tax = cell(SUM, at);

    let tax = &quote.tax;
    let base = match tax.on {
        TaxOn::All => vec![before_tax.clone()],
        TaxOn::Materials => taxed,
        TaxOn::None => Vec::new(),
    };
    let at = sheet.next();
    let percent = tax.percent.to_string();
    let factor = Factor {
        printed: &percent,
        cell: &cell(QUANTITY, at),
    };
    let amount = formula::product(&factor, &cell(UNIT_PRICE, at), true, tax.amount);
    sheet.row(
        Look::Plain,
        [
            Cell::text(&tax.label),
            Cell::Number(percent.clone()),
            Cell::text("% of"),
            formula::sum(&base, tax.base),
            amount,
        ],
    )?;
    let tax = cell(SUM, at);
    let total = match quote.total {
        Some(total) => formula::sum(&[before_tax.clone(), tax.clone()], total),
        None => Cell::text(words::total(quote)),
    };
    let at = sheet.row(Look::Sum, row(&format!("Total {}", currency.code()), total))?;
    let places = Places {
        sections,
        before_tax,
        tax,
        total: cell(SUM, at),
    };
    Ok((sheet, places))
}

/// Writes a section, and gives back its subtotal and what of it tax on materials
/// falls on.
fn section(sheet: &mut Sheet, section: &Section) -> io::Result<(String, Vec<String>)> {
    sheet.row(Look::Strong, [Cell::text(&section.title)])?;
    let first = sheet.next();
    let mut taxed = Vec::new();
    for line in &section.lines {
        let at = sheet.next();
        let quantity = line.quantity.to_string();
        let amount = match line.amount {
            Some(amount) => {
                let factor = Factor {
                    printed: &quantity,
                    cell: &cell(QUANTITY, at),
                };
                formula::product(&factor, &cell(UNIT_PRICE, at), false, amount)
            }
            None => Cell::price(None),
        };
        if line.taxed && line.amount.is_some() {
            taxed.push(cell(SUM, at));
        }
        sheet.row(
            Look::Plain,
            [
                Cell::text(&line.text),
                Cell::Number(quantity.clone()),
                Cell::text(&line.unit),
                Cell::price(line.unit_price),
                amount,
            ],
        )?;
    }
    let subtotal = formula::down(SUM, first, sheet.next() - 1, section.subtotal);
    let words = Cell::text(words::section_sum(section, "Subtotal"));
    let at = sheet.row(
        Look::Sum,
        [words, Cell::Blank, Cell::Blank, Cell::Blank, subtotal],
    )?;
    sheet.skip();
    let subtotal = cell(SUM, at);
    if section.lines.iter().all(|line| line.taxed) {
        taxed = vec![subtotal.clone()];
    }
    Ok((subtotal, taxed))
}

fn front(quote: &Quote, places: &Places) -> io::Result<Sheet> {
    let warnings: Vec<&str> = warning(quote).into_iter().collect();
    let currency = quote.subtotal.currency();
    let mut sheet = notes::front("Quote", Some(currency), &warnings)?;
    let company = [quote.company.name.clone()];
    let company: Vec<String> = company
        .into_iter()
        .chain(quote.company.lines.clone())
        .collect();
    sheet.row(
        Look::Strong,
        [Cell::text("Quote"), Cell::text(&quote.title)],
    )?;
    notes::facts(
        &mut sheet,
        &[
            ("From", company.join("\n").trim()),
            ("For", &quote.customer),
            ("Revision", &quote.revision),
            ("Fingerprint", &quote.fingerprint),
            ("Date", &day(quote.date)),
            ("Valid until", &day(quote.valid_until)),
        ],
    )?;
    let holes = words::holes(&quote.missing, &quote.unrated);
    notes::list(&mut sheet, "Still open", &holes)?;
    notes::list(&mut sheet, "Scope", &quote.scope)?;
    prices(&mut sheet, quote, places)?;
    notes::payment(&mut sheet, &quote.payment, quote.total)?;
    notes::list(&mut sheet, "Assumptions", &quote.assumptions)?;
    notes::list(&mut sheet, "Exclusions", &quote.exclusions)?;
    notes::list(&mut sheet, "Cautions", &quote.cautions)?;
    notes::list(&mut sheet, "Notices", &quote.notices)?;
    Ok(sheet)
}

/// The price by section, and the sums.
fn prices(sheet: &mut Sheet, quote: &Quote, places: &Places) -> io::Result<()> {
    sheet.skip();
    let first = sheet.next();
    for (section, place) in quote.sections.iter().zip(&places.sections) {
        let label = match sheet.next() == first {
            true => Cell::text("Price"),
            false => Cell::Blank,
        };
        let title = Cell::text(words::section_sum(section, &section.title));
        let amount = formula::sum(&[on(LINES, place)], section.subtotal);
        sheet.row(Look::Plain, [label, title, amount])?;
    }
    if let Some(rounding) = quote.rounding {
        let row = [Cell::Blank, Cell::text("Rounding"), Cell::Money(rounding)];
        sheet.row(Look::Plain, row)?;
    }
    let subtotal = formula::sum(&[on(LINES, &places.before_tax)], quote.subtotal);
    let words = Cell::text(words::before_tax(quote));
    sheet.row(Look::Sum, [Cell::Blank, words, subtotal])?;
    let tax = formula::sum(&[on(LINES, &places.tax)], quote.tax.amount);
    let words = format!("{}, {} %", quote.tax.label, quote.tax.percent);
    sheet.row(Look::Plain, [Cell::Blank, Cell::text(words), tax])?;
    let total = match quote.total {
        Some(total) => formula::sum(&[on(LINES, &places.total)], total),
        None => Cell::text(words::total(quote)),
    };
    let words = format!("Total {}", quote.subtotal.currency().code());
    sheet.row(Look::Sum, [Cell::Blank, Cell::text(words), total])?;
    Ok(())
}

fn outlets(quote: &Quote) -> io::Result<Sheet> {
    let mut sheet = Sheet::new("Outlets", OUTLETS, None)?;
    sheet.heads()?;
    for outlet in &quote.outlets {
        sheet.row(
            Look::Plain,
            [
                Cell::Number(outlet.number.to_string()),
                Cell::text(&outlet.name),
                Cell::text(&outlet.height),
                Cell::text(&outlet.drop),
                Cell::text(outlet.sides.join("\n")),
                Cell::text(&outlet.drain),
            ],
        )?;
    }
    Ok(sheet)
}

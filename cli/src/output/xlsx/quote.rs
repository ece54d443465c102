//! The customer's quote: a front page, the lines with their formulas, and the
//! outlets. It holds nothing that the printed quote does not.

use super::book::{self, About};
use super::formula::{self, Factor, cell, on};
use super::notes;
use super::sheet::{Cell, Column, Look, Sheet};
use crate::output::pdf::Paper;
use crate::output::words::{self, INCOMPLETE, day, joined, quote as said};
use pricing::quote::{Level, Prices, Quote, ShownSection};
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
    let prices = quote.prices();
    let (lines, places) = lines(quote, &prices)?;
    let mut sheets = vec![front(quote, &prices, &places)?, lines];
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

/// The cells of the lines' sheet that others take up; none for what the level of the
/// quote does not show.
struct Places {
    sections: Vec<Option<String>>,
    provisional: Vec<String>,
    before_tax: Option<String>,
    tax: Option<String>,
    total: String,
}

fn lines(quote: &Quote, prices: &Prices) -> io::Result<(Sheet, Places)> {
    let currency = quote.subtotal.currency();
    let mut sheet = Sheet::new(LINES, COLUMNS, Some(currency))?;
    if let Some(warning) = warning(quote) {
        sheet.row(Look::Strong, [Cell::text(warning)])?;
    }
    sheet.heads()?;
    let (mut sections, mut taxed) = (Vec::new(), Vec::new());
    for section in &prices.sections {
        let (subtotal, of_it) = self::section(&mut sheet, section, quote.level)?;
        sections.push(subtotal);
        taxed.extend(of_it);
    }
    let row = |words: &str, amount| {
        let words = Cell::text(words);
        [words, Cell::Blank, Cell::Blank, Cell::Blank, amount]
    };
    let mut parts: Vec<String> = sections.iter().flatten().cloned().collect();
    let mut provisional = Vec::new();
    for one in &quote.provisional {
        let words = said::provisional(one);
        let at = cell(
            SUM,
            sheet.row(Look::Plain, row(&words, Cell::Money(one.price)))?,
        );
        if one.in_total {
            parts.push(at.clone());
            if one.taxed {
                taxed.push(at.clone());
            }
        }
        provisional.push(at);
    }
    if let Some(rounding) = prices.rounding {
        let at = sheet.row(Look::Plain, row("Rounding", Cell::Money(rounding)))?;
        parts.push(cell(SUM, at));
    }
    // One sum for all has no parts to be made of.
    let summed = |parts: &[String], sum| match quote.level {
        Level::Sum => Cell::Money(sum),
        Level::Sections | Level::Lines => formula::sum(parts, sum),
    };
    let mut before_tax = None;
    if let Some(subtotal) = said::shown_subtotal(quote, prices) {
        let at = sheet.row(
            Look::Sum,
            row(words::before_tax(quote), summed(&parts, subtotal)),
        )?;
        before_tax = Some(cell(SUM, at));
    }
    let mut tax = None;
    if let Some(of) = said::shown_tax(prices) {
        let base = match of.on {
            TaxOn::All => before_tax.iter().cloned().collect(),
            TaxOn::Materials if quote.level == Level::Lines => taxed,
            TaxOn::Materials | TaxOn::None => Vec::new(),
        };
        let at = sheet.next();
        let percent = of.percent.to_string();
        let factor = Factor {
            printed: &percent,
            cell: &cell(QUANTITY, at),
        };
        let amount = formula::product(&factor, &cell(UNIT_PRICE, at), true, of.amount);
        let base = match base.is_empty() {
            true => Cell::Money(of.base),
            false => formula::sum(&base, of.base),
        };
        sheet.row(
            Look::Plain,
            [
                Cell::text(&of.label),
                Cell::Number(percent.clone()),
                Cell::text("% of"),
                base,
                amount,
            ],
        )?;
        tax = Some(cell(SUM, at));
    }
    let made_of: Vec<String> = before_tax.iter().chain(&tax).cloned().collect();
    let total = match quote.total {
        Some(total) if made_of.is_empty() => summed(&parts, total),
        Some(total) => formula::sum(&made_of, total),
        None => Cell::text(words::total(quote)),
    };
    let at = sheet.row(Look::Sum, row(&total_words(quote, prices), total))?;
    let places = Places {
        sections,
        provisional,
        before_tax,
        tax,
        total: cell(SUM, at),
    };
    Ok((sheet, places))
}

fn total_words(quote: &Quote, prices: &Prices) -> String {
    let total = format!("Total {}", quote.subtotal.currency().code());
    match &prices.tax {
        Some(_) => total,
        None => format!(
            "{total}, with {} of {} %",
            quote.tax.label, quote.tax.percent
        ),
    }
}

/// Writes a section, and gives back its subtotal and what of it tax on materials
/// falls on.
fn section(
    sheet: &mut Sheet,
    section: &ShownSection,
    level: Level,
) -> io::Result<(Option<String>, Vec<String>)> {
    sheet.row(Look::Strong, [Cell::text(&section.title)])?;
    let first = sheet.next();
    let mut taxed = Vec::new();
    for line in &section.lines {
        let at = sheet.next();
        let quantity = line.how_much();
        let unit_price = match level {
            Level::Lines => Cell::price(line.unit_price),
            Level::Sections | Level::Sum => Cell::Blank,
        };
        let amount = match line.amount {
            Some(amount) => {
                let factor = Factor {
                    printed: &quantity,
                    cell: &cell(QUANTITY, at),
                };
                formula::product(&factor, &cell(UNIT_PRICE, at), false, amount)
            }
            None if level == Level::Lines => Cell::price(None),
            None => Cell::Blank,
        };
        if line.taxed && line.amount.is_some() {
            taxed.push(cell(SUM, at));
        }
        sheet.row(
            Look::Plain,
            [
                Cell::text(&line.text),
                match line.quantity {
                    Some(_) => Cell::Number(quantity.clone()),
                    None => Cell::Blank,
                },
                Cell::text(&line.unit),
                unit_price,
                amount,
            ],
        )?;
    }
    let Some(subtotal) = section.subtotal else {
        sheet.skip();
        return Ok((None, taxed));
    };
    let subtotal = match level {
        Level::Lines => formula::down(SUM, first, sheet.next() - 1, subtotal),
        Level::Sections | Level::Sum => Cell::Money(subtotal),
    };
    let words = Cell::text(said::section_sum(section, "Subtotal"));
    let at = sheet.row(
        Look::Sum,
        [words, Cell::Blank, Cell::Blank, Cell::Blank, subtotal],
    )?;
    sheet.skip();
    let subtotal = cell(SUM, at);
    if section.lines.iter().all(|line| line.taxed) {
        taxed = vec![subtotal.clone()];
    }
    Ok((Some(subtotal), taxed))
}

fn front(quote: &Quote, prices: &Prices, places: &Places) -> io::Result<Sheet> {
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
    sums(&mut sheet, quote, prices, places)?;
    notes::payment(&mut sheet, &quote.payment, quote.total)?;
    for (label, offers) in beside(quote) {
        notes::list(&mut sheet, label, &offers)?;
    }
    notes::list(&mut sheet, "Terms", &said::terms(quote))?;
    notes::list(&mut sheet, "Assumptions", &quote.assumptions)?;
    notes::list(&mut sheet, "Exclusions", &quote.exclusions)?;
    notes::list(&mut sheet, "Cautions", &quote.cautions)?;
    notes::list(&mut sheet, "Notices", &quote.notices)?;
    Ok(sheet)
}

/// The price by section, and the sums.
fn sums(sheet: &mut Sheet, quote: &Quote, prices: &Prices, places: &Places) -> io::Result<()> {
    sheet.skip();
    let mut label = Some(Cell::text("Price"));
    let mut row = |look, words: String, amount| {
        let label = label.take().unwrap_or(Cell::Blank);
        sheet
            .row(look, [label, Cell::text(words), amount])
            .map(drop)
    };
    for (section, place) in prices.sections.iter().zip(&places.sections) {
        if let (Some(place), Some(subtotal)) = (place, section.subtotal) {
            let amount = formula::sum(&[on(LINES, place)], subtotal);
            row(
                Look::Plain,
                said::section_sum(section, &section.title),
                amount,
            )?;
        }
    }
    for (one, place) in quote.provisional.iter().zip(&places.provisional) {
        let amount = formula::sum(&[on(LINES, place)], one.price);
        row(Look::Plain, said::provisional(one), amount)?;
    }
    if let Some(rounding) = prices.rounding {
        row(Look::Plain, "Rounding".to_owned(), Cell::Money(rounding))?;
    }
    if let (Some(place), Some(subtotal)) = (&places.before_tax, prices.subtotal) {
        let amount = formula::sum(&[on(LINES, place)], subtotal);
        row(Look::Sum, words::before_tax(quote).to_owned(), amount)?;
    }
    if let (Some(place), Some(tax)) = (&places.tax, &prices.tax) {
        let amount = formula::sum(&[on(LINES, place)], tax.amount);
        row(
            Look::Plain,
            format!("{}, {} %", tax.label, tax.percent),
            amount,
        )?;
    }
    let total = match quote.total {
        Some(total) => formula::sum(&[on(LINES, &places.total)], total),
        None => Cell::text(words::total(quote)),
    };
    row(Look::Sum, total_words(quote, prices), total)
}

/// What is offered beside the job, each with its price as text.
fn beside(quote: &Quote) -> [(&'static str, Vec<String>); 3] {
    let currency = quote.subtotal.currency();
    let code = currency.code();
    let options = quote.options.iter().flat_map(|options| &options.options);
    let options = options.map(|option| {
        let words = said::option(option).replace('\n', " ");
        format!(
            "{}: {words} {code} {}",
            option.name,
            said::adds(&option.total)
        )
    });
    let alternates = quote.alternates.iter().map(|one| {
        let words = said::alternate(one).replace('\n', ", ");
        format!("{}: {words}: {code} {}", one.name, said::adds(&one.price))
    });
    let drops = quote.added.iter().flat_map(|added| &added.drops);
    let drops = drops.map(|drop| {
        format!(
            "{}: {}: {code} {}",
            drop.kind,
            drop.text,
            said::adds(&drop.price)
        )
    });
    [
        (said::OPTIONS, options.collect()),
        (said::ALTERNATES, alternates.collect()),
        (said::ADDED, drops.collect()),
    ]
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

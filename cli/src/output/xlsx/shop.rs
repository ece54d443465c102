//! The shopping list: what to buy by group with a running total, and the notes.

use super::book::{self, About};
use super::formula::{self, Factor, cell};
use super::notes;
use super::sheet::{Cell, Column, Look, Sheet};
use crate::output::pdf::Paper;
use crate::output::words::{self, joined};
use pricing::shop::{ShopGroup, ShopLine, ShoppingList};
use std::io::{self, Write};

const COLUMNS: &[Column] = &[
    Column::right("Got", 5.0),
    Column::right("Buy", 7.0),
    Column::left("Unit", 13.0),
    Column::left("What the label says", 34.0),
    Column::left("Size", 12.0),
    Column::left("Where it goes", 30.0),
    Column::right("Each", 11.0),
    Column::right("Amount", 12.0),
    Column::right("Running", 12.0),
    Column::left("Supplier", 27.0),
    Column::left("Order no.", 14.0),
];
const QUANTITY: u8 = 1;
const EACH: u8 = 6;
const AMOUNT: u8 = 7;
const RUNNING: u8 = 8;

/// Writes the shopping list as a workbook.
///
/// # Errors
/// Those of `out`, and sums of more digits than a workbook keeps.
pub fn shop(shop: &ShoppingList, paper: Paper, out: &mut dyn Write) -> io::Result<()> {
    let warning = shop.total.is_none().then_some(words::OPEN);
    let about = About {
        title: &joined(&["Shopping list", shop.title.trim()], ": "),
        author: "",
        revision: &shop.revision,
        fingerprint: &shop.fingerprint,
        date: Some(shop.date),
        warning,
        paper,
    };
    book::write(
        &about,
        vec![list(shop, warning)?, notes(shop, warning)?],
        out,
    )
}

fn list(shop: &ShoppingList, warning: Option<&str>) -> io::Result<Sheet> {
    let mut sheet = Sheet::new("List", COLUMNS, Some(shop.currency))?;
    sheet.lying();
    if let Some(warning) = warning {
        sheet.row(Look::Strong, under(3, [Cell::text(warning)]))?;
    }
    sheet.heads()?;
    let mut running = None;
    let mut subtotals = Vec::new();
    for group in &shop.groups {
        subtotals.push(self::group(&mut sheet, group, &mut running)?);
    }
    let code = shop.currency.code();
    let priced = formula::sum(&subtotals, shop.priced);
    let mut sum = |look, words: &str, amount| {
        let blank = [Cell::Blank, Cell::Blank, Cell::Blank];
        let cells = under(3, [Cell::text(words)]).chain(blank).chain([amount]);
        sheet.row(look, cells)
    };
    match (shop.total, shop.without_spares) {
        (Some(_), Some(without)) => {
            let words = format!("Without spares {code}");
            sum(Look::Plain, &words, Cell::Money(without))?;
            sum(Look::Sum, &format!("TOTAL {code}, spares included"), priced)?;
        }
        _ => {
            sum(Look::Plain, &format!("Priced so far {code}"), priced)?;
            sum(
                Look::Sum,
                &format!("TOTAL {code}"),
                Cell::text("incomplete"),
            )?;
        }
    }
    Ok(sheet)
}

/// Cells behind so many that are free.
fn under<const N: usize>(free: usize, cells: [Cell; N]) -> impl Iterator<Item = Cell> {
    std::iter::repeat_with(|| Cell::Blank)
        .take(free)
        .chain(cells)
}

/// Writes a group, and gives back the cell of its sum.
fn group(sheet: &mut Sheet, group: &ShopGroup, running: &mut Option<String>) -> io::Result<String> {
    sheet.row(Look::Strong, under(3, [Cell::text(&group.title)]))?;
    let first = sheet.next();
    for line in &group.lines {
        self::line(sheet, line, running)?;
    }
    let sum = formula::down(AMOUNT, first, sheet.next() - 1, group.subtotal);
    let words = Cell::text(words::group_sum(group));
    let cells = [words, Cell::Blank, Cell::Blank, Cell::Blank, sum];
    let at = sheet.row(Look::Sum, under(3, cells))?;
    sheet.skip();
    Ok(cell(AMOUNT, at))
}

fn line(sheet: &mut Sheet, line: &ShopLine, running: &mut Option<String>) -> io::Result<()> {
    let at = sheet.next();
    let quantity = line.quantity.to_string();
    let factor = Factor {
        printed: &quantity,
        cell: &cell(QUANTITY, at),
    };
    let amount = match line.amount {
        Some(amount) => formula::product(&factor, &cell(EACH, at), false, amount),
        None => Cell::price(None),
    };
    let so_far = match line.running {
        Some(sum) => {
            let parts: Vec<String> = running.take().into_iter().collect();
            *running = Some(cell(RUNNING, at));
            let parts: Vec<String> = parts.into_iter().chain([cell(AMOUNT, at)]).collect();
            formula::sum(&parts, sum)
        }
        None => Cell::Blank,
    };
    let cells = [
        Cell::text("☐"),
        Cell::Number(quantity.clone()),
        Cell::text(&line.unit),
        Cell::text(&line.words),
        Cell::text(line.key.size.to_string()),
        Cell::text(words::where_used(line)),
        Cell::price(line.unit_price),
        amount,
        so_far,
        Cell::text(&line.supplier),
        Cell::text(&line.code),
    ];
    sheet.row(Look::Plain, cells)?;
    Ok(())
}

fn notes(shop: &ShoppingList, warning: Option<&str>) -> io::Result<Sheet> {
    let warnings: Vec<&str> = warning.into_iter().collect();
    let mut sheet = notes::front("Notes", None, &warnings)?;
    let title = [Cell::text("Shopping list"), Cell::text(&shop.title)];
    sheet.row(Look::Strong, title)?;
    notes::list(&mut sheet, "Still open", &words::holes(&shop.missing, &[]))?;
    sheet.skip();
    sheet.row(Look::Strong, [Cell::Blank, Cell::text("Before you drive")])?;
    for fact in &shop.heads_up {
        let row = [Cell::text(fact.label), Cell::text(&fact.text)];
        sheet.row(Look::Plain, row)?;
    }
    notes::list(&mut sheet, words::ALSO, &shop.also)?;
    notes::list(&mut sheet, "Cautions", &shop.cautions)?;
    notes::list(&mut sheet, "Assumptions", &shop.assumptions)?;
    notes::list(&mut sheet, "Notices", &shop.notices)?;
    Ok(sheet)
}

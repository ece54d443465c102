use super::{Table, words};
use pricing::estimate::{EstimateSheet, Price};
use pricing::money::Money;
use std::io::{self, Write};

/// The contractor's estimate: its lines, then the way to the total. The head of
/// the first column says whose it is.
///
/// # Errors
/// What the writer says.
pub fn estimate(sheet: &EstimateSheet, out: &mut dyn Write) -> io::Result<()> {
    let currency = sheet.estimate.price.currency();
    let currency = currency.code();
    let mut table = Table::new(out);
    table.row([
        words::INTERNAL,
        "text",
        "quantity",
        "unit",
        "unit_cost",
        "cost",
        "unit_price",
        "price",
        "origin",
        "currency",
    ])?;
    let plain = |price: Option<Price>, of: fn(Price) -> Money| {
        price.map_or_else(|| "no price".to_owned(), |price| of(price).plain())
    };
    for section in &sheet.estimate.sections {
        for line in &section.lines {
            table.row([
                section.title,
                &line.text,
                &line.quantity.to_string(),
                &line.unit,
                &plain(line.cost, |cost| cost.unit),
                &plain(line.cost, |cost| cost.amount),
                &plain(line.price, |price| price.unit),
                &plain(line.price, |price| price.amount),
                &line.origin,
                currency,
            ])?;
        }
        let (cost, price) = (section.cost.plain(), section.price.plain());
        table.row([
            section.title,
            "Subtotal",
            "",
            "",
            "",
            &cost,
            "",
            &price,
            "",
            currency,
        ])?;
    }
    for step in words::estimate_steps(sheet) {
        let sum = if step.is_sum { "sum" } else { "" };
        let amount = &step.plain;
        table.row([
            "Steps", &step.text, "", sum, "", "", "", amount, "", currency,
        ])?;
    }
    for step in &sheet.payment {
        let amount = step.amount.plain();
        table.row([
            "Payment", &step.when, "", "", "", "", "", &amount, "", currency,
        ])?;
    }
    let estimate = &sheet.estimate;
    for note in estimate.warnings.iter().chain(&estimate.notes) {
        table.row(["Notes", note, "", "", "", "", "", "", "", ""])?;
    }
    table.end()
}

use super::Column::{Figures, Points, Words};
use super::{list, paragraph, table};
use crate::output::words;
use pricing::estimate::{EstimateSheet, Price};
use std::io::{self, Write};

/// Prints the contractor's estimate.
///
/// # Errors
/// Those of `out`.
pub fn estimate(sheet: &EstimateSheet, width: usize, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "{}\n", words::INTERNAL)?;
    head(sheet, width, out)?;
    if sheet.total.is_none() {
        let holes = words::holes(&sheet.estimate.missing, &sheet.unrated);
        list(out, width, words::INCOMPLETE, &holes)?;
    }
    let estimate = &sheet.estimate;
    list(out, width, "Warnings", &estimate.warnings)?;
    steps(sheet, width, out)?;
    if let Some(margin) = words::margin(sheet) {
        writeln!(out)?;
        paragraph(out, width, &margin)?;
    }
    list(out, width, "How it was reckoned", &estimate.notes)?;
    lines(sheet, width, out)?;
    if !sheet.payment.is_empty() {
        writeln!(out)?;
        let steps = sheet.payment.iter();
        let rows = steps.map(|step| vec![step.when.clone(), step.amount.show()]);
        table(out, width, &[Words, Figures], &["Payment", "Amount"], rows)?;
    }
    list(out, width, "Assumptions", &sheet.assumptions)?;
    list(out, width, "Notices", &sheet.notices)
}

fn head(sheet: &EstimateSheet, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let heading = &sheet.heading;
    let mut facts = vec![
        ("Estimate", heading.title.clone()),
        ("For", sheet.customer.clone()),
        ("Revision", heading.revision.clone()),
        ("Fingerprint", heading.fingerprint.clone()),
        ("Date", heading.date.to_string()),
    ];
    facts.retain(|(_, value)| !value.trim().is_empty());
    let rows = facts
        .into_iter()
        .map(|(label, value)| vec![label.to_owned(), value]);
    table(out, width, &[Words, Words], &[], rows)
}

/// The costs, and under each sum a line of room.
fn steps(sheet: &EstimateSheet, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let mut rows = Vec::new();
    for step in words::estimate_steps(sheet) {
        let text = match step.is_sum {
            true => step.text.to_uppercase(),
            false => step.text,
        };
        rows.push(vec![text, step.amount]);
    }
    writeln!(out)?;
    table(
        out,
        width,
        &[Words, Figures],
        &["From cost to price", "Amount"],
        rows,
    )
}

fn lines(sheet: &EstimateSheet, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let mut rows = Vec::new();
    let blank = String::new;
    for section in &sheet.estimate.sections {
        let title = section.title.to_uppercase();
        rows.push(vec![title, blank(), blank(), blank(), blank(), blank()]);
        for line in &section.lines {
            rows.push(vec![
                format!("{}\n{}", line.text, line.origin)
                    .trim_end()
                    .to_owned(),
                line.quantity.to_string(),
                line.unit.clone(),
                words::price(line.cost.map(|cost| cost.unit)),
                amount(line.cost),
                amount(line.price),
            ]);
        }
        let (cost, price) = (section.cost.show(), section.price.show());
        rows.push(vec![
            "Subtotal".to_owned(),
            blank(),
            blank(),
            blank(),
            cost,
            price,
        ]);
        rows.push(vec![blank(); 6]);
    }
    rows.pop();
    let columns = [Words, Points, Words, Figures, Figures, Figures];
    let heads = ["What", "Quantity", "Unit", "Cost of one", "Cost", "Price"];
    writeln!(out)?;
    table(out, width, &columns, &heads, rows)
}

fn amount(price: Option<Price>) -> String {
    words::price(price.map(|price| price.amount))
}

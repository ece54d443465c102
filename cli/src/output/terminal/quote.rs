use super::Column::{Figures, Points, Words};
use super::{list, paragraph, table};
use crate::output::words;
use pricing::quote::Quote;
use std::io::{self, Write};

/// Prints the quote.
///
/// # Errors
/// Those of `out`.
pub fn quote(quote: &Quote, width: usize, out: &mut dyn Write) -> io::Result<()> {
    head(quote, width, out)?;
    missing(quote, width, out)?;
    for text in &quote.scope {
        writeln!(out)?;
        paragraph(out, width, text)?;
    }
    outlets(quote, width, out)?;
    lines(quote, width, out)?;
    payment(quote, width, out)?;
    list(out, width, "Assumptions", &quote.assumptions)?;
    list(out, width, "Exclusions", &quote.exclusions)?;
    list(out, width, "Cautions", &quote.cautions)?;
    list(out, width, "Notices", &quote.notices)
}

fn head(quote: &Quote, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let company = format!("{}\n{}", quote.company.name, quote.company.lines.join("\n"));
    let mut facts = vec![
        ("Quote", quote.title.clone()),
        ("From", company),
        ("For", quote.customer.clone()),
        ("Revision", quote.revision.clone()),
        ("Fingerprint", quote.fingerprint.clone()),
        ("Date", quote.date.to_string()),
        ("Valid until", quote.valid_until.to_string()),
    ];
    facts.retain(|(_, value)| !value.trim().is_empty());
    let rows = facts
        .into_iter()
        .map(|(label, value)| vec![label.to_owned(), value]);
    table(out, width, &[Words, Words], &[], rows)
}

fn missing(quote: &Quote, width: usize, out: &mut dyn Write) -> io::Result<()> {
    if quote.total.is_some() {
        return Ok(());
    }
    writeln!(out, "\n{}", words::INCOMPLETE)?;
    for work in &quote.unrated {
        paragraph(out, width, work)?;
    }
    if quote.missing.is_empty() {
        return Ok(());
    }
    let rows = quote.missing.iter().map(|part| {
        let words = format!("{} {}", part.words, part.key.size);
        vec![
            part.quantity.to_string(),
            part.unit.clone(),
            format!("{}\n{}", words.trim_end(), part.reason),
        ]
    });
    let heads = ["Quantity", "Unit", "Part without a price"];
    table(out, width, &[Points, Words, Words], &heads, rows)
}

fn outlets(quote: &Quote, width: usize, out: &mut dyn Write) -> io::Result<()> {
    if quote.outlets.is_empty() {
        return Ok(());
    }
    let rows = quote.outlets.iter().map(|outlet| {
        vec![
            outlet.number.to_string(),
            outlet.name.clone(),
            outlet.height.clone(),
            outlet.drop.clone(),
            outlet.sides.join("\n"),
            outlet.drain.clone(),
        ]
    });
    let columns = [Figures, Words, Figures, Words, Words, Words];
    let heads = ["No.", "Outlet", "Height", "Drop", "Sides", "Drain"];
    writeln!(out)?;
    table(out, width, &columns, &heads, rows)
}

fn lines(quote: &Quote, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let sum = |words: &str, figure: String| {
        let blank = String::new;
        vec![words.to_owned(), blank(), blank(), blank(), figure]
    };
    let mut rows = Vec::new();
    for section in &quote.sections {
        rows.push(sum(&section.title.to_uppercase(), String::new()));
        for line in &section.lines {
            rows.push(vec![
                line.text.clone(),
                line.quantity.to_string(),
                line.unit.clone(),
                words::price(line.unit_price),
                words::price(line.amount),
            ]);
        }
        let words = words::section_sum(section, "Subtotal");
        rows.push(sum(&words, section.subtotal.show()));
        rows.push(sum("", String::new()));
    }
    let currency = quote.subtotal.currency();
    let total = format!("TOTAL {}", currency.code());
    if let Some(rounding) = quote.rounding {
        rows.push(sum("Rounding", rounding.show()));
    }
    rows.push(sum(words::before_tax(quote), quote.subtotal.show()));
    rows.push(sum(&words::tax(&quote.tax), quote.tax.amount.show()));
    rows.push(sum(&total, words::total(quote)));
    let columns = [Words, Points, Words, Figures, Figures];
    let heads = ["What", "Quantity", "Unit", "Unit price", "Amount"];
    writeln!(out)?;
    table(out, width, &columns, &heads, rows)
}

fn payment(quote: &Quote, width: usize, out: &mut dyn Write) -> io::Result<()> {
    if quote.payment.is_empty() {
        return Ok(());
    }
    writeln!(out)?;
    let rows = quote
        .payment
        .iter()
        .map(|step| vec![step.when.clone(), step.amount.show()]);
    table(out, width, &[Words, Figures], &["Payment", "Amount"], rows)
}

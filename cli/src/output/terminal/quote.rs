use super::Column::{Figures, Points, Words};
use super::{list, paragraph, table};
use crate::output::words::{self, quote as said};
use pricing::quote::{Level, Quote};
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
    options(quote, width, out)?;
    alternates(quote, width, out)?;
    added(quote, width, out)?;
    list(out, width, "Terms", &said::terms(quote))?;
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
    let prices = quote.prices();
    let each = quote.level == Level::Lines;
    let blank = String::new;
    let row = |cells: [String; 5]| -> Vec<String> {
        let shown = cells.into_iter().enumerate();
        let shown = shown.filter(|(at, _)| each || *at != 3);
        shown.map(|(_, cell)| cell).collect()
    };
    let sum =
        |words: &str, figure: String| row([words.to_owned(), blank(), blank(), blank(), figure]);
    let mut rows = Vec::new();
    for section in &prices.sections {
        rows.push(sum(&section.title.to_uppercase(), blank()));
        for line in &section.lines {
            let price = |price| if each { words::price(price) } else { blank() };
            rows.push(row([
                line.text.clone(),
                line.how_much(),
                line.unit.clone(),
                price(line.unit_price),
                price(line.amount),
            ]));
        }
        if let Some(subtotal) = section.subtotal {
            let words = said::section_sum(section, "Subtotal");
            rows.push(sum(&words, subtotal.show()));
        }
        rows.push(sum("", blank()));
    }
    if !quote.provisional.is_empty() {
        rows.push(sum(&said::PROVISIONAL.to_uppercase(), blank()));
        for one in &quote.provisional {
            rows.push(sum(&said::provisional(one), one.price.show()));
        }
        rows.push(sum("", blank()));
    }
    for (words, figure) in said::quote_sums(quote, &prices, "TOTAL") {
        rows.push(sum(&words, figure));
    }
    let columns = [Words, Points, Words, Figures, Figures];
    let heads = ["What", "Quantity", "Unit", "Unit price", "Amount"];
    writeln!(out)?;
    match each {
        true => table(out, width, &columns, &heads, rows),
        false => table(
            out,
            width,
            &[Words, Points, Words, Figures],
            &["What", "Quantity", "Unit", "Amount"],
            rows,
        ),
    }
}

fn options(quote: &Quote, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let Some(options) = &quote.options else {
        return Ok(());
    };
    writeln!(out, "\n{}", said::OPTIONS)?;
    paragraph(out, width, &options.scope)?;
    let rows = options.options.iter().map(|option| {
        vec![
            format!("[ ] {}", option.name),
            said::option(option),
            said::days(option),
            said::adds(&option.total),
            said::difference(option),
        ]
    });
    let heads = ["Option", "What", "Days", "Total", "Difference"];
    let columns = [Words, Words, Figures, Figures, Figures];
    table(out, width, &columns, &heads, rows)
}

fn alternates(quote: &Quote, width: usize, out: &mut dyn Write) -> io::Result<()> {
    if quote.alternates.is_empty() {
        return Ok(());
    }
    writeln!(out, "\n{}", said::ALTERNATES)?;
    paragraph(out, width, said::EACH_ALONE)?;
    let rows = quote.alternates.iter().map(|one| {
        vec![
            format!("[ ] {}", one.name),
            said::alternate(one),
            said::adds(&one.price),
        ]
    });
    let heads = ["Alternate", "What", "Adds"];
    table(out, width, &[Words, Words, Figures], &heads, rows)
}

fn added(quote: &Quote, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let Some(added) = &quote.added else {
        return Ok(());
    };
    writeln!(out, "\n{}", said::ADDED)?;
    let rows = added.drops.iter().map(|drop| {
        vec![
            drop.kind.clone(),
            said::reasoned([drop.text.clone()], &drop.price),
            said::adds(&drop.price),
        ]
    });
    let heads = ["Drop", "What", "Adds"];
    table(out, width, &[Words, Words, Figures], &heads, rows)?;
    paragraph(out, width, &added.basis.join(" "))
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

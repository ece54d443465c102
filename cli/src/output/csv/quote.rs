use super::Table;
use crate::output::words::quote as said;
use pricing::money::Money;
use pricing::quote::{Level, Quote};
use std::io::{self, Write};

/// The quote: its lines, what is offered besides, then its sums; the total is the last line.
///
/// # Errors
/// What the writer says.
pub fn quote(quote: &Quote, out: &mut dyn Write) -> io::Result<()> {
    let currency = quote.subtotal.currency();
    let code = currency.code();
    let prices = quote.prices();
    let mut table = Table::new(out);
    table.row([
        "section",
        "text",
        "quantity",
        "unit",
        "unit_price",
        "amount",
        "currency",
    ])?;
    let price = |price: Option<Money>| match price {
        Some(price) => price.plain(),
        None if quote.level == Level::Lines => "no price".to_owned(),
        None => String::new(),
    };
    for section in &prices.sections {
        for line in &section.lines {
            table.row([
                section.title.as_str(),
                &line.text,
                &line.how_much(),
                &line.unit,
                &price(line.unit_price),
                &price(line.amount),
                code,
            ])?;
        }
        if let Some(subtotal) = section.subtotal {
            sum(
                &mut table,
                &section.title,
                "Subtotal",
                &subtotal.plain(),
                code,
            )?;
        }
    }
    for one in &quote.provisional {
        let words = said::provisional(one);
        sum(
            &mut table,
            said::PROVISIONAL,
            &words,
            &one.price.plain(),
            code,
        )?;
    }
    beside(quote, &mut table, code)?;
    if let Some(rounding) = prices.rounding {
        sum(&mut table, "Sums", "Rounding", &rounding.plain(), code)?;
    }
    if let Some(subtotal) = prices.subtotal {
        sum(&mut table, "Sums", "Subtotal", &subtotal.plain(), code)?;
    }
    if let Some(tax) = said::shown_tax(&prices) {
        let words = format!("{} ({} % of {})", tax.label, tax.percent, tax.base.plain());
        sum(&mut table, "Sums", &words, &tax.amount.plain(), code)?;
    }
    let total = match &prices.tax {
        Some(_) => "Total".to_owned(),
        None => format!("Total with {} of {} %", quote.tax.label, quote.tax.percent),
    };
    let figure = quote.total.map(|total| total.plain());
    let figure = figure.unwrap_or_else(|| "incomplete".to_owned());
    sum(&mut table, "Sums", &total, &figure, code)?;
    table.end()
}

/// What is in no total.
fn beside(quote: &Quote, table: &mut Table<'_>, code: &str) -> io::Result<()> {
    let adds = |price: &Result<Money, String>| match price {
        Ok(price) => price.plain(),
        Err(_) => "no price".to_owned(),
    };
    let options = quote.options.iter().flat_map(|options| &options.options);
    for option in options {
        let words = format!("{}: {}", option.name, said::option(option));
        sum(table, said::OPTIONS, &words, &adds(&option.total), code)?;
    }
    for one in &quote.alternates {
        let words = format!("{}: {}", one.name, said::alternate(one));
        sum(table, said::ALTERNATES, &words, &adds(&one.price), code)?;
    }
    let drops = quote.added.iter().flat_map(|added| &added.drops);
    for drop in drops {
        let words = [format!("{}: {}", drop.kind, drop.text)];
        let words = said::reasoned(words, &drop.price);
        sum(table, said::ADDED, &words, &adds(&drop.price), code)?;
    }
    Ok(())
}

fn sum(
    table: &mut Table<'_>,
    section: &str,
    words: &str,
    amount: &str,
    code: &str,
) -> io::Result<()> {
    let words = words.replace('\n', " ");
    table.row([section, &words, "", "", "", amount, code])
}

use super::Column::{Figures, Points, Words};
use super::{list, paragraph, table};
use crate::output::words;
use pricing::shop::ShoppingList;
use std::io::{self, Write};

/// Prints the shopping list.
///
/// # Errors
/// Those of `out`.
pub fn shop(shop: &ShoppingList, width: usize, out: &mut dyn Write) -> io::Result<()> {
    paragraph(out, width, &format!("Shopping list: {}", shop.title))?;
    let revision = match shop.revision.as_str() {
        "" => String::new(),
        revision => format!("revision {revision}, "),
    };
    let marks = format!("{revision}{}, {}", shop.fingerprint, shop.date);
    paragraph(out, width, &marks)?;
    missing(shop, width, out)?;
    lines(shop, width, out)?;
    if !shop.heads_up.is_empty() {
        writeln!(out, "\nBefore you drive")?;
        let rows = shop
            .heads_up
            .iter()
            .map(|fact| vec![fact.label.to_owned(), fact.text.clone()]);
        table(out, width, &[Figures, Words], &[], rows)?;
    }
    list(out, width, words::ALSO, &shop.also)?;
    list(out, width, "Assumptions", &shop.assumptions)?;
    list(out, width, "Cautions", &shop.cautions)?;
    list(out, width, "Notices", &shop.notices)
}

fn missing(shop: &ShoppingList, width: usize, out: &mut dyn Write) -> io::Result<()> {
    if shop.missing.is_empty() {
        return Ok(());
    }
    writeln!(out, "\n{}", words::OPEN)?;
    let rows = shop.missing.iter().map(|part| {
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

fn lines(shop: &ShoppingList, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let wide = |words: &str, figure: String| {
        let blank = String::new;
        vec![
            blank(),
            blank(),
            words.to_owned(),
            blank(),
            blank(),
            figure,
            blank(),
        ]
    };
    let mut rows = Vec::new();
    for group in &shop.groups {
        rows.push(wide(&group.title.to_uppercase(), String::new()));
        for line in &group.lines {
            rows.push(vec![
                "[ ]".to_owned(),
                line.quantity.to_string(),
                format!("{}\n{}", words::on_shelf(line), words::where_used(line)),
                words::order(line),
                words::price(line.unit_price),
                words::price(line.amount),
                line.running.map_or_else(String::new, |sum| sum.show()),
            ]);
        }
        let words = words::group_sum(group);
        rows.push(wide(words, group.subtotal.show()));
        rows.push(wide("", String::new()));
    }
    for (words, sum) in words::shop_sums(shop) {
        rows.push(wide(&words, sum));
    }
    let columns = [Words, Points, Words, Words, Figures, Figures, Figures];
    let heads = [
        "",
        "Buy",
        "What, and where it goes",
        "Order no.",
        "Each",
        "Amount",
        "Running",
    ];
    writeln!(out)?;
    table(out, width, &columns, &heads, rows)
}

//! For reading in a terminal: plain columns, rules only under headings.

use bom::summary::Summary;
use bom::takeoff::{Group, PartLine, Proof, Takeoff};
use comfy_table::{CellAlignment, ContentArrangement, Table};
use pricing::quote::Quote;
use std::io::{self, Write};

/// The count.
///
/// # Errors
/// What the writer says.
pub fn parts(
    summary: &Summary,
    takeoff: &Takeoff,
    width: usize,
    out: &mut dyn Write,
) -> io::Result<()> {
    let units = summary.units;
    writeln!(out, "{}", heading(&summary.title, &summary.revision))?;
    writeln!(
        out,
        "{}; {} of main, {} outlets",
        takeoff.system_title,
        summary.main_length.show_total(units),
        summary.outlets.len()
    )?;
    let mut table = columns(width, &["", "quantity", "size", "part"], &[0, 1]);
    for line in &takeoff.pipe {
        table.add_row([
            String::new(),
            line.end_to_end.show_total(units),
            line.size.to_string(),
            format!(
                "{}: {} pieces; {} centre to centre",
                line.words,
                line.pieces.len(),
                line.centre_to_centre.show_total(units)
            ),
        ]);
    }
    let mut number = 0;
    for group in Group::ALL {
        for line in takeoff.lines.iter().filter(|line| line.group == group) {
            number += 1;
            table.add_row([
                number.to_string(),
                quantity(line),
                line.key.size.to_string(),
                line.words.clone(),
            ]);
        }
    }
    writeln!(out, "\n{table}\n")?;
    let joints: Vec<String> = takeoff
        .joints
        .iter()
        .map(|joints| format!("{} at {}", joints.count, joints.size))
        .collect();
    writeln!(out, "Joints to make up: {}.", joints.join(", "))?;
    list("Assumptions", &takeoff.assumptions, width, out)
}

/// The proofs of a count.
///
/// # Errors
/// What the writer says.
pub fn proofs(proofs: &[Proof], out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "\nProved of this count:")?;
    for proof in proofs {
        writeln!(out, "  {}", proof.claim)?;
        for figure in &proof.figures {
            writeln!(out, "      {figure}")?;
        }
    }
    Ok(())
}

/// Why the parts of one line are there.
///
/// # Errors
/// What the writer says.
pub fn why(line: &PartLine, reasons: &[String], out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "{} {} {}", line.quantity, line.words, line.key.size)?;
    for reason in reasons {
        writeln!(out, "  {reason}")?;
    }
    Ok(())
}

/// The quote.
///
/// # Errors
/// What the writer says.
pub fn quote(quote: &Quote, width: usize, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "{}", quote.company.name)?;
    for line in &quote.company.lines {
        writeln!(out, "{line}")?;
    }
    writeln!(out, "\nQuote: {}", heading(&quote.title, &quote.revision))?;
    if !quote.customer.is_empty() {
        writeln!(out, "For {}", quote.customer)?;
    }
    writeln!(
        out,
        "Date {}, valid until {}, fingerprint {}\n",
        quote.date, quote.valid_until, quote.fingerprint
    )?;
    for paragraph in &quote.scope {
        wrapped("", paragraph, width, out)?;
    }
    if !quote.outlets.is_empty() {
        let mut table = columns(
            width,
            &["", "outlet", "height", "drop", "sides", "drain"],
            &[0],
        );
        for outlet in &quote.outlets {
            table.add_row([
                outlet.number.to_string(),
                outlet.name.clone(),
                outlet.height.clone(),
                outlet.drop.clone(),
                outlet.sides.join("\n"),
                outlet.drain.clone(),
            ]);
        }
        writeln!(out, "\n{table}")?;
    }
    let mut table = columns(
        width,
        &["", "quantity", "unit", "each", "amount"],
        &[1, 3, 4],
    );
    for section in &quote.sections {
        table.add_row([section.title.as_str()]);
        for line in &section.lines {
            let price = |price: Option<pricing::money::Money>| {
                price.map_or_else(|| "no price".to_owned(), |price| price.show())
            };
            table.add_row([
                format!("  {}", line.text),
                line.quantity.to_string(),
                line.unit.clone(),
                price(line.unit_price),
                price(line.amount),
            ]);
        }
        table.add_row(["", "", "", "", &section.subtotal.show()]);
    }
    let code = quote.subtotal.currency();
    let code = code.code();
    table.add_row(["Subtotal", "", "", code, &quote.subtotal.show()]);
    let tax = format!(
        "{}: {} % of {}",
        quote.tax.label,
        quote.tax.percent,
        quote.tax.base.show()
    );
    table.add_row([&tax, "", "", code, &quote.tax.amount.show()]);
    let total = quote
        .total
        .map_or_else(|| "INCOMPLETE".to_owned(), |total| total.show());
    table.add_row(["Total", "", "", code, &total]);
    writeln!(out, "\n{table}")?;

    if quote.total.is_none() {
        writeln!(out, "\nPRICE INCOMPLETE: this is not an offer.")?;
        for missing in &quote.missing {
            let size = missing.key.size.to_string();
            writeln!(
                out,
                "  no price: {} {} {} {size}",
                missing.quantity, missing.unit, missing.words
            )?;
        }
    }
    if !quote.payment.is_empty() {
        writeln!(out, "\nPayment")?;
        for step in &quote.payment {
            writeln!(out, "  {code} {} {}", step.amount.show(), step.when)?;
        }
    }
    list("Assumptions", &quote.assumptions, width, out)?;
    list("Not included", &quote.exclusions, width, out)?;
    list("Cautions", &quote.cautions, width, out)?;
    list("Please note", &quote.notices, width, out)
}

fn heading(title: &str, revision: &str) -> String {
    if revision.is_empty() {
        title.to_owned()
    } else {
        format!("{title}, revision {revision}")
    }
}

fn quantity(line: &PartLine) -> String {
    if line.unit == "each" {
        line.quantity.to_string()
    } else {
        format!("{} {}", line.quantity, line.unit)
    }
}

/// A table of plain columns, some of them aligned to the right.
fn columns(width: usize, heads: &[&str], right: &[usize]) -> Table {
    let mut table = Table::new();
    table
        .load_style(comfy_table::presets::NOTHING)
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_width(u16::try_from(width).unwrap_or(u16::MAX))
        .set_header(heads.to_vec());
    for column in right {
        if let Some(column) = table.column_mut(*column) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    table
}

fn list(title: &str, lines: &[String], width: usize, out: &mut dyn Write) -> io::Result<()> {
    if lines.is_empty() {
        return Ok(());
    }
    writeln!(out, "\n{title}")?;
    for line in lines {
        wrapped("  - ", line, width, out)?;
    }
    Ok(())
}

/// A paragraph within the width, behind a mark on its first line.
fn wrapped(mark: &str, text: &str, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let indent = mark.chars().count();
    let mut line = mark.to_owned();
    let mut used = indent;
    for word in text.split_whitespace() {
        let length = word.chars().count();
        if used > indent && used + 1 + length > width {
            writeln!(out, "{line}")?;
            line = " ".repeat(indent);
            used = indent;
        }
        if used > indent {
            line.push(' ');
            used += 1;
        }
        line.push_str(word);
        used += length;
    }
    writeln!(out, "{line}")
}

//! The contractor's estimate on paper: the way from the costs to the price, then
//! both sides of every line. Each sheet says whose it is.

use super::Paper;
use super::blocks::{self, amounts, hole};
use super::fonts::{BODY, LARGE};
use super::imprint::Imprint;
use super::lists::list;
use super::notes::{self, Note};
use super::page::Sheets;
use super::table::{Align, Row, Table};
use crate::output::words::{self, INCOMPLETE, INTERNAL};
use pricing::estimate::EstimateSheet;
use std::collections::BTreeSet;
use std::io::{self, Write};

/// Writes the estimate as PDF and gives back the characters that the fonts lack,
/// which are printed as `?`.
///
/// # Errors
/// Those of `out`.
pub fn estimate(
    sheet: &EstimateSheet,
    paper: Paper,
    out: &mut dyn Write,
) -> io::Result<BTreeSet<char>> {
    imprint(sheet).write(paper, out, |sheets| {
        sheets.banner(LARGE, INTERNAL);
        sheets.advance(10.0);
        imprint(sheet).name(sheets);
        customer(sheets, sheet);
        holes(sheets, sheet);
        list(sheets, "Warnings", &sheet.estimate.warnings);
        steps(sheets, sheet);
        list(sheets, "Notes", &beside(sheet));
        payment(sheets, sheet);
        lines(sheets, sheet);
        sheets.gap(12.0);
        let given = items("Assumptions", &sheet.assumptions);
        let notices = items("Notices", &sheet.notices);
        notes::balanced(sheets, &[given, notices].concat());
    })
}

fn imprint(sheet: &EstimateSheet) -> Imprint<'_> {
    let heading = &sheet.heading;
    Imprint {
        kind: "Estimate",
        title: &heading.title,
        revision: &heading.revision,
        fingerprint: &heading.fingerprint,
        date: heading.date,
        author: "",
        foot: match sheet.total {
            Some(_) => "",
            None => INCOMPLETE,
        },
        warning: Some(INTERNAL),
    }
}

fn customer(sheets: &mut Sheets, sheet: &EstimateSheet) {
    if !sheet.customer.trim().is_empty() {
        let inner = sheets.inner();
        sheets.advance(4.0);
        sheets.paragraph(BODY, inner, &format!("For {}", sheet.customer));
    }
}

/// The loud hole: everything without a price or hours.
fn holes(sheets: &mut Sheets, sheet: &EstimateSheet) {
    if sheet.total.is_some() {
        return;
    }
    hole(sheets, INCOMPLETE, |sheets, left| {
        for hole in words::holes(&sheet.estimate.missing, &sheet.unrated) {
            sheets.paragraph(BODY, left, &hole);
        }
    });
}

fn steps(sheets: &mut Sheets, sheet: &EstimateSheet) {
    let mut rows: Vec<Row> = words::estimate_steps(sheet)
        .into_iter()
        .map(|step| match step.is_sum {
            true => Row::Sum(step.text, step.amount),
            false => Row::Line(vec![step.text, step.amount]),
        })
        .collect();
    if let Some(Row::Sum(words, amount)) = rows.pop() {
        rows.push(Row::Total(words, amount));
    }
    sums(sheets, "From cost to price", rows);
}

/// What else the contractor wants to know of the sums.
fn beside(sheet: &EstimateSheet) -> Vec<String> {
    let margin = words::margin(sheet).into_iter();
    margin.chain(sheet.estimate.notes.iter().cloned()).collect()
}

fn payment(sheets: &mut Sheets, sheet: &EstimateSheet) {
    if sheet.payment.is_empty() {
        return;
    }
    let steps = sheet.payment.iter();
    let rows = steps.map(|step| Row::Line(vec![step.when.clone(), step.amount.show()]));
    sums(sheets, "Payment", rows.collect());
}

fn sums(sheets: &mut Sheets, label: &str, rows: Vec<Row>) {
    let table = Table {
        columns: &[("", Align::Left), ("", Align::Right)],
        rows,
        ruled: false,
    };
    amounts(sheets, label, &table);
}

fn lines(sheets: &mut Sheets, sheet: &EstimateSheet) {
    let mut rows = Vec::new();
    for section in &sheet.estimate.sections {
        rows.push(Row::Title(section.title.to_owned()));
        for line in &section.lines {
            rows.push(Row::Line(vec![
                line.text.clone(),
                line.origin.clone(),
                line.quantity.to_string(),
                line.unit.clone(),
                words::price(line.cost.map(|cost| cost.unit)),
                words::price(line.cost.map(|cost| cost.amount)),
                words::price(line.price.map(|price| price.amount)),
            ]));
        }
        rows.push(Row::Sum(
            format!("Subtotal, at a cost of {}", section.cost.show()),
            section.price.show(),
        ));
    }
    let columns = [
        ("What", Align::Left),
        ("From", Align::Left),
        ("Quantity", Align::Point),
        ("Unit", Align::Left),
        ("Cost of one", Align::Right),
        ("Cost", Align::Right),
        ("Price", Align::Right),
    ];
    let table = Table {
        columns: &columns,
        rows,
        ruled: false,
    };
    blocks::table(sheets, "Lines", &table);
}

fn items(label: &'static str, texts: &[String]) -> Vec<Note> {
    let items = texts.iter().map(|text| Note::Item(text.clone()));
    let head = (!texts.is_empty()).then_some(Note::Head(label));
    head.into_iter().chain(items).collect()
}

//! The contractor's estimate on paper: the way from the costs to the price, then
//! both sides of every line. Each sheet says whose it is.

use super::Paper;
use super::file::{self, About};
use super::fonts::{BODY, Fonts, LARGE, SMALL, STRONG, TITLE};
use super::notes::{self, Note};
use super::page::{Running, Sheets};
use super::table::{Align, Row, Table};
use super::words::{joined, marks};
use crate::output::words::{self, INCOMPLETE, INTERNAL};
use pricing::estimate::EstimateSheet;
use std::collections::BTreeSet;
use std::io::{self, Write};

/// How wide the way from the costs to the price is.
const STEPS: f32 = 330.0;

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
    let heading = &sheet.heading;
    let fonts = Fonts::load()?;
    let mut sheets = Sheets::new(&fonts, paper);
    name(&mut sheets, sheet);
    holes(&mut sheets, sheet);
    steps(&mut sheets, sheet);
    payment(&mut sheets, sheet);
    lines(&mut sheets, sheet);
    sheets.gap(12.0);
    notes::columns(
        &mut sheets,
        &items("Assumptions", &sheet.assumptions),
        &items("Notices", &sheet.notices),
    );
    let title = joined(&["Estimate", heading.title.trim()], ": ");
    let (pages, lacking) = sheets.finish(&Running {
        title: title.clone(),
        marks: marks(
            &fonts,
            &heading.revision,
            &heading.fingerprint,
            heading.date,
        ),
        foot: match sheet.total {
            Some(_) => String::new(),
            None => INCOMPLETE.to_owned(),
        },
        warning: Some(INTERNAL),
    });
    let about = About {
        title: &title,
        author: "",
        date: heading.date,
    };
    file::write(pages, fonts.into_map(), &about, out)?;
    Ok(lacking)
}

fn name(sheets: &mut Sheets, sheet: &EstimateSheet) {
    let left = sheets.left();
    sheets.banner(LARGE, INTERNAL);
    sheets.advance(10.0);
    sheets.text(TITLE, left, "Estimate");
    // The smaller title stands on the same line of type.
    sheets.advance(6.2);
    let x = left + sheets.fonts.width(TITLE, "Estimate") + 14.0;
    sheets.paragraph(LARGE, x, &sheet.heading.title);
    if !sheet.customer.trim().is_empty() {
        sheets.advance(4.0);
        sheets.paragraph(SMALL, left, &format!("For {}", sheet.customer));
    }
}

/// The loud hole: everything without a price or hours.
fn holes(sheets: &mut Sheets, sheet: &EstimateSheet) {
    if sheet.total.is_some() {
        return;
    }
    let left = sheets.left() + 10.0;
    sheets.gap(10.0);
    sheets.open_frame();
    sheets.banner(LARGE, INCOMPLETE);
    sheets.advance(4.0);
    for hole in words::holes(&sheet.estimate.missing, &sheet.unrated) {
        sheets.paragraph(BODY, left, &hole);
    }
    sheets.advance(4.0);
    sheets.close_frame();
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
    heading(sheets, "From cost to price");
    let (left, right) = (sheets.left(), sheets.right());
    Table {
        columns: &[("", Align::Left), ("", Align::Right)],
        rows,
        ruled: false,
    }
    .draw(sheets, left, right.min(left + STEPS));
    sheets.gap(4.0);
    let estimate = &sheet.estimate;
    for warning in &estimate.warnings {
        sheets.paragraph(STRONG, left, warning);
    }
    let margin = words::margin(sheet);
    for note in margin.iter().chain(&estimate.notes) {
        sheets.paragraph(BODY, left, note);
    }
}

fn payment(sheets: &mut Sheets, sheet: &EstimateSheet) {
    if sheet.payment.is_empty() {
        return;
    }
    let steps = sheet.payment.iter();
    let rows = steps.map(|step| Row::Line(vec![step.when.clone(), step.amount.show()]));
    heading(sheets, "Payment");
    let (left, right) = (sheets.left(), sheets.right());
    Table {
        columns: &[("", Align::Left), ("", Align::Right)],
        rows: rows.collect(),
        ruled: false,
    }
    .draw(sheets, left, right.min(left + STEPS));
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
    heading(sheets, "Lines");
    let columns = [
        ("What", Align::Left),
        ("From", Align::Left),
        ("Quantity", Align::Point),
        ("Unit", Align::Left),
        ("Cost of one", Align::Right),
        ("Cost", Align::Right),
        ("Price", Align::Right),
    ];
    let (left, right) = (sheets.left(), sheets.right());
    Table {
        columns: &columns,
        rows,
        ruled: false,
    }
    .draw(sheets, left, right);
}

/// Begins a block whose heading stands above it.
fn heading(sheets: &mut Sheets, label: &str) {
    sheets.gap(14.0);
    sheets.need(6.0 * BODY.leading);
    let left = sheets.left();
    sheets.text(STRONG, left, label);
    sheets.advance(STRONG.leading + 3.0);
}

fn items(label: &'static str, texts: &[String]) -> Vec<Note> {
    let items = texts.iter().map(|text| Note::Item(text.clone()));
    let head = (!texts.is_empty()).then_some(Note::Head(label));
    head.into_iter().chain(items).collect()
}

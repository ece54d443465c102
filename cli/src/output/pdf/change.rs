//! The change order on paper: what it comes to, what changes, and room for both
//! to sign.

use super::Paper;
use super::blocks::{self, block, facts, heading_of, hole, parties, signatures};
use super::fonts::{BODY, STRONG};
use super::imprint::Imprint;
use super::lists::{closing, list};
use super::page::Sheets;
use super::table::{Align, Row, Table};
use super::words::day;
use crate::output::words::change as words;
use pricing::change::{Change, Part};
use std::collections::BTreeSet;
use std::io::{self, Write};

/// What stands before the layout's old and new facts.
const LABEL: f32 = 80.0;
/// The least width of the layout's table.
const NARROW: f32 = 300.0;
/// Above the line for the days.
const WRITING: f32 = 12.0;

/// Writes the change order as PDF and gives back the characters that the fonts
/// lack, which are printed as `?`.
///
/// # Errors
/// Those of `out`.
pub fn change(change: &Change, paper: Paper, out: &mut dyn Write) -> io::Result<BTreeSet<char>> {
    let imprint = Imprint {
        kind: "Change order",
        title: &change.title,
        revision: &change.revision.new,
        fingerprint: &change.fingerprint.new,
        date: change.date,
        author: &change.company.name,
        foot: &change.company.name,
        warning: change.totals.is_none().then_some(words::OPEN),
    };
    imprint.write(paper, out, |sheets| {
        parties(sheets, &change.company, &change.customer);
        imprint.name(sheets);
        revisions(sheets, change);
        holes(sheets, change);
        list(sheets, "Warnings", &change.warnings);
        sums(sheets, change);
        if let Some(worst) = words::worst(change) {
            list(sheets, "Pressure", &[worst]);
        }
        list(sheets, "New findings", &change.findings);
        layout(sheets, change);
        for part in &change.parts {
            lines(sheets, part, change);
        }
        let lists = [
            ("How it was reckoned", change.notes.as_slice()),
            ("Notices", &change.notices),
        ];
        closing(sheets, &lists, |sheets| acceptance(sheets, change));
    })
}

/// Both revisions, and why there is another.
fn revisions(sheets: &mut Sheets, change: &Change) {
    sheets.gap(6.0);
    let or_dash = |text: &str| match text.trim() {
        "" => "–".to_owned(),
        text => text.to_owned(),
    };
    let (revision, fingerprint) = (&change.revision, &change.fingerprint);
    for (what, revision, fingerprint, label, date) in [
        (
            "Old revision",
            &revision.old,
            &fingerprint.old,
            "Date",
            change.date,
        ),
        (
            "New revision",
            &revision.new,
            &fingerprint.new,
            "Valid until",
            change.valid_until,
        ),
    ] {
        let row = [
            (what, or_dash(revision), 0.24),
            ("Fingerprint", fingerprint.clone(), 0.44),
            (label, day(date), 0.32),
        ];
        facts(sheets, &row);
        sheets.gap(3.0);
    }
    facts(
        sheets,
        &[("Reason for the change", change.reason.clone(), 1.0)],
    );
}

/// The loud hole: everything without a price or hours.
fn holes(sheets: &mut Sheets, change: &Change) {
    if change.totals.is_some() {
        return;
    }
    hole(sheets, words::OPEN, |sheets, left| {
        let why = "A price or hours are missing, so no difference is stated:".to_owned();
        for hole in std::iter::once(why).chain(words::holes(change)) {
            sheets.paragraph(BODY, left, &hole);
        }
    });
}

/// What both revisions come to.
fn sums(sheets: &mut Sheets, change: &Change) {
    let [old, new] = words::revisions(change);
    let columns = [
        ("", Align::Left),
        (old.as_str(), Align::Right),
        (new.as_str(), Align::Right),
        ("Change", Align::Right),
    ];
    let table = |rows| Table {
        columns: &columns,
        rows,
        ruled: false,
    };
    let lines = |rows: Vec<[String; 4]>| -> Vec<Row> {
        rows.into_iter().map(|row| Row::Line(row.into())).collect()
    };
    let mut rows = Vec::new();
    if let Some(totals) = &change.totals {
        rows = lines(words::kinds(change));
        if !rows.is_empty() {
            rows.push(Row::Gap);
        }
        rows.extend(lines(words::sums(change, totals)));
        rows.push(Row::Total(
            format!("This change {}", change.currency.code()),
            words::by(totals.total.change),
        ));
    }
    let tables = [table(rows), table(lines(words::times(change)))];
    let (inner, right) = (sheets.inner(), sheets.right());
    sheets.together(|sheets| {
        block(sheets, "What it comes to");
        for table in tables.iter().filter(|table| !table.rows.is_empty()) {
            table.draw(sheets, inner, right);
            sheets.gap(7.0);
        }
        if change.is_empty() && change.totals.is_some() {
            sheets.paragraph(STRONG, inner, words::NOTHING);
        }
    });
}

fn layout(sheets: &mut Sheets, change: &Change) {
    if change.items.is_empty() {
        return;
    }
    let mut rows = Vec::new();
    for row in words::item_rows(change) {
        if !row.item.is_empty() {
            rows.push(Row::Title(row.item));
        }
        rows.push(Row::Line(vec![row.what, row.old, row.new]));
    }
    let columns = [
        ("", Align::Left),
        ("Was", Align::Left),
        ("Now", Align::Left),
    ];
    let table = Table {
        columns: &columns,
        rows,
        ruled: false,
    };
    // Words that are short stand together.
    let (left, right) = (sheets.left(), sheets.right());
    let places = table.places(sheets.fonts, left, right);
    let spare = places.first().map_or(0.0, |place| place.width - LABEL);
    let right = right - spare.max(0.0);
    heading_of(
        sheets,
        "What changes in the layout",
        table.beginning(sheets, left, right),
    );
    table.draw(sheets, left, right.max(left + NARROW));
}

fn lines(sheets: &mut Sheets, part: &Part, change: &Change) {
    let priced = change.totals.is_some();
    let heads = words::line_heads(part.kind, priced);
    let aligns = [
        Align::Left,
        Align::Point,
        Align::Point,
        Align::Point,
        Align::Right,
        Align::Right,
        Align::Right,
    ];
    let columns: Vec<(&str, Align)> = heads.into_iter().zip(aligns).collect();
    let lines = part.lines.iter();
    let mut rows: Vec<Row> = lines
        .map(|line| Row::Line(words::line_cells(line, priced)))
        .collect();
    if let Some(sum) = part.change {
        rows.push(Row::Sum("Sum of the changes".to_owned(), words::by(sum)));
    }
    let table = Table {
        columns: &columns,
        rows,
        ruled: false,
    };
    blocks::table(sheets, words::heading(part.kind), &table);
}

/// Room for the days and both signatures, which stays on one sheet.
fn acceptance(sheets: &mut Sheets, change: &Change) {
    let (inner, right) = (sheets.inner(), sheets.right());
    if change.is_empty() && change.totals.is_some() {
        return;
    }
    let Some(totals) = &change.totals else {
        block(sheets, "Acceptance");
        sheets.paragraph(
            BODY,
            inner,
            "No difference is stated while a price is missing: there is nothing to sign yet.",
        );
        return;
    };
    let texts = [words::signed_for(change, totals), words::TERMS.to_owned()];
    block(sheets, "Acceptance");
    for text in &texts {
        sheets.paragraph(BODY, inner, text);
        sheets.gap(4.0);
    }
    sheets.need(WRITING + BODY.leading);
    sheets.advance(WRITING);
    sheets.text(BODY, inner, words::DAYS);
    let from = inner + sheets.fonts.width(BODY, words::DAYS) + 6.0;
    sheets.advance(BODY.leading - 2.0);
    sheets.rule(from, right.min(from + 110.0));
    sheets.advance(WRITING + 2.0);
    signatures(sheets, &change.customer, &change.company.name);
}

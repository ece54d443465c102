//! What the terminal shows: plain tables with level rules only, for a given
//! width.

mod air;
mod catalog;
mod change;
mod compare;
mod crew;
mod cut;
mod draw;
mod estimate;
mod first;
mod hangers;
mod keys;
mod parts;
mod practice;
mod quote;
mod ratings;
mod readback;
mod shop;
mod systems;
mod water;

pub use air::air;
pub use catalog::catalog;
pub use change::change;
pub use compare::compare;
pub use crew::crew;
pub use cut::cut;
pub use draw::sheets;
pub use estimate::estimate;
pub use first::{first, last_question, question, starts, told};
pub use hangers::hangers;
pub use keys::keys;
pub use parts::{parts, proofs, why};
pub use practice::{reminders, rule, rules};
pub use quote::quote;
pub use ratings::{ratings, weakest};
pub use readback::readback;
pub use shop::shop;
pub use systems::{refused, system, systems};
pub use water::water;

use comfy_table::{
    CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, Table, TableStyle,
};
use std::io::{self, Write};

/// A rule under the heads and nothing else.
const RULED: TableStyle =
    TableStyle::new().header_separator(LineStyle::none().fill('-').junction('-'));

/// How a column's cells stand. Only words are ever broken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Column {
    Words,
    /// To the right.
    Figures,
    /// On the decimal point.
    Points,
}

/// Prints a table; without a head row where `heads` is empty.
fn table(
    out: &mut dyn Write,
    width: usize,
    columns: &[Column],
    heads: &[&str],
    rows: impl IntoIterator<Item = Vec<String>>,
) -> io::Result<()> {
    let mut table = Table::new();
    table
        .load_style(RULED)
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_width(u16::try_from(width.max(40)).unwrap_or(u16::MAX));
    if !heads.is_empty() {
        table.set_header(heads);
    }
    let mut rows: Vec<Vec<String>> = rows
        .into_iter()
        .map(|row| row.iter().map(|cell| clean(cell)).collect())
        .collect();
    for (at, kind) in columns.iter().enumerate() {
        if *kind == Column::Points {
            stand_on_point(&mut rows, at, heads.get(at).unwrap_or(&""));
        }
    }
    table.add_rows(rows);
    let last = columns.len().saturating_sub(1);
    for (at, kind) in columns.iter().enumerate() {
        if let Some(column) = table.column_mut(at) {
            // A space stands between columns anyway.
            column.set_padding((0, u16::from(at != last)));
            if *kind == Column::Figures {
                column.set_cell_alignment(CellAlignment::Right);
            }
            if *kind != Column::Words {
                column.set_constraint(ColumnConstraint::ContentWidth);
            }
        }
    }
    writeln!(out, "{}", table.trim_fmt())
}

/// Prints a text in lines of at most `width`.
fn paragraph(out: &mut dyn Write, width: usize, text: &str) -> io::Result<()> {
    table(out, width, &[Column::Words], &[], [vec![text.to_owned()]])
}

/// Prints a heading and a list under it, or nothing for no items.
fn list(out: &mut dyn Write, width: usize, heading: &str, items: &[String]) -> io::Result<()> {
    if items.is_empty() {
        return Ok(());
    }
    writeln!(out, "\n{heading}")?;
    let rows = items.iter().map(|item| vec!["-".to_owned(), item.clone()]);
    table(out, width, &[Column::Figures, Column::Words], &[], rows)
}

/// The text without characters that steer a terminal.
fn clean(text: &str) -> String {
    text.trim_end()
        .replace("\r\n", "\n")
        .chars()
        .map(|character| match character {
            '\n' => '\n',
            _ if character.is_control() => ' ',
            _ => character,
        })
        .collect()
}

/// Figures filled up on both sides so that their decimal points stand under
/// each other, at least as wide as the head.
fn stand_on_point(rows: &mut [Vec<String>], at: usize, head: &str) {
    let before = |cell: &str| cell.find('.').unwrap_or(cell.len());
    let mut widest = (0, 0);
    for cell in rows.iter().filter_map(|row| row.get(at)) {
        widest.0 = widest.0.max(before(cell));
        widest.1 = widest.1.max(cell.len() - before(cell));
    }
    let left = widest.0.max(head.len().saturating_sub(widest.1));
    for cell in rows.iter_mut().filter_map(|row| row.get_mut(at)) {
        if !cell.is_empty() {
            *cell = format!("{:1$}{cell}", "", left - before(cell));
        }
    }
}

#[cfg(test)]
mod tests;

//! The request for prices: one sheet that is read back as a price list.

use super::book::{self, About};
use super::sheet::{Cell, Column, Look, Sheet};
use crate::output::pdf::Paper;
use crate::output::words::joined;
use pricing::request::Request;
use std::io::{self, Write};

/// The heads are those that a price list has.
const COLUMNS: &[Column] = &[
    Column::left("part", 16.0),
    Column::left("system", 18.0),
    Column::left("size", 16.0),
    Column::left("description", 44.0),
    Column::right("quantity", 10.0),
    Column::left("unit", 9.0),
    Column::right("pack", 7.0),
    Column::right("price", 12.0),
    Column::left("currency", 10.0),
    Column::left("supplier", 26.0),
    Column::left("code", 16.0),
    Column::left("priced_on", 12.0),
    Column::right("from_quantity", 14.0),
];

/// Writes the request as a workbook.
///
/// # Errors
/// Those of `out`.
pub fn request(request: &Request, paper: Paper, out: &mut dyn Write) -> io::Result<()> {
    let mut sheet = Sheet::new("Prices", COLUMNS, None)?;
    sheet.lying();
    sheet.heads()?;
    for line in &request.lines {
        sheet.row(
            Look::Plain,
            [
                Cell::text(&line.key.part),
                Cell::text(&line.key.system),
                Cell::text(line.key.size.to_string()),
                Cell::text(&line.words),
                Cell::Number(line.quantity.to_string()),
                Cell::text(&line.unit),
                Cell::Number(line.pack.to_string()),
                Cell::Blank,
                Cell::text(&request.currency),
                Cell::text(&request.supplier),
                Cell::text(&line.code),
                Cell::Blank,
                Cell::Number(line.from_quantity.to_string()),
            ],
        )?;
    }
    let about = About {
        title: &joined(&["Request for prices", request.supplier.trim()], ": "),
        author: "",
        revision: "",
        fingerprint: "",
        date: None,
        warning: None,
        paper,
    };
    book::write(&about, vec![sheet], out)
}

//! The empty run sheet, with a page that says how to fill it in, and an example.

use super::book::{self, About};
use super::sheet::{Cell, Column, Look, Sheet};
use crate::output::pdf::Paper;
use bom::survey::sheet::{Blank, Column as Head, EXAMPLE, PAGE};
use std::io::{self, Write};

const LEG: Column = Column::left("leg", 12.0);
const ROW: Column = Column::left("row", 10.0);
const WAY: Column = Column::left("way", 11.0);
const FROM: Column = Column::left("read_from", 11.0);
const NAME: Column = Column::left("name", 24.0);
const REMARK: Column = Column::left("remark", 56.0);
const FEET: &[Column] = &[
    LEG,
    ROW,
    WAY,
    Column::right("ft", 7.0),
    Column::right("in", 9.0),
    FROM,
    NAME,
    REMARK,
];
const METRIC: &[Column] = &[LEG, ROW, WAY, Column::right("mm", 10.0), FROM, NAME, REMARK];
const HOW: &[Column] = &[Column::left("", 12.0), Column::left("", 84.0)];

/// Rows to fill in: a shop with a dozen outlets takes some forty.
const FREE: usize = 60;

/// Writes the empty sheet as a workbook. Its cells are text, so that no spreadsheet
/// program makes a date of what is typed there.
///
/// # Errors
/// Those of `out`.
pub fn run_sheet(blank: &Blank, paper: Paper, out: &mut dyn Write) -> io::Result<()> {
    let metric = blank.heads.contains(&Head::Mm);
    let columns = if metric { METRIC } else { FEET };
    let mut sheet = Sheet::new(PAGE, columns, None)?;
    sheet.lying();
    sheet.ruled();
    sheet.heads()?;
    for row in &blank.rows {
        sheet.row(Look::Plain, row.iter().map(Cell::text))?;
    }
    for _ in 0..FREE {
        sheet.row(Look::Plain, columns.iter().map(|_| Cell::text("")))?;
    }
    let mut how = Sheet::new("How to fill it in", HOW, None)?;
    for (word, text) in &blank.instructions {
        let look = if word.is_empty() {
            Look::Strong
        } else {
            Look::Plain
        };
        how.row(look, [Cell::text(*word), Cell::text(text)])?;
    }
    let mut example = Sheet::new(EXAMPLE, columns, None)?;
    example.lying();
    example.heads()?;
    for row in &blank.example {
        example.row(Look::Plain, row.iter().map(Cell::text))?;
    }
    let about = About {
        title: "Run sheet of a walk",
        author: "",
        revision: "",
        fingerprint: "",
        date: None,
        warning: None,
        paper,
    };
    book::write(&about, vec![sheet, how, example], out)
}

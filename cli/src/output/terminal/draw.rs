//! Which drawings there are.

use super::Column::Words;
use super::table;
use bom::drawing::Sheet;
use std::io::{self, Write};

/// Lists sheets: what each is called, and what it shows.
///
/// # Errors
/// Those of `out`.
pub fn sheets(sheets: &[Sheet], width: usize, out: &mut dyn Write) -> io::Result<()> {
    let row = |sheet: &Sheet| {
        [&sheet.id, &sheet.title, &sheet.about]
            .map(String::clone)
            .to_vec()
    };
    table(
        out,
        width,
        &[Words; 3],
        &["Sheet", "Title", "What it shows"],
        sheets.iter().map(row),
    )
}

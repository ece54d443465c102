//! A sheet of rows, each of one look, under columns of fixed widths.

use super::formula::{self, DIGITS};
use super::text::{MOST_LINES, kept, wrapped};
use crate::output::words;
use pricing::money::{Currency, Money};
use rust_xlsxwriter::{Format, FormatAlign, FormatBorder, Formula, Worksheet, XlsxError};
use std::io;

/// A column with its head.
pub(super) struct Column {
    pub(super) head: &'static str,
    /// In digits of the usual type.
    pub(super) width: f64,
    pub(super) right: bool,
}

impl Column {
    pub(super) const fn left(head: &'static str, width: f64) -> Self {
        Self {
            head,
            width,
            right: false,
        }
    }

    pub(super) const fn right(head: &'static str, width: f64) -> Self {
        Self {
            head,
            width,
            right: true,
        }
    }
}

/// What stands in a cell.
#[derive(Debug)]
pub(super) enum Cell {
    Blank,
    Text(String),
    /// A number as it is printed.
    Number(String),
    Money(Money),
    /// A formula, and what it comes to.
    Formula(String, Box<Cell>),
}

impl Cell {
    pub(super) fn text(text: impl Into<String>) -> Self {
        Self::Text(text.into())
    }

    /// A price; the hole is loud.
    pub(super) fn price(money: Option<Money>) -> Self {
        money.map_or_else(|| Self::Text(words::price(None)), Self::Money)
    }
}

/// How a row looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Look {
    Head,
    Strong,
    Plain,
    Sum,
}

/// The height of a line of the usual type, in points.
const LINE: u16 = 15;
/// The most that a cell of the text format shows in every program.
const SHORT: usize = 255;

/// A sheet that is being filled from the top.
pub(super) struct Sheet {
    sheet: Worksheet,
    columns: &'static [Column],
    money: String,
    /// The row that comes next, from 1 as cells are named.
    next: u32,
}

impl Sheet {
    /// An empty sheet, its columns without heads.
    pub(super) fn new(
        name: &str,
        columns: &'static [Column],
        currency: Option<Currency>,
    ) -> io::Result<Self> {
        let mut sheet = Worksheet::new();
        sheet.set_name(name).map_err(refused)?;
        for (at, column) in (0..).zip(columns) {
            sheet.set_column_width(at, column.width).map_err(refused)?;
        }
        let decimals = currency.map_or(0, |currency| currency.decimals());
        let money = match usize::try_from(decimals) {
            Ok(0) | Err(_) => "#,##0".to_owned(),
            Ok(decimals) => format!("#,##0.{}", "0".repeat(decimals)),
        };
        Ok(Self {
            sheet,
            columns,
            money,
            next: 1,
        })
    }

    /// The heads of the columns. With all above them they stay in sight, and stand on
    /// every page.
    pub(super) fn heads(&mut self) -> io::Result<()> {
        let heads = self.columns.iter().map(|column| Cell::text(column.head));
        let row = self.row(Look::Head, heads)?;
        self.sheet.set_freeze_panes(row, 0).map_err(refused)?;
        self.sheet.set_repeat_rows(0, row - 1).map_err(refused)?;
        Ok(())
    }

    /// Wider than tall on paper.
    pub(super) fn lying(&mut self) {
        self.sheet.set_landscape();
    }

    /// With lines between its cells on paper, to write in by hand.
    pub(super) fn ruled(&mut self) {
        self.sheet.set_print_gridlines(true);
    }

    /// The row that comes next.
    pub(super) const fn next(&self) -> u32 {
        self.next
    }

    /// Leaves a row free.
    pub(super) const fn skip(&mut self) {
        self.next += 1;
    }

    /// Writes a row and gives back its number.
    pub(super) fn row(
        &mut self,
        look: Look,
        cells: impl IntoIterator<Item = Cell>,
    ) -> io::Result<u32> {
        let columns = self.columns;
        let mut lines = 1;
        let mut after_right = false;
        for ((at, column), cell) in (0..).zip(columns).zip(cells) {
            if let Cell::Text(text) = &cell {
                let indent = if after_right { 2.0 } else { 0.0 };
                lines = lines.max(wrapped(text, column.width - indent));
            }
            self.cell(
                at,
                Place {
                    column,
                    after_right,
                },
                look,
                &cell,
            )?;
            after_right = column.right;
        }
        // Not every program makes room for text in several lines by itself.
        if lines > 1 {
            self.sheet
                .set_row_height(self.next - 1, LINE * lines.min(MOST_LINES))
                .map_err(refused)?;
        }
        self.next += 1;
        Ok(self.next - 1)
    }

    fn cell(&mut self, at: u16, place: Place<'_>, look: Look, cell: &Cell) -> io::Result<()> {
        let row = self.next - 1;
        let format = place.styled(look);
        let sheet = &mut self.sheet;
        let written = match cell {
            Cell::Blank if look == Look::Plain => return Ok(()),
            Cell::Blank => sheet.write_blank(row, at, &format),
            Cell::Text(text) => {
                let text = kept(text);
                // Text stays text when somebody edits it: no date, no formula.
                let format = match text.chars().count() {
                    0..=SHORT => format.set_num_format("@"),
                    _ => format.set_quote_prefix(),
                };
                sheet.write_string_with_format(row, at, text, &format.set_text_wrap())
            }
            Cell::Number(printed) => match printed.parse::<f64>() {
                Ok(number) => sheet.write_number_with_format(row, at, number, &format),
                Err(_) => sheet.write_string_with_format(row, at, kept(printed), &format),
            },
            Cell::Money(money) => {
                let format = format.set_num_format(&self.money);
                sheet.write_number_with_format(row, at, number(*money)?, &format)
            }
            Cell::Formula(text, result) => {
                let (printed, format) = match result.as_ref() {
                    Cell::Money(money) => {
                        number(*money)?;
                        (money.plain(), format.set_num_format(&self.money))
                    }
                    Cell::Number(printed) => (printed.clone(), format),
                    Cell::Blank | Cell::Text(_) | Cell::Formula(..) => (String::new(), format),
                };
                let formula = Formula::new(format!("={text}")).set_result(printed);
                sheet.write_formula_with_format(row, at, formula, &format)
            }
        };
        written.map(|_| ()).map_err(refused)
    }

    /// The sheet with its print area.
    pub(super) fn finish(mut self) -> io::Result<Worksheet> {
        let last = u16::try_from(self.columns.len()).unwrap_or(1);
        self.sheet
            .set_print_area(0, 0, self.next.saturating_sub(2), last - 1)
            .map_err(refused)?;
        Ok(self.sheet)
    }
}

/// Where in its row a cell stands.
struct Place<'a> {
    column: &'a Column,
    /// Whether it stands right of figures.
    after_right: bool,
}

impl Place<'_> {
    fn styled(&self, look: Look) -> Format {
        let format = Format::new().set_align(FormatAlign::Top);
        let format = match (self.column.right, self.after_right) {
            (true, _) => format.set_align(FormatAlign::Right),
            (false, true) => format.set_align(FormatAlign::Left).set_indent(1),
            (false, false) => format,
        };
        match look {
            Look::Plain => format,
            Look::Strong => format.set_bold(),
            Look::Sum => format.set_bold().set_border_top(FormatBorder::Thin),
            Look::Head => format.set_bold().set_border_bottom(FormatBorder::Thin),
        }
    }
}

/// The number of a sum of money, if a spreadsheet can keep it.
fn number(money: Money) -> io::Result<f64> {
    let printed = money.plain();
    if formula::digits(&printed) > DIGITS {
        return Err(io::Error::other(format!(
            "{} has more than the {DIGITS} digits that a workbook keeps: write a PDF or CSV",
            money.show()
        )));
    }
    printed.parse().map_err(io::Error::other)
}

#[expect(clippy::needless_pass_by_value, reason = "it stands in map_err")]
fn refused(error: XlsxError) -> io::Error {
    io::Error::other(error.to_string())
}

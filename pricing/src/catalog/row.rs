mod figures;

use super::columns::{Cells, Column};
use super::mapping::{Mapping, dates};
use super::parts::Parts;
use super::{Offer, Place, Unit};
use crate::money::Currency;
use bom::finding::Finding;
use bom::library::Part;
use bom::quantity::PartSize;
use bom::source::Span;
use bom::takeoff::PartKey;
use std::borrow::Cow;

/// The part that is bought by the stick or by length.
const PIPE: &str = "pipe";

/// What all rows of a list are read by.
pub(super) struct Reading<'a> {
    pub(super) parts: &'a Parts<'a>,
    pub(super) currency: Currency,
    pub(super) mapping: Option<&'a Mapping>,
    /// Whether the list was a workbook, whose cells have names.
    pub(super) workbook: bool,
}

/// What became of a row.
pub(super) enum Outcome {
    /// An offer, and whether its price was rounded to the minor unit.
    Offer(Box<Offer>, bool),
    /// A row of a supplier's sheet for what is no part of ours, and its word.
    Unknown(String),
    /// A row that says nothing to us: a heading, or a word that the mapping
    /// takes for none of ours.
    Nothing,
    /// Everything that is wrong with it.
    Wrong(Vec<Finding>),
}

/// Reads one row.
pub(super) fn read(reading: &Reading<'_>, cells: &Cells<'_>, place: Place, span: Span) -> Outcome {
    let mut row = Row {
        reading,
        cells,
        span,
        line: place.line,
        findings: Vec::new(),
    };
    if let Some((message, help)) = cells.misfit() {
        row.unreadable("catalog-cells", message, help);
        return Outcome::Wrong(row.findings);
    }
    let part = reading.parts.named(cells.get(Column::Part));
    if part.is_none() && reading.mapping.is_some() {
        return match (cells.written(Column::Part), cells.get(Column::Part)) {
            (_, "") => Outcome::Nothing,
            (written, _) => Outcome::Unknown(written.to_owned()),
        };
    }
    if part.is_none() {
        row.no_part();
    }
    let size = row.size(part);
    let system = row.system(part);
    let unit = row.unit(part);
    let pack = row.whole(Column::Pack);
    let price = row.price(unit, pack, part);
    let priced_on = row.date();
    let from_quantity = row.whole(Column::FromQuantity);
    let text = |column| cells.get(column).to_owned();
    match (part, size, unit) {
        (Some(part), Some(size), Some(unit)) if row.findings.is_empty() => {
            let offer = Offer {
                key: PartKey {
                    part: part.name.clone(),
                    system: system.to_owned(),
                    size,
                },
                description: text(Column::Description),
                unit,
                pack,
                price: price.map(|(price, _)| price),
                supplier: text(Column::Supplier),
                code: text(Column::Code),
                aisle: text(Column::Aisle),
                priced_on,
                from_quantity,
                place,
            };
            Outcome::Offer(Box::new(offer), price.is_some_and(|(_, rounded)| rounded))
        }
        _ => Outcome::Wrong(row.findings),
    }
}

struct Row<'a> {
    reading: &'a Reading<'a>,
    cells: &'a Cells<'a>,
    span: Span,
    line: usize,
    findings: Vec<Finding>,
}

impl<'a> Row<'a> {
    /// The text or number could not be understood.
    fn unreadable(
        &mut self,
        rule: &'static str,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.findings
            .push(Finding::unreadable(rule, self.span, message, help));
    }

    /// The row can be understood and cannot be used.
    fn error(&mut self, rule: &'static str, message: impl Into<String>, help: impl Into<String>) {
        self.findings
            .push(Finding::error(rule, self.span, message, help));
    }

    fn no_part(&mut self) {
        let written = self.cells.get(Column::Part);
        let message = if written.is_empty() {
            "the row names no part".to_owned()
        } else {
            format!("`{written}` is not a part")
        };
        let help = match self.reading.parts.near(written) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("the parts are {}", self.reading.parts.list()),
        };
        self.unreadable("catalog-part", message, help);
    }

    fn size(&mut self, part: Option<&Part>) -> Option<PartSize> {
        let has_length = part.is_some_and(|part| part.has_length);
        let written = self.cells.get(Column::Size);
        if dates::is_date(written) {
            let cell = self.cell_name(Column::Size);
            self.unreadable(
                "catalog-size-date",
                format!("the size `{written}`{cell} is a date: a spreadsheet program made it of a size like 3/4"),
                "make the column text and write the size again with its unit, like 3/4in",
            );
            return None;
        }
        let size = match self.reading.mapping.and_then(Mapping::sizes) {
            Some(unit) => Cow::Owned(unit.complete(written, has_length)),
            None => Cow::Borrowed(written),
        };
        match PartSize::parse(&size, has_length) {
            Ok(size) => Some(size),
            Err(error) => {
                self.unreadable("catalog-size", error.message, error.help);
                None
            }
        }
    }

    /// ` in cell C12` of a workbook.
    fn cell_name(&self, column: Column) -> String {
        match self.cells.place(column) {
            Some(at) if self.reading.workbook => {
                format!(" in cell {}{}", super::workbook::letters(at), self.line)
            }
            _ => String::new(),
        }
    }

    fn system(&mut self, part: Option<&Part>) -> &'a str {
        let written = self.cells.get(Column::System);
        let constant = self
            .reading
            .mapping
            .and_then(|m| m.constant(Column::System));
        match part {
            Some(part) if part.of_system && written.is_empty() => self.error(
                "catalog-system",
                format!(
                    "`{}` belongs to a pipe system, and the row names none",
                    part.name
                ),
                "write the system in the column `system`, like black-iron",
            ),
            // What a mapping says of all rows is said of those that have one.
            Some(part) if !part.of_system && Some(written) == constant => return "",
            Some(part) if !part.of_system && !written.is_empty() => self.error(
                "catalog-system",
                format!(
                    "`{}` fits any pipe system, and the row names one",
                    part.name
                ),
                "leave the column `system` empty",
            ),
            _ => {}
        }
        written
    }

    fn unit(&mut self, part: Option<&Part>) -> Option<Unit> {
        let written = self.cells.get(Column::Unit);
        if part.is_none_or(|part| part.name != PIPE) {
            // A mapping's unit for all rows is that of pipe.
            let constant = self.reading.mapping.and_then(|m| m.constant(Column::Unit));
            if matches!(written, "" | "each" | "roll") || Some(written) == constant {
                return Some(Unit::Each);
            }
            self.unreadable(
                "catalog-unit",
                format!("`{written}` is not a unit"),
                "write each or roll; how many a price buys stands in the column `pack`",
            );
            return None;
        }
        let unit = Unit::of_pipe(written);
        if unit.is_none() {
            self.unreadable(
                "catalog-unit",
                "pipe is bought by the stick or by length, and the unit does not say which",
                "write the length of a stick, like 21ft or 6m, or ft or m for pipe sold by length",
            );
        }
        unit
    }
}

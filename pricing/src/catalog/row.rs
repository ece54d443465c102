use super::columns::{Cells, Column};
use super::mapping::{Mapping, Numbers, dates};
use super::parts::Parts;
use super::price_for::PriceFor;
use super::{Offer, Place, Unit};
use crate::money::{Currency, Money};
use bom::finding::Finding;
use bom::library::Part;
use bom::quantity::PartSize;
use bom::source::Span;
use bom::takeoff::PartKey;
use jiff::civil::Date;
use rust_decimal::Decimal;
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

    /// A number as the sheet writes it, with a point and no other mark.
    fn plain(&self, written: &'a str) -> Cow<'a, str> {
        let numbers = self.reading.mapping.map(Mapping::numbers);
        match numbers.map(|numbers| numbers.read(written)) {
            Some(Ok(number)) => Cow::Owned(number.normalize().to_string()),
            _ => Cow::Borrowed(written),
        }
    }

    /// A whole number of 1 or more; 1 if the cell is empty.
    fn whole(&mut self, column: Column) -> u64 {
        let written = self.cells.get(column);
        if written.is_empty() {
            return 1;
        }
        let plain = self.plain(written);
        let digits = plain.bytes().all(|byte| byte.is_ascii_digit());
        let number = plain.parse().ok().filter(|number| digits && *number >= 1);
        number.unwrap_or_else(|| {
            self.unreadable(
                "catalog-number",
                format!(
                    "`{written}` in the column `{}` is not a whole number of 1 or more",
                    column.name()
                ),
                "write digits only, like 10",
            );
            1
        })
    }

    /// The price of a pack, and whether it was rounded to the minor unit.
    fn price(
        &mut self,
        unit: Option<Unit>,
        pack: u64,
        part: Option<&Part>,
    ) -> Option<(Money, bool)> {
        self.currency();
        let price_for = self.price_for(part)?;
        let written = self.cells.get(Column::Price);
        if written.is_empty() {
            return None;
        }
        let amount = match amount(written, self.reading) {
            Ok(amount) if amount > Decimal::ZERO => amount,
            Ok(_) => {
                self.error(
                    "catalog-price",
                    format!("a price of {written} is none"),
                    "leave the price empty until it is known",
                );
                return None;
            }
            Err(error) => {
                self.unreadable("catalog-price", error.message, error.help);
                return None;
            }
        };
        match price_for.of_pack(amount, self.reading.currency, unit?, pack) {
            Ok((price, _)) if price.amount().is_zero() => {
                self.error(
                    "catalog-price",
                    format!("a price of {written} comes to less than the smallest coin"),
                    "sell it by a larger pack",
                );
                None
            }
            Ok(price) => Some(price),
            Err(reason) => {
                let reason = reason.unwrap_or("the price has more digits than can be kept exactly");
                self.unreadable("catalog-price", reason, "check the price and what it buys");
                None
            }
        }
    }

    fn currency(&mut self) {
        let code = self.cells.get(Column::Currency);
        if code.is_empty() {
            return;
        }
        let currency = self.reading.currency;
        match Currency::parse(code) {
            Ok(other) if other != currency => self.error(
                "catalog-currency",
                format!("the price is in {other} and the job is priced in {currency}"),
                format!("give the price in {currency}; currencies are never mixed"),
            ),
            Ok(_) => {}
            Err(error) => self.unreadable("catalog-currency", error.message, error.help),
        }
    }

    fn price_for(&mut self, part: Option<&Part>) -> Option<PriceFor> {
        let written = self.cells.get(Column::PriceFor);
        let constant = self
            .reading
            .mapping
            .and_then(|m| m.constant(Column::PriceFor));
        match PriceFor::parse(&self.plain(written)) {
            // A length that a mapping states for all rows is that of pipe.
            Ok(PriceFor::Length(_))
                if Some(written) == constant && part.is_some_and(|part| part.name != PIPE) =>
            {
                Some(PriceFor::Pack)
            }
            Ok(price_for) => Some(price_for),
            Err(error) => {
                self.unreadable("catalog-price-for", error.message, error.help);
                None
            }
        }
    }

    fn date(&mut self) -> Option<Date> {
        let written = self.cells.get(Column::PricedOn);
        if written.is_empty() {
            return None;
        }
        let form = self.reading.mapping.and_then(Mapping::dates);
        // Year, month and day cannot be taken for anything else.
        let date = dates::iso(written).or_else(|| form?.read(written));
        if date.is_none() {
            self.unreadable(
                "catalog-date",
                format!("`{written}` is not a date"),
                match form {
                    Some(_) => "write it as the mapping says under `dates`, or like 2026-10-01",
                    None => "write year, month and day, like 2026-10-01",
                },
            );
        }
        date
    }
}

/// The amount of a price. Where nothing states what a point is, it is read as
/// our own lists are, no finer than the minor unit.
fn amount(written: &str, reading: &Reading<'_>) -> Result<Decimal, bom::quantity::QuantityError> {
    match reading.mapping.map(Mapping::numbers) {
        Some(numbers) if numbers.are_stated() => numbers.read(written),
        numbers => {
            let plain = numbers.map(|numbers: &Numbers| numbers.plain(written));
            let plain = plain.transpose()?;
            let text = plain.as_deref().unwrap_or(written);
            Money::parse(text, reading.currency).map(|money| money.amount())
        }
    }
}

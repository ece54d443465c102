use super::columns::Cells;
use super::{Offer, Place, Unit};
use crate::money::{Currency, Money};
use bom::finding::{Finding, did_you_mean};
use bom::library::Part;
use bom::quantity::{Length, PartSize, Units};
use bom::source::Span;
use bom::takeoff::PartKey;
use jiff::civil::Date;

/// The part that is bought by the stick or by length.
const PIPE: &str = "pipe";

/// Reads one row, or says everything that is wrong with it.
pub(super) fn read(
    cells: &Cells<'_>,
    parts: &[Part],
    currency: Currency,
    place: Place,
    span: Span,
) -> Result<Offer, Vec<Finding>> {
    let mut row = Row {
        cells,
        span,
        findings: Vec::new(),
    };
    if let Some((message, help)) = cells.misfit() {
        row.unreadable("catalog-cells", message, help);
        return Err(row.findings);
    }
    let part = row.part(parts);
    let size = row.size(part);
    let system = row.system(part);
    let unit = row.unit();
    let pack = row.whole("pack");
    let price = row.price(currency);
    let priced_on = row.date();
    let from_quantity = row.whole("from_quantity");
    let text = |column| cells.get(column).to_owned();
    match (part, size, unit) {
        (Some(part), Some(size), Some(unit)) if row.findings.is_empty() => Ok(Offer {
            key: PartKey {
                part: part.name.clone(),
                system,
                size,
            },
            description: text("description"),
            unit,
            pack,
            price,
            supplier: text("supplier"),
            code: text("code"),
            aisle: text("aisle"),
            priced_on,
            from_quantity,
            place,
        }),
        _ => Err(row.findings),
    }
}

struct Row<'a> {
    cells: &'a Cells<'a>,
    span: Span,
    findings: Vec<Finding>,
}

impl Row<'_> {
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

    fn part<'a>(&mut self, parts: &'a [Part]) -> Option<&'a Part> {
        let written = self.cells.get("part");
        let known = parts.iter().find(|part| part.name == written);
        if known.is_none() {
            let names = parts.iter().map(|part| part.name.as_str());
            let message = if written.is_empty() {
                "the row names no part".to_owned()
            } else {
                format!("`{written}` is not a part")
            };
            let help = match did_you_mean(written, names.clone()) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("the parts are {}", names.collect::<Vec<_>>().join(", ")),
            };
            self.unreadable("catalog-part", message, help);
        }
        known
    }

    fn size(&mut self, part: Option<&Part>) -> Option<PartSize> {
        let has_length = part.is_some_and(|part| part.has_length);
        match PartSize::parse(self.cells.get("size"), has_length) {
            Ok(size) => Some(size),
            Err(error) => {
                self.unreadable("catalog-size", error.message, error.help);
                None
            }
        }
    }

    fn system(&mut self, part: Option<&Part>) -> String {
        let written = self.cells.get("system");
        match part {
            Some(part) if part.of_system && written.is_empty() => self.error(
                "catalog-system",
                format!(
                    "`{}` belongs to a pipe system, and the row names none",
                    part.name
                ),
                "write the system in the column `system`, like black-iron",
            ),
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
        written.to_owned()
    }

    fn unit(&mut self) -> Option<Unit> {
        let written = self.cells.get("unit");
        if self.cells.get("part") != PIPE {
            if matches!(written, "" | "each" | "roll") {
                return Some(Unit::Each);
            }
            self.unreadable(
                "catalog-unit",
                format!("`{written}` is not a unit"),
                "write each or roll; how many a price buys stands in the column `pack`",
            );
            return None;
        }
        let unit = match written {
            "ft" => Some(Unit::Foot),
            "m" => Some(Unit::Metre),
            _ => Length::parse(written, Units::Metric)
                .ok()
                .filter(|length| *length > Length::ZERO)
                .map(Unit::Stick),
        };
        if unit.is_none() {
            self.unreadable(
                "catalog-unit",
                "pipe is bought by the stick or by length, and the unit does not say which",
                "write the length of a stick, like 21ft or 6m, or ft or m for pipe sold by length",
            );
        }
        unit
    }

    /// A whole number of 1 or more; 1 if the cell is empty.
    fn whole(&mut self, column: &'static str) -> u64 {
        let written = self.cells.get(column);
        if written.is_empty() {
            return 1;
        }
        let digits = written.bytes().all(|byte| byte.is_ascii_digit());
        let number = written.parse().ok().filter(|number| digits && *number >= 1);
        number.unwrap_or_else(|| {
            self.unreadable(
                "catalog-number",
                format!("`{written}` in the column `{column}` is not a whole number of 1 or more"),
                "write digits only, like 10",
            );
            1
        })
    }

    fn price(&mut self, currency: Currency) -> Option<Money> {
        let code = self.cells.get("currency");
        if !code.is_empty() {
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
        let written = self.cells.get("price");
        if written.is_empty() {
            return None;
        }
        match Money::parse(written, currency) {
            Ok(price) if price.amount() > rust_decimal::Decimal::ZERO => Some(price),
            Ok(_) => {
                self.error(
                    "catalog-price",
                    format!("a price of {written} is none"),
                    "leave the price empty until it is known",
                );
                None
            }
            Err(error) => {
                self.unreadable("catalog-price", error.message, error.help);
                None
            }
        }
    }

    fn date(&mut self) -> Option<Date> {
        let written = self.cells.get("priced_on");
        if written.is_empty() {
            return None;
        }
        let date = written
            .parse::<Date>()
            .ok()
            .filter(|date| date.to_string() == written);
        if date.is_none() {
            self.unreadable(
                "catalog-date",
                format!("`{written}` is not a date"),
                "write year, month and day, like 2026-10-01",
            );
        }
        date
    }
}

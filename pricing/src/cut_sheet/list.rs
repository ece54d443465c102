//! Lists of pieces, of stock and of offcuts as the user writes them (CSV).

use super::{Offcut, OwnOffcuts};
use crate::catalog::line_of;
use crate::money::{Currency, Money};
use bom::finding::{Finding, did_you_mean};
use bom::quantity::{Length, QuantityError, Size, Units};
use bom::source::Source;
use std::collections::BTreeMap;

/// Pieces of one length that are wanted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wanted {
    /// End to end.
    pub length: Length,
    /// How many.
    pub count: u64,
    /// What the user calls them; may be empty.
    pub label: String,
}

/// Sticks of one length that can be had.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stick {
    /// How long each is.
    pub length: Length,
    /// What one costs.
    pub price: Money,
    /// How many there are; none means as many as it takes.
    pub available: Option<u64>,
}

/// Reads `length,quantity[,label]`.
#[must_use]
pub fn pieces(source: &Source, units: Units) -> (Vec<Wanted>, Vec<Finding>) {
    rows(source, &["length", "quantity"], &["label"], |row| {
        Ok(Wanted {
            length: length(row, units)?,
            count: count(row.cell("quantity"))?,
            label: row.cell("label").to_owned(),
        })
    })
}

/// Reads `length,price[,quantity]`.
#[must_use]
pub fn stock(source: &Source, units: Units, currency: Currency) -> (Vec<Stick>, Vec<Finding>) {
    rows(source, &["length", "price"], &["quantity"], |row| {
        Ok(Stick {
            length: length(row, units)?,
            price: Money::parse(row.cell("price"), currency)?,
            available: match row.cell("quantity") {
                "" => None,
                text => Some(count(text)?),
            },
        })
    })
}

/// Reads `size,length[,quantity][,system]`: the user's own offcuts. The
/// systems are those that a row may name.
#[must_use]
pub fn offcuts(source: &Source, units: Units, systems: &[&str]) -> (OwnOffcuts, Vec<Finding>) {
    let optional = ["quantity", "system"];
    let (rows, findings) = rows(source, &["size", "length"], &optional, |row| {
        let count = match row.cell("quantity") {
            "" => 1,
            text => count(text)?,
        };
        let size = Size::parse(row.cell("size"))?.to_string();
        let length = length(row, units)?;
        let system = match row.cell("system") {
            "" => None,
            name => Some(known(name, systems)?),
        };
        Ok(((system, size), Offcut { length, count }))
    });
    let mut offcuts = OwnOffcuts::new();
    for (key, offcut) in rows {
        offcuts.entry(key).or_default().push(offcut);
    }
    (offcuts, findings)
}

struct Row<'a> {
    columns: &'a BTreeMap<String, usize>,
    record: csv::StringRecord,
}

impl Row<'_> {
    fn cell(&self, column: &str) -> &str {
        let at = self.columns.get(column);
        at.and_then(|at| self.record.get(*at))
            .unwrap_or_default()
            .trim()
    }
}

/// Every row that can be read, and what is wrong with the others.
fn rows<T>(
    source: &Source,
    needed: &[&str],
    optional: &[&str],
    read: impl Fn(&Row<'_>) -> Result<T, QuantityError>,
) -> (Vec<T>, Vec<Finding>) {
    let mut findings = Vec::new();
    let mut reader = csv::ReaderBuilder::new()
        .flexible(true)
        .from_reader(source.text().as_bytes());
    let mut columns = BTreeMap::new();
    let known: Vec<&str> = needed.iter().chain(optional).copied().collect();
    if let Ok(head) = reader.headers() {
        for (at, name) in head.iter().enumerate() {
            let name = name.trim().to_lowercase();
            if !known.contains(&name.as_str()) {
                let near = did_you_mean(&name, known.iter().copied())
                    .map_or_else(String::new, |near| format!("did you mean `{near}`? "));
                findings.push(Finding::unreadable(
                    "unknown-column",
                    source.line_span(1),
                    format!("there is no column `{name}`"),
                    format!("{near}the columns are {}", known.join(", ")),
                ));
            }
            columns.insert(name, at);
        }
    }
    for name in needed {
        if !columns.contains_key(*name) {
            findings.push(Finding::unreadable(
                "missing-column",
                source.line_span(1),
                format!("the column `{name}` is missing"),
                format!("the first line must be {}", known.join(",")),
            ));
        }
    }
    if !findings.is_empty() {
        return (Vec::new(), findings);
    }
    let mut found = Vec::new();
    for record in reader.into_records() {
        let record = match record {
            Ok(record) => record,
            Err(error) => {
                let message = format!("the line cannot be read: {error}");
                let help = "write plain CSV text";
                let line = error.position().map_or(1, csv::Position::line);
                let place = source.line_span(usize::try_from(line).unwrap_or(1));
                findings.push(Finding::unreadable("csv", place, message, help));
                continue;
            }
        };
        let place = source.line_span(line_of(&record, source.text(), source));
        if record.iter().all(|cell| cell.trim().is_empty()) {
            continue;
        }
        let row = Row {
            columns: &columns,
            record,
        };
        match read(&row) {
            Ok(value) => found.push(value),
            Err(error) => {
                findings.push(Finding::unreadable(
                    "quantity",
                    place,
                    error.message,
                    error.help,
                ));
            }
        }
    }
    (found, findings)
}

fn length(row: &Row<'_>, units: Units) -> Result<Length, QuantityError> {
    Length::parse(row.cell("length"), units)
}

fn known(name: &str, systems: &[&str]) -> Result<String, QuantityError> {
    if systems.contains(&name) {
        return Ok(name.to_owned());
    }
    let near = did_you_mean(name, systems.iter().copied())
        .map_or_else(String::new, |near| format!("did you mean `{near}`? "));
    Err(QuantityError {
        message: format!("there is no pipe system `{name}`"),
        help: format!("{near}known are {}", systems.join(", ")),
    })
}

/// More of one length than any job has; what is read is laid out one by one.
const MOST: u64 = 100_000;

fn count(text: &str) -> Result<u64, QuantityError> {
    text.parse()
        .ok()
        .filter(|count| (1..=MOST).contains(count))
        .ok_or_else(|| QuantityError {
            message: format!("`{text}` is not a number of pieces"),
            help: format!("write a whole number from 1 to {MOST}"),
        })
}

#[cfg(test)]
mod tests {
    use super::{offcuts, pieces, stock};
    use crate::money::Currency;
    use bom::quantity::{Length, Units};
    use bom::source::Source;

    #[test]
    fn lists_are_read_and_refused_by_line() {
        let text = "length,quantity,label\n1998mm,3,rail\n\n4ft 6in,x,\n12,2,\n";
        let (read, findings) = pieces(&Source::new("pieces", text), Units::Feet);
        assert_eq!(read.len(), 1);
        assert_eq!((read[0].length, read[0].count), (Length::from_mm(1998), 3));
        let source = Source::new("pieces", text);
        let lines: Vec<usize> = findings
            .iter()
            .map(|finding| source.line(finding.place().start))
            .collect();
        assert_eq!(lines, [4, 5]);

        let usd = Currency::parse("USD").unwrap();
        let text = "length,price,quantity\n6m,21.90,\n4m,0.00,2\n";
        let (read, findings) = stock(&Source::new("stock", text), Units::Metric, usd);
        assert_eq!(findings, []);
        assert_eq!(read[0].price.minor_units(), Some(2190));
        assert_eq!(read[1].available, Some(2));

        let (read, findings) = offcuts(
            &Source::new("offcuts", "size,length\n3/4in,6-2\n"),
            Units::Feet,
            &["black-iron"],
        );
        assert_eq!(findings, []);
        let unnamed = (None, "3/4in".to_owned());
        assert_eq!(read[&unnamed][0].count, 1);
        let (read, findings) = offcuts(
            &Source::new("offcuts", "system,size,length\nblack-iron,3/4in,6-2\n"),
            Units::Feet,
            &["black-iron"],
        );
        assert_eq!(findings, []);
        let named = (Some("black-iron".to_owned()), "3/4in".to_owned());
        assert_eq!(read[&named][0].count, 1);
        let (_, findings) = offcuts(
            &Source::new("offcuts", "system,size,length\nblack-irn,3/4in,6-2\n"),
            Units::Feet,
            &["black-iron"],
        );
        assert_eq!(findings[0].message, "there is no pipe system `black-irn`");
        let (_, findings) = offcuts(&Source::new("offcuts", "size,lenght\n"), Units::Feet, &[]);
        assert_eq!(findings.len(), 2);
    }
}

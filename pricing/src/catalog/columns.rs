use bom::finding::{Finding, did_you_mean};
use bom::source::Span;
use csv::StringRecord;

/// The columns that a catalog may have, in any order.
const NAMES: [&str; 13] = [
    "part",
    "system",
    "size",
    "description",
    "unit",
    "pack",
    "price",
    "currency",
    "supplier",
    "code",
    "aisle",
    "priced_on",
    "from_quantity",
];
const NEEDED: [&str; 3] = ["part", "size", "price"];

/// Which column stands where.
pub(super) struct Columns {
    names: Vec<String>,
}

/// A row's cells by the name of their column.
pub(super) struct Cells<'a> {
    columns: &'a Columns,
    record: &'a StringRecord,
}

impl Columns {
    pub(super) fn read(header: &StringRecord, span: Span) -> Result<Self, Vec<Finding>> {
        let names: Vec<String> = header
            .iter()
            .map(|cell| cell.trim().to_lowercase())
            .collect();
        let mut findings = Vec::new();
        let mut error = |message: String, help: String| {
            findings.push(Finding::unreadable("catalog-column", span, message, help));
        };
        for (at, name) in names.iter().enumerate() {
            if name.is_empty() {
                error(
                    format!("column {} has no name", at + 1),
                    "name it or delete it".to_owned(),
                );
            } else if !NAMES.contains(&name.as_str()) {
                let help = did_you_mean(name, NAMES).map_or_else(
                    || format!("the columns are {}", NAMES.join(", ")),
                    |near| format!("did you mean `{near}`?"),
                );
                error(format!("`{name}` is not a column of a catalog"), help);
            } else if names[..at].contains(name) {
                error(
                    format!("the column `{name}` stands twice"),
                    "delete one of the two".to_owned(),
                );
            }
        }
        for needed in NEEDED {
            if !names.iter().any(|name| name == needed) {
                error(
                    format!("the column `{needed}` is missing"),
                    "a catalog needs at least part, size and price".to_owned(),
                );
            }
        }
        if findings.is_empty() {
            Ok(Self { names })
        } else {
            Err(findings)
        }
    }

    pub(super) fn of<'a>(&'a self, record: &'a StringRecord) -> Cells<'a> {
        Cells {
            columns: self,
            record,
        }
    }
}

impl Cells<'_> {
    /// The trimmed text under a column; empty if there is none.
    pub(super) fn get(&self, column: &str) -> &str {
        self.columns
            .names
            .iter()
            .position(|name| name == column)
            .and_then(|at| self.record.get(at))
            .map_or("", str::trim)
    }

    /// What is wrong with the row as a whole.
    pub(super) fn misfit(&self) -> Option<(&'static str, &'static str)> {
        let (cells, columns) = (self.record.len(), self.columns.names.len());
        if self
            .record
            .iter()
            .skip(columns)
            .any(|cell| !cell.trim().is_empty())
        {
            return Some((
                "the row has more cells than the header has columns",
                "put a text that holds a comma in quotation marks",
            ));
        }
        // A row may leave out its last cells, but a text over several lines
        // that also swallows cells was never closed.
        (cells < columns && self.record.iter().any(|cell| cell.contains('\n'))).then_some((
            "a quotation mark opens here and swallows the rows below",
            "close it, or write inches as `in`",
        ))
    }
}

use super::mapping::Mapping;
use bom::finding::{Finding, did_you_mean};
use bom::source::Span;
use csv::StringRecord;

/// A sheet of more columns is none of prices; a file of a million commas is
/// refused before anything is compared with anything.
const MOST: usize = 500;

/// The columns of a price list, in the order in which papers write them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Column {
    Part,
    System,
    Size,
    Description,
    Unit,
    Pack,
    Price,
    PriceFor,
    Currency,
    Supplier,
    Code,
    Aisle,
    PricedOn,
    FromQuantity,
    /// What a request for prices asks for; no price depends on it.
    Quantity,
}

impl Column {
    pub(crate) const ALL: [Self; 15] = [
        Self::Part,
        Self::System,
        Self::Size,
        Self::Description,
        Self::Unit,
        Self::Pack,
        Self::Price,
        Self::PriceFor,
        Self::Currency,
        Self::Supplier,
        Self::Code,
        Self::Aisle,
        Self::PricedOn,
        Self::FromQuantity,
        Self::Quantity,
    ];
    const NEEDED: [Self; 3] = [Self::Part, Self::Size, Self::Price];

    /// As a header writes it.
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Part => "part",
            Self::System => "system",
            Self::Size => "size",
            Self::Description => "description",
            Self::Unit => "unit",
            Self::Pack => "pack",
            Self::Price => "price",
            Self::PriceFor => "price_for",
            Self::Currency => "currency",
            Self::Supplier => "supplier",
            Self::Code => "code",
            Self::Aisle => "aisle",
            Self::PricedOn => "priced_on",
            Self::FromQuantity => "from_quantity",
            Self::Quantity => "quantity",
        }
    }

    pub(crate) fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|column| column.name() == name)
    }
}

/// Where each column stands in the rows of one list.
pub(super) struct Columns<'a> {
    at: [Option<usize>; Column::ALL.len()],
    count: usize,
    delimiter: char,
    mapping: Option<&'a Mapping>,
}

/// A row's cells by their column.
pub(super) struct Cells<'a> {
    columns: &'a Columns<'a>,
    record: &'a StringRecord,
}

impl<'a> Columns<'a> {
    pub(super) fn read(
        header: &StringRecord,
        delimiter: char,
        mapping: Option<&'a Mapping>,
        span: Span,
    ) -> Result<Self, Vec<Finding>> {
        if header.len() > MOST {
            let message = format!("the list has {} columns", header.len());
            let help = format!("a price list has at most {MOST}; check what separates its cells");
            return Err(vec![wrong(span, message, help)]);
        }
        let names: Vec<&str> = header.iter().map(str::trim).collect();
        let (at, findings) = match mapping {
            Some(mapping) if mapping.has_columns() => mapped(&names, mapping, span),
            _ => own(&names, span),
        };
        if findings.is_empty() {
            Ok(Self {
                at,
                count: header.len(),
                delimiter,
                mapping,
            })
        } else {
            Err(findings)
        }
    }

    pub(super) fn of(&'a self, record: &'a StringRecord) -> Cells<'a> {
        Cells {
            columns: self,
            record,
        }
    }
}

type Places = [Option<usize>; Column::ALL.len()];

fn wrong(span: Span, message: String, help: String) -> Finding {
    Finding::unreadable("catalog-column", span, message, help)
}

/// The header of a list in our own form, where every column is one of ours.
fn own(names: &[&str], span: Span) -> (Places, Vec<Finding>) {
    let mut at = Places::default();
    let mut findings = Vec::new();
    for (number, name) in names.iter().enumerate() {
        let name = name.to_lowercase();
        let Some(column) = Column::named(&name) else {
            findings.push(if name.is_empty() {
                let message = format!("column {} has no name", number + 1);
                wrong(span, message, "name it or delete it".to_owned())
            } else {
                let known = Column::ALL.map(Column::name);
                let help = did_you_mean(&name, known).map_or_else(
                    || format!("the columns are {}", known.join(", ")),
                    |near| format!("did you mean `{near}`?"),
                );
                wrong(span, format!("`{name}` is not a column of a catalog"), help)
            });
            continue;
        };
        if at[column as usize].replace(number).is_some() {
            findings.push(wrong(
                span,
                format!("the column `{name}` stands twice"),
                "delete one of the two".to_owned(),
            ));
        }
    }
    for needed in Column::NEEDED {
        if at[needed as usize].is_none() {
            findings.push(wrong(
                span,
                format!("the column `{}` is missing", needed.name()),
                "a catalog needs at least part, size and price".to_owned(),
            ));
        }
    }
    (at, findings)
}

/// The header of a supplier's sheet: the columns that the mapping names, and
/// any others.
fn mapped(names: &[&str], mapping: &Mapping, span: Span) -> (Places, Vec<Finding>) {
    let mut at = Places::default();
    let mut findings = Vec::new();
    for column in Column::ALL {
        let Some(theirs) = mapping.column(column) else {
            continue;
        };
        let same = |name: &&str| name.to_lowercase() == theirs.to_lowercase();
        let found: Vec<usize> = (0..names.len()).filter(|at| same(&names[*at])).collect();
        match found[..] {
            [only] => at[column as usize] = Some(only),
            [] => findings.push(wrong(
                span,
                format!(
                    "the sheet has no column `{theirs}`, which the mapping takes as `{}`",
                    column.name()
                ),
                did_you_mean(theirs, names.iter().copied()).map_or_else(
                    || format!("its columns are {}", names.join(", ")),
                    |near| format!("did you mean `{near}`?"),
                ),
            )),
            _ => findings.push(wrong(
                span,
                format!("the sheet has the column `{theirs}` more than once"),
                "give one of them another name".to_owned(),
            )),
        }
    }
    (at, findings)
}

impl<'a> Cells<'a> {
    /// What a column says: the cell in our words, or the mapping's constant
    /// where the cell is empty or missing.
    pub(super) fn get(&self, column: Column) -> &'a str {
        let written = self.written(column);
        let Some(mapping) = self.columns.mapping else {
            return written;
        };
        let said = mapping.word(column, written).unwrap_or(written);
        if said.is_empty() {
            mapping.constant(column).unwrap_or_default()
        } else {
            said
        }
    }

    /// The trimmed cell under a column as it stands; empty if there is none.
    pub(super) fn written(&self, column: Column) -> &'a str {
        let cell = self.columns.at[column as usize].and_then(|at| self.record.get(at));
        let cell = cell.map_or("", str::trim);
        // The mark that keeps a cell of ours from being taken for a formula.
        match cell.strip_prefix('\'') {
            Some(text) if text.starts_with(['=', '+', '-', '@']) => text,
            _ => cell,
        }
    }

    /// The number of a column, from 0.
    pub(super) fn place(&self, column: Column) -> Option<usize> {
        self.columns.at[column as usize]
    }

    /// What is wrong with the row as a whole.
    pub(super) fn misfit(&self) -> Option<(&'static str, &'static str)> {
        let (cells, columns) = (self.record.len(), self.columns.count);
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
        // that also swallows cells, or whole rows, was never closed.
        let mut texts = self.record.iter().filter(|cell| cell.contains('\n'));
        let swallows = match cells < columns {
            true => texts.next().is_some(),
            false => texts.any(|text| self.holds_rows(text)),
        };
        swallows.then_some((
            "a quotation mark opens here and swallows the rows below",
            "close it, or write inches as `in`",
        ))
    }

    /// Whether a line of a text has as many cells as a row.
    fn holds_rows(&self, text: &str) -> bool {
        let delimiter = self.columns.delimiter;
        let mut lines = text.lines().skip(1);
        lines.any(|line| line.matches(delimiter).count() + 1 >= self.columns.count)
    }
}

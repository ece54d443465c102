//! Which column is which.

use super::grid::Cell;
use crate::finding::{Finding, did_you_mean};
use crate::quantity::Units;
use crate::source::Span;

/// A column of the run sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Column {
    /// The leg that a row belongs to.
    Leg,
    /// What the row is.
    Row,
    /// The direction.
    Way,
    /// Whole feet.
    Ft,
    /// The inches behind them.
    In,
    /// Millimetres, in place of feet and inches.
    Mm,
    /// Where a reading is taken from.
    ReadFrom,
    /// What stands there.
    Name,
    /// Whatever else is to be said.
    Remark,
}

/// Every column and its head.
const HEADS: [(Column, &str); 9] = [
    (Column::Leg, "leg"),
    (Column::Row, "row"),
    (Column::Way, "way"),
    (Column::Ft, "ft"),
    (Column::In, "in"),
    (Column::Mm, "mm"),
    (Column::ReadFrom, "read_from"),
    (Column::Name, "name"),
    (Column::Remark, "remark"),
];

impl Column {
    /// Its head.
    #[must_use]
    pub fn head(self) -> &'static str {
        let named = HEADS.iter().find(|(column, _)| *column == self);
        named.map_or("", |(_, head)| head)
    }

    /// The columns of a sheet in these units, in the order that we write them.
    #[must_use]
    pub fn of(units: Units) -> Vec<Self> {
        let of_these = |column: &Self| match column {
            Self::Ft | Self::In => units == Units::Feet,
            Self::Mm => units == Units::Metric,
            _ => true,
        };
        Self::all().filter(of_these).collect()
    }

    /// Every column, in the order that we write them.
    pub(super) fn all() -> impl Iterator<Item = Self> {
        HEADS.iter().map(|(column, _)| *column)
    }

    /// Whether a sheet can be read without it.
    const fn may_lack(self) -> bool {
        matches!(self, Self::ReadFrom | Self::Remark)
    }
}

/// The columns of one sheet.
#[derive(Debug)]
pub(super) struct Columns {
    at: Vec<(Column, usize)>,
    /// What its lengths are in.
    pub(super) units: Units,
}

impl Columns {
    /// Reads the heads, and says which are not read, stand twice or are missing.
    pub(super) fn read(heads: &[Cell], findings: &mut Vec<Finding>) -> Option<Self> {
        let mut at: Vec<(Column, usize)> = Vec::new();
        let mut meant = Vec::new();
        let before = findings.len();
        let words: Vec<String> = heads.iter().map(|head| plain(&head.text)).collect();
        let span = Span {
            start: heads.first().map_or(0, |head| head.span.start),
            end: heads.last().map_or(0, |head| head.span.end),
        };
        // A row of the walk may hold one of their words, like `leg`.
        let named = HEADS
            .iter()
            .filter(|(_, name)| words.contains(&plain(name)));
        if named.count() < 3 {
            findings.push(Finding::unreadable(
                "sheet-without-heads",
                span,
                "the first row does not name the columns of a run sheet",
                "begin with leg,row,way,ft,in,read_from,name,remark; `dripleg import --blank` writes an empty sheet",
            ));
            return None;
        }
        for (index, (head, word)) in heads.iter().zip(&words).enumerate() {
            let known = HEADS.iter().find(|(_, name)| plain(name) == *word);
            match known {
                Some((column, name)) if at.iter().any(|(other, _)| other == column) => {
                    findings.push(Finding::unreadable(
                        "sheet-column-twice",
                        head.span,
                        format!("the sheet has two columns `{name}`"),
                        "keep one of them, and give the other another head",
                    ));
                }
                Some((column, _)) => at.push((*column, index)),
                None if word.is_empty() => {}
                None => {
                    let free = HEADS.iter().map(|(_, name)| *name);
                    let free = free.filter(|name| !words.contains(&plain(name)));
                    let near = did_you_mean(word, free);
                    meant.extend(near);
                    findings.push(not_read(&head.text, head.span, near));
                }
            }
        }
        let has = |column: Column| at.iter().any(|(other, _)| *other == column);
        let metric = has(Column::Mm);
        if metric && (has(Column::Ft) || has(Column::In)) {
            findings.push(Finding::unreadable(
                "sheet-two-units",
                span,
                "the sheet has a column `mm` beside `ft` or `in`",
                "keep `ft` and `in`, or `mm` alone",
            ));
        }
        let units = if metric { Units::Metric } else { Units::Feet };
        for column in Column::of(units) {
            if !column.may_lack() && !has(column) && !meant.contains(&column.head()) {
                findings.push(missing(column, span));
            }
        }
        let stops = findings[before..].iter().any(Finding::stops);
        (!stops && meant.is_empty()).then_some(Self { at, units })
    }

    /// What stands in one column of a row, if anything does.
    pub(super) fn cell<'a>(&self, row: &'a [Cell], column: Column) -> Option<&'a Cell> {
        let (_, index) = self.at.iter().find(|(known, _)| *known == column)?;
        row.get(*index).filter(|cell| !cell.text.is_empty())
    }
}

fn missing(column: Column, span: Span) -> Finding {
    let message = format!("the sheet has no column `{}`", column.head());
    let help = match column {
        Column::Ft | Column::In | Column::Mm => {
            "write feet and inches in two columns `ft` and `in`, or millimetres in one column `mm`"
        }
        _ => "`dripleg import --blank` writes an empty sheet with all columns",
    };
    Finding::unreadable("sheet-column-missing", span, message, help)
}

/// A column with a head of somebody's own; one that is nearly ours stops the sheet.
fn not_read(head: &str, span: Span, near: Option<&str>) -> Finding {
    match near {
        Some(near) => Finding::unreadable(
            "sheet-column-unknown",
            span,
            format!("there is no column `{head}`"),
            format!("did you mean `{near}`? otherwise give it another head"),
        ),
        None => Finding::warning(
            "sheet-column-not-read",
            span,
            format!("the column `{head}` is not read"),
            "what stands in it does not reach the job file; put it under `remark` if it should",
        ),
    }
}

/// A word as it is compared: `Read from` is `read_from`.
pub(super) fn plain(word: &str) -> String {
    let spaced = word.replace(['_', '-'], " ").to_lowercase();
    spaced.split_whitespace().collect::<Vec<_>>().join(" ")
}

//! From rows to a survey.

use super::columns::{Column, Columns, plain};
use super::facts;
use super::grid::Cell;
use super::kind::Kind;
use super::legs::Leg;
use super::length::{self, Reading};
use super::names::Names;
use crate::finding::{Finding, did_you_mean};
use crate::job::{Direction, unknown_name};
use crate::library::Library;
use crate::source::{Source, Span};
use crate::survey::Survey;

/// One row, its kind read.
pub(super) struct Row<'a> {
    pub(super) cells: &'a [Cell],
    pub(super) kind: Kind,
    /// The whole of it.
    pub(super) span: Span,
    pub(super) length: Option<Reading>,
}

/// What has been read so far.
pub(super) struct Walk<'a> {
    pub(super) source: &'a Source,
    pub(super) library: &'a Library,
    pub(super) columns: &'a Columns,
    pub(super) survey: Survey,
    pub(super) legs: Vec<Leg>,
    pub(super) names: Names,
    pub(super) findings: Vec<Finding>,
    /// The leg that the row above belongs to.
    pub(super) at: Option<usize>,
    /// The height of every outlet that has none of its own.
    pub(super) heights: Option<String>,
    /// The name of the first compressor; empty before its row.
    pub(super) starts: String,
    /// The height of its port.
    pub(super) port: Option<Reading>,
    /// The sides of each room: east-west, and north-south.
    pub(super) sides: Vec<(Option<Reading>, Option<Reading>)>,
}

impl<'a> Walk<'a> {
    pub(super) fn new(source: &'a Source, library: &'a Library, columns: &'a Columns) -> Self {
        Self {
            source,
            library,
            columns,
            survey: Survey {
                units: columns.units,
                ..Survey::default()
            },
            legs: Vec::new(),
            names: Names::default(),
            findings: Vec::new(),
            at: None,
            heights: None,
            starts: String::new(),
            port: None,
            sides: Vec::new(),
        }
    }

    /// What stands in a column of a row.
    pub(super) fn cell<'r>(&self, row: &Row<'r>, column: Column) -> Option<&'r Cell> {
        self.columns.cell(row.cells, column)
    }

    /// A text of a row.
    pub(super) fn text(&self, row: &Row<'_>, column: Column) -> Option<String> {
        self.cell(row, column).map(|cell| cell.text.clone())
    }

    pub(super) fn wrong(
        &mut self,
        rule: &'static str,
        span: Span,
        message: impl AsRef<str>,
        help: impl Into<String>,
    ) {
        let message = format!("row {}: {}", self.source.line(span.start), message.as_ref());
        self.findings
            .push(Finding::unreadable(rule, span, message, help));
    }

    /// Says that there is no `what` of this name, and which there are.
    pub(super) fn unknown(&mut self, what: &str, cell: &Cell, column: Column, known: &[&str]) {
        let mut finding = unknown_name(what, &cell.text, cell.span, known);
        let place = length::place(self.source, cell, column);
        finding.message.insert_str(0, &place);
        self.findings.push(finding);
    }

    /// Takes in one row.
    pub(super) fn row(&mut self, cells: &[Cell]) {
        let span = Span {
            start: cells.first().map_or(0, |cell| cell.span.start),
            end: cells.last().map_or(0, |cell| cell.span.end),
        };
        self.dates_as_names(cells);
        let Some(word) = self.columns.cell(cells, Column::Row) else {
            self.wrong(
                "sheet-row-without-kind",
                span,
                "nothing says what this row is",
                "write leg, drop, drain or another kind under `row`",
            );
            return;
        };
        let Some(kind) = Kind::read(&word.text) else {
            let words = Kind::words();
            self.unknown("kind of row", word, Column::Row, &words);
            // All of them: nobody knows what a row can be from twelve.
            if let Some(finding) = self.findings.last_mut() {
                let near = did_you_mean(&word.text, words)
                    .map_or_else(String::new, |near| format!("did you mean `{near}`? "));
                finding.help = format!("{near}the kinds are {}", words.join(", "));
            }
            return;
        };
        let length = match kind.reads(Column::Ft) {
            true => length::read(cells, self.columns, self.source, &mut self.findings),
            false => Ok(None),
        };
        let row = Row {
            cells,
            kind,
            span,
            length: length.clone().unwrap_or_default(),
        };
        self.say_unread(&row);
        let leg = kind.of_leg().then(|| self.leg(&row)).flatten();
        // A length that cannot be read has been said.
        if length.is_err() {
            if let (Kind::Leg, Some(leg)) = (kind, leg) {
                self.legs[leg].broken = true;
            }
            return;
        }
        match (kind, leg) {
            (Kind::Leg, Some(leg)) => self.straight(&row, leg),
            (Kind::From, Some(leg)) => self.from(&row, leg),
            (Kind::Mark(mark), Some(leg)) => self.mark(&row, mark, leg),
            (Kind::Left, Some(leg)) => self.left(&row, leg),
            _ => facts::read(self, &row),
        }
    }

    /// The direction of a row.
    pub(super) fn way(&mut self, row: &Row<'_>) -> Option<Direction> {
        let Some(cell) = self.cell(row, Column::Way) else {
            self.wrong(
                "sheet-row-without-way",
                row.span,
                "nothing says which way it goes",
                "write north, south, east, west, up or down under `way`",
            );
            return None;
        };
        let word = plain(&cell.text).replace(' ', "");
        let short = SHORT.iter().find(|(letters, _)| *letters == word);
        let word = short.map_or(&*word, |(_, word)| word);
        let found = Direction::WORDS.iter().find(|(known, _)| *known == word);
        if found.is_none() {
            let known = Direction::WORDS.map(|(word, _)| word);
            self.unknown("direction", cell, Column::Way, &known);
        }
        found.map(|(_, way)| *way)
    }

    /// The length of a row that must have one.
    pub(super) fn needed(&mut self, row: &Row<'_>) -> Option<Reading> {
        if row.length.is_none() {
            self.wrong(
                "sheet-row-without-length",
                row.span,
                "the length is empty",
                "write ? if it is not measured, or what was paced with a ~ before it, like ~12",
            );
        }
        row.length.clone()
    }

    /// The name of a row that must have one.
    pub(super) fn named<'r>(&mut self, row: &Row<'r>) -> Option<&'r Cell> {
        let name = self.cell(row, Column::Name);
        if name.is_none() {
            self.wrong(
                "sheet-row-without-name",
                row.span,
                format!("this {} has no name", row.kind.word()),
                "write under `name` what stands here: papers and labels call it so",
            );
        }
        name
    }

    /// Cells that hold something and are not read.
    fn say_unread(&mut self, row: &Row<'_>) {
        for column in [
            Column::Way,
            Column::Ft,
            Column::In,
            Column::Mm,
            Column::ReadFrom,
            Column::Name,
        ] {
            let Some(cell) = self.cell(row, column).filter(|_| !row.kind.reads(column)) else {
                continue;
            };
            let place = length::place(self.source, cell, column);
            let word = row.kind.word();
            self.findings.push(Finding::warning(
                "sheet-cell-not-read",
                cell.span,
                format!(
                    "{place}`{}` is not read, since the row is a {word}",
                    cell.text
                ),
                "what should reach the job file stands under `remark` or in a row of its own",
            ));
        }
    }

    /// A name that is a date was something else before a spreadsheet program got it.
    fn dates_as_names(&mut self, cells: &[Cell]) {
        for column in [Column::Leg, Column::Name] {
            let Some(cell) = self.columns.cell(cells, column) else {
                continue;
            };
            let is_date = cell.text.len() >= 10
                && cell
                    .text
                    .starts_with(|letter: char| letter.is_ascii_digit())
                && super::dates::typed(&cell.text).is_some();
            if is_date {
                let place = length::place(self.source, cell, column);
                self.findings.push(Finding::unreadable(
                    "sheet-name-is-date",
                    cell.span,
                    format!(
                        "{place}`{}`: the spreadsheet turned a name into a date",
                        cell.text
                    ),
                    "make the cell's format text, and write the name again",
                ));
            }
        }
    }
}

const SHORT: [(&str, &str); 10] = [
    ("n", "north"),
    ("ne", "northeast"),
    ("e", "east"),
    ("se", "southeast"),
    ("s", "south"),
    ("sw", "southwest"),
    ("w", "west"),
    ("nw", "northwest"),
    ("u", "up"),
    ("d", "down"),
];

//! A sheet that is read and filled in: headings, sentences, tables, boxes and blanks. What
//! prints it decides nothing.

/// A sheet.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// Its name on the command line: `before`.
    pub word: &'static str,
    /// Its title.
    pub title: &'static str,
    /// Whether it is pinned to a wall: on one page, in type as large as that allows.
    pub card: bool,
    /// What stands on it, from above.
    pub parts: Vec<Part>,
}

/// A part of a sheet.
#[derive(Debug, Clone)]
pub enum Part {
    /// A heading.
    Heading(String),
    /// A sentence or two.
    Note(String),
    /// A caution.
    Caution(String),
    /// Points.
    Points(Vec<String>),
    /// Points with a box to tick.
    Boxes(Vec<String>),
    /// A table; columns of figures stand to the right.
    Table {
        /// The head of each column, and whether figures stand in it.
        columns: Vec<(String, bool)>,
        /// The rows.
        rows: Vec<Vec<String>>,
    },
    /// Rows of blanks, each with its label, filled in where something was read.
    Blanks(Vec<Vec<Blank>>),
    /// Rows to fill in over time under these heads, as many as the page has room for.
    Log(Vec<String>),
}

/// A blank to write on.
#[derive(Debug, Clone)]
pub struct Blank {
    /// What belongs there.
    pub label: String,
    /// What was read; empty where the line is left to write on.
    pub value: String,
}

impl Blank {
    /// One with nothing on it.
    pub(super) fn empty(label: &str) -> Self {
        Self::filled(label, "")
    }

    /// One with this on it.
    pub(super) fn filled(label: &str, value: &str) -> Self {
        Self {
            label: label.to_owned(),
            value: value.to_owned(),
        }
    }
}

impl Part {
    pub(super) fn heading(words: &str) -> Self {
        Self::Heading(words.to_owned())
    }

    pub(super) fn note(words: impl Into<String>) -> Self {
        Self::Note(words.into())
    }

    pub(super) fn blanks<const N: usize>(rows: [&[&str]; N]) -> Self {
        let row = |row: &[&str]| row.iter().map(|label| Blank::empty(label)).collect();
        Self::Blanks(rows.into_iter().map(row).collect())
    }

    pub(super) fn table(columns: &[(&str, bool)], rows: Vec<Vec<String>>) -> Self {
        let columns = columns
            .iter()
            .map(|(head, figures)| ((*head).to_owned(), *figures));
        Self::Table {
            columns: columns.collect(),
            rows,
        }
    }
}

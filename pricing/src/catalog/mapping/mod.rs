//! How a supplier's own sheet is read: which column is which, how numbers,
//! dates and sizes are written, what holds for every row, and the supplier's
//! words for ours. Everything is stated and nothing is guessed.

pub(super) mod dates;
mod numbers;
mod read;
mod sizes;

pub(crate) use dates::DateForm;
pub(crate) use numbers::Numbers;
pub(crate) use sizes::SizeUnit;

use super::columns::Column;
use bom::finding::Finding;
use bom::library::Part;
use bom::source::Source;
use std::collections::BTreeMap;

/// A mapping file.
#[derive(Debug, Clone, Default)]
pub struct Mapping {
    file: String,
    sheet: Option<String>,
    delimiter: Option<char>,
    numbers: Numbers,
    dates: Option<DateForm>,
    sizes: Option<SizeUnit>,
    columns: BTreeMap<Column, String>,
    constants: BTreeMap<Column, String>,
    words: BTreeMap<Column, BTreeMap<String, String>>,
}

impl Mapping {
    /// Reads a mapping file. `parts` are those that its words may stand for.
    ///
    /// # Errors
    /// Everything that is wrong with it.
    pub fn read(source: &Source, parts: &[Part]) -> Result<Self, Vec<Finding>> {
        read::mapping(source, parts)
    }

    /// The sheet's file, as the mapping names it.
    #[must_use]
    pub fn file(&self) -> &str {
        &self.file
    }

    /// The sheet of a workbook; the first one if it names none.
    #[must_use]
    pub fn sheet(&self) -> Option<&str> {
        self.sheet.as_deref()
    }

    /// What stands before the decimals in the sheet's numbers.
    #[must_use]
    pub fn decimal_mark(&self) -> char {
        self.numbers.decimal.unwrap_or('.')
    }

    pub(super) const fn delimiter(&self) -> Option<char> {
        self.delimiter
    }

    pub(super) const fn numbers(&self) -> &Numbers {
        &self.numbers
    }

    pub(super) const fn dates(&self) -> Option<DateForm> {
        self.dates
    }

    pub(super) const fn sizes(&self) -> Option<SizeUnit> {
        self.sizes
    }

    /// Whether the sheet has a header of its own; else its columns are ours.
    pub(super) fn has_columns(&self) -> bool {
        !self.columns.is_empty()
    }

    /// The sheet's name of a column.
    pub(super) fn column(&self, column: Column) -> Option<&str> {
        self.columns.get(&column).map(String::as_str)
    }

    /// What a column says in every row that leaves it out.
    pub(super) fn constant(&self, column: Column) -> Option<&str> {
        self.constants.get(&column).map(String::as_str)
    }

    /// Our word for the supplier's in a column.
    pub(super) fn word(&self, column: Column, theirs: &str) -> Option<&str> {
        let words = self.words.get(&column)?;
        words.get(&plain(theirs)).map(String::as_str)
    }
}

/// A text by which words are compared, capitals and blanks aside.
pub(crate) fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for word in text.split_whitespace() {
        if !plain.is_empty() {
            plain.push(' ');
        }
        plain.extend(word.chars().flat_map(char::to_lowercase));
    }
    plain
}

#[cfg(test)]
mod tests;

//! How outputs come out.

use clap::ValueEnum;

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum TextOrSchema {
    /// Text for people
    Text,
    /// JSON Schema, draft 7
    Schema,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum TextOrJson {
    /// For reading
    Text,
    /// For programs
    Json,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ReadBackFormat {
    /// For reading and writing on
    Text,
    /// For programs
    Json,
    /// The card alone, as tables for the end of the job file
    Toml,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum PartsFormat {
    /// For reading
    Text,
    /// For spreadsheets
    Csv,
    /// For programs
    Json,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum PaperFormat {
    /// For reading
    Text,
    /// For spreadsheets
    Csv,
    /// For programs
    Json,
    /// For paper
    Pdf,
}

/// The formats of what the crew gets.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum CrewFormat {
    /// The order of work, for reading
    Text,
    /// The same for programs
    Json,
    /// The whole set, for paper
    Pdf,
}

/// The formats of papers that are workbooks as well.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum BookFormat {
    /// For reading
    Text,
    /// For spreadsheets, without formulas
    Csv,
    /// For programs
    Json,
    /// For paper
    Pdf,
    /// A workbook with formulas
    Xlsx,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum CountFormat {
    /// For reading
    Text,
    /// For spreadsheets
    Csv,
    /// For programs
    Json,
    /// A workbook
    Xlsx,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum SheetFormat {
    /// For spreadsheets
    Csv,
    /// A workbook
    Xlsx,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum PageFormat {
    /// For the browser
    #[value(alias = "htm")]
    Html,
}

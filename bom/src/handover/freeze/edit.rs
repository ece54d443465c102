//! The changes of a job file, as what writes them takes them.

use std::collections::BTreeSet;

/// A table of the job file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Place {
    /// `[main]`.
    One(&'static str),
    /// `[outlet.bench]`.
    Named(&'static str, String),
    /// The leg of this number.
    Leg(usize),
    /// Its marks.
    Marks(usize),
}

/// What is written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Written {
    /// Text.
    Text(String),
    /// A list of texts.
    List(Vec<String>),
}

/// A change of a job file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Edit {
    /// Writes a key of a table, which is made where the file has none.
    Write(Place, &'static str, Written),
    /// Adds a mark to a leg: its name and its reading.
    Mark(usize, String, String),
    /// Takes a key out.
    Erase(Place, String),
    /// Repeats a named table under another name.
    Repeat(&'static str, String, String),
    /// Takes a table out.
    TakeOut(Place),
    /// Takes every table of the second walk out that names one of these places.
    Unread(BTreeSet<String>),
}

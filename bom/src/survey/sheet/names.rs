//! What places are called: each name is spelled as it was first.

use super::columns::plain;
use crate::source::Span;
use std::collections::BTreeMap;

/// The places of a walk by their names, and the names that legs start from.
#[derive(Debug, Default)]
pub(super) struct Names {
    places: BTreeMap<String, (String, Span)>,
    wanted: Vec<(String, Span, usize)>,
}

impl Names {
    /// Takes in a place, or finds the one of this name; gives its spelling.
    pub(super) fn place(&mut self, name: &str, span: Span) -> String {
        let first = || (name.to_owned(), span);
        let place = self.places.entry(plain(name)).or_insert_with(first);
        place.0.clone()
    }

    /// Where a place of this name stands already.
    pub(super) fn known(&self, name: &str) -> Option<Span> {
        self.places.get(&plain(name)).map(|(_, span)| *span)
    }

    /// Remembers that a leg starts from a place, which may stand further down.
    pub(super) fn wanted(&mut self, name: &str, span: Span, leg: usize) {
        self.wanted.push((name.to_owned(), span, leg));
    }

    /// The legs that start from a place, each with its cell's name and place.
    pub(super) fn starts(&self) -> Vec<(String, Span, usize)> {
        self.wanted.clone()
    }

    /// How a place is spelled, if it is known.
    pub(super) fn spelled(&self, name: &str) -> Option<String> {
        self.places.get(&plain(name)).map(|(name, _)| name.clone())
    }

    /// All places.
    pub(super) fn all(&self) -> Vec<String> {
        self.places.values().map(|(name, _)| name.clone()).collect()
    }
}

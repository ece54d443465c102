//! A table of a record, in which an empty text is a reading that was not taken.

use crate::finding::Finding;
use crate::job::{Fields, read_quantity};
use crate::quantity::QuantityError;
use crate::source::{Span, Spanned};
use toml::de::DeValue;

/// A table being read.
pub(super) struct Table<'a> {
    fields: Fields<'a>,
    name: String,
}

impl<'a> Table<'a> {
    pub(super) fn of(
        name: String,
        value: &'a toml::Spanned<DeValue<'a>>,
        known: &[&str],
        findings: &mut Vec<Finding>,
    ) -> Option<Self> {
        let fields = Fields::of(name.clone(), value, known, findings)?;
        Some(Self { fields, name })
    }

    pub(super) const fn new(name: String, fields: Fields<'a>) -> Self {
        Self { fields, name }
    }

    /// Whether something stands behind the key.
    pub(super) fn is_filled(&self, key: &str) -> bool {
        self.fields
            .value(key)
            .is_some_and(|value| match value.get_ref() {
                DeValue::String(text) => !text.trim().is_empty(),
                _ => true,
            })
    }

    pub(super) fn is_any_filled(&self, keys: &[&str]) -> bool {
        keys.iter().any(|key| self.is_filled(key))
    }

    /// Where the value of a key stands, else its table.
    pub(super) fn span(&self, key: &str) -> Span {
        let value = self.fields.value(key);
        value.map_or(self.fields.span, |value| value.span().into())
    }

    /// What stands behind the key.
    pub(super) fn given(&self, key: &str, findings: &mut Vec<Finding>) -> Option<Spanned<&'a str>> {
        let text = self.fields.text(key, findings)?;
        (!text.value.trim().is_empty()).then_some(text)
    }

    /// Words, as they were written.
    pub(super) fn words(&self, key: &str, findings: &mut Vec<Finding>) -> String {
        let given = self.given(key, findings);
        given.map_or_else(String::new, |text| text.value.trim().to_owned())
    }

    pub(super) fn quantity<T>(
        &self,
        key: &str,
        parse: impl FnOnce(&str) -> Result<T, QuantityError>,
        findings: &mut Vec<Finding>,
    ) -> Option<Spanned<T>> {
        if !self.is_filled(key) {
            return None;
        }
        let text = self.fields.text_or_bare_number(key, findings)?;
        read_quantity(text, parse, findings)
    }

    /// Says what a reading that was begun lacks.
    pub(super) fn needs(&self, keys: &[(&str, &str)], findings: &mut Vec<Finding>) {
        self.fields.require(keys, findings);
        let empty = |key: &str| self.fields.value(key).is_some() && !self.is_filled(key);
        for (key, example) in keys.iter().filter(|(key, _)| empty(key)) {
            findings.push(Finding::unreadable(
                "half-a-reading",
                self.span(key),
                format!("{} was read, and `{key}` is empty", self.name),
                format!("fill in `{key} = {example}`, or leave all of it empty"),
            ));
        }
    }
}

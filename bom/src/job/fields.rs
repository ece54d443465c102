//! Reading one TOML table key by key, so that every problem of a table is
//! found at once and each keeps its place.

use crate::finding::{Finding, did_you_mean};
use crate::quantity::QuantityError;
use crate::source::{Span, Spanned};
use toml::de::{DeTable, DeValue};

/// One entry of a table of tables: its name and its fields.
pub(crate) type Entry<'a> = (Spanned<String>, &'a toml::Spanned<DeValue<'a>>);

/// A table being read.
pub(crate) struct Fields<'a> {
    table: &'a DeTable<'a>,
    /// Where its header stands.
    pub(crate) span: Span,
    name: String,
    /// Keys that a mistyped one probably meant.
    meant: Vec<String>,
}

impl<'a> Fields<'a> {
    /// Takes a table and refuses every key that is not in `known`.
    pub(crate) fn new(
        name: impl Into<String>,
        table: &'a DeTable<'a>,
        span: Span,
        known: &[&str],
        findings: &mut Vec<Finding>,
    ) -> Self {
        let name = name.into();
        let mut meant = Vec::new();
        for (key, _) in table {
            let written: &str = key.get_ref();
            if !known.contains(&written) {
                findings.push(unknown_key(written, key.span().into(), &name, known));
                meant.extend(did_you_mean(written, known.iter().copied()).map(str::to_owned));
            }
        }
        Self {
            table,
            span,
            name,
            meant,
        }
    }

    /// Takes `value` as a table, or says what it is instead.
    pub(crate) fn of(
        name: impl Into<String>,
        value: &'a toml::Spanned<DeValue<'a>>,
        known: &[&str],
        findings: &mut Vec<Finding>,
    ) -> Option<Self> {
        let name = name.into();
        match value.get_ref() {
            DeValue::Table(table) => {
                Some(Self::new(name, table, value.span().into(), known, findings))
            }
            other => {
                findings.push(wrong_type(&name, "a table", other, value.span().into()));
                None
            }
        }
    }

    pub(crate) fn value(&self, key: &str) -> Option<&'a toml::Spanned<DeValue<'a>>> {
        self.table
            .iter()
            .find(|(known, _)| known.get_ref().as_ref() == key)
            .map(|(_, value)| value)
    }

    /// The text of `key`, if it is there and is text.
    pub(crate) fn text(&self, key: &str, findings: &mut Vec<Finding>) -> Option<Spanned<&'a str>> {
        text_of(key, self.value(key)?, findings)
    }

    /// The quantity of `key`, if it is there and can be read.
    pub(crate) fn quantity<T>(
        &self,
        key: &str,
        parse: impl FnOnce(&str) -> Result<T, QuantityError>,
        findings: &mut Vec<Finding>,
    ) -> Option<Spanned<T>> {
        let text = self.text_or_bare_number(key, findings)?;
        read_quantity(text, parse, findings)
    }

    /// A bare number is read as text, so that the quantity's own message can
    /// say what it might have meant.
    pub(crate) fn text_or_bare_number(
        &self,
        key: &str,
        findings: &mut Vec<Finding>,
    ) -> Option<Spanned<&'a str>> {
        let value = self.value(key)?;
        let span = value.span().into();
        match value.get_ref() {
            DeValue::Integer(number) => Some(Spanned::new(number.as_str(), span)),
            DeValue::Float(number) => Some(Spanned::new(number.as_str(), span)),
            _ => text_of(key, value, findings),
        }
    }

    /// Says which keys are missing; one that was mistyped has been told.
    pub(crate) fn require(&self, keys: &[(&str, &str)], findings: &mut Vec<Finding>) {
        for (key, example) in keys {
            if self.value(key).is_none() && !self.meant.iter().any(|meant| meant == key) {
                findings.push(Finding::unreadable(
                    "missing-key",
                    self.span,
                    format!("{} has no `{key}`", self.name),
                    format!("add `{key} = {example}`"),
                ));
            }
        }
    }

    /// The items of the list `key`.
    pub(crate) fn list(
        &self,
        key: &str,
        findings: &mut Vec<Finding>,
    ) -> Vec<&'a toml::Spanned<DeValue<'a>>> {
        let Some(value) = self.value(key) else {
            return Vec::new();
        };
        match value.get_ref() {
            DeValue::Array(items) => items.iter().collect(),
            other => {
                let span = value.span().into();
                findings.push(wrong_type(&format!("`{key}`"), "a list", other, span));
                Vec::new()
            }
        }
    }

    /// The items of `key`, where a single value counts as a list of one.
    pub(crate) fn one_or_list(&self, key: &str) -> Vec<&'a toml::Spanned<DeValue<'a>>> {
        match self.value(key).map(|value| (value, value.get_ref())) {
            None => Vec::new(),
            Some((_, DeValue::Array(items))) => items.iter().collect(),
            Some((value, _)) => vec![value],
        }
    }

    /// The entries of the table `key`, in the order of the file.
    pub(crate) fn entries(&self, key: &str, findings: &mut Vec<Finding>) -> Vec<Entry<'a>> {
        let Some(value) = self.value(key) else {
            return Vec::new();
        };
        let DeValue::Table(table) = value.get_ref() else {
            findings.push(wrong_type(
                key,
                "a table",
                value.get_ref(),
                value.span().into(),
            ));
            return Vec::new();
        };
        let mut entries: Vec<Entry<'a>> = table
            .iter()
            .map(|(key, value)| {
                (
                    Spanned::new(key.get_ref().to_string(), key.span().into()),
                    value,
                )
            })
            .collect();
        entries.sort_by_key(|(name, _)| name.span);
        entries
    }
}

/// The text of a value, or what it is instead.
pub(crate) fn text_of<'a>(
    key: &str,
    value: &'a toml::Spanned<DeValue<'a>>,
    findings: &mut Vec<Finding>,
) -> Option<Spanned<&'a str>> {
    let span: Span = value.span().into();
    match value.get_ref() {
        DeValue::String(text) => Some(Spanned::new(text.as_ref(), span)),
        other => {
            findings.push(wrong_type(
                &format!("`{key}`"),
                "text in quotes",
                other,
                span,
            ));
            None
        }
    }
}

/// A quantity at its place, or what is wrong with it.
pub(crate) fn read_quantity<T>(
    text: Spanned<&str>,
    parse: impl FnOnce(&str) -> Result<T, QuantityError>,
    findings: &mut Vec<Finding>,
) -> Option<Spanned<T>> {
    match parse(text.value) {
        Ok(value) => Some(Spanned::new(value, text.span)),
        Err(error) => {
            findings.push(Finding::unreadable(
                "quantity",
                text.span,
                error.message,
                error.help,
            ));
            None
        }
    }
}

/// One of a few words, or which words there are.
pub(crate) fn one_of<T: Copy>(
    what: &str,
    text: Spanned<&str>,
    words: &[(&str, T)],
    findings: &mut Vec<Finding>,
) -> Option<Spanned<T>> {
    if let Some((_, value)) = words.iter().find(|(word, _)| *word == text.value.trim()) {
        return Some(Spanned::new(*value, text.span));
    }
    let names: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
    findings.push(unknown_name(what, text.value, text.span, &names));
    None
}

/// `written` is no `what`; the nearest of `known` is offered.
pub(crate) fn unknown_name(what: &str, written: &str, span: Span, known: &[&str]) -> Finding {
    let list = name_list(known);
    let help = match did_you_mean(written, known.iter().copied()) {
        Some(near) => format!("did you mean `{near}`? {list}"),
        None => list,
    };
    Finding::unreadable(
        "unknown-name",
        span,
        format!("there is no {what} `{written}`"),
        help,
    )
}

fn unknown_key(written: &str, span: Span, table: &str, known: &[&str]) -> Finding {
    let list = format!("{table} may have: {}", known.join(", "));
    let help = match did_you_mean(written, known.iter().copied()) {
        Some(near) => format!("did you mean `{near}`? {list}"),
        None => list,
    };
    Finding::unreadable(
        "unknown-key",
        span,
        format!("{table} has no key `{written}`"),
        help,
    )
}

fn name_list(known: &[&str]) -> String {
    const MOST: usize = 12;
    match known.len() {
        0 => "the file defines none".to_owned(),
        count if count > MOST => format!("known are {} and others", known[..MOST].join(", ")),
        _ => format!("known are {}", known.join(", ")),
    }
}

fn wrong_type(what: &str, wanted: &str, found: &DeValue<'_>, span: Span) -> Finding {
    let found = match found {
        DeValue::String(_) => "text",
        DeValue::Integer(_) | DeValue::Float(_) => "a bare number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    };
    Finding::unreadable(
        "wrong-type",
        span,
        format!("{what} must be {wanted}, and this is {found}"),
        match wanted {
            "text in quotes" => "put the value in double quotes",
            "a list" => "put the items in square brackets: [\"…\", \"…\"]",
            _ => "give each item its name: { name = \"…\" }",
        },
    )
}

//! From the text of a mapping file to a [`Mapping`], with every problem found.

mod forms;

use super::{Mapping, plain};
use crate::catalog::columns::Column;
use bom::finding::{Finding, did_you_mean};
use bom::library::Part;
use bom::source::{Source, Span};
use std::collections::BTreeMap;
use toml::de::{DeTable, DeValue};

/// What says how the sheet is read.
const FORMS: [&str; 10] = [
    "file",
    "sheet",
    "delimiter",
    "decimal",
    "thousands",
    "symbol",
    "dates",
    "sizes",
    "columns",
    "words",
];

/// The columns that may hold for every row.
const CONSTANTS: [Column; 11] = [
    Column::Part,
    Column::System,
    Column::Description,
    Column::Unit,
    Column::Pack,
    Column::PriceFor,
    Column::Currency,
    Column::Supplier,
    Column::Aisle,
    Column::PricedOn,
    Column::FromQuantity,
];

pub(super) fn mapping(source: &Source, parts: &[Part]) -> Result<Mapping, Vec<Finding>> {
    let (document, errors) = DeTable::parse_recoverable(source.text());
    if let Some(error) = errors.first() {
        let span = error.span().map_or_else(Span::default, Span::from);
        let help = "write each line as `key = \"value\"`, like decimal = \",\"";
        return Err(vec![Finding::unreadable(
            "mapping-syntax",
            span,
            error.message(),
            help,
        )]);
    }
    let mut reader = Reader {
        parts,
        mapping: Mapping::default(),
        findings: Vec::new(),
    };
    for (key, value) in document.get_ref() {
        reader.entry(key.get_ref(), key.span().into(), value);
    }
    // A mistyped one has been told.
    let mut keys = document.get_ref().keys().map(toml::Spanned::get_ref);
    let names_file = keys.any(|key| did_you_mean(key, FORMS) == Some("file"));
    reader.whole(names_file, source.line_span(1));
    if reader.findings.is_empty() {
        Ok(reader.mapping)
    } else {
        reader.findings.sort_by_key(Finding::place);
        Err(reader.findings)
    }
}

struct Reader<'a> {
    parts: &'a [Part],
    mapping: Mapping,
    findings: Vec<Finding>,
}

type Value<'a> = toml::Spanned<DeValue<'a>>;

impl Reader<'_> {
    fn wrong(&mut self, span: Span, message: impl Into<String>, help: impl Into<String>) {
        let finding = Finding::unreadable("mapping-value", span, message, help);
        self.findings.push(finding);
    }

    fn entry(&mut self, key: &str, at: Span, value: &Value<'_>) {
        match key {
            "columns" => self.columns(value),
            "words" => self.words(value),
            _ => {
                let constant = CONSTANTS.into_iter().find(|column| column.name() == key);
                if constant.is_none() && !FORMS.contains(&key) {
                    let constants = CONSTANTS.map(Column::name);
                    let known: Vec<&str> = FORMS.into_iter().chain(constants).collect();
                    self.unknown(key, at, &known, "a mapping");
                    return;
                }
                let Some(text) = self.text(key, value) else {
                    return;
                };
                match constant {
                    Some(column) => self.constant(column, &text, value.span().into()),
                    None => self.form(key, text, value.span().into()),
                }
            }
        }
    }

    fn unknown(&mut self, key: &str, at: Span, known: &[&str], of: &str) {
        let help = did_you_mean(key, known.iter().copied()).map_or_else(
            || format!("known are {}", known.join(", ")),
            |near| format!("did you mean `{near}`?"),
        );
        self.wrong(at, format!("`{key}` is not known in {of}"), help);
    }

    /// A value as text; whole numbers and dates need no quotation marks.
    fn text(&mut self, key: &str, value: &Value<'_>) -> Option<String> {
        match value.get_ref() {
            DeValue::String(text) => Some(text.trim().to_owned()),
            DeValue::Integer(number) => Some(number.as_str().to_owned()),
            DeValue::Datetime(date) => Some(date.to_string()),
            _ => {
                self.wrong(
                    value.span().into(),
                    format!("`{key}` is not a text"),
                    "put it in quotation marks",
                );
                None
            }
        }
    }

    fn not_a_part(&self, text: &str) -> Option<(String, String)> {
        let names = self.parts.iter().map(|part| part.name.as_str());
        if names.clone().any(|name| name == text) {
            return None;
        }
        let help = match did_you_mean(text, names.clone()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("the parts are {}", names.collect::<Vec<_>>().join(", ")),
        };
        Some((format!("`{text}` is not a part"), help))
    }

    fn columns(&mut self, value: &Value<'_>) {
        let DeValue::Table(table) = value.get_ref() else {
            let help =
                "write our name = the sheet's name, like { part = \"Article\", size = \"Dim\" }";
            return self.wrong(value.span().into(), "`columns` is not a table", help);
        };
        for (key, value) in table {
            let Some(column) = Column::named(key.get_ref()) else {
                let known = Column::ALL.map(Column::name);
                self.unknown(key.get_ref(), key.span().into(), &known, "`columns`");
                continue;
            };
            match self.text(key.get_ref(), value) {
                Some(text) if text.is_empty() => self.wrong(
                    value.span().into(),
                    format!("`{}` has no column", column.name()),
                    "name the sheet's column, or leave this out",
                ),
                Some(text) => {
                    self.mapping.columns.insert(column, text);
                }
                None => {}
            }
        }
    }

    fn words(&mut self, value: &Value<'_>) {
        let DeValue::Table(table) = value.get_ref() else {
            let help = "write { part = { \"theirs\" = \"ours\" } }";
            return self.wrong(value.span().into(), "`words` is not a table", help);
        };
        for (key, value) in table {
            let Some(column) = Column::named(key.get_ref()) else {
                let known = Column::ALL.map(Column::name);
                self.unknown(key.get_ref(), key.span().into(), &known, "`words`");
                continue;
            };
            let DeValue::Table(words) = value.get_ref() else {
                let message = format!("the words of `{}` are not a table", column.name());
                let help =
                    "write the supplier's word = ours, like { \"Ball cock\" = \"ball-valve\" }";
                self.wrong(value.span().into(), message, help);
                continue;
            };
            let mut read = BTreeMap::new();
            for (theirs, ours) in words {
                let Some(text) = self.text(theirs.get_ref(), ours) else {
                    continue;
                };
                // A word for nothing says that the row is none of ours.
                if column == Column::Part
                    && !text.is_empty()
                    && let Some((message, help)) = self.not_a_part(&text)
                {
                    self.wrong(ours.span().into(), message, help);
                    continue;
                }
                if read.insert(plain(theirs.get_ref()), text).is_some() {
                    let message = format!("`{}` stands twice, capitals aside", theirs.get_ref());
                    self.wrong(theirs.span().into(), message, "delete one of the two");
                }
            }
            self.mapping.words.insert(column, read);
        }
    }

    /// What is wrong with the mapping as a whole.
    fn whole(&mut self, names_file: bool, span: Span) {
        let mapping = &self.mapping;
        let numbers = &mapping.numbers;
        let has = |column| mapping.column(column).is_some();
        let lacks = |column: Column| mapping.has_columns() && !has(column);
        let mut wrong: Vec<(String, &str)> = Vec::new();
        if !names_file {
            wrong.push((
                "the mapping has no `file`".to_owned(),
                "name the sheet's file, which lies beside this one, like file = \"north.csv\"",
            ));
        }
        for column in [Column::Part, Column::Size, Column::Price] {
            let constant = mapping.constant(column).is_some();
            if lacks(column) && !constant && self.findings.is_empty() {
                wrong.push((
                    format!("`columns` does not say which column is `{}`", column.name()),
                    "a sheet needs at least part, size and price",
                ));
            }
        }
        if numbers.thousands.is_some() && numbers.decimal.is_none() {
            wrong.push((
                "`thousands` is stated and `decimal` is not".to_owned(),
                "say what stands before the decimals, like decimal = \".\"",
            ));
        }
        if numbers.thousands.is_some() && numbers.thousands == numbers.decimal {
            wrong.push((
                "the same sign stands between thousands and before decimals".to_owned(),
                "say which of the two it is, and leave the other line out",
            ));
        }
        for (message, help) in wrong {
            self.wrong(span, message, help);
        }
    }
}

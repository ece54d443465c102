//! A job file with changes written into it: what else it says, and every comment, stays.

use super::tidy::tidy;
use bom::handover::{Edit, Place, Written};
use std::collections::BTreeSet;
use toml_edit::{Array, DocumentMut, Item, Table, TableLike, Value};

/// The text with these changes and lines of comment above it; none where it is no TOML.
#[must_use]
pub fn frozen(text: &str, edits: &[Edit], above: &[String]) -> Option<String> {
    let mut document: DocumentMut = text.replace("\r\n", "\n").parse().ok()?;
    for edit in edits {
        apply(&mut document, edit);
    }
    let above: String = above
        .iter()
        .map(|line| format!("# {line}").trim_end().to_owned() + "\n")
        .collect();
    let tidied = tidy(&format!("{above}\n{document}"))?;
    Some(if text.contains("\r\n") {
        tidied.replace('\n', "\r\n")
    } else {
        tidied
    })
}

fn apply(document: &mut DocumentMut, edit: &Edit) {
    match edit {
        Edit::Write(at, key, written) => {
            make(document, at);
            if let Some(table) = table(document, at) {
                write(table, key, written);
            }
        }
        Edit::Mark(leg, name, reading) => {
            let Some(leg) = table(document, &Place::Leg(*leg)) else {
                return;
            };
            let marks = leg.entry("marks");
            let marks =
                marks.or_insert_with(|| Item::Value(Value::InlineTable(Default::default())));
            if let Some(marks) = marks.as_table_like_mut() {
                write(marks, name, &Written::Text(reading.clone()));
            }
            // The last mark is the one that a closing reading counts from.
            match marks {
                Item::Table(marks) => {
                    marks.sort_values_by(|a, _, b, _| (a.get() != name).cmp(&(b.get() != name)))
                }
                Item::Value(Value::InlineTable(marks)) => {
                    marks.sort_values_by(|a, _, b, _| (a.get() != name).cmp(&(b.get() != name)))
                }
                Item::Value(_) | Item::ArrayOfTables(_) | Item::None => {}
            }
            spaced(marks);
        }
        Edit::Erase(at, key) => {
            let mut is_left_empty = false;
            if let Some(table) = table(document, at) {
                table.remove(key);
                is_left_empty = table.is_empty();
            }
            if let (true, Place::One(_)) = (is_left_empty, at) {
                take_out(document, at);
            }
            if let Place::Marks(leg) = at
                && let Some(leg) = table(document, &Place::Leg(*leg))
                && let Some(marks) = leg.get_mut("marks")
            {
                spaced(marks);
                if marks.as_table_like().is_some_and(TableLike::is_empty) {
                    leg.remove("marks");
                }
            }
        }
        Edit::Repeat(kind, name, other) => repeat(document, kind, name, other),
        Edit::TakeOut(at) => take_out(document, at),
        Edit::Unread(names) => unread(document, names),
    }
}

/// Makes a table that is not there yet; one among others stands behind them.
fn make(document: &mut DocumentMut, at: &Place) {
    match at {
        Place::One(name) => {
            document
                .entry(name)
                .or_insert_with(|| Item::Table(Table::new()));
        }
        Place::Named(kind, name) => {
            let tables = document.entry(kind).or_insert_with(|| {
                let mut tables = Table::new();
                tables.set_implicit(true);
                Item::Table(tables)
            });
            let Some(tables) = tables.as_table_like_mut() else {
                return;
            };
            tables
                .entry(name)
                .or_insert_with(|| Item::Table(Table::new()));
        }
        Place::Leg(_) | Place::Marks(_) => {}
    }
}

fn table<'a>(document: &'a mut DocumentMut, at: &Place) -> Option<&'a mut dyn TableLike> {
    match at {
        Place::One(name) => document.get_mut(name)?.as_table_like_mut(),
        Place::Named(kind, name) => {
            let tables = document.get_mut(kind)?.as_table_like_mut()?;
            tables.get_mut(name)?.as_table_like_mut()
        }
        Place::Leg(number) => {
            let index = number.checked_sub(1)?;
            match document.get_mut("leg")? {
                Item::ArrayOfTables(legs) => Some(legs.get_mut(index)?),
                Item::Value(Value::Array(legs)) => {
                    Some(legs.get_mut(index)?.as_inline_table_mut()?)
                }
                Item::Table(_) | Item::Value(_) | Item::None => None,
            }
        }
        Place::Marks(number) => {
            let leg = table(document, &Place::Leg(*number))?;
            leg.get_mut("marks")?.as_table_like_mut()
        }
    }
}

/// Writes a value in the place of the one that is there, whose comment stays.
fn write(table: &mut dyn TableLike, key: &str, written: &Written) {
    let mut value: Value = match written {
        Written::Text(text) => text.as_str().into(),
        Written::List(texts) => Value::Array(texts.iter().map(String::as_str).collect::<Array>()),
    };
    match table.get_mut(key) {
        Some(Item::Value(there)) => {
            *value.decor_mut() = there.decor().clone();
            *there = value;
        }
        _ => {
            table.insert(key, Item::Value(value));
        }
    }
}

/// Spaces between the entries of a table in braces on one line.
fn spaced(item: &mut Item) {
    let is_one_line = !item.to_string().trim().contains('\n');
    if let (true, Some(table)) = (is_one_line, item.as_inline_table_mut()) {
        table.fmt();
    }
}

/// A table once more, under another name.
fn repeat(document: &mut DocumentMut, kind: &str, name: &str, other: &str) {
    let Some(tables) = document.get_mut(kind).and_then(Item::as_table_like_mut) else {
        return;
    };
    let Some(mut copy) = tables.get(name).cloned() else {
        return;
    };
    if let Item::Table(table) = &mut copy {
        // What stands above the first is said once.
        table.decor_mut().set_prefix("\n");
    }
    tables.insert(other, copy);
}

fn take_out(document: &mut DocumentMut, at: &Place) {
    match at {
        Place::One(name) => {
            document.remove(name);
        }
        Place::Named(kind, name) => {
            let tables = document.get_mut(kind).and_then(Item::as_table_like_mut);
            let Some(tables) = tables else { return };
            tables.remove(name);
            if tables.is_empty() {
                document.remove(kind);
            }
        }
        Place::Leg(number) => {
            let Some(index) = number.checked_sub(1) else {
                return;
            };
            match document.get_mut("leg") {
                Some(Item::ArrayOfTables(legs)) if index < legs.len() => {
                    legs.remove(index);
                }
                Some(Item::Value(Value::Array(legs))) if index < legs.len() => {
                    legs.remove(index);
                }
                _ => {}
            }
        }
        Place::Marks(number) => {
            if let Some(leg) = table(document, &Place::Leg(*number)) {
                leg.remove("marks");
            }
        }
    }
}

/// Takes out what a second walk has read of places that are gone.
fn unread(document: &mut DocumentMut, names: &BTreeSet<String>) {
    let names_one = |check: &dyn TableLike| {
        ["from", "to"].iter().any(|key| {
            let place = check.get(key).and_then(Item::as_str);
            place.is_some_and(|place| names.contains(place.trim()))
        })
    };
    let left = match document.get_mut("check") {
        Some(Item::ArrayOfTables(checks)) => {
            checks.retain(|check: &Table| !names_one(check));
            checks.len()
        }
        Some(Item::Value(Value::Array(checks))) => {
            checks.retain(|check| !check.as_inline_table().is_some_and(|one| names_one(one)));
            checks.len()
        }
        _ => return,
    };
    if left == 0 {
        document.remove("check");
    }
}

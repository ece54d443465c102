//! The job file as JSON Schema (draft 7, which editors read), by which they complete
//! words, show help and find slips while one types.

use super::print;
use bom::job::Direction;
use bom::job::keys::{Form, Key, Kind, Table};
use bom::library::Library;
use serde_json::{Map, Value, json};
use std::io::{self, Write};

/// A length as it is measured, paced (`~`), or not measured (`?`).
const TAPED: &str = r"^\s*(\?|~?\s*[0-9].*)$";

/// Writes the schema.
///
/// # Errors
/// Those of `out`.
pub fn schema(tables: &[Table], library: &Library, out: &mut dyn Write) -> io::Result<()> {
    let inline = tables.iter().find(|table| table.form == Form::Inline);
    let tool = inline.map_or(Value::Null, |table| keys(table, &Value::Null, library));
    let top = tables.iter().filter(|table| table.form != Form::Inline);
    let properties: Map<String, Value> = top
        .clone()
        .map(|table| {
            let keys = keys(table, &tool, library);
            let mut whole = match table.form {
                Form::Named => json!({"type": "object", "additionalProperties": keys}),
                Form::Listed => json!({"type": "array", "items": keys}),
                Form::One | Form::Rules | Form::Inline => keys,
            };
            whole["description"] = json!(table.help);
            (table.name.clone(), whole)
        })
        .collect();
    let must: Vec<&str> = top
        .filter(|table| table.must)
        .map(|table| table.name.as_str())
        .collect();
    let whole = json!({
        "$schema": "http://json-schema.org/draft-07/schema#",
        "title": "A dripleg job file",
        "type": "object",
        "properties": properties,
        "required": must,
        "additionalProperties": false,
    });
    print(&whole, out)
}

/// What a table holds.
fn keys(table: &Table, tool: &Value, library: &Library) -> Value {
    let properties: Map<String, Value> = table
        .keys
        .iter()
        .map(|key| {
            let mut value = kind(key, tool, library);
            value["description"] = json!(format!("{}; like {}", key.help, key.example));
            (key.name.clone(), value)
        })
        .collect();
    let must = table
        .keys
        .iter()
        .filter(|key| key.must && key.unless.is_none());
    let must: Vec<&str> = must.map(|key| key.name.as_str()).collect();
    json!({
        "type": "object",
        "properties": properties,
        "required": must,
        "additionalProperties": false,
    })
}

fn kind(key: &Key, tool: &Value, library: &Library) -> Value {
    let text = || json!({"type": "string"});
    match &key.kind {
        Kind::Text(what) if what == "taped" => json!({"type": "string", "pattern": TAPED}),
        // A tool that is in no list has figures of its own.
        Kind::Text(what) if what == "tool" => {
            let names = library.tools().iter().map(|tool| tool.name.as_str());
            json!({"anyOf": [{"enum": names.collect::<Vec<_>>()}, text()]})
        }
        Kind::Text(_) => text(),
        Kind::Choice(words) => json!({"enum": words}),
        Kind::Number => json!({"type": ["number", "string"]}),
        Kind::Straights => {
            let ways: Vec<&str> = Direction::words().collect();
            let one = format!(r"^\s*({})\s+(\?|~?\s*[0-9].*)$", ways.join("|"));
            let one = json!({"type": "string", "pattern": one});
            json!({"anyOf": [one, {"type": "array", "items": one, "minItems": 1}]})
        }
        Kind::Marks => {
            json!({"type": "object", "additionalProperties": {"type": "string", "pattern": TAPED}})
        }
        Kind::Corner => {
            json!({"oneOf": [text(), {"type": "array", "items": text(), "minItems": 3, "maxItems": 3}]})
        }
        Kind::List => json!({"type": "array", "items": text()}),
        Kind::Lists => json!({"type": "array", "items": {"type": "array", "items": text()}}),
        Kind::Tools => json!({"type": "array", "items": tool}),
    }
}

//! What a job file may say: every table and key with its kind, an example and what it is
//! for. It is data; the tests hold it against what is read.

use crate::library::Library;
use crate::practice::RULES;
use csv::{ReaderBuilder, StringRecord};

const ROWS: &str = include_str!("../../data/job_keys.csv");

/// A table of the job file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// Its name: `leg`.
    pub name: String,
    /// How it is written.
    pub form: Form,
    /// Whether no job is read without it.
    pub must: bool,
    /// What it is for.
    pub help: String,
    /// Its keys, in order.
    pub keys: Vec<Key>,
}

/// How a table is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// Once: `[main]`.
    One,
    /// Any number, each with a name: `[outlet.bench]`.
    Named,
    /// Any number, in order: `[[leg]]`.
    Listed,
    /// In braces, as an item of a list.
    Inline,
    /// Once, its keys the names of rules: `[accept]`.
    Rules,
}

/// A key of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Key {
    /// Its name: `from`.
    pub name: String,
    /// What is written there.
    pub kind: Kind,
    /// Whether the table is not read without it.
    pub must: bool,
    /// The key that may stand in its place.
    pub unless: Option<String>,
    /// An example, as it is written in the file.
    pub example: String,
    /// What it is for.
    pub help: String,
}

/// What is written at a key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Kind {
    /// Text in quotes that reads as a quantity or is free, by what it is called.
    Text(String),
    /// One of these words.
    Choice(Vec<String>),
    /// A number, or the same as text.
    Number,
    /// A straight, or a list of them.
    Straights,
    /// A length along a wall, or a list of three from a corner.
    Corner,
    /// Places by their names, each with a reading.
    Marks,
    /// A list of texts.
    List,
    /// A list of lists of texts.
    Lists,
    /// A list of tools in braces.
    Tools,
}

/// Every table of the job file, in the order in which a file usually has them.
///
/// # Errors
/// Where the shipped data is broken, which no release is.
pub fn tables(library: &Library) -> Result<Vec<Table>, String> {
    let mut reader = ReaderBuilder::new().from_reader(ROWS.as_bytes());
    let mut tables: Vec<Table> = Vec::new();
    for row in reader.records() {
        let row = row.map_err(|error| error.to_string())?;
        let field = |at: usize| row.get(at).unwrap_or("").to_owned();
        if field(1).is_empty() {
            tables.push(table(&row, &field)?);
            continue;
        }
        let of = tables.last_mut().filter(|table| table.name == field(0));
        let of = of.ok_or_else(|| format!("{} has no table above it", field(1)))?;
        of.keys.push(key(&field, library)?);
    }
    Ok(tables)
}

fn table(row: &StringRecord, field: &impl Fn(usize) -> String) -> Result<Table, String> {
    let form = match row.get(2) {
        Some("one") => Form::One,
        Some("named") => Form::Named,
        Some("listed") => Form::Listed,
        Some("inline") => Form::Inline,
        Some("rules") => Form::Rules,
        other => return Err(format!("no table is written {other:?}")),
    };
    let rules = RULES.iter().map(|rule| Key {
        name: rule.name.to_owned(),
        kind: Kind::Text("reason".to_owned()),
        must: false,
        unless: None,
        example: "existing beam; drained at both ends".to_owned(),
        help: rule.finds.to_owned(),
    });
    Ok(Table {
        name: field(0),
        form,
        must: field(3) == "yes",
        help: field(5),
        keys: if form == Form::Rules {
            rules.collect()
        } else {
            Vec::new()
        },
    })
}

fn key(field: &impl Fn(usize) -> String, library: &Library) -> Result<Key, String> {
    let written = field(2);
    let (word, choices) = written.split_once(' ').unwrap_or((&written, ""));
    let systems = library.systems().iter();
    let systems = systems.filter(|system| system.carries_main);
    let (kind, quoted) = match word {
        "choice" => {
            let words = choices.split('|').map(str::to_owned);
            (Kind::Choice(words.collect()), true)
        }
        "system" => {
            let names = systems.map(|system| system.name.clone());
            (Kind::Choice(names.collect()), true)
        }
        "count" | "share" => (Kind::Number, false),
        "go" => (Kind::Straights, false),
        "marks" => (Kind::Marks, false),
        "connect" | "outlets" | "point" => (Kind::List, false),
        "corner" => (Kind::Corner, true),
        "sides" => (Kind::Lists, false),
        "tools" => (Kind::Tools, false),
        "" => return Err(format!("{} has no kind", field(1))),
        word => (Kind::Text(word.to_owned()), true),
    };
    let example = field(4);
    Ok(Key {
        name: field(1),
        kind,
        must: !field(3).is_empty(),
        unless: field(3).strip_prefix("unless ").map(str::to_owned),
        example: if quoted {
            format!("\"{example}\"")
        } else {
            example
        },
        help: field(5),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::Source;

    const MILLRACE: &str = include_str!("../../../catalogs-demo/millrace.toml");

    fn all() -> Vec<Table> {
        tables(&Library::shipped().unwrap()).unwrap()
    }

    /// A file with this one table.
    fn file(table: &Table, lines: &str) -> String {
        let name = &table.name;
        match table.form {
            Form::One | Form::Rules => format!("[{name}]\n{lines}"),
            Form::Named => format!("[{name}.x]\n{lines}"),
            // Checks are read where there is a walk.
            Form::Listed => format!("{MILLRACE}\n[[{name}]]\n{lines}"),
            Form::Inline => {
                let items: Vec<&str> = lines.lines().collect();
                format!("[outlet.x]\ntools = [{{ {} }}]", items.join(", "))
            }
        }
    }

    /// What reading this file finds, by rule.
    fn found(text: &str, rule: &str) -> Vec<crate::finding::Finding> {
        let source = Source::new("job", text.to_owned());
        let (_, findings) = crate::job::read(&source, &Library::shipped().unwrap());
        findings
            .into_iter()
            .filter(|found| found.rule == rule)
            .collect()
    }

    #[test]
    fn every_key_is_read_and_every_example_is_as_it_should_be() {
        for table in all() {
            let lines: String = table
                .keys
                .iter()
                .map(|key| format!("{} = {}\n", key.name, key.example))
                .collect();
            let text = file(&table, &lines);
            for rule in ["unknown-key", "wrong-type", "quantity", "straight", "toml"] {
                assert_eq!(found(&text, rule), [], "{text}");
            }
        }
    }

    #[test]
    fn no_key_is_read_that_is_not_told() {
        for table in all().into_iter().filter(|table| table.form != Form::Rules) {
            let refused = found(&file(&table, "zzz = 1"), "unknown-key");
            let [refused] = &refused[..] else {
                panic!("{refused:?}")
            };
            let (_, known) = refused.help.split_once("may have: ").unwrap();
            let mut known: Vec<&str> = known.split(", ").collect();
            known.sort_unstable();
            let mut told: Vec<&str> = table.keys.iter().map(|key| key.name.as_str()).collect();
            told.sort_unstable();
            assert_eq!(told, known, "{}", table.name);
        }
        let tables: Vec<Table> = all();
        let mut told: Vec<&str> = tables
            .iter()
            .filter(|table| table.form != Form::Inline)
            .map(|table| table.name.as_str())
            .collect();
        told.sort_unstable();
        let refused = found("zzz = 1", "unknown-key");
        let (_, known) = refused[0].help.split_once("may have: ").unwrap();
        let mut known: Vec<&str> = known.split(", ").collect();
        known.sort_unstable();
        assert_eq!(told, known);
    }

    #[test]
    fn what_a_table_must_have_is_missed() {
        for table in all() {
            let missed = found(&file(&table, ""), "missing-key");
            let mut missed: Vec<&str> = missed
                .iter()
                .filter_map(|found| found.message.split('`').nth(1))
                .collect();
            missed.sort_unstable();
            let must = table.keys.iter().filter(|key| key.must);
            let mut must: Vec<&str> = must.map(|key| key.name.as_str()).collect();
            must.sort_unstable();
            if table.form != Form::Inline {
                assert_eq!(must, missed, "{}", table.name);
            }
        }
    }
}

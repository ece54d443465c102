//! What a job file may say.

use super::{Column, paragraph, table};
use bom::job::keys::{Form, Key, Kind, Table};
use std::io::{self, Write};

/// Every table with its keys.
///
/// # Errors
/// What the writer says.
pub fn keys(tables: &[Table], width: usize, out: &mut dyn Write) -> io::Result<()> {
    for (number, of) in tables.iter().enumerate() {
        if number > 0 {
            writeln!(out)?;
        }
        let header = match of.form {
            Form::One | Form::Rules => format!("[{}]", of.name),
            Form::Named => format!("[{}.NAME]", of.name),
            Form::Listed => format!("[[{}]]", of.name),
            Form::Inline => format!("{{ … }}, a {}", of.name),
        };
        let must = if of.must { ", in every job" } else { "" };
        writeln!(out, "{header}{must}")?;
        paragraph(out, width, &of.help)?;
        let rows = of.keys.iter().map(|key| {
            let name = format!("{}{}", key.name, if key.must { " *" } else { "" });
            vec![name, key.example.clone(), help(key)]
        });
        let columns = [Column::Words, Column::Words, Column::Words];
        table(out, width, &columns, &["Key", "Like", "What it is"], rows)?;
    }
    writeln!(out, "\n* has to be there")
}

fn help(key: &Key) -> String {
    match &key.kind {
        // The systems have a list of their own.
        Kind::Choice(words) if words.len() <= 4 => format!("{} ({})", key.help, words.join(", ")),
        _ => key.help.clone(),
    }
}

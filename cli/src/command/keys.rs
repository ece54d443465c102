//! `keys`: what a job file may say.

use super::{deliver, with_systems};
use crate::args::{Keys, OwnSystems, TextOrSchema};
use crate::exit::{Exit, Failure};
use crate::{Io, output};
use bom::finding::did_you_mean;
use bom::job::keys::{Table, tables};

pub(super) fn run(args: &Keys, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let shipped = OwnSystems {
        system_file: Vec::new(),
    };
    let (library, _) = with_systems(&shipped, io)?;
    let mut tables = tables(&library).map_err(|error| {
        Failure::Untold(
            Exit::Outside,
            format!("the shipped data is broken: {error}"),
        )
    })?;
    if let Some(name) = &args.table {
        let name = name.trim_matches(['[', ']']);
        if !tables.iter().any(|table| table.name == name) {
            return Err(unknown(name, &tables));
        }
        tables.retain(|table| table.name == name);
    }
    let width = io.width;
    deliver(args.out.as_deref(), &[], io, |out| match args.format {
        TextOrSchema::Text => output::terminal::keys(&tables, width, out),
        TextOrSchema::Schema => output::json::schema(&tables, &library, out),
    })?;
    Ok(Exit::Done)
}

fn unknown(name: &str, tables: &[Table]) -> Failure {
    let known: Vec<&str> = tables.iter().map(|table| table.name.as_str()).collect();
    let help = did_you_mean(name, known.iter().copied()).map_or_else(
        || format!("the tables are {}", known.join(", ")),
        |near| format!("did you mean `{near}`?"),
    );
    Failure::Untold(
        Exit::Unreadable,
        format!("a job file has no table `{name}`: {help}"),
    )
}

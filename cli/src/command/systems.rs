//! `systems`: which pipe there is, what is said of it, and what is refused.

use super::{deliver, print_format, with_systems};
use crate::args::{Systems, TextOrJson};
use crate::exit::{Exit, Failure};
use crate::{Io, output};
use bom::finding::did_you_mean;
use bom::library::Library;
use bom::library::refused::Refused;
use bom::system::System;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// What was asked for.
enum Asked<'a> {
    All,
    One(&'a System),
    Refused(&'a Refused),
}

pub(super) fn run(args: &Systems, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = print_format(&args.print, TextOrJson::Text)?;
    let (library, _) = with_systems(&args.own, io)?;
    let asked = match &args.name {
        Some(name) => named(name, &library)?,
        None => Asked::All,
    };
    let files = args.own.system_file.iter();
    let inputs: Vec<&Path> = files.map(PathBuf::as_path).collect();
    let width = io.width;
    deliver(args.print.out.as_deref(), &inputs, io, |out| {
        print(&asked, &library, format, width, out)
    })?;
    Ok(Exit::Done)
}

fn print(
    asked: &Asked<'_>,
    library: &Library,
    format: TextOrJson,
    width: usize,
    out: &mut dyn Write,
) -> io::Result<()> {
    match (asked, format) {
        (Asked::All, TextOrJson::Text) => output::terminal::systems(library, width, out),
        (Asked::All, TextOrJson::Json) => output::json::systems(library, out),
        (Asked::One(system), TextOrJson::Text) => output::terminal::system(system, width, out),
        (Asked::One(system), TextOrJson::Json) => output::json::system(system, out),
        (Asked::Refused(refused), TextOrJson::Text) => {
            output::terminal::refused(refused, width, out)
        }
        (Asked::Refused(refused), TextOrJson::Json) => output::json::refused(refused, out),
    }
}

fn named<'a>(name: &str, library: &'a Library) -> Result<Asked<'a>, Failure> {
    let systems = library.systems();
    if let Some(system) = systems.iter().find(|system| system.name == name) {
        return Ok(Asked::One(system));
    }
    if let Some(refused) = library.refused_for(name) {
        return Ok(Asked::Refused(refused));
    }
    let names: Vec<&str> = systems.iter().map(|system| system.name.as_str()).collect();
    let near = did_you_mean(name, names.iter().copied())
        .map_or_else(String::new, |near| format!("did you mean `{near}`? "));
    Err(Failure::Untold(
        Exit::Unreadable,
        format!(
            "there is no pipe system `{name}`: {near}known are {}",
            names.join(", ")
        ),
    ))
}

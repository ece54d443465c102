//! `tidy`: a job file laid out evenly.

use super::{deliver, stopped};
use crate::args::Tidy;
use crate::exit::{Exit, Failure};
use crate::output::tidy::tidy;
use crate::{Io, files, report};
use bom::library::Library;
use std::path::Path;

pub(super) fn run(args: &Tidy, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let source = files::read(&args.job)?;
    let Some(text) = tidy(source.text()) else {
        let library = Library::shipped();
        let found = library.map(|library| bom::job::read(&source, &library).1);
        let found = found.unwrap_or_default();
        report::print(&found, &source, io.err)?;
        return Err(stopped(&found, "the file stays as it is"));
    };
    if args.in_place {
        if text == source.text() {
            writeln!(io.err, "{} is tidy", args.job.display())?;
            return Ok(Exit::Done);
        }
        deliver(Some(&args.job), &[], io, |out| {
            out.write_all(text.as_bytes())
        })?;
        return Ok(Exit::Done);
    }
    let inputs: [&Path; 1] = [&args.job];
    deliver(args.out.as_deref(), &inputs, io, |out| {
        out.write_all(text.as_bytes())
    })?;
    Ok(Exit::Done)
}

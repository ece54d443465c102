//! `check`: what is wrong with a job.

use super::library;
use crate::args::{Check, TextOrJson};
use crate::exit::{Exit, Failure};
use crate::{Io, files, output, report};

pub(super) fn run(args: &Check, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let (library, _) = library(&args.own, io)?;
    let source = files::read(&args.job)?;
    let (plan, findings) = bom::plan(&source, &library);
    match args.format {
        TextOrJson::Json => output::json::findings(&findings, &source, io.out)?,
        TextOrJson::Text => {
            report::print(&findings, &source, io.out)?;
            match &plan {
                Some(plan) => writeln!(
                    io.out,
                    "{}: {}, {}, {} of main; all of it can be counted",
                    source.name(),
                    output::words::count(plan.summary.outlets.len(), "outlet"),
                    output::words::count(
                        usize::try_from(plan.takeoff.drains).unwrap_or(0),
                        "drain"
                    ),
                    plan.summary.main_length.show_total(plan.summary.units),
                )?,
                None => return Err(super::stopped(&findings, "the job cannot be counted")),
            }
        }
    }
    Ok(Exit::of(&findings))
}

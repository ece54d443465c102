//! `crew`: what those who build the job need.

use super::counted::counted;
use super::{deliver_paper, format_of};
use crate::args::{Crew, CrewFormat};
use crate::exit::{Exit, Failure};
use crate::{Io, output};
use bom::assembly::assembly;
use std::collections::BTreeSet;

pub(super) fn run(args: &Crew, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = format_of(args.form.format, args.form.out.as_deref(), CrewFormat::Text)?;
    let date = args.form.date;
    let counted = counted(&args.job, &args.own, &args.catalog, None, date, io)?;
    let plan = &counted.plan;
    let order = assembly(&plan.job, &plan.network, &counted.library, &counted.takeoff);
    let inputs = std::iter::once(&args.job)
        .chain(&counted.files)
        .chain(args.own.files());
    let place = |node| plan.network.place(node);
    let width = io.width;
    deliver_paper(&args.form, inputs, io, |out| {
        match format {
            CrewFormat::Text => {
                output::terminal::crew(&plan.summary, &counted.takeoff, &order, width, out)?;
            }
            CrewFormat::Json => output::json::crew(&counted.heading, &order, &place, out)?,
        }
        Ok(BTreeSet::new())
    })?;
    Ok(Exit::Done)
}

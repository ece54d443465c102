//! `crew`: what those who build the job need.

use super::counted::counted;
use super::cut::sheet_of;
use super::{deliver_paper, format_of, needs_file, paper};
use crate::args::{Crew, CrewFormat};
use crate::exit::{Exit, Failure};
use crate::{Io, output};
use bom::Plan;
use bom::assembly::assembly;
use bom::drawing::{Field, Scene, Sheet};
use bom::library::Library;
use std::collections::{BTreeMap, BTreeSet};

pub(super) fn run(args: &Crew, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = format_of(args.form.format, args.form.out.as_deref(), CrewFormat::Text)?;
    needs_file(format, args.form.out.as_deref(), "crew")?;
    let date = args.form.date;
    let counted = counted(&args.job, &args.own, &args.catalog, None, date, io)?;
    let plan = &counted.plan;
    let order = assembly(&plan.job, &plan.network, &counted.library, &plan.takeoff);
    let mut cut = sheet_of(&counted, None, BTreeMap::new())?;
    // What pipe costs is not for the site.
    for section in &mut cut.sections {
        section.cost = None;
    }
    let inputs = std::iter::once(&args.job)
        .chain(&counted.files)
        .chain(args.own.files());
    let place = |node| plan.network.place(node);
    let width = io.width;
    deliver_paper(&args.form, inputs, io, |out| {
        match format {
            CrewFormat::Text => {
                output::terminal::crew(&plan.summary, &plan.takeoff, &order, width, out)?;
            }
            CrewFormat::Pdf => {
                let paper = paper(args.form.paper);
                let drawings = output::pdf::leaves(&drawn(plan, &counted.library), paper)?;
                let set = output::pdf::CrewSet {
                    summary: &plan.summary,
                    takeoff: &plan.takeoff,
                    assembly: &order,
                    cut: &cut,
                    drawings: &drawings,
                };
                return output::pdf::crew(&set, paper, out);
            }
            CrewFormat::Json => output::json::crew(&counted.heading, &order, &place, out)?,
        }
        Ok(BTreeSet::new())
    })?;
    Ok(Exit::Done)
}

/// What the crew builds by: all drawings but those of pressures.
fn drawn(plan: &Plan, library: &Library) -> Vec<Sheet> {
    let scene = Scene {
        plan,
        library,
        field: Field::COMMON,
    };
    scene.sheets(|word| word != "pressure")
}

//! `air`: whether every tool gets its air and its pressure.

use super::{deliver, format_of, library, plan};
use crate::args::{Air, PartsFormat};
use crate::exit::{Exit, Failure};
use crate::output::AirPaper;
use crate::{Io, files, output};
use bom::Plan;
use bom::air::answer::{
    Air as Answer, answer,
    yearly::{Asked, yearly},
};
use bom::finding::did_you_mean;
use std::path::{Path, PathBuf};

pub(super) fn run(args: &Air, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = format_of(args.format, args.out.as_deref(), PartsFormat::Text)?;
    let (library, _) = library(&args.own, io)?;
    let source = files::read(&args.job)?;
    let plan = plan(&source, &library, None, io)?;
    let air = answer(&plan.job, &plan.network, &library);
    let shown = match &args.outlet {
        Some(name) => Some(at_outlet(name, &plan, &air)?),
        None => air.worst.or((!air.tools.is_empty()).then_some(0)),
    };
    let asked = Asked {
        leak: args.leak,
        price: args.energy_price,
    };
    let wanted = asked != Asked::default();
    let yearly = wanted.then(|| yearly(&air, &plan.job, &plan.network, &library, asked));
    let yearly = yearly.flatten();
    if wanted && yearly.is_none() {
        writeln!(
            io.err,
            "what a year takes is not worked out: a pressure or a flow is beyond any shop's"
        )?;
    }
    let paper = AirPaper {
        plan: &plan,
        air: &air,
        shown,
        yearly: yearly.as_ref(),
    };
    let width = io.width;
    let inputs: Vec<&Path> = std::iter::once(&args.job)
        .chain(args.own.files())
        .map(PathBuf::as_path)
        .collect();
    deliver(args.out.as_deref(), &inputs, io, |out| match format {
        PartsFormat::Text => output::terminal::air(&paper, width, out),
        PartsFormat::Csv => output::csv::air(&paper, out),
        PartsFormat::Json => output::json::air(&paper, out),
    })?;
    Ok(Exit::Done)
}

/// The tool of an outlet that is worst off.
fn at_outlet(name: &str, plan: &Plan, air: &Answer) -> Result<usize, Failure> {
    let wrong = |message: String| Failure::Untold(Exit::Unreadable, message);
    let outlets = &plan.job.outlets;
    let names = || outlets.iter().map(|outlet| outlet.name.value.as_str());
    let Some(outlet) = names().position(|known| known == name) else {
        let near = did_you_mean(name, names())
            .map_or_else(String::new, |near| format!("did you mean `{near}`? "));
        let known: Vec<&str> = names().collect();
        return Err(wrong(format!(
            "there is no outlet `{name}`: {near}known are {}",
            known.join(", ")
        )));
    };
    air.worst_at(outlet).ok_or_else(|| {
        wrong(format!(
            "no tool is named at outlet `{name}` (line {} of the job): write what hangs there, like tools = [{{ tool = \"orbital sander\" }}]",
            outlets[outlet].line
        ))
    })
}

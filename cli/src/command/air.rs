//! `air`: whether every tool gets its air and its pressure.

use super::figures::{Figures, Named};
use super::{costed, deliver, library, plan, print_format};
use crate::args::{Air, Buying, PartsFormat};
use crate::exit::{Exit, Failure};
use crate::output::AirPaper;
use crate::output::words;
use crate::{Io, files, output};
use bom::Plan;
use bom::air::answer::{
    Air as Answer, answer, rooms,
    yearly::{Asked, yearly},
};
use bom::air::sizes::{Costs, three};
use bom::finding::did_you_mean;
use bom::library::Library;
use std::path::{Path, PathBuf};

pub(super) fn run(args: &Air, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = print_format(&args.print, PartsFormat::Text)?;
    let (library, _) = library(&args.own, io)?;
    let source = files::read(&args.job)?;
    let named = Named {
        catalog: &args.prices.catalog,
        rates: args.prices.rates.as_deref(),
        buying: &Buying::default(),
        currency: None,
    };
    let figures = Figures::read(named, &library, io)?;
    let prices = figures.by();
    let plan = plan(&source, &library, prices, io)?;
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
    let (mains, why_size) = costed(&library, prices, |costs| {
        let mains = || three(&plan.job, &plan.network, &library, &air.demand, costs);
        let why = |asked: &String| why_size(asked, &plan, &library, &air, costs);
        let mains = if args.sizes { mains() } else { Vec::new() };
        (mains, args.why_size.as_ref().map(why).transpose())
    });
    let paper = AirPaper {
        plan: &plan,
        air: &air,
        rooms: &rooms(&air, &plan.job, &plan.network, &library),
        shown,
        yearly: yearly.as_ref(),
        mains: &mains,
        currency: figures.priced.then_some(figures.currency),
        why_size: why_size?,
    };
    let width = io.width;
    let inputs: Vec<&Path> = std::iter::once(&args.job)
        .chain(args.own.files())
        .chain(&figures.files)
        .map(PathBuf::as_path)
        .collect();
    deliver(args.print.out.as_deref(), &inputs, io, |out| match format {
        PartsFormat::Text => output::terminal::air(&paper, width, out),
        PartsFormat::Csv => output::csv::air(&paper, out),
        PartsFormat::Json => output::json::air(&paper, out),
    })?;
    Ok(Exit::Done)
}

/// Why a leg or the drop of an outlet has its size.
fn why_size(
    asked: &str,
    plan: &Plan,
    library: &Library,
    air: &Answer,
    costs: Option<&Costs<'_>>,
) -> Result<String, Failure> {
    let asked = asked.trim();
    let job = &plan.job;
    let number = asked
        .trim_start_matches("leg ")
        .trim()
        .parse::<usize>()
        .ok();
    let leg = number.and_then(|number| number.checked_sub(1));
    let leg = leg.filter(|leg| *leg < job.legs.len());
    let name = asked.trim_start_matches("drop ");
    let mut outlets = job.outlets.iter();
    let outlet = outlets.position(|outlet| outlet.name.value == name);
    let sizes = bom::sizes(job, library, costs);
    let (what, limit, forced) = match (outlet, leg) {
        (Some(outlet), _) => (
            format!("The drop of {name}"),
            air.limits.drop,
            sizes.as_ref().and_then(|sizes| sizes.why_drop(outlet)),
        ),
        (None, Some(leg)) => (
            format!(
                "Leg{}",
                plan.network.legs[leg].label.trim_start_matches("leg")
            ),
            air.limits.main,
            sizes.as_ref().and_then(|sizes| sizes.why_leg(leg)),
        ),
        (None, None) => {
            let names = job.outlets.iter().map(|outlet| outlet.name.value.as_str());
            let near = did_you_mean(name, names)
                .map_or_else(String::new, |near| format!("did you mean `{near}`? "));
            return Err(Failure::Untold(
                Exit::Unreadable,
                format!(
                    "there is no leg and no outlet `{asked}`: {near}legs are numbered 1 to {}",
                    job.legs.len()
                ),
            ));
        }
    };
    Ok(match forced {
        Some(forced) => words::sizes::forced(&what, &forced, limit, air, plan),
        None if sizes.is_some() => format!(
            "{what} has the size that the job gives it; --sizes sets the main a size smaller and a size larger beside it."
        ),
        None => format!(
            "{what} has the size that the job gives it, or the published chart's: sizes are chosen where the job leaves them open and names tools."
        ),
    })
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

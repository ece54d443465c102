//! `parts`: the count, and why each part is there.

use super::{deliver, layout, library, paper, paper_format, plan};
use crate::args::{CountFormat, Parts};
use crate::exit::{Exit, Failure};
use crate::{Io, files, fingerprint, output};
use bom::Plan;
use bom::finding::did_you_mean;
use bom::takeoff::{PartLine, Takeoff};
use std::path::{Path, PathBuf};

pub(super) fn run(args: &Parts, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = paper_format(&args.print, CountFormat::Text, "parts")?;
    let (library, own) = library(&args.own, io)?;
    let source = files::read(&args.job)?;
    let plan = plan(&source, &library, None, io)?;
    if let Some(line) = &args.why {
        return why(line, &plan, io);
    }
    let Plan {
        network,
        summary,
        takeoff,
        ..
    } = &plan;
    let reason = |because| Takeoff::reason(network, because);
    let place = |node| network.describe(node);
    let width = io.width;
    let inputs: Vec<&Path> = std::iter::once(&args.job)
        .chain(args.own.files())
        .map(PathBuf::as_path)
        .collect();
    deliver(args.print.out.as_deref(), &inputs, io, |out| match format {
        CountFormat::Text => {
            output::terminal::parts(summary, takeoff, width, out)?;
            if args.proof {
                output::terminal::proofs(&takeoff.proofs, out)?;
            }
            Ok(())
        }
        CountFormat::Csv => output::csv::parts(takeoff, &reason, out),
        CountFormat::Json => output::json::parts(summary, takeoff, &reason, &place, out),
        CountFormat::Xlsx => {
            let layout = layout(&source, &own, &library, takeoff);
            let counted = output::xlsx::Counted {
                summary,
                takeoff,
                fingerprint: &fingerprint::of(&layout, &[]),
            };
            output::xlsx::parts(counted, &reason, paper(args.paper), out)
        }
    })?;
    Ok(Exit::Done)
}

/// Says why the parts of the asked lines are there.
fn why(asked: &str, plan: &Plan, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let lines = &plan.takeoff.lines;
    let number = asked
        .parse::<usize>()
        .ok()
        .and_then(|number| number.checked_sub(1));
    let found: Vec<&PartLine> = match number {
        Some(index) => lines.get(index).into_iter().collect(),
        None => lines
            .iter()
            .filter(|line| line.key.part == asked || line.words == asked)
            .collect(),
    };
    if found.is_empty() {
        let names = lines.iter().map(|line| line.key.part.as_str());
        let near = did_you_mean(asked, names)
            .map_or_else(String::new, |near| format!("; did you mean `{near}`?"));
        return Err(Failure::Untold(
            Exit::Unreadable,
            format!(
                "the list has no line `{asked}`: give its number (1 to {}) or the part's name{near}",
                lines.len()
            ),
        ));
    }
    for line in found {
        let reasons: Vec<String> = line
            .because
            .iter()
            .map(|because| Takeoff::reason(&plan.network, *because))
            .collect();
        output::terminal::why(line, &reasons, io.out)?;
    }
    Ok(Exit::Done)
}

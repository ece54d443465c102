//! `water`: where the water of the pipe goes.

use super::{deliver, library, plan, print_format};
use crate::args::{PartsFormat, Water};
use crate::exit::{Exit, Failure};
use crate::{Io, files, output};
use std::path::{Path, PathBuf};

pub(super) fn run(args: &Water, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = print_format(&args.print, PartsFormat::Text)?;
    let (library, _) = library(&args.own, io)?;
    let source = files::read(&args.job)?;
    let plan = plan(&source, &library, None, io)?;
    let place = |node| plan.network.place(node);
    let profile = bom::water::profile(&plan.network);
    let hangers = bom::takeoff::hangers(&plan.network, &library);
    let width = io.width;
    let inputs: Vec<&Path> = std::iter::once(&args.job)
        .chain(args.own.files())
        .map(PathBuf::as_path)
        .collect();
    deliver(args.print.out.as_deref(), &inputs, io, |out| match format {
        PartsFormat::Text => {
            output::terminal::water(&plan, &profile, &place, width, out)?;
            if args.hangers {
                output::terminal::hangers(&hangers, &place, plan.summary.units, width, out)?;
            }
            Ok(())
        }
        PartsFormat::Csv => {
            let hangers = if args.hangers { &hangers[..] } else { &[] };
            output::csv::water(&plan.water, plan.amounts.as_ref(), hangers, &place, out)
        }
        PartsFormat::Json => output::json::water(&plan, &hangers, &place, out),
    })?;
    Ok(Exit::Done)
}

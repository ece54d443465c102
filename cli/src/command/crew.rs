//! `crew`: what those who build the job need.

use super::counted::{Asked, Counted};
use super::{deliver_paper, paper, paper_format};
use crate::args::{Buying, Crew, CrewFormat};
use crate::exit::{Exit, Failure};
use crate::output::pdf::{CrewSet, Paper, leaves};
use crate::{Io, output};
use bom::assembly::{Assembly, assembly};
use bom::drawing::Sheet;
use jiff::civil::Date;
use pricing::cut_sheet::CutSheet;
use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, Write};

pub(super) fn run(args: &Crew, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = paper_format(&args.form.print, CrewFormat::Text, "crew")?;
    let anyone = Buying::default();
    let asked = Asked::of(&args.job, &args.prices, &anyone, &args.own);
    let job = Counted::read(&asked, io)?;
    let contents = Contents::of(&job, args.form.date.unwrap_or_else(io.today))?;
    let inputs = std::iter::once(&args.job)
        .chain(&job.figures.files)
        .chain(args.own.files());
    let (plan, order) = (&job.plan, &contents.order);
    let place = |node| plan.network.place(node);
    let width = io.width;
    deliver_paper(&args.form, inputs, io, |out| {
        match format {
            CrewFormat::Text => {
                output::terminal::crew(&plan.summary, &plan.takeoff, order, width, out)?;
            }
            CrewFormat::Pdf => {
                let drawings = job.scene().sheets(is_drawn);
                return contents.pdf(&job, &drawings, paper(args.form.paper), out);
            }
            CrewFormat::Json => output::json::crew(&contents.cut.heading, order, &place, out)?,
        }
        Ok(BTreeSet::new())
    })?;
    Ok(Exit::Done)
}

/// Whether the crew builds by this kind of drawing: by all but those of pressures.
pub(super) fn is_drawn(word: &str) -> bool {
    word != "pressure"
}

/// What the set holds beside the drawings.
pub(super) struct Contents {
    order: Assembly,
    cut: CutSheet,
}

impl Contents {
    pub(super) fn of(job: &Counted, date: Date) -> Result<Self, Failure> {
        let plan = &job.plan;
        let mut cut = job.cut_sheet(None, BTreeMap::new(), date)?;
        // What pipe costs is not for the site.
        for section in &mut cut.sections {
            section.cost = None;
        }
        Ok(Self {
            order: assembly(&plan.job, &plan.network, &job.library, &plan.takeoff),
            cut,
        })
    }

    /// Writes the set with these drawings.
    pub(super) fn pdf(
        &self,
        job: &Counted,
        drawings: &[Sheet],
        paper: Paper,
        out: &mut dyn Write,
    ) -> io::Result<BTreeSet<char>> {
        let set = CrewSet {
            summary: &job.plan.summary,
            takeoff: &job.plan.takeoff,
            assembly: &self.order,
            cut: &self.cut,
            drawings: &leaves(drawings, paper)?,
        };
        output::pdf::crew(&set, paper, out)
    }
}

//! `handover`: what is tested, recorded, kept up and left behind.

use super::counted::{Asked as Inputs, Counted};
use super::{as_built, deliver_paper, format_of, needs_file, paper};
use crate::args::{Buying, CrewFormat, Handover};
use crate::exit::{Exit, Failure};
use crate::output::pdf::HandoverPaper;
use crate::{Io, files, output};
use bom::finding::did_you_mean;
use bom::handover::{Asked, Rule, handover, rules};
use jiff::civil::Date;
use std::collections::BTreeSet;

pub(super) fn run(args: &Handover, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = format_of(args.form.format, args.form.out.as_deref(), CrewFormat::Text)?;
    needs_file(format, args.form.out.as_deref(), "handover")?;
    let rule = args.rule.as_deref().map(rule_called).transpose()?;
    let asked = Inputs {
        job: &args.job,
        catalog: &args.prices.catalog,
        rates: args.prices.rates.as_deref(),
        buying: &Buying::default(),
        currency: None,
        own: &args.own,
    };
    if let Some(folder) = &args.as_built {
        files::is_free(folder)?;
    }
    let job = Counted::read(&asked, io)?;
    let wanted = |word: &str| args.sheet.is_empty() || args.sheet.iter().any(|asked| asked == word);
    let asked = Asked {
        rule: rule.as_ref(),
        energy_price: args.energy_price,
        fingerprint: &job.fingerprint,
    };
    let handover = handover(&job.plan, &job.library, asked, wanted);
    let date = args.form.date.unwrap_or_else(io.today);
    if let Some(folder) = &args.as_built {
        return as_built::run(folder, args, &job, &handover, date, io);
    }
    let inputs = std::iter::once(&args.job)
        .chain(args.own.files())
        .chain(&job.figures.files);
    let width = io.width;
    deliver_paper(&args.form, inputs, io, |out| {
        match format {
            CrewFormat::Text => output::terminal::handover(&handover.sheets, width, out)?,
            CrewFormat::Json => output::json::handover(&handover, out)?,
            CrewFormat::Pdf => {
                let paper_of = paper_of(&job, &handover, date);
                return output::pdf::handover(&paper_of, paper(args.form.paper), out);
            }
        }
        Ok(BTreeSet::new())
    })?;
    Ok(Exit::Done)
}

/// The sheets as a paper.
pub(super) fn paper_of<'a>(
    job: &'a Counted,
    handover: &'a bom::handover::Handover,
    date: Date,
) -> HandoverPaper<'a> {
    HandoverPaper {
        title: &job.plan.summary.title,
        revision: &job.plan.summary.revision,
        fingerprint: &job.fingerprint,
        date,
        sheets: &handover.sheets,
    }
}

fn rule_called(name: &str) -> Result<Rule, Failure> {
    let known = rules().map_err(|error| {
        Failure::Untold(
            Exit::Outside,
            format!("the shipped data is broken: {error}"),
        )
    })?;
    let names: Vec<&str> = known.iter().map(|rule| rule.name.as_str()).collect();
    let found = known.iter().find(|rule| rule.name == name.trim());
    found.cloned().ok_or_else(|| {
        let help = did_you_mean(name, names.iter().copied()).map_or_else(
            || format!("they are {}", names.join(", ")),
            |near| format!("did you mean `{near}`?"),
        );
        Failure::Untold(
            Exit::Unreadable,
            format!("there is no rule for tests `{name}`: {help}"),
        )
    })
}

//! `handover`: what is tested, recorded, kept up and left behind.

use super::counted::{Asked as Inputs, Counted};
use super::{as_built, deliver, deliver_paper, kept, paper, paper_format, stopped};
use crate::args::{Buying, CrewFormat, Handover};
use crate::exit::{Exit, Failure};
use crate::output::pdf::HandoverPaper;
use crate::{Io, files, output};
use bom::finding::did_you_mean;
use bom::handover::record::{self, Record};
use bom::handover::{Asked, Rule, handover, rules};
use bom::source::Source;
use jiff::civil::Date;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

pub(super) fn run(args: &Handover, io: &mut Io<'_>) -> Result<Exit, Failure> {
    if args.blank_readings {
        return blank(args, io);
    }
    let format = paper_format(&args.form.print, CrewFormat::Text, "handover")?;
    let rule = args.rule.as_deref().map(rule_called).transpose()?;
    if let Some(folder) = &args.as_built {
        files::is_free(folder)?;
    }
    let source = args.readings.as_deref().map(files::read).transpose()?;
    let job = counted(args, io)?;
    let record = source.map(|source| record_of(&source, &job, io));
    let record = record.transpose()?;
    let wanted = |word: &str| args.sheet.is_empty() || args.sheet.iter().any(|asked| asked == word);
    let asked = Asked {
        rule: rule.as_ref(),
        energy_price: args.energy_price,
        fingerprint: &job.fingerprint,
        record: record.as_ref(),
    };
    let handover = handover(&job.plan, &job.library, asked, wanted);
    let date = args.form.date.unwrap_or_else(io.today);
    if let Some(folder) = &args.as_built {
        return as_built::run(folder, args, &job, &handover, date, io);
    }
    let inputs = std::iter::once(&args.job)
        .chain(&args.readings)
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

fn counted(args: &Handover, io: &mut Io<'_>) -> Result<Counted, Failure> {
    let anyone = Buying::default();
    let asked = Inputs::of(&args.job, &args.prices, &anyone, &args.own);
    Counted::read(&asked, io)
}

/// The record of a job, with all that is wrong in it.
fn record_of(source: &Source, job: &Counted, io: &mut Io<'_>) -> Result<Record, Failure> {
    let (record, findings) = record::read(source, &job.plan, &job.library, &job.fingerprint);
    crate::report::print(&findings, source, io.err)?;
    let record = record.ok_or_else(|| stopped(&findings, "the readings cannot be used"))?;
    if record.is_empty() {
        writeln!(
            io.err,
            "nothing was read in `{}`: the sheets are blank",
            source.name()
        )?;
    }
    Ok(record)
}

/// The empty record.
fn blank(args: &Handover, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let out = args.form.print.out.as_deref();
    kept(out, args.replace)?;
    let job = counted(args, io)?;
    let text = record::blank(&job.plan, &job.library, &job.fingerprint);
    let inputs = std::iter::once(&args.job).chain(args.own.files());
    let inputs: Vec<&Path> = inputs.map(PathBuf::as_path).collect();
    deliver(out, &inputs, io, |out| out.write_all(text.as_bytes()))?;
    Ok(Exit::Done)
}

/// The rule of tests that has this name.
pub(super) fn rule_called(name: &str) -> Result<Rule, Failure> {
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

//! `new`: the first job file, by an interview or from a ready-made start, and at once
//! the first rough sheet.

mod dialogue;
mod first;
mod starts;

use super::{library, stopped};
use crate::args::New;
use crate::exit::{Exit, Failure};
use crate::{Io, files, output, report};
use bom::interview::Who;
use bom::source::Source;
use bom::survey;
use std::ffi::OsString;
use std::path::{Path, PathBuf};

pub(super) fn run(args: &New, io: &mut Io<'_>) -> Result<Exit, Failure> {
    if args.list {
        output::terminal::starts(
            starts::STARTS.iter().map(|start| (start.name, start.what)),
            io.width,
            io.out,
        )?;
        return Ok(Exit::Done);
    }
    if args.job.exists() && !args.overwrite {
        return Err(Failure::Untold(
            Exit::Unreadable,
            format!(
                "`{}` is there already: name another file, or add --overwrite to replace it",
                args.job.display()
            ),
        ));
    }
    let (library, _) = library(&args.own, io)?;
    if let Some(name) = &args.like {
        let start = starts::called(name)?;
        write(&args.job, start.text, io)?;
        return sheet(&args.job, start.text, Vec::new(), start.told(), args, io);
    }
    let Some(answers) = dialogue::answers(args, &library, io)? else {
        return Ok(Exit::Done);
    };
    let text = survey::write(&answers.survey(&title(&args.job), &library));
    write(&args.job, &text, io)?;
    files::remove(&asking(&args.job))?;
    let told = first::Told {
        who: answers.who.unwrap_or(Who::Contractor),
        systems: answers.systems.clone().unwrap_or_default(),
    };
    sheet(
        &args.job,
        &text,
        answers.to_confirm(&library),
        told,
        args,
        io,
    )
}

fn write(job: &Path, text: &str, io: &mut Io<'_>) -> Result<(), Failure> {
    files::write(job, &[], |out| out.write_all(text.as_bytes()))?;
    writeln!(io.err, "wrote {}", job.display())?;
    Ok(())
}

/// Plans what was written and prints the first sheet.
fn sheet(
    job: &Path,
    text: &str,
    confirm: Vec<String>,
    told: first::Told,
    args: &New,
    io: &mut Io<'_>,
) -> Result<Exit, Failure> {
    let (library, _) = library(&args.own, io)?;
    let source = Source::new(job.display().to_string(), text);
    let (plan, findings) = bom::plan(&source, &library);
    report::print(&findings, &source, io.err)?;
    let Some(plan) = plan else {
        return Err(stopped(
            &findings,
            "the job is written, but cannot be counted before this is mended",
        ));
    };
    let first = first::sheet(job, &plan, findings, confirm, &told, &library);
    output::terminal::first(&first, io.width, io.out)?;
    Ok(Exit::Done)
}

/// Where an unfinished interview is kept: beside the job.
fn asking(job: &Path) -> PathBuf {
    let mut name = OsString::from(job);
    name.push(".asking");
    PathBuf::from(name)
}

/// A title for the papers, from the file's name: `my-shop.toml` is `My shop`.
fn title(job: &Path) -> String {
    let name = job.file_stem().unwrap_or_default().to_string_lossy();
    let words = name.replace(['-', '_'], " ");
    let mut letters = words.trim().chars();
    match letters.next() {
        None => "New air main".to_owned(),
        Some(first) => first.to_uppercase().chain(letters).collect(),
    }
}

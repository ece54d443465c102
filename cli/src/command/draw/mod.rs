//! `draw`: the job on paper.

mod set;

use super::counted::{Asked, Counted};
use super::{deliver, paper, tell_unprintable};
use crate::args::Draw;
use crate::exit::{Exit, Failure};
use crate::output::DrawingHead;
use crate::{Io, files, output};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// Where drawings go.
enum Form<'a> {
    /// They are listed.
    List,
    /// One of them into a file.
    Svg(&'a Path),
    /// All of them into a file.
    Pdf(&'a Path),
    /// Each into a file of this folder.
    Folder(&'a Path),
}

pub(super) fn run(args: &Draw, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let form = form(args.out.as_deref())?;
    let job = Counted::read(
        &Asked::of(&args.job, &args.prices, &args.buying, &args.own),
        io,
    )?;
    let date = args.date.unwrap_or_else(io.today);
    let (sheets, exit) = set::sheets(args, &job, date, io)?;
    let head = DrawingHead {
        job: &job.plan.summary.title,
        revision: &job.plan.summary.revision,
        fingerprint: &job.fingerprint,
        date,
    };
    let inputs: Vec<&Path> = std::iter::once(&args.job)
        .chain(&job.figures.files)
        .chain(args.own.files())
        .map(PathBuf::as_path)
        .collect();
    if sheets.is_empty() {
        let nothing = "nothing of this job is drawn under that name".to_owned();
        return Err(Failure::Untold(Exit::Stopped, nothing));
    }
    let count = sheets.len();
    match form {
        Form::List => output::terminal::sheets(&sheets, io.width, io.out)?,
        Form::Pdf(out) => {
            let mut unprintable = BTreeSet::new();
            deliver(Some(out), &inputs, io, |out| {
                unprintable = output::pdf::drawings(&sheets, &head, paper(args.paper), out)?;
                Ok(())
            })?;
            tell_unprintable(unprintable, io)?;
        }
        Form::Svg(out) => {
            let [sheet] = &sheets[..] else {
                return Err(Failure::Untold(
                    Exit::Unreadable,
                    format!(
                        "an SVG holds one sheet and these are {count}: name a folder, like --out drawings/, or a PDF"
                    ),
                ));
            };
            deliver(Some(out), &inputs, io, |out| {
                output::svg::alone(sheet, &head, (1, 1), out)
            })?;
        }
        Form::Folder(folder) => {
            files::folder(folder)?;
            for (number, sheet) in sheets.iter().enumerate() {
                let out = folder.join(format!("{}.svg", sheet.id));
                deliver(Some(&out), &inputs, io, |out| {
                    output::svg::alone(sheet, &head, (number + 1, count), out)
                })?;
            }
        }
    }
    Ok(exit)
}

/// What the file's ending, or that it has none, asks for.
fn form(out: Option<&Path>) -> Result<Form<'_>, Failure> {
    let Some(out) = out else {
        return Ok(Form::List);
    };
    let ending = out.extension().map(|ending| ending.to_ascii_lowercase());
    let ending = ending.as_deref().and_then(|ending| ending.to_str());
    match ending {
        _ if out.is_dir() || ends_in_slash(out) => Ok(Form::Folder(out)),
        Some("svg") => Ok(Form::Svg(out)),
        Some("pdf") => Ok(Form::Pdf(out)),
        None => Ok(Form::Folder(out)),
        Some(ending) => Err(Failure::Untold(
            Exit::Unreadable,
            format!(
                "a file ending in `.{ending}` cannot be written here; the formats are svg, pdf, or a folder (ending in `/`)"
            ),
        )),
    }
}

fn ends_in_slash(path: &Path) -> bool {
    let path = path.to_string_lossy();
    path.ends_with(std::path::is_separator)
}

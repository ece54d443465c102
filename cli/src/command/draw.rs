//! `draw`: the job on paper.

use super::basis::Basis;
use super::{deliver, layout, library, paper, plan, tell_unprintable};
use crate::args::{ALL_DRAWINGS, Draw};
use crate::exit::{Exit, Failure};
use crate::output::DrawingHead;
use crate::{Io, files, fingerprint, output};
use bom::Plan;
use bom::drawing::{DRAWINGS, Field, SIGNS, Scene, Sheet};
use bom::library::Library;
use bom::source::Source;
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
    let (library, own) = library(&args.own, io)?;
    let source = files::read(&args.job)?;
    let basis = Basis::read(&args.catalog, args.rates.as_deref(), &library, io)?;
    let plan = plan(&source, &library, basis.prices(), io)?;
    let sheets = sheets(&args.sheet, &plan, &library);
    let layout = layout(&source, &own, &library, &plan.takeoff);
    let figures: Vec<&Source> = basis.sources.iter().collect();
    let fingerprint = fingerprint::of(&layout, &figures);
    let head = DrawingHead {
        job: &plan.summary.title,
        revision: &plan.summary.revision,
        fingerprint: &fingerprint,
        date: args.date.unwrap_or_else(io.today),
    };
    let inputs: Vec<&Path> = std::iter::once(&args.job)
        .chain(args.own.files())
        .chain(&basis.files)
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
    Ok(Exit::Done)
}

/// The sheets that were asked for, each once, in the order in which a set lies.
fn sheets(words: &[String], plan: &Plan, library: &Library) -> Vec<Sheet> {
    let asked = |word: &str| words.iter().any(|asked| asked == word);
    let all = asked(ALL_DRAWINGS);
    let scene = Scene {
        plan,
        library,
        field: Field::COMMON,
    };
    let drawings = DRAWINGS
        .iter()
        .filter(|drawing| all || asked(drawing.word))
        .chain(asked(SIGNS.word).then_some(&SIGNS));
    drawings
        .flat_map(|drawing| (drawing.sheets)(&scene))
        .collect()
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

//! `import`: from the run sheet of a walk to a job file, or the empty sheet.

use super::{deliver, format_of, kept, library, paper, stopped};
use crate::args::{Import, SheetFormat};
use crate::exit::{Exit, Failure};
use crate::{Io, files, output};
use bom::quantity::Units;
use bom::source::Source;
use bom::survey::sheet;
use pricing::catalog::workbook;
use std::path::{Path, PathBuf};

pub(super) fn run(args: &Import, io: &mut Io<'_>) -> Result<Exit, Failure> {
    kept(args.out.as_deref(), args.replace)?;
    match &args.sheet {
        Some(path) => job(path, args, io),
        None => blank(args, io),
    }
}

fn blank(args: &Import, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = format_of(None, args.out.as_deref(), SheetFormat::Csv)?;
    let units = if args.metric {
        Units::Metric
    } else {
        Units::Feet
    };
    let blank = sheet::blank(units);
    deliver(args.out.as_deref(), &[], io, |out| match format {
        SheetFormat::Csv => output::csv::run_sheet(&blank, out),
        SheetFormat::Xlsx => output::xlsx::run_sheet(&blank, paper(args.paper), out),
    })?;
    Ok(Exit::Done)
}

fn job(path: &Path, args: &Import, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let source = text(path)?;
    let (library, _) = library(&args.own, io)?;
    let (read, findings) = sheet::read(&source, &library);
    crate::report::print(&findings, &source, io.err)?;
    let read = read.ok_or_else(|| stopped(&findings, "no job file was written"))?;
    let text = bom::survey::write(&read.survey);
    let inputs: Vec<&Path> = std::iter::once(path)
        .chain(args.own.files().map(PathBuf::as_path))
        .collect();
    deliver(args.out.as_deref(), &inputs, io, |out| {
        out.write_all(text.as_bytes())
    })?;
    let job = args.out.as_deref();
    let told = if job.is_some() {
        &mut *io.out
    } else {
        &mut *io.err
    };
    output::terminal::imported(&read, source.name(), job, told)?;
    Ok(Exit::Done)
}

/// The text of a sheet; of a workbook, the page of the run sheet, else its first.
fn text(path: &Path) -> Result<Source, Failure> {
    let ending = path.extension();
    if !ending.is_some_and(|ending| ending.eq_ignore_ascii_case("xlsx")) {
        return files::read_list(path);
    }
    let name = path.display().to_string();
    let bytes = files::bytes_of_list(path)?;
    let page = sheet::PAGE;
    let read = workbook::text(&bytes, Some(page), '.');
    let read = read.or_else(|_| workbook::text(&bytes, None, '.'));
    match read {
        Ok(text) => Ok(Source::new(name, text)),
        Err(error) => Err(Failure::Untold(
            Exit::Unreadable,
            format!("`{name}`: {error}"),
        )),
    }
}

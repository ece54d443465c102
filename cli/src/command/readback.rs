//! `readback`: what was typed, said back before anything is bought.

use super::{deliver, library, print_format, stopped};
use crate::args::{ReadBack, ReadBackFormat};
use crate::exit::{Exit, Failure};
use crate::{Io, files, output, report};
use std::path::{Path, PathBuf};

pub(super) fn run(args: &ReadBack, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = print_format(&args.print, ReadBackFormat::Text)?;
    let (library, _) = library(&args.own, io)?;
    let source = files::read(&args.job)?;
    let (_, findings) = bom::plan(&source, &library);
    report::print(&findings, &source, io.err)?;
    // A walk that does not close is said back as well: that shows where it goes wrong.
    let Some(job) = bom::job::read(&source, &library).0 else {
        return Err(stopped(&findings, "nothing can be said back"));
    };
    let back = bom::readback::readback(&job, &library);
    let width = io.width;
    let inputs: Vec<&Path> = std::iter::once(&args.job)
        .chain(args.own.files())
        .map(PathBuf::as_path)
        .collect();
    deliver(args.print.out.as_deref(), &inputs, io, |out| match format {
        ReadBackFormat::Text => output::terminal::readback(&back, width, out),
        ReadBackFormat::Json => output::json::readback(&back, out),
        ReadBackFormat::Toml => output::toml::checks(&back.card, out),
    })?;
    Ok(Exit::of(&findings))
}

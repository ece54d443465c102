//! `handover --as-built`: the job frozen as it was built, in a folder that stands on its
//! own: the job file, its data, the papers, and how to see whether a file was changed.

use super::counted::Counted;
use super::figures::{Figures, Named};
use super::handover::paper_of;
use super::{crew, library, paper, report, tell_unprintable};
use crate::args::{Buying, Handover as Args};
use crate::exit::{Exit, Failure};
use crate::output::frozen::frozen;
use crate::{Io, files, fingerprint, output};
use bom::handover::{
    Edit, Handover, Pack, Place, contents, done_with, freeze, head, misfit, settles_size,
};
use bom::job::AsBuilt;
use bom::source::Source;
use jiff::civil::Date;
use std::collections::BTreeSet;
use std::io::{self, Write};
use std::path::Path;

/// The columns of the texts.
const WIDTH: usize = 78;

pub(super) fn run(
    folder: &Path,
    args: &Args,
    job: &Counted,
    handover: &Handover,
    date: Date,
    io: &mut Io<'_>,
) -> Result<Exit, Failure> {
    let from = AsBuilt {
        mark: job.fingerprint.clone(),
        date: date.to_string(),
    };
    let edits = freeze(&job.source, &job.plan, &job.library, &from);
    let (frozen, text) = frozen_job(args, job, &edits, &from, io)?;

    let mut files = Files::default();
    let data = own_data(args, &mut files)?;
    files.add(
        "job.toml",
        "the job as it was built, from which the next visit starts",
        |out| out.write_all(text.as_bytes()),
    )?;
    if let Some(path) = &args.readings {
        let record = files::read(path)?;
        files.add("readings.toml", "what was read on site", |out| {
            out.write_all(record.text().as_bytes())
        })?;
    }
    let paper = paper(args.form.paper);
    files.pdf(
        "handover.pdf",
        "the sheets of the handover: tests, upkeep, as built",
        |out| output::pdf::handover(&paper_of(job, handover, date), paper, out),
    )?;
    let drawings = job.scene().sheets(crew::is_drawn);
    let builds = crew::Contents::of(job, date)?;
    files.pdf(
        "crew.pdf",
        "the drawings and lists by which it was built",
        |out| builds.pdf(job, &drawings, paper, out),
    )?;
    let drawings = frozen.scene().sheets(|_| true);
    let page = report::Contents::of(&frozen, date)?;
    files.add(
        "report.html",
        "the job on one page, for a phone or a browser",
        |out| output::html::report(&page.page(&frozen, &drawings), out),
    )?;
    let said = [
        ("README.txt", "this page"),
        (
            "checksums.txt",
            "a checksum of each file, to see whether it was changed",
        ),
    ];
    let listed = files.told.iter().cloned();
    let listed: Vec<(String, String)> = listed
        .chain(said.map(|(name, what)| (name.to_owned(), what.to_owned())))
        .collect();
    let contents = contents(&Pack {
        plan: &job.plan,
        frozen: &frozen.plan,
        from: &from,
        mark: &frozen.fingerprint,
        sizes_by: edits
            .iter()
            .any(settles_size)
            .then_some(match job.figures.priced {
                true => "the price list",
                false => "the mass of metal",
            }),
        files: &listed,
        own: &data,
    });
    files.add("README.txt", "", |out| {
        output::terminal::handover(&[contents], WIDTH, out)
    })?;
    let sums: String = files
        .whole
        .iter()
        .map(|(name, bytes)| format!("{}  {name}\n", fingerprint::checksum(bytes)))
        .collect();
    files
        .whole
        .push(("checksums.txt".to_owned(), sums.into_bytes()));
    files::new_folder(folder, &files.whole)?;
    tell_unprintable(files.unprintable, io)?;
    writeln!(io.err, "wrote {}", folder.display())?;
    Ok(Exit::Done)
}

/// The frozen job, read again as the next owner will, and its text.
fn frozen_job(
    args: &Args,
    job: &Counted,
    edits: &[Edit],
    from: &AsBuilt,
    io: &mut Io<'_>,
) -> Result<(Counted, String), Failure> {
    let read = |edits: &[Edit], taken: &[(String, String)], io: &mut Io<'_>| {
        let text = frozen(job.source.text(), edits, &head(&job.plan, from, taken));
        let text = text.ok_or_else(|| not_frozen("its file could not be laid out"))?;
        let unpriced = Named {
            catalog: &[],
            rates: None,
            buying: &Buying::default(),
            currency: None,
        };
        let (library, own) = library(&args.own, io)?;
        let source = Source::new("job.toml".to_owned(), text.clone());
        let figures = Figures::read(unpriced, &library, io);
        // What is found of the job has been told of the file that it was frozen from.
        let mut told = Vec::new();
        let found = Counted::of(
            &source,
            figures,
            &library,
            &own,
            &mut Io {
                out: &mut io::sink(),
                err: &mut told,
                input: &mut io::empty(),
                ..*io
            },
        );
        match found {
            Ok(found) => Ok((found, text)),
            Err(failure) => {
                io.err.write_all(&told)?;
                failure.tell(io.err);
                Err(not_frozen("it cannot be read as built"))
            }
        }
    };
    let (frozen, text) = read(edits, &[], io)?;
    let taken = done_with(&job.plan, &frozen.plan);
    let (frozen, text) = match taken.is_empty() {
        true => (frozen, text),
        false => {
            let erased = taken
                .iter()
                .map(|(rule, _)| Edit::Erase(Place::One("accept"), rule.clone()));
            let edits: Vec<Edit> = edits.iter().cloned().chain(erased).collect();
            read(&edits, &taken, io)?
        }
    };
    match misfit(&job.plan, &frozen.plan) {
        Some(why) => Err(not_frozen(&why)),
        None => Ok((frozen, text)),
    }
}

fn not_frozen(why: &str) -> Failure {
    Failure::Untold(
        Exit::Stopped,
        format!("the job could not be frozen: {why}; nothing was written"),
    )
}

/// Copies the user's own data, and gives what to type to have it read.
fn own_data(args: &Args, files: &mut Files) -> Result<String, Failure> {
    let kinds = [
        (
            "--system-file",
            "a pipe system of your own",
            &args.own.systems.system_file,
        ),
        (
            "--tool-file",
            "a list of tools of your own",
            &args.own.tool_file,
        ),
    ];
    let mut typed = String::new();
    for (flag, what, paths) in kinds {
        for path in paths {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            let mut free = format!("data/{name}");
            for number in 2.. {
                if !files.has(&free) {
                    break;
                }
                free = format!("data/{number}-{name}");
            }
            typed += &match free.contains(char::is_whitespace) {
                true => format!(" {flag} \"{free}\""),
                false => format!(" {flag} {free}"),
            };
            let source = files::read(path)?;
            files.add(&free, what, |out| out.write_all(source.text().as_bytes()))?;
        }
    }
    Ok(typed)
}

/// The files of the folder.
#[derive(Default)]
struct Files {
    whole: Vec<(String, Vec<u8>)>,
    /// Their names, and what they are.
    told: Vec<(String, String)>,
    /// The characters that the fonts of the PDFs lack.
    unprintable: BTreeSet<char>,
}

impl Files {
    fn has(&self, name: &str) -> bool {
        self.whole.iter().any(|(one, _)| one == name)
    }

    fn add(
        &mut self,
        name: &str,
        what: &str,
        content: impl FnOnce(&mut dyn Write) -> io::Result<()>,
    ) -> Result<(), Failure> {
        let mut bytes = Vec::new();
        content(&mut bytes)?;
        self.whole.push((name.to_owned(), bytes));
        self.told.push((name.to_owned(), what.to_owned()));
        Ok(())
    }

    fn pdf(
        &mut self,
        name: &str,
        what: &str,
        content: impl FnOnce(&mut dyn Write) -> io::Result<BTreeSet<char>>,
    ) -> Result<(), Failure> {
        let mut lacking = BTreeSet::new();
        self.add(name, what, |out| {
            lacking = content(out)?;
            Ok(())
        })?;
        self.unprintable.append(&mut lacking);
        Ok(())
    }
}

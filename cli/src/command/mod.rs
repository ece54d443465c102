//! One command each.

mod add_drop;
mod air;
mod as_built;
mod beside;
mod catalog;
mod change;
mod check;
mod compare;
mod counted;
mod crew;
mod cut;
mod draw;
mod estimate;
mod explain;
mod figures;
mod handover;
mod import;
mod keys;
mod lists;
mod manual;
mod new;
mod papers;
mod parts;
mod priced;
mod quote;
mod readback;
mod report;
mod shop;
mod suppliers;
mod systems;
mod tidy;
mod water;

use crate::Io;
use crate::args::{Command, Form, OwnData, OwnSystems, Paper, Print};
use crate::exit::{Exit, Failure};
use crate::{files, output};
use bom::Plan;
use bom::air::sizes::Costs;
use bom::drawing::{Field, Scene};
use bom::finding::Finding;
use bom::library::Library;
use bom::source::Source;
use bom::takeoff::Takeoff;
use clap::ValueEnum;
use jiff::civil::Date;
use lists::{lists, prices};
use pricing::catalog::Catalog;
use pricing::estimate::Estimate;
use pricing::money::{Currency, MoneyError};
use pricing::quote::MissingPrice;
use pricing::rates::Rates;
use pricing::size_costs::size_cost;
use pricing::stand_ins;
use std::collections::BTreeSet;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Runs a command.
pub(crate) fn run(command: &Command, io: &mut Io<'_>) -> Result<Exit, Failure> {
    match command {
        Command::New(args) => new::run(args, io),
        Command::Import(args) => import::run(args, io),
        Command::Check(args) => check::run(args, io),
        Command::ReadBack(args) => readback::run(args, io),
        Command::Parts(args) => parts::run(args, io),
        Command::Cut(args) => cut::run(args, io),
        Command::Crew(args) => crew::run(args, io),
        Command::Quote(args) => quote::run(args, io),
        Command::Estimate(args) => estimate::run(args, io),
        Command::Change(args) => change::run(args, io),
        Command::Compare(args) => compare::run(args, io),
        Command::Catalog(args) => catalog::run(args, io),
        Command::Shop(args) => shop::run(args, io),
        Command::Papers(args) => papers::run(args, io),
        Command::Handover(args) => handover::run(args, io),
        Command::Report(args) => report::run(args, io),
        Command::Systems(args) => systems::run(args, io),
        Command::Draw(args) => draw::run(args, io),
        Command::Air(args) => air::run(args, io),
        Command::AddDrop(args) => add_drop::run(args, io),
        Command::Water(args) => water::run(args, io),
        Command::Keys(args) => keys::run(args, io),
        Command::Tidy(args) => tidy::run(args, io),
        Command::Completions(args) => manual::completions(args, io),
        Command::Manual(args) => manual::run(args, io),
        Command::Explain(args) => explain::run(args, io),
    }
}

/// What was read of the user's own, for the papers' mark.
struct Own {
    systems: Vec<Source>,
    tools: Vec<Source>,
}

impl Own {
    fn all(&self) -> impl Iterator<Item = &Source> {
        self.systems.iter().chain(&self.tools)
    }
}

/// The shipped data with the user's own pipe systems and tools.
fn library(own: &OwnData, io: &mut Io<'_>) -> Result<(Library, Own), Failure> {
    let (library, systems) = with_systems(&own.systems, io)?;
    let tools = read_all(&own.tool_file)?;
    let library = library.with_tools(&tools);
    let library = usable(library, &tools, "the list of tools cannot be used", io)?;
    Ok((library, Own { systems, tools }))
}

/// The shipped data with the user's own pipe systems.
fn with_systems(own: &OwnSystems, io: &mut Io<'_>) -> Result<(Library, Vec<Source>), Failure> {
    let shipped = Library::shipped().map_err(|error| {
        Failure::Untold(
            Exit::Outside,
            format!("the shipped data is broken: {error}"),
        )
    })?;
    let sources = read_all(&own.system_file)?;
    let library = shipped.with_systems(&sources);
    let library = usable(library, &sources, "the pipe system cannot be used", io)?;
    Ok((library, sources))
}

/// Tells what is wrong with the user's own data.
fn usable(
    library: Result<Library, Vec<(usize, Finding)>>,
    sources: &[Source],
    outcome: &str,
    io: &mut Io<'_>,
) -> Result<Library, Failure> {
    match library {
        Ok(library) => Ok(library),
        Err(found) => {
            tell(&found, sources, io)?;
            let findings: Vec<Finding> = found.into_iter().map(|(_, finding)| finding).collect();
            Err(stopped(&findings, outcome))
        }
    }
}

/// What the papers' mark of a layout is made of: the job, the user's own tools,
/// and those of their own systems that it has parts of.
fn layout<'a>(
    job: &'a Source,
    own: &'a Own,
    library: &Library,
    takeoff: &Takeoff,
) -> Vec<&'a Source> {
    let shipped = library.systems().len().saturating_sub(own.systems.len());
    let lines = takeoff.lines.iter().map(|line| &line.key);
    let used: BTreeSet<&str> = lines
        .chain(takeoff.pipe.iter().map(|line| &line.key))
        .map(|key| key.system.as_str())
        .collect();
    let systems = library.systems().iter().skip(shipped).zip(&own.systems);
    let systems = systems.filter(|(system, _)| used.contains(system.name.as_str()));
    std::iter::once(job)
        .chain(systems.map(|(_, source)| source))
        .chain(&own.tools)
        .collect()
}

/// Tells what was found in several files.
fn tell<'a>(
    found: &[(usize, Finding)],
    sources: impl IntoIterator<Item = &'a Source>,
    io: &mut Io<'_>,
) -> io::Result<()> {
    for (index, source) in sources.into_iter().enumerate() {
        let of_this = found.iter().filter(|(at, _)| *at == index);
        let of_this: Vec<Finding> = of_this.map(|(_, finding)| finding.clone()).collect();
        crate::report::print(&of_this, source, io.err)?;
    }
    Ok(())
}

/// What sizes are chosen by where a price list is given.
type Prices<'a> = (&'a Catalog, Option<&'a Rates>);

/// Gives the costs that these prices come to.
fn costed<T>(
    library: &Library,
    prices: Option<Prices<'_>>,
    with: impl FnOnce(Option<&Costs<'_>>) -> T,
) -> T {
    let Some((catalog, rates)) = prices else {
        return with(None);
    };
    let of = |system, size| size_cost(library, catalog, rates, system, size);
    with(Some(&Costs {
        of: &of,
        basis: match rates {
            Some(rates) if !rates.is_owner() => "the price list and the work",
            _ => "the price list",
        },
    }))
}

/// Plans a job, with the sizes that it leaves open the cheapest by these prices.
fn plan_by(
    source: &Source,
    library: &Library,
    system: Option<usize>,
    prices: Option<Prices<'_>>,
) -> (Option<Plan>, Vec<Finding>) {
    costed(library, prices, |costs| {
        bom::plan_by(source, library, system, costs)
    })
}

/// Reads and counts a job, and tells what was found.
fn plan(
    source: &Source,
    library: &Library,
    prices: Option<Prices<'_>>,
    io: &mut Io<'_>,
) -> Result<Plan, Failure> {
    let (plan, findings) = plan_by(source, library, None, prices);
    crate::report::print(&findings, source, io.err)?;
    plan.ok_or_else(|| stopped(&findings, "nothing was counted"))
}

/// The end of a command that findings stopped.
fn stopped(findings: &[Finding], outcome: &str) -> Failure {
    let stopping = findings
        .iter()
        .filter(|finding| Exit::of([*finding]) > Exit::Done)
        .count();
    let problems = if stopping == 1 {
        "1 problem"
    } else {
        &format!("{stopping} problems")
    };
    Failure::Untold(Exit::of(findings), format!("{problems}: {outcome}"))
}

/// The format that was asked for: by name, by the ending of the file, or text.
fn format_of<F: ValueEnum>(format: Option<F>, out: Option<&Path>, text: F) -> Result<F, Failure> {
    if let Some(format) = format {
        return Ok(format);
    }
    let Some(ending) = out.and_then(Path::extension) else {
        return Ok(text);
    };
    let ending = ending.to_string_lossy().to_lowercase();
    if ending == "txt" && F::from_str("text", true).is_ok() {
        return Ok(text);
    }
    F::from_str(&ending, true).map_err(|_| {
        let known: Vec<String> = F::value_variants()
            .iter()
            .filter_map(ValueEnum::to_possible_value)
            .map(|value| value.get_name().to_owned())
            .collect();
        Failure::Untold(
            Exit::Unreadable,
            format!(
                "a file ending in `.{ending}` cannot be written here; the formats are {} (or name one with --format)",
                known.join(", ")
            ),
        )
    })
}

/// The format in which an answer is printed.
fn print_format<F>(print: &Print<F>, text: F) -> Result<F, Failure>
where
    F: ValueEnum + Copy + Send + Sync + 'static,
{
    format_of(print.format, print.out.as_deref(), text)
}

/// The format of a paper; a PDF or a workbook is refused that has no file to go to.
fn paper_format<F>(print: &Print<F>, text: F, name: &str) -> Result<F, Failure>
where
    F: ValueEnum + Copy + Send + Sync + 'static,
{
    let format = print_format(print, text)?;
    let value = format.to_possible_value();
    let ending = value.as_ref().map_or("", |value| value.get_name());
    let what = match ending {
        "pdf" => "a PDF",
        "xlsx" => "a workbook",
        _ => return Ok(format),
    };
    if print.out.is_none() {
        return Err(Failure::Untold(
            Exit::Unreadable,
            format!("{what} needs a file: add --out {name}.{ending}"),
        ));
    }
    Ok(format)
}

const fn paper(paper: Paper) -> output::pdf::Paper {
    match paper {
        Paper::A4 => output::pdf::Paper::A4,
        Paper::Letter => output::pdf::Paper::Letter,
    }
}

fn read_all(paths: &[PathBuf]) -> Result<Vec<Source>, Failure> {
    paths.iter().map(|path| files::read(path)).collect()
}

/// Tells which rows a price list lacks.
fn tell_missing(missing: &[MissingPrice], io: &mut Io<'_>) -> io::Result<()> {
    writeln!(io.err, "add to a price list:")?;
    for missing in missing {
        writeln!(io.err, "{}", missing.row)?;
        writeln!(io.err, "    # {}", missing.reason)?;
    }
    Ok(())
}

/// Tells which of the prices that are used are old, or of a day still to come.
fn tell_stale(estimate: &Estimate, date: Date, io: &mut Io<'_>) -> io::Result<()> {
    for message in estimate.stale_prices(date) {
        writeln!(io.err, "warning: {message}")?;
    }
    Ok(())
}

/// Tells what keeps a price from its total, and ends so.
fn tell_open(
    missing: &[MissingPrice],
    unrated: &[String],
    io: &mut Io<'_>,
) -> Result<Exit, Failure> {
    writeln!(io.err, "the price is incomplete: this is not an offer")?;
    if !missing.is_empty() {
        tell_missing(missing, io)?;
        return Ok(Exit::Stopped);
    }
    for work in unrated {
        writeln!(io.err, "  {work}")?;
    }
    Ok(Exit::Stopped)
}

/// Tells which characters a PDF could not show.
fn tell_unprintable(lacking: BTreeSet<char>, io: &mut Io<'_>) -> io::Result<()> {
    if lacking.is_empty() {
        return Ok(());
    }
    let list: String = lacking.into_iter().collect();
    writeln!(
        io.err,
        "the PDF's font lacks these characters, printed as `?`: {list}"
    )
}

/// Writes a paper in the form that was asked for; a PDF gives back the
/// characters that its fonts lack, which are told.
fn deliver_paper<'a>(
    form: &Form<impl ValueEnum + Send + Sync + 'static>,
    inputs: impl IntoIterator<Item = &'a PathBuf>,
    io: &mut Io<'_>,
    content: impl FnOnce(&mut dyn Write) -> io::Result<BTreeSet<char>>,
) -> Result<(), Failure> {
    let inputs: Vec<&Path> = inputs.into_iter().map(PathBuf::as_path).collect();
    let mut unprintable = BTreeSet::new();
    deliver(form.print.out.as_deref(), &inputs, io, |out| {
        unprintable = content(out)?;
        Ok(())
    })?;
    tell_unprintable(unprintable, io)?;
    Ok(())
}

/// A job file or a filled-in sheet that is there holds a person's work.
fn kept(out: Option<&Path>, replace: bool) -> Result<(), Failure> {
    match out.filter(|out| out.is_file()) {
        Some(out) if !replace => Err(Failure::Untold(
            Exit::Unreadable,
            format!(
                "`{}` is there already: name another --out, or add --replace to write over it",
                out.display()
            ),
        )),
        _ => Ok(()),
    }
}

/// Writes a result to its file, or to the terminal.
fn deliver(
    out: Option<&Path>,
    inputs: &[&Path],
    io: &mut Io<'_>,
    content: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> Result<(), Failure> {
    match out {
        Some(path) => {
            files::write(path, inputs, content)?;
            writeln!(io.err, "wrote {}", path.display())?;
        }
        None => content(io.out)?,
    }
    Ok(())
}

/// Two of which both are needed: where both failed, both are told.
fn both<A, B>(
    first: Result<A, Failure>,
    second: Result<B, Failure>,
    io: &mut Io<'_>,
) -> Result<(A, B), Failure> {
    match (first, second) {
        (Ok(first), Ok(second)) => Ok((first, second)),
        (Err(failure), Ok(_)) | (Ok(_), Err(failure)) => Err(failure),
        (Err(first), Err(second)) => {
            let exit = first.tell(io.err);
            Err(Failure::Told(exit.max(second.tell(io.err))))
        }
    }
}

/// A counted job as it is drawn.
const fn scene<'a>(plan: &'a Plan, library: &'a Library) -> Scene<'a> {
    Scene {
        plan,
        library,
        field: Field::COMMON,
    }
}

/// Counts a plan in what the price list has.
fn settle(
    plan: &mut Plan,
    library: &Library,
    catalog: &Catalog,
    currency: Currency,
) -> Result<(), Failure> {
    let settled = stand_ins::settle(&plan.takeoff, &plan.network, library, catalog, currency);
    plan.takeoff = settled.map_err(unpriced)?;
    Ok(())
}

/// A sum that money cannot hold.
fn unpriced(error: MoneyError) -> Failure {
    Failure::Untold(Exit::Stopped, error.to_string())
}

//! `add-drop`: one more drop on pipe that stands: what to shut, what it takes, what it
//! costs, what the air says.

use super::counted::Counted;
use super::figures::{Figures, Named};
use super::priced::PricedJob;
use super::{deliver, library, plan, print_format, stopped, tell_open, tell_stale, unpriced};
use crate::args::{AddDrop, TextOrJson};
use crate::exit::{Exit, Failure};
use crate::output::{AddDropPaper, AddedPrice};
use crate::{Io, files, output, report};
use bom::drawing::tags;
use bom::finding::did_you_mean;
use bom::job::{Job, Outlet, Tool};
use bom::library::Library;
use bom::quantity::{Length, QuantityError, Units};
use bom::source::{Span, Spanned};
use pricing::change::worst;
use std::path::{Path, PathBuf};

/// Where a drop goes, so far from the start of a leg; none where its place is marked.
type Place = Option<(usize, Length)>;

pub(super) fn run(args: &AddDrop, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = print_format(&args.print, TextOrJson::Text)?;
    let (library, own) = library(&args.own, io)?;
    let source = files::read(&args.job)?;
    let priced = match &args.rates {
        Some(rates) => {
            let named = Named {
                catalog: &args.catalog,
                rates: Some(rates),
                buying: &args.buying,
                currency: None,
            };
            let figures = Figures::read(named, &library, io);
            let counted = Counted::of(&source, figures, &library, &own, io)?;
            Some(PricedJob::of(counted)?)
        }
        None => None,
    };
    let unpriced_plan = match priced {
        None => Some(plan(&source, &library, None, io)?),
        Some(_) => None,
    };
    let stands = priced.as_ref().map(|priced| &priced.plan);
    let Some(stands) = stands.or(unpriced_plan.as_ref()) else {
        return Ok(Exit::Done);
    };
    let job = stands.job.clone().as_built(&stands.network);
    let (outlet, place) = asked(args, &stands.job, &job, &library)?;
    let more = job.clone().with_outlet(outlet, place);
    let after = match priced.as_ref() {
        Some(priced) => match priced.otherwise(more)? {
            Ok(plan) => plan,
            Err(reason) => return Err(cannot(&args.name, &reason)),
        },
        None => {
            let (plan, findings) = bom::plan_job(more, &library, None);
            let Some(plan) = plan else {
                report::print(&findings, &source, io.err)?;
                return Err(stopped(&findings, "the drop cannot be added"));
            };
            plan
        }
    };
    let after = &after;
    let date = args.date.unwrap_or_else(io.today);
    let sheet = priced
        .as_ref()
        .map(|priced| priced.inputs_of(after, date).sheet());
    let sheet = sheet.transpose().map_err(unpriced)?;
    let drop = after
        .network
        .drops
        .iter()
        .find(|drop| drop.name == args.name);
    let Some(drop) = drop else {
        return Err(cannot(&args.name, "it stands nowhere"));
    };
    let tags = tags(after);
    let valves: Vec<_> = tags.valves.iter().map(|(at, ..)| *at).collect();
    let part = after.network.section_at(drop.take_off_at, &valves);
    let shut = part.as_ref().map_or(&[][..], |part| &part.valves);
    let dead = after.network.without_air(shut);
    let all_dead = part.as_ref().is_none_or(|part| part.has_tank);
    let drops = after.network.drops.iter().enumerate();
    let paper = AddDropPaper {
        name: &args.name,
        plan: after,
        takeoff: &after.takeoff,
        place: after.network.describe(drop.take_off_at),
        shut: tags
            .valves
            .iter()
            .filter(|(at, ..)| shut.contains(at))
            .map(|(at, tag, name)| match after.network.is_line_valve(*at) {
                true => format!("{tag} ({name})"),
                false => format!("{tag} (at the tank {name})"),
            })
            .collect(),
        at_tank: all_dead,
        dead: drops
            .filter(|(index, one)| one.name != args.name && (all_dead || dead.contains(index)))
            .map(|(_, one)| one.name.clone())
            .collect(),
        plugged: stands
            .network
            .plugged
            .iter()
            .any(|one| one.name == args.name),
        before: worst(stands, &library),
        after: worst(after, &library),
        price: sheet.as_ref().map(|sheet| AddedPrice {
            hours: sheet.estimate.hours.to_string(),
            days: sheet.estimate.days.map(|days| days.to_string()),
            total: sheet.total,
            owner: sheet.owner,
        }),
    };
    let width = io.width;
    let inputs: Vec<&Path> = std::iter::once(&args.job)
        .chain(args.own.files())
        .chain(&args.catalog)
        .chain(&args.rates)
        .map(PathBuf::as_path)
        .collect();
    deliver(args.print.out.as_deref(), &inputs, io, |out| match format {
        TextOrJson::Text => output::terminal::add_drop(&paper, width, out),
        TextOrJson::Json => output::json::add_drop(&paper, out),
    })?;
    let Some(sheet) = &sheet else {
        return Ok(Exit::Done);
    };
    tell_stale(&sheet.estimate, date, io)?;
    match sheet.total {
        Some(_) => Ok(Exit::Done),
        None => tell_open(&sheet.estimate.missing, &sheet.unrated, io),
    }
}

fn wrong(message: String) -> Failure {
    Failure::Untold(Exit::Unreadable, message)
}

fn cannot(name: &str, reason: &str) -> Failure {
    Failure::Untold(
        Exit::Stopped,
        format!("`{name}` cannot be built there: {reason}"),
    )
}

/// The outlet that is asked for, and its place.
fn asked(
    args: &AddDrop,
    read: &Job,
    job: &Job,
    library: &Library,
) -> Result<(Outlet, Place), Failure> {
    let name = args.name.trim();
    if name.is_empty() || job.outlets.iter().any(|one| one.name.value == name) {
        return Err(wrong(format!(
            "`{name}` is no name for another outlet: the job has it already, or it is empty"
        )));
    }
    // What the job says is to come later has its place, its kind and its height.
    let to_come = read.to_come.iter().flat_map(|to_come| &to_come.outlets);
    let planned = to_come.clone().find(|one| one.name.value == name);
    let kind = match &args.drop {
        Some(kind) => Some(known(
            "kind of drop",
            kind,
            job.drops.iter().map(|one| one.name.value.as_str()),
        )?),
        None => planned.and_then(|one| one.drop).or_else(|| usual_kind(job)),
    };
    let Some(kind) = kind else {
        return Err(wrong(
            "the job has no kind of drop: add a [drop.NAME]".to_owned(),
        ));
    };
    let height = match &args.height {
        Some(text) => Some(length("--height", text, job.units)?),
        None => planned
            .map(|one| one.height.value)
            .or_else(|| job.usual_height(kind))
            .or_else(|| job.outlets.first().map(|one| one.height.value)),
    };
    let Some(height) = height else {
        return Err(wrong("say how high the outlet is: --height 4-0".to_owned()));
    };
    let place = match (&args.on, &args.at, planned) {
        (None, None, Some(_)) => None,
        (on, at, _) => Some(place(on.as_deref(), at.as_deref(), job)?),
    };
    let tools = match (&args.tool, planned) {
        (Some(tool), _) => vec![tool_called(tool, library)?],
        (None, Some(planned)) => planned.tools.clone(),
        (None, None) => Vec::new(),
    };
    let outlet = Outlet {
        name: Spanned::new(name.to_owned(), Span::default()),
        line: 1,
        drop: Some(kind),
        height: Spanned::new(height, Span::default()),
        quality: planned.and_then(|one| one.quality),
        set: planned.and_then(|one| one.set),
        tools,
        head: planned.and_then(|one| one.head),
        state: None,
    };
    Ok((outlet, place))
}

/// The kind that most outlets are of, in its size; of several the first.
fn usual_kind(job: &Job) -> Option<usize> {
    let of = |kind: usize| job.drops.get(kind).map(|of| (&of.name.value, of.size));
    let count = |kind: usize| {
        let kinds = job.outlets.iter().filter_map(|one| one.drop);
        kinds.filter(|own| of(*own) == of(kind)).count()
    };
    let kinds = 0..job.drops.len();
    kinds.rev().max_by_key(|kind| count(*kind))
}

/// The index of a name; or which are known.
fn known<'a>(
    what: &str,
    written: &str,
    names: impl Iterator<Item = &'a str> + Clone,
) -> Result<usize, Failure> {
    if let Some(found) = names.clone().position(|name| name == written.trim()) {
        return Ok(found);
    }
    let near = did_you_mean(written, names.clone())
        .map_or_else(String::new, |near| format!("did you mean `{near}`? "));
    let mut all: Vec<&str> = names.collect();
    all.dedup();
    Err(wrong(format!(
        "there is no {what} `{written}`: {near}known are {}",
        all.join(", ")
    )))
}

fn length(what: &str, text: &str, units: Units) -> Result<Length, Failure> {
    let told = |error: QuantityError| wrong(format!("{what}: {}: {}", error.message, error.help));
    Length::parse(text, units).map_err(told)
}

/// The leg and how far along it: as said, else the middle of the longest level pipe that
/// is free.
fn place(on: Option<&str>, at: Option<&str>, job: &Job) -> Result<(usize, Length), Failure> {
    let leg = on.map(|on| leg_called(on, job)).transpose()?;
    let Some(at) = at else {
        let mut free = job.stretches().into_iter();
        let found = free.find(|one| leg.is_none_or(|leg| leg == one.leg));
        return found.map(|one| (one.leg, one.at)).ok_or_else(|| {
            wrong(
                "no level pipe is free there: say where, like --on \"leg 3\" --at 12-6".to_owned(),
            )
        });
    };
    let Some(leg) = leg else {
        return Err(wrong(
            "say on which leg: --on \"leg 3\" or --on \"north wall\"".to_owned(),
        ));
    };
    let (reading, back) = match at.trim().strip_suffix("back") {
        Some(reading) => (reading, true),
        None => (at, false),
    };
    let reading = length("--at", reading, job.units)?;
    let whole = job.legs[leg].length();
    if reading > whole {
        return Err(wrong(format!(
            "{} is {} long, and --at says {}",
            job.legs[leg].label(),
            whole.show(job.units),
            reading.show(job.units)
        )));
    }
    Ok((leg, if back { whole - reading } else { reading }))
}

/// A leg by its number, its wall or its end's name.
fn leg_called(on: &str, job: &Job) -> Result<usize, Failure> {
    let on = on.trim();
    let number = on.trim_start_matches("leg ").trim().parse::<usize>().ok();
    let is_it = |leg: &bom::job::Leg| {
        let wall = leg.along.as_ref().map(|along| along.value.word());
        let wall = wall.is_some_and(|wall| on == wall || on == format!("{wall} wall"));
        let to = leg.to.as_ref().is_some_and(|to| to.value == on);
        Some(leg.number) == number || wall || to
    };
    job.legs.iter().position(is_it).ok_or_else(|| {
        let legs: Vec<String> = job.legs.iter().map(bom::job::Leg::label).collect();
        wrong(format!(
            "there is no leg `{on}`: known are {}",
            legs.join(", ")
        ))
    })
}

/// A tool by its name in the list of tools.
fn tool_called(name: &str, library: &Library) -> Result<Tool, Failure> {
    let kind = match library.tool_called(name) {
        Some(kind) => kind,
        None => known(
            "tool",
            name,
            library.tools().iter().map(|one| one.name.as_str()),
        )?,
    };
    let name = library.tools()[kind].name.clone();
    Ok(Tool {
        span: Span::default(),
        name: Some(Spanned::new(name, Span::default())),
        kind: Some(kind),
        air: None,
        average: None,
        pressure: None,
        share: None,
        hose: None,
        side: None,
        note: None,
    })
}

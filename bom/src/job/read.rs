//! From the text of a job file to a [`Job`], with every problem found.

use super::fields::{Entry, Fields, one_of, read_quantity, unknown_name};
use super::unmeasured::{self, Guess, Guesses};
use super::{Job, JobOption, Leg, Reading, Room, Supply, points, syntax, tables};
use crate::air::Site;
use crate::finding::{Finding, stops};
use crate::library::Library;
use crate::library::refused::Limits;
use crate::quantity::{Length, QuantityError, Units};
use crate::source::{Source, Span, Spanned};
use std::collections::BTreeSet;
use toml::de::{DeTable, DeValue};

const TOP: [&str; 19] = [
    "job",
    "shop",
    "site",
    "room",
    "supply",
    "main",
    "leg",
    "drain",
    "valve",
    "plug",
    "drop",
    "outlet",
    "together",
    "alternate",
    "option",
    "obstacle",
    "check",
    "accept",
    "as_built",
];

/// What the tables of one file share while they are read.
pub(super) struct Reader<'a> {
    pub(super) source: &'a Source,
    pub(super) library: &'a Library,
    pub(super) units: Units,
    /// The highest of what the supplies say of their pressures.
    pub(super) limits: Limits,
    /// The air outside.
    pub(super) site: Site,
    /// Lengths that were not measured, by where they stand.
    pub(super) guesses: Guesses,
    pub(super) findings: Vec<Finding>,
    pub(super) assumptions: Vec<String>,
}

/// Reads a job file. The job is there if its legs can be walked, even beside
/// findings that stop it; the findings stand in the order of the file.
#[must_use]
pub fn read(source: &Source, library: &Library) -> (Option<Job>, Vec<Finding>) {
    let (document, errors) = DeTable::parse_recoverable(source.text());
    let mut reader = Reader {
        source,
        library,
        units: Units::Feet,
        limits: Limits::default(),
        site: Site::SEA_LEVEL,
        guesses: Guesses::new(),
        findings: Vec::new(),
        assumptions: Vec::new(),
    };
    let job = read_document(document.get_ref(), &mut reader);
    let mut findings = reader.findings;
    if errors.is_empty() {
        findings.sort_by_key(Finding::place);
        return (job, findings);
    }
    // A broken line has lost what stood on it: what is missing then says
    // nothing about what the user wrote, nor does a walk.
    findings.retain(|finding| finding.rule != "missing-key" && finding.rule != "missing-table");
    findings.extend(syntax::findings(source, &errors));
    findings.sort_by_key(Finding::place);
    (None, findings)
}

fn read_document(document: &DeTable<'_>, r: &mut Reader<'_>) -> Option<Job> {
    let top = Fields::new(
        "the job file",
        document,
        Span::default(),
        &TOP,
        &mut r.findings,
    );
    let whole = r.findings.is_empty();
    let (title, customer, revision) = head(&top, r);

    let people = top.value("shop").and_then(|value| tables::people(value, r));
    let altitude = top.value("site").and_then(|value| tables::site(value, r));
    r.site = altitude.map_or(Site::SEA_LEVEL, Site::at_altitude);
    let rooms = entries(&top, "room", r, tables::room);
    let supplies = supplies(&top, r);
    let main = match top.value("main") {
        Some(value) => tables::main(value, r),
        None => {
            missing_table(r, "main", "[main] with system, size and height");
            None
        }
    };
    let drains = entries(&top, "drain", r, tables::main_drain);
    let valves = entries(&top, "valve", r, tables::line_valve);
    let plugs = entries(&top, "plug", r, tables::plug);
    let drops = entries(&top, "drop", r, tables::drop_kind);
    let kinds = names(&top, "drop");
    let kinds: Vec<&str> = kinds.iter().map(String::as_str).collect();
    let outlets = entries(&top, "outlet", r, |entry, r| {
        tables::outlet(entry, &kinds, &drops, r)
    });
    if let Some(people) = people {
        tables::nobody_holds(people, &outlets, r);
    }
    let outlet_names = names(&top, "outlet");
    let together = entries(&top, "together", r, |entry, r| {
        tables::together(entry, &outlet_names, &outlets, r)
    });
    let alternates = entries(&top, "alternate", r, |entry, r| {
        tables::alternate(entry, &outlet_names, r)
    });
    tables::each_once(&alternates, r);
    let options = options(&top, &outlet_names, r);
    let obstacles = entries(&top, "obstacle", r, |entry, r| {
        tables::obstacle(entry, &rooms, r)
    });
    let accept = entries(&top, "accept", r, tables::accepted);
    let as_built = top
        .value("as_built")
        .and_then(|value| tables::as_built(value, r));
    let declared = ["outlet", "drain", "valve", "plug"]
        .into_iter()
        .flat_map(|key| names(&top, key));
    let mut legs = legs(&top, r).filter(|_| whole)?;
    stand_in_rooms(&mut legs, &rooms, &names(&top, "room"), r);
    let checks = checks(&top, &legs, &rooms, r);
    let (mut main, system) = main?;
    let mut supplies = supplies?;
    let unmeasured = unmeasured::settle(
        &mut legs,
        &rooms,
        &mut supplies,
        &mut main,
        &outlets,
        (r.units, &r.guesses),
    );
    let told = unmeasured.iter().map(|one| one.words(r.units));
    r.assumptions.extend(told);
    alloy_fits(&main, system, &legs, r);

    let mut job = Job {
        title,
        customer,
        revision,
        units: r.units,
        people: people.map(|people| people.value),
        altitude,
        rooms,
        supplies,
        main,
        legs,
        drains,
        valves,
        drops,
        outlets,
        together,
        alternates,
        options,
        obstacles,
        checks,
        accept,
        declared: declared.collect(),
        complete: true,
        system,
        unmeasured,
        assumptions: std::mem::take(&mut r.assumptions),
        unused: BTreeSet::new(),
        plugs,
        as_built,
        before: None,
        to_come: None,
    };
    if !points::resolve(&mut job, r) {
        return None;
    }
    let mut job = job.staged(r.library, &mut r.findings);
    job.complete = !stops(&r.findings);
    Some(job)
}

/// The alloy is one of those that a system of the job can be joined with.
fn alloy_fits(main: &super::Main, system: usize, legs: &[Leg], r: &mut Reader<'_>) {
    let Some(alloy) = &main.alloy else { return };
    let on_legs = legs.iter().filter_map(|leg| leg.system);
    let systems = std::iter::once(system).chain(on_legs.map(|system| system.value));
    let known: BTreeSet<&str> = systems
        .flat_map(|system| r.library.systems()[system].alloys())
        .collect();
    if known.contains(alloy.value.as_str()) {
        return;
    }
    let known: Vec<&str> = known.into_iter().collect();
    r.findings.push(if known.is_empty() {
        Finding::unreadable(
            "alloy-without-joint",
            alloy.span,
            "nothing in this job is soldered or brazed with an alloy of choice",
            "take `alloy` out",
        )
    } else {
        unknown_name("alloy", &alloy.value, alloy.span, &known)
    });
}

/// Each leg's room is there, and has the wall that the leg follows. The wall's
/// length is checked with the walk.
fn stand_in_rooms(legs: &mut [Leg], rooms: &[Room], names: &[String], r: &mut Reader<'_>) {
    for leg in legs {
        let room = match &leg.room {
            Some(name) => rooms.iter().find(|room| room.name.value == name.value),
            None if rooms.len() == 1 => rooms.first(),
            None => None,
        };
        match (&leg.room, &leg.along, room) {
            (Some(name), _, None) if !names.contains(&name.value) => {
                let known: Vec<&str> = names.iter().map(String::as_str).collect();
                r.findings
                    .push(unknown_name("room", &name.value, name.span, &known));
            }
            (_, Some(along), Some(room)) if room.east_west == Length::ZERO => {
                r.findings.push(Finding::unreadable(
                    "wall-outdoors",
                    along.span,
                    format!(
                        "`{}` has no size, and so no {} wall",
                        room.name.value,
                        along.value.word()
                    ),
                    "take `along` out, or name the `room` whose wall it is",
                ));
                leg.along = None;
            }
            _ => {}
        }
    }
}

/// The names that a table of tables defines, readable or not.
fn names(top: &Fields<'_>, key: &str) -> Vec<String> {
    top.entries(key, &mut Vec::new())
        .into_iter()
        .map(|(name, _)| name.value)
        .collect()
}

/// Reads `[job]`, and first of all the units that lengths are read in.
fn head(top: &Fields<'_>, r: &mut Reader<'_>) -> (String, String, String) {
    let Some(value) = top.value("job") else {
        missing_table(r, "job", "[job] with a title and its units");
        return Default::default();
    };
    let known = ["title", "customer", "units", "revision"];
    let Some(fields) = Fields::of("[job]", value, &known, &mut r.findings) else {
        return Default::default();
    };
    fields.require(&[("title", "\"…\"")], &mut r.findings);
    let words = [("feet", Units::Feet), ("metric", Units::Metric)];
    match fields.text("units", &mut r.findings) {
        Some(text) => {
            if let Some(units) = one_of("kind of units", text, &words, &mut r.findings) {
                r.units = units.value;
            }
        }
        None if fields.value("units").is_none() => r
            .assumptions
            .push("Units are not stated: feet and inches are taken.".to_owned()),
        None => {}
    }
    if let Some(title) = fields.text("title", &mut Vec::new())
        && title.value.trim().is_empty()
    {
        r.findings.push(Finding::unreadable(
            "empty-title",
            title.span,
            "the job's title is empty",
            "give the job a name: it stands on every paper",
        ));
    }
    let mut text = |key| {
        fields
            .text(key, &mut r.findings)
            .map(|text| text.value.trim().to_owned())
            .unwrap_or_default()
    };
    (text("title"), text("customer"), text("revision"))
}

/// The supplies; none if one of them could not be read.
fn supplies(top: &Fields<'_>, r: &mut Reader<'_>) -> Option<Vec<Supply>> {
    let before = r.findings.len();
    let found = top.entries("supply", &mut r.findings);
    if found.is_empty() && r.findings.len() == before {
        missing_table(r, "supply", "[supply.compressor] with port and height");
    }
    let read: Vec<Option<Supply>> = found
        .into_iter()
        .map(|entry| tables::supply(entry, r))
        .collect();
    let supplies: Option<Vec<Supply>> = read.into_iter().collect();
    supplies.filter(|supplies| !supplies.is_empty())
}

fn options(top: &Fields<'_>, outlets: &[String], r: &mut Reader<'_>) -> Vec<JobOption> {
    let listed = list_of(top.value("option"), "options are", "option", r);
    let read = listed.into_iter().flatten();
    let options: Vec<JobOption> = read
        .filter_map(|item| tables::option(item, outlets, r))
        .collect();
    tables::choosable(&options, r);
    options
}

/// What a second walk read.
fn checks(top: &Fields<'_>, legs: &[Leg], rooms: &[Room], r: &mut Reader<'_>) -> Vec<Reading> {
    let known = tables::Known {
        legs,
        rooms,
        supplies: &names(top, "supply"),
    };
    let listed = list_of(top.value("check"), "checks are", "check", r);
    let read = listed.into_iter().flatten();
    read.filter_map(|item| tables::check(item, &known, r))
        .collect()
}

/// The tables of a list that each stand under their own header.
fn list_of<'a>(
    value: Option<&'a toml::Spanned<DeValue<'a>>>,
    words: &str,
    key: &str,
    r: &mut Reader<'_>,
) -> Option<&'a [toml::Spanned<DeValue<'a>>]> {
    let value = value?;
    if let DeValue::Array(items) = value.get_ref() {
        return Some(items);
    }
    r.findings.push(Finding::unreadable(
        "wrong-type",
        value.span().into(),
        format!("{words} a list, each under its own [[{key}]]"),
        format!("write [[{key}]] with two brackets above each {key}"),
    ));
    None
}

/// The legs; none if one of them could not be read, since the walk behind it
/// would then be a guess.
fn legs(top: &Fields<'_>, r: &mut Reader<'_>) -> Option<Vec<Leg>> {
    let Some(value) = top.value("leg") else {
        missing_table(r, "leg", "[[leg]] with from and go");
        return None;
    };
    let items = list_of(Some(value), "legs are", "leg", r)?;
    let before = r.findings.len();
    let legs: Vec<Leg> = items
        .iter()
        .enumerate()
        .filter_map(|(index, item)| tables::leg(index + 1, item, r))
        .collect();
    (r.findings.len() == before).then_some(legs)
}

fn entries<'a, T>(
    top: &Fields<'a>,
    key: &str,
    r: &mut Reader<'_>,
    mut read: impl FnMut(Entry<'a>, &mut Reader<'_>) -> Option<T>,
) -> Vec<T> {
    top.entries(key, &mut r.findings)
        .into_iter()
        .filter_map(|entry| read(entry, r))
        .collect()
}

fn missing_table(r: &mut Reader<'_>, name: &str, example: &str) {
    let end = r.source.text().trim_end().len();
    r.findings.push(Finding::unreadable(
        "missing-table",
        Span { start: end, end },
        format!("the file has no [{name}]"),
        format!("add {example}"),
    ));
}

impl Reader<'_> {
    /// The line on which a span starts.
    pub(super) fn line(&self, span: Span) -> usize {
        self.source.line(span.start)
    }

    /// A length as it was measured: `?` is not measured yet and is `usual` until what
    /// it is taken as is known, `~36-0` is paced.
    pub(super) fn taped(
        &mut self,
        text: Spanned<&str>,
        usual: Length,
        parse: impl FnOnce(&str) -> Result<Length, QuantityError>,
    ) -> Option<Spanned<Length>> {
        let written = text.value.trim();
        if written == "?" {
            self.guesses.insert(text.span, Guess::NotMeasured);
            return Some(Spanned::new(usual, text.span));
        }
        let length = match written.strip_prefix('~') {
            Some(paced) => {
                self.guesses.insert(text.span, Guess::Paced);
                paced
            }
            None => text.value,
        };
        read_quantity(Spanned::new(length, text.span), parse, &mut self.findings)
    }

    /// A place with another value.
    pub(super) fn owned(text: Spanned<&str>) -> Spanned<String> {
        text.map(str::to_owned)
    }
}

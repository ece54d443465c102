//! What the folder of a job as it was built says of itself.

use super::as_built::{TO_CONFIRM, plugged};
use super::{Edit, Part, Place, Sheet};
use crate::Plan;
use crate::job::AsBuilt;

/// What is known of a folder.
#[derive(Debug, Clone, Copy)]
pub struct Pack<'a> {
    /// The job by which it was built.
    pub plan: &'a Plan,
    /// The job frozen.
    pub frozen: &'a Plan,
    /// From which job, and when.
    pub from: &'a AsBuilt,
    /// The mark of papers that are made of the frozen job.
    pub mark: &'a str,
    /// What open sizes were chosen by, in words; none where the job leaves none open.
    pub sizes_by: Option<&'a str>,
    /// Each file, and what it is.
    pub files: &'a [(String, String)],
    /// What to type behind the job's name for the user's own data.
    pub own: &'a str,
}

/// The comment above a frozen job.
#[must_use]
pub fn head(plan: &Plan, from: &AsBuilt, done_with: &[(String, String)]) -> Vec<String> {
    let mut lines = vec![
        format!("{}, as it was built.", titled(plan)),
        format!(
            "Frozen on {} from the job of the mark {}.",
            from.date, from.mark
        ),
        "What is new from now on is written without `state`; all else stands.".to_owned(),
        "Lengths written \"?\" or \"~…\" were not measured, and are not by being built.".to_owned(),
    ];
    lines.extend(
        done_with
            .iter()
            .map(|(rule, reason)| format!("Taken as it is when it was built, {rule}: {reason}")),
    );
    lines
}

/// Why a frozen job is not the job that it was frozen from; none if it is.
#[must_use]
pub fn misfit(plan: &Plan, frozen: &Plan) -> Option<String> {
    let takeoff = &frozen.takeoff;
    if let Some(line) = takeoff.lines.first() {
        return Some(format!("it would buy {} {}", line.key.part, line.key.size));
    }
    if let Some(pipe) = takeoff.pipe.first() {
        return Some(format!("it would buy {} pipe", pipe.size));
    }
    let places = |plan: &Plan| -> Vec<_> {
        let drops = plan.network.drops.iter();
        let drops = drops.map(|drop| (drop.name.clone(), Some(drop.size), drop.take_off_at));
        let drains = plan.network.drains.iter();
        let drains = drains.map(|drain| (drain.name.clone(), None, drain.at));
        let valves = plan.network.valves.iter();
        let valves = valves.map(|valve| (valve.name.clone(), Some(valve.size), valve.at));
        let things = drops.chain(drains).chain(valves);
        let things = things.map(|(name, size, at)| (name, size, plan.network.node(at).at));
        things.collect()
    };
    let length = |plan: &Plan| plan.summary.main_length;
    if places(plan) == places(frozen) && length(plan) == length(frozen) {
        return None;
    }
    let guesses = frozen.network.assumptions.iter();
    let guesses = guesses.filter(|one| one.starts_with(TO_CONFIRM)).count();
    Some(match guesses {
        0 => "its outlets or its pipe would be others".to_owned(),
        _ => "lengths that nobody measured would be taken otherwise, since other things stand on their legs: measure what is written \"?\" there first".to_owned(),
    })
}

/// Whether a change settles a size that the file leaves open.
#[must_use]
pub fn settles_size(edit: &Edit) -> bool {
    let Edit::Write(at, "size", _) = edit else {
        return false;
    };
    matches!(at, Place::One(_) | Place::Leg(_) | Place::Named("drop", _))
}

/// The contents of the folder.
#[must_use]
pub fn contents(of: &Pack<'_>) -> Sheet {
    let rows = of.files.iter();
    let rows = rows.map(|(name, what)| vec![name.clone(), what.clone()]);
    let own = of.own;
    let mut parts = vec![
        Part::note(format!(
            "{}, as it was built. Frozen on {} from the job of the mark {}; the papers of the work have that mark. Papers that are made of job.toml have the mark {}.",
            titled(of.plan),
            of.from.date,
            of.from.mark,
            of.mark
        )),
        Part::heading("What is in this folder"),
        Part::table(&[("File", false), ("What it is", false)], rows.collect()),
        Part::heading("What to type here, with dripleg"),
        Part::Points(vec![
            format!("One more drop: what to shut, what it takes and what the air says: dripleg add-drop job.toml --name NEW --on \"leg 3\" --at 12-6{own}"),
            format!("These sheets again, a new tightness test among them: dripleg handover job.toml{own}"),
            format!("More work: copy job.toml, write what is new into the copy without `state`, and see what that takes: dripleg parts COPY.toml{own}"),
            "Whether a file has changed: sha256sum -c checksums.txt, or any other program for SHA-256.".to_owned(),
        ]),
        Part::heading("Mind"),
    ];
    parts.push(Part::Points(cautions(of)));
    Sheet {
        card: false,
        word: "contents",
        title: "The job as it was built",
        parts,
    }
}

fn cautions(of: &Pack<'_>) -> Vec<String> {
    let mut said = vec![
        "job.toml says what was planned. What was built otherwise stands on the as-built sheet in handwriting: write it into job.toml too, or the next drop starts from pipe that is not there.".to_owned(),
        "Shut off, lock, and let the air out before a joint is opened; a gauge at nothing is the only sign.".to_owned(),
    ];
    said.extend(of.sizes_by.map(|by| {
        format!("Sizes that the job left open are written down as {by} chose them. Hold them against the pipe before anything is bought for it.")
    }));
    let open = of.frozen.network.assumptions.iter();
    said.extend(open.filter(|one| one.starts_with(TO_CONFIRM)).cloned());
    let taken = of.plan.job.accept.iter();
    said.extend(taken.map(|one| format!("Taken as it is, {}: {}", one.rule.value, one.reason)));
    let plugs = plugged(&of.frozen.network);
    if !plugs.is_empty() {
        said.push(format!("Branches that are plugged: {}.", plugs.join("; ")));
    }
    let numbers =
        |plan: &Plan| -> Vec<usize> { plan.job.legs.iter().map(|leg| leg.number).collect() };
    if numbers(of.plan) != numbers(of.frozen) {
        said.push("Legs are counted in the order of the file: since some are taken out, a leg has another number in job.toml and on report.html than on the papers of the work.".to_owned());
    }
    if !of.plan.job.alternates.is_empty() || !of.plan.job.options.is_empty() {
        said.push("What was offered besides is taken out: it was not built.".to_owned());
    }
    said
}

fn titled(plan: &Plan) -> String {
    let summary = &plan.summary;
    match summary.revision.as_str() {
        "" => summary.title.clone(),
        revision => format!("{}, revision {revision}", summary.title),
    }
}

//! What readings of a second walk say of the first.

use super::probe::Probe;
use super::reading::measure;
use super::typed::Typed;
use crate::finding::{Finding, Severity};
use crate::job::{Job, Reading};
use crate::library::Library;
use crate::network::{Lay, lay};
use crate::quantity::Length;

/// What a reading may differ from the walk: a tape sags, and marks are wide. Common
/// practice, no source.
pub(super) const TOLERANCE: Length = Length::from_64ths(3 * 64);
/// As many lengths are named as may be wrong.
const NAMED: usize = 6;

/// Readings that the walk does not fit, each with the lengths that may be wrong.
#[must_use]
pub fn misfits(job: &Job, library: &Library) -> Vec<Finding> {
    if job.checks.is_empty() {
        return Vec::new();
    }
    let lay = lay(job, library);
    let mut findings: Vec<Finding> = unplaced(job, &lay).collect();
    let failing: Vec<&Reading> = job
        .checks
        .iter()
        .filter(|one| !fits(job, &lay, one))
        .collect();
    if failing.is_empty() || !lay.sound {
        return findings;
    }
    let probe = Probe::of(job, &lay, library);
    let behind = |one: &Reading| probe.behind((&one.from.value, &one.to.value, one.room), 4);
    let mut suspects = Suspects {
        job,
        alone: Vec::new(),
        common: failing.first().map(|one| behind(one)).unwrap_or_default(),
    };
    for one in &failing {
        let others = behind(one);
        suspects.common.retain(|typed| others.contains(typed));
    }
    if let Some(first) = failing.first() {
        let common = suspects.common.iter();
        let alone = common.filter_map(|typed| alone(job, &lay, library, *typed, first));
        suspects.alone = alone.collect();
    }
    for one in failing {
        findings.extend(suspects.finding(&lay, one, behind(one)));
    }
    findings
}

/// Readings to walls whose place nothing says.
fn unplaced<'a>(job: &'a Job, lay: &'a Lay) -> impl Iterator<Item = Finding> + 'a {
    let rooms = job
        .checks
        .iter()
        .filter_map(|one| Some((one, job.rooms.get(one.room?)?)));
    let unplaced = rooms.filter(|(one, room)| {
        let known = |walls: &&crate::network::Walls| walls.known && walls.name == room.name.value;
        measure(job, lay, &one.from.value, &one.to.value, one.room).is_none()
            && !lay.walls.iter().any(|walls| known(&walls))
    });
    unplaced.map(|(one, room)| {
        Finding::unreadable(
            "check-without-walls",
            one.span,
            format!(
                "nothing says where the walls of `{}` are, and so nothing can be measured from {} to {}",
                room.name.value,
                one.from.value.words(),
                one.to.value.words()
            ),
            "say of a leg which wall it runs along, or measure from mark to mark",
        )
    })
}

/// What the walk makes of a reading; a place that is not there says nothing.
fn fits(job: &Job, lay: &Lay, one: &Reading) -> bool {
    let walked = measure(job, lay, &one.from.value, &one.to.value, one.room);
    walked.is_none_or(|walked| (one.read.value - walked).abs() <= TOLERANCE)
}

/// A length that, were it another, would make every reading fit; and that other.
fn alone(
    job: &Job,
    lay_of: &Lay,
    library: &Library,
    typed: Typed,
    first: &Reading,
) -> Option<(Typed, Length)> {
    let read =
        |job: &Job, lay: &Lay| measure(job, lay, &first.from.value, &first.to.value, first.room);
    let miss = first.read.value - read(job, lay_of)?;
    [miss, -miss].into_iter().find_map(|by| {
        let (other, value) = typed.changed(job, by)?;
        let walked = lay(&other, library);
        // A slanting reading takes up a part of it only: once more for the rest.
        let rest = first.read.value - read(&other, &walked)?;
        let gained = miss - rest;
        if gained.nm() == 0 {
            return None;
        }
        let whole = by.scaled(miss.nm(), gained.nm());
        let (other, value) = match rest.abs() <= TOLERANCE {
            true => (other, value),
            false => typed.changed(job, whole)?,
        };
        let walked = lay(&other, library);
        let all = walked.sound && job.checks.iter().all(|one| fits(&other, &walked, one));
        all.then_some((typed, value))
    })
}

/// What may be wrong.
struct Suspects<'a> {
    job: &'a Job,
    /// Lengths each of which explains all misfits by itself.
    alone: Vec<(Typed, Length)>,
    /// Lengths on which all misfits depend.
    common: Vec<Typed>,
}

impl Suspects<'_> {
    fn finding(&self, lay: &Lay, one: &Reading, behind: Vec<Typed>) -> Option<Finding> {
        let job = self.job;
        let units = job.units;
        let walked = measure(job, lay, &one.from.value, &one.to.value, one.room)?;
        let miss = one.read.value - walked;
        let message = format!(
            "from {} to {} the second walk read {}, and the first makes it {}: {} {}",
            one.from.value.words(),
            one.to.value.words(),
            one.read.value.show(units),
            walked.show(units),
            miss.abs().show(units),
            if miss > Length::ZERO { "more" } else { "less" },
        );
        let named: Vec<Typed> = match (&self.alone[..], self.common.is_empty()) {
            ([], true) => behind,
            ([], false) => self.common.clone(),
            (alone, _) => alone.iter().map(|(typed, _)| *typed).collect(),
        };
        let words: Vec<String> = named
            .iter()
            .take(NAMED)
            .map(|typed| {
                let mut alone = self.alone.iter();
                match alone.find(|(other, _)| other == typed) {
                    Some((_, value)) => {
                        format!("{} (to {})", typed.words(job), value.show(units))
                    }
                    None => typed.words(job),
                }
            })
            .collect();
        let more = match named.len() > NAMED {
            true => " and others",
            false => "",
        };
        let guesses = || job.unmeasured.iter().map(|guess| guess.span);
        let guessed = named
            .iter()
            .any(|typed| guesses().any(|span| span == typed.span(job)));
        let help = match (&self.alone[..], guessed) {
            (_, true) => format!(
                "a length that was not measured explains it: {}{more}",
                words.join("; ")
            ),
            ([_], _) => format!(
                "measure once more; one length explains it all: {}",
                words.join("; ")
            ),
            ([], _) => format!(
                "measure once more what this hangs on: {}{more}",
                words.join("; ")
            ),
            _ => format!(
                "measure once more; each of these explains it alone: {}{more}",
                words.join("; ")
            ),
        };
        let severity = match guessed {
            true => Severity::Warning,
            false => Severity::Unreadable,
        };
        let mut finding = Finding::new("check-misfit", severity, one.read.span, message, help);
        for typed in named.iter().take(NAMED) {
            finding = finding.related(typed.span(job), typed.words(job));
        }
        Some(finding)
    }
}

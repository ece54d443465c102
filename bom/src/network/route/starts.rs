//! From which supply the walk goes on, and what it cannot come to.

use super::Walker;
use crate::finding::Finding;
use crate::job::{Job, Leg, unknown_name};
use std::collections::{BTreeMap, BTreeSet};

impl Walker<'_> {
    /// The supply to be walked from next: the first of the file, then one whose
    /// legs come to a place that stands already.
    pub(super) fn next_supply(&self, left: &mut Vec<(usize, BTreeSet<&str>)>) -> Option<usize> {
        let stands = |name: &&str| self.route.places.contains_key(*name);
        let next = match left.first()? {
            (0, _) => Some(0),
            _ => left.iter().position(|(_, names)| names.iter().any(stands)),
        };
        Some(left.remove(next.unwrap_or(0)).0)
    }

    pub(super) fn part_of_supply(&self, supply: usize) -> usize {
        let place = self.route.places.get(&self.job.supplies[supply].name.value);
        place.map_or(0, |place| self.part_of[place.node.index()])
    }

    /// Says that the legs of a supply meet nothing of the rest.
    pub(super) fn apart(&mut self, supply: usize) {
        let supplies = &self.job.supplies;
        let (first, name) = (&supplies[0].name, &supplies[supply].name);
        let message = match self.job.legs_from(&supplies[supply]).next() {
            Some(_) => format!(
                "the legs from `{}` never meet the pipe from `{}`",
                name.value, first.value
            ),
            None => format!("no leg starts at `{}`", name.value),
        };
        self.findings.push(
            Finding::unreadable(
                "supply-stands-apart",
                name.span,
                message,
                format!(
                    "let a leg start from = \"{}\" and the last leg from there end at a place on the main, a mark or an end: to = \"…\"; or describe this compressor in its own job",
                    name.value
                ),
            )
            .related(first.span, "the walk starts here"),
        );
    }

    pub(super) fn unreached(&mut self, waiting: &BTreeMap<&str, Vec<usize>>) {
        let named: BTreeSet<&str> = self
            .job
            .legs
            .iter()
            .flat_map(Leg::names)
            .map(|name| name.value.as_str())
            .collect();
        let mut known: Vec<&str> = named.iter().copied().collect();
        let supplies = self.job.supplies.iter();
        known.extend(supplies.map(|supply| supply.name.value.as_str()));
        for (name, legs) in waiting {
            for leg in legs.iter().map(|index| &self.job.legs[*index]) {
                let span = leg.from.as_ref().map_or(leg.span, |from| from.span);
                self.findings.push(if named.contains(name) {
                    Finding::unreadable(
                        "leg-from-nowhere",
                        span,
                        format!("`{name}` is never reached from the supply: these legs start from each other"),
                        format!("let one of them start from `{}` or from a place on the way", self.job.supplies[0].name.value),
                    )
                } else {
                    let mut finding = unknown_name("place", name, span, &known);
                    finding.rule = "leg-from-nowhere";
                    finding
                });
            }
        }
    }
}

/// The names of the places that one comes to from a supply, by the legs that start
/// at each name, before any is walked.
pub(super) fn names_on_from<'a>(
    job: &'a Job,
    starting: &BTreeMap<&str, Vec<usize>>,
    supply: &str,
) -> BTreeSet<&'a str> {
    let mut names = BTreeSet::new();
    let mut seen = BTreeSet::new();
    let mut legs = starting.get(supply).cloned().unwrap_or_default();
    while let Some(index) = legs.pop() {
        if !seen.insert(index) {
            continue;
        }
        for name in job.legs[index].names() {
            if names.insert(name.value.as_str()) {
                legs.extend(starting.get(name.value.as_str()).into_iter().flatten());
            }
        }
        let next = job.legs.get(index + 1);
        legs.extend(next.filter(|next| next.from.is_none()).map(|_| index + 1));
    }
    names
}

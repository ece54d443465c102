//! Counting: parts with their reasons, and joints.

use super::{Because, Group, JointCount, PartKey, PartLine, Why};
use crate::fitting::Join;
use crate::library::Library;
use crate::network::NodeId;
use crate::quantity::{PartSize, Size};
use crate::system::System;
use std::collections::BTreeMap;

/// What has been counted so far.
#[derive(Debug)]
pub(super) struct Tally<'a> {
    library: &'a Library,
    parts: BTreeMap<(usize, PartSize), Vec<Because>>,
    joints: BTreeMap<Size, u64>,
}

impl<'a> Tally<'a> {
    pub(super) fn new(library: &'a Library) -> Self {
        Self {
            library,
            parts: BTreeMap::new(),
            joints: BTreeMap::new(),
        }
    }

    /// One more part, and why. Names come from the data files, whose test
    /// holds that each is a part.
    pub(super) fn part(&mut self, name: &str, size: PartSize, at: NodeId, why: Why) {
        let part = self
            .library
            .parts()
            .iter()
            .position(|part| part.name == name);
        if let Some(part) = part {
            self.parts
                .entry((part, size))
                .or_default()
                .push(Because { at, why });
        }
    }

    /// The parts and joints between two ends.
    pub(super) fn join(&mut self, join: &Join, at: NodeId, union: Why) {
        for (part, size) in &join.parts {
            let why = if *part == "union" { union } else { Why::Joins };
            self.part(part, *size, at, why);
        }
        self.joint(&join.joints);
    }

    pub(super) fn joint(&mut self, sizes: &[Size]) {
        for size in sizes {
            *self.joints.entry(*size).or_default() += 1;
        }
    }

    /// Joints by size, largest first.
    pub(super) fn joints(&self, system: &System) -> Vec<JointCount> {
        self.joints
            .iter()
            .rev()
            .map(|(size, count)| JointCount {
                system: system.name.clone(),
                joint: system.joint,
                size: *size,
                count: *count,
            })
            .collect()
    }

    /// The lines, in the order of the papers.
    pub(super) fn lines(self, system: &System) -> Vec<PartLine> {
        let library = self.library;
        self.parts
            .into_iter()
            .map(|((part, size), because)| line(library, part, size, because, system))
            .collect()
    }
}

/// A line of a part by its name; none if there is no such part.
pub(super) fn line_of(
    library: &Library,
    system: usize,
    part: &str,
    size: PartSize,
    because: Vec<Because>,
) -> Option<PartLine> {
    let part = library
        .parts()
        .iter()
        .position(|known| known.name == part)?;
    Some(line(
        library,
        part,
        size,
        because,
        &library.systems()[system],
    ))
}

fn line(
    library: &Library,
    index: usize,
    size: PartSize,
    because: Vec<Because>,
    system: &System,
) -> PartLine {
    let part = &library.parts()[index];
    PartLine {
        key: PartKey {
            part: part.name.clone(),
            system: if part.of_system {
                system.name.clone()
            } else {
                String::new()
            },
            size,
        },
        words: words(library, index, system),
        group: part.group,
        quantity: because.len() as u64,
        unit: part.unit.clone(),
        because,
    }
}

/// A part in shelf words: pipe and fittings with their material.
pub(super) fn words(library: &Library, part: usize, system: &System) -> String {
    let part = &library.parts()[part];
    let words = part.words(system.joint);
    match part.group {
        Group::Pipe | Group::Fittings if part.of_system => format!("{} {words}", system.material),
        _ => words,
    }
}

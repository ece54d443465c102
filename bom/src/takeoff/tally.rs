//! Counting: parts with their reasons, joints, and short pieces of tube.

use super::{Because, Group, JointCount, PartKey, PartLine, Seat, Why};
use crate::fitting::{Join, MadeJoint};
use crate::library::Library;
use crate::network::NodeId;
use crate::quantity::{PartSize, Size};
use crate::system::System;
use std::collections::BTreeMap;

/// A short piece of tube between two sockets.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stub {
    pub(super) system: usize,
    pub(super) size: Size,
    /// The two places that it lies between.
    pub(super) between: [NodeId; 2],
    pub(super) at: Seat,
}

/// What has been counted so far.
#[derive(Debug)]
pub(super) struct Tally<'a> {
    library: &'a Library,
    parts: BTreeMap<(usize, usize, PartSize), Vec<Because>>,
    joints: BTreeMap<MadeJoint, Vec<Seat>>,
    /// Short pieces of tube between two sockets.
    pub(super) stubs: Vec<Stub>,
}

impl<'a> Tally<'a> {
    pub(super) fn new(library: &'a Library) -> Self {
        Self {
            library,
            parts: BTreeMap::new(),
            joints: BTreeMap::new(),
            stubs: Vec::new(),
        }
    }

    /// One more part of a system, and why. Names come from the data files,
    /// whose test holds that each is a part.
    pub(super) fn part(
        &mut self,
        name: &str,
        system: usize,
        size: PartSize,
        at: impl Into<Seat>,
        why: Why,
    ) {
        let parts = self.library.parts();
        let part = parts.iter().position(|part| part.name == name);
        if let Some(part) = part {
            // What belongs to no system is one line whichever asks for it.
            let system = if parts[part].of_system { system } else { 0 };
            self.parts
                .entry((part, system, size))
                .or_default()
                .push(Because { at: at.into(), why });
        }
    }

    /// The parts and joints between two ends.
    pub(super) fn join(&mut self, join: &Join, between: [NodeId; 2], at: Seat, union: Why) {
        for (part, system, size) in &join.parts {
            let why = if *part == "union" { union } else { Why::Joins };
            self.part(part, *system, *size, at, why);
        }
        let stubs = join.stubs.iter();
        self.stubs.extend(stubs.map(|(system, size)| Stub {
            system: *system,
            size: *size,
            between,
            at,
        }));
        self.joint(&join.joints, at);
    }

    pub(super) fn joint(&mut self, joints: &[MadeJoint], at: Seat) {
        for joint in joints {
            self.joints.entry(*joint).or_default().push(at);
        }
    }

    /// How many joints of each kind, of those that are counted.
    pub(super) fn made(
        &self,
        counted: impl Fn(Seat) -> bool,
    ) -> impl Iterator<Item = (MadeJoint, u64)> {
        let joints = self.joints.iter();
        joints.map(move |(joint, places)| {
            let places = places.iter().filter(|seat| counted(**seat));
            (*joint, places.count() as u64)
        })
    }

    /// Joints by system and method, largest first.
    pub(super) fn joints(&self) -> Vec<JointCount> {
        let mut joints: Vec<JointCount> = self
            .joints
            .iter()
            .map(|((system, joint, size), places)| JointCount {
                system: self.library.systems()[*system].name.clone(),
                joint: *joint,
                size: *size,
                count: places.len() as u64,
                places: places.clone(),
            })
            .collect();
        // Stable: within a method the systems keep the library's order.
        joints.sort_by_key(|joints| (joints.joint, std::cmp::Reverse(joints.size)));
        joints
    }

    /// The lines, in the order of the papers.
    pub(super) fn lines(self) -> Vec<PartLine> {
        let library = self.library;
        self.parts
            .into_iter()
            .map(|((part, system, size), because)| line(library, part, size, because, system))
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
    Some(line(library, part, size, because, system))
}

fn line(
    library: &Library,
    index: usize,
    size: PartSize,
    because: Vec<Because>,
    system: usize,
) -> PartLine {
    let part = &library.parts()[index];
    let system = &library.systems()[system];
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
    let words = part.words(system);
    match part.group {
        Group::Pipe | Group::Fittings if part.of_system => format!("{} {words}", system.material),
        _ => words,
    }
}

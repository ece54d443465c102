//! The parts walk: over the nodes, the links and the straights of a network.

use super::assumptions::assumptions;
use super::pieces::Straight;
use super::proof::{Counted, proofs};
use super::runs::{Run, runs};
use super::tally::{Tally, words};
use super::{PartKey, Piece, PipeLine, Takeoff, Why, pieces, supports};
use crate::finding::Finding;
use crate::job::Threading;
use crate::library::Library;
use crate::network::{Network, NodeKind, Owner};
use crate::quantity::{Length, PartSize, Size};
use crate::source::Span;
use crate::system::System;
use std::collections::{BTreeMap, BTreeSet};

/// Counts everything that a network needs, and proves the count. The take-off
/// is there if nothing stops it.
#[must_use]
pub fn takeoff(network: &Network, library: &Library) -> (Option<Takeoff>, Vec<Finding>) {
    let mut takeoff = match counted(network, library) {
        Ok(takeoff) => takeoff,
        Err(findings) => return (None, findings),
    };
    takeoff.proofs = proofs(Counted {
        network,
        library,
        lines: &takeoff.lines,
        pipe: &takeoff.pipe,
        joints: &takeoff.joints,
        straights: &takeoff.straights,
    });
    let failed: Vec<Finding> = takeoff
        .proofs
        .iter()
        .filter_map(|proof| {
            let failure = proof.failure.as_ref()?;
            Some(Finding::error(
                "proof-failed",
                Span::default(),
                format!("the count does not hold: {}: {failure}", proof.claim),
                "this is a mistake of the tool and not of the job: please report it with the job file",
            ))
        })
        .collect();
    if failed.is_empty() {
        (Some(takeoff), failed)
    } else {
        (None, failed)
    }
}

/// The count before its proofs.
pub(super) fn counted(network: &Network, library: &Library) -> Result<Takeoff, Vec<Finding>> {
    let system = &library.systems()[network.system];
    let mut walk = Walk {
        network,
        library,
        system,
        tally: Tally::new(library),
        findings: Vec::new(),
        sets: BTreeSet::new(),
    };
    walk.nodes();
    walk.links();
    let straights = walk.straights();
    let pipe = walk.pipe(&straights);
    supports::count(network, system, &mut walk.tally);
    walk.plugs();
    walk.tape();
    if !walk.findings.is_empty() {
        return Err(walk.findings);
    }
    let drop_drains = network.drops.iter().filter(|drop| drop.drain.is_some());
    Ok(Takeoff {
        system: system.name.clone(),
        system_title: system.title.clone(),
        pipe,
        joints: walk.tally.joints(system),
        lines: walk.tally.lines(system),
        drops: network.drops.len() as u64,
        drains: (network.drains.len() + drop_drains.count()) as u64,
        assumptions: assumptions(network, system, &straights),
        proofs: Vec::new(),
        straights,
    })
}

/// A count under way.
pub(super) struct Walk<'a> {
    pub(super) network: &'a Network,
    pub(super) library: &'a Library,
    pub(super) system: &'a System,
    pub(super) tally: Tally<'a>,
    pub(super) findings: Vec<Finding>,
    /// The sides whose set has begun.
    pub(super) sets: BTreeSet<(Owner, usize)>,
}

impl Walk<'_> {
    /// The fitting or device of every node.
    fn nodes(&mut self) {
        for (id, node) in self.network.nodes() {
            match &node.kind {
                NodeKind::Port { .. } => {}
                NodeKind::Fitting(fitting) => {
                    if let Some(part) = fitting.kind.part {
                        self.tally.part(part, fitting.size, id, Why::Meets);
                    }
                }
                NodeKind::Device {
                    device,
                    size,
                    length,
                } => {
                    let part = PartSize::one(*size);
                    let part = length.map_or(part, |length| part.with_length(length));
                    let name = &self.library.devices()[*device].part;
                    self.tally.part(name, part, id, Why::Stands);
                }
            }
        }
    }

    /// Every straight as it is cut.
    fn straights(&mut self) -> Vec<Straight> {
        let mut straights = Vec::new();
        for run in runs(self.network) {
            let Some(row) = self.system.row(run.size) else {
                continue;
            };
            match pieces::cut(run, self.network, self.system, row) {
                Ok(straight) => straights.push(straight),
                Err(no_way) => self.no_way(&run, no_way),
            }
        }
        straights
    }

    /// The pieces of every straight by size, with couplings and unions.
    fn pipe(&mut self, straights: &[Straight]) -> Vec<PipeLine> {
        let mut lines: BTreeMap<Size, PipeLine> = BTreeMap::new();
        for (index, Straight { run, cut, .. }) in straights.iter().enumerate() {
            let size = PartSize::one(run.size);
            let bought = self.network.threading == Threading::Bought;
            if !bought && self.nipple(*run, &cut.pieces) {
                continue;
            }
            for _ in 0..cut.couplings {
                self.tally
                    .part("coupling", size, run.from, Why::LongerThanStick);
                self.tally.joint(&[run.size, run.size]);
            }
            if cut.union {
                self.tally.part("union", size, run.from, Why::ClosesRing);
                self.tally.joint(&[run.size, run.size]);
            }
            let line = lines
                .entry(run.size)
                .or_insert_with(|| self.pipe_line(run.size));
            if bought {
                let shortest = self.system.ready.first().copied().unwrap_or_default();
                let pipe = cut.pieces.iter().filter(|piece| **piece >= shortest);
                line.end_to_end += pipe.copied().sum();
                for piece in &cut.pieces {
                    self.ready(*run, *piece);
                }
                continue;
            }
            line.end_to_end += cut.pieces.iter().copied().sum();
            line.pieces
                .extend(cut.pieces.iter().enumerate().map(|(number, length)| Piece {
                    length: *length,
                    from: run.from,
                    to: run.to,
                    straight: index + 1,
                    number: number + 1,
                }));
        }
        for Straight { run, .. } in straights {
            if let Some(line) = lines.get_mut(&run.size) {
                line.centre_to_centre += run.length;
            }
        }
        lines.into_values().rev().collect()
    }

    /// Counts a straight that is one ready-made nipple; says whether it is.
    fn nipple(&mut self, run: Run, pieces: &[Length]) -> bool {
        let [piece] = pieces else { return false };
        let size = PartSize::one(run.size);
        if self.system.is_nipple(run.size, *piece) {
            self.tally
                .part("nipple", size.with_length(*piece), run.to, Why::Spans);
            return true;
        }
        let close = self
            .system
            .row(run.size)
            .is_some_and(|row| row.shortest == *piece);
        if close {
            self.tally.part("close-nipple", size, run.to, Why::Spans);
        }
        close
    }

    /// Counts one ready-made piece: a nipple, or pipe threaded at both ends.
    fn ready(&mut self, run: Run, piece: Length) {
        let size = PartSize::one(run.size);
        let close = self
            .system
            .row(run.size)
            .is_some_and(|row| row.shortest == piece);
        let (part, size) = if close {
            ("close-nipple", size)
        } else if self.system.nipples.contains(&piece) {
            ("nipple", size.with_length(piece))
        } else {
            ("ready-pipe", size.with_length(piece))
        };
        self.tally.part(part, size, run.to, Why::Spans);
    }

    fn pipe_line(&self, size: Size) -> PipeLine {
        let part = self
            .library
            .parts()
            .iter()
            .position(|part| part.name == "pipe");
        PipeLine {
            key: PartKey {
                part: "pipe".to_owned(),
                system: self.system.name.clone(),
                size: PartSize::one(size),
            },
            words: part.map_or_else(String::new, |part| words(self.library, part, self.system)),
            size,
            centre_to_centre: Length::ZERO,
            end_to_end: Length::ZERO,
            pieces: Vec::new(),
            stick: self.system.stick,
            kerf: self.system.kerf,
            mass_lb_per_ft: self.system.row(size).map_or(0.0, |row| row.mass_lb_per_ft),
            ready: self.network.threading == Threading::Bought,
        }
    }

    fn no_way(&mut self, run: &Run, no_way: pieces::NoWay) {
        let units = self.network.units;
        let (from, to) = (self.network.node(run.from), self.network.node(run.to));
        let between = format!(
            "between {} and {} there are {} centre to centre",
            self.network.describe(run.from),
            self.network.describe(run.to),
            run.length.show(units),
        );
        let mut finding = match no_way {
            pieces::NoWay::Room { left, needed } => Finding::error(
                "no-room-between-fittings",
                to.span,
                format!(
                    "{between}, and the fittings need at least {}",
                    (run.length + needed - left).show(units)
                ),
                "move them further apart, or make the offset longer",
            ),
            pieces::NoWay::Ready { over } => Finding::error(
                "no-ready-lengths",
                to.span,
                format!(
                    "{between}, which no ready-threaded lengths of {} make up",
                    run.size
                ),
                format!(
                    "move them {} {}, or write threading = \"cut\"",
                    over.abs().show(units),
                    if over > Length::ZERO {
                        "further apart"
                    } else {
                        "closer together"
                    }
                ),
            ),
        };
        if from.span != to.span {
            finding = finding.related(from.span, "the other end");
        }
        self.findings.push(finding);
    }

    /// Tool-side plugs: one for each coupler, one spare.
    fn plugs(&mut self) {
        let mut last = None;
        for (id, node) in self.network.nodes() {
            if let NodeKind::Device { device, .. } = node.kind
                && self.library.devices()[device].name == "coupler"
            {
                self.tally
                    .part("coupler-plug", PartSize::NONE, id, Why::FitsCoupler);
                last = Some(id);
            }
        }
        if let Some(id) = last {
            self.tally
                .part("coupler-plug", PartSize::NONE, id, Why::Spare);
        }
    }

    /// Tape for all joints, in whole rolls.
    fn tape(&mut self) {
        let wound: f64 = self
            .tally
            .joints(self.system)
            .iter()
            .filter_map(|joints| {
                let row = self.system.row(joints.size)?;
                let turn = std::f64::consts::PI * row.outside.mm();
                #[expect(clippy::cast_precision_loss, reason = "far fewer joints than 2^52")]
                let count = joints.count as f64;
                Some(turn * f64::from(self.system.tape_turns) * count)
            })
            .sum();
        let roll = self.system.tape_roll.mm();
        let Some((tank, _)) = self.network.nodes().next() else {
            return;
        };
        let mut sealed = 0.0;
        while sealed < wound {
            self.tally
                .part("thread-tape", PartSize::NONE, tank, Why::Seals);
            sealed += roll;
        }
    }
}

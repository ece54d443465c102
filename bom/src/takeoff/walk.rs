//! The parts walk: over the nodes, the links and the straights of a network.

use super::assumptions::assumptions;
use super::heights::Heights;
use super::pieces::Straight;
use super::proof::{Counted, proofs};
use super::runs::{Run, runs};
use super::share::Shares;
use super::tally::{Stub, Tally, words};
use super::{Counts, Of, PartKey, Piece, PipeLine, Seat, Takeoff, Why, pieces, supports};
use crate::finding::Finding;
use crate::job::{State, Threading};
use crate::library::Library;
use crate::network::{Network, NodeId, NodeKind, Owner};
use crate::quantity::{Length, PartSize, Size};
use crate::source::Span;
use crate::system::Joint;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// Counts everything that a network needs, and proves the count. The take-off
/// is there if nothing stops it.
#[must_use]
pub fn takeoff(network: &Network, library: &Library) -> (Option<Takeoff>, Vec<Finding>) {
    let mut takeoff = match counted(network, library) {
        Ok(takeoff) => takeoff,
        Err(findings) => return (None, findings),
    };
    takeoff.prove(network, library);
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

/// What is taken out of a network that stands.
#[must_use]
pub fn taken_out(network: &Network, library: &Library) -> Option<Counts> {
    let wanted = [State::Remove];
    let counted = counted_as(network, library, &wanted).ok()?;
    let mut out = counted.bought();
    // Sealant and plugs at hand are no part of the pipework.
    out.lines.retain(|line| {
        let mut because = line.because.iter();
        because.any(|because| because.at.of != Of::AtHand)
    });
    Some(out)
}

impl Takeoff {
    /// Takes all proofs, of all that there is after the work.
    pub(super) fn prove(&mut self, network: &Network, library: &Library) {
        let whole = self.whole();
        self.proofs = proofs(Counted {
            network,
            library,
            lines: &whole.lines,
            pipe: &whole.pipe,
            joints: &whole.joints,
            straights: &self.straights,
        });
    }
}

/// The count before its proofs.
pub(super) fn counted(network: &Network, library: &Library) -> Result<Takeoff, Vec<Finding>> {
    counted_as(network, library, &[State::New])
}

/// The count of what has one of these states; all else stands.
fn counted_as(
    network: &Network,
    library: &Library,
    wanted: &[State],
) -> Result<Takeoff, Vec<Finding>> {
    let shares = Shares::of(network, library);
    let mut walk = Walk {
        network,
        library,
        tally: Tally::new(library),
        findings: Vec::new(),
        sets: BTreeSet::new(),
    };
    walk.nodes();
    walk.links();
    let straights = walk.straights();
    let counts = |seat: Seat| wanted.contains(&shares.state(seat));
    let [pipe, standing_pipe] = walk.pipe(&straights, counts);
    supports::count(network, library, &mut walk.tally);
    walk.plugs(counts);
    walk.sundries(counts);
    if !walk.findings.is_empty() {
        return Err(walk.findings);
    }
    let systems = network.systems();
    let titles: Vec<&str> = systems
        .iter()
        .map(|system| library.systems()[*system].title.as_str())
        .collect();
    let drops = || {
        let drops = network.drops.iter();
        drops.filter(|drop| counts(Seat::from(drop.foot_at)))
    };
    let drop_drains = drops().filter(|drop| drop.drain.is_some());
    let drains = network.links().filter(|(_, _, to, _)| {
        let origin = network.node(*to).origin;
        matches!(origin.owner, Owner::Drain(_)) && counts(Seat::from(*to))
    });
    let whole = Counts {
        joints: walk.tally.joints(),
        lines: walk.tally.lines(),
        pipe: Vec::new(),
    };
    let others: Vec<State> = [State::Existing, State::Remove, State::New, State::Later]
        .into_iter()
        .filter(|state| !wanted.contains(state))
        .collect();
    let new = straights.iter().filter(|straight| straight.is_new());
    let new: Vec<Straight> = new.cloned().collect();
    let bought = whole.share(&shares, wanted);
    let standing = Counts {
        pipe: standing_pipe,
        ..whole.share(&shares, &others)
    };
    Ok(Takeoff {
        system: library.systems()[network.system].name.clone(),
        system_title: titles.join("; "),
        pipe,
        joints: bought.joints,
        lines: bought.lines,
        standing,
        taken_out: Counts::default(),
        tie_ins: network.tie_ins().len() as u64,
        drops: drops().count() as u64,
        drains: (drains.count() + drop_drains.count()) as u64,
        assumptions: assumptions(network, library, &new),
        cautions: systems
            .iter()
            .flat_map(|system| library.systems()[*system].cautions.clone())
            .collect(),
        proofs: Vec::new(),
        straights,
        heights: Heights::of(network, library),
    })
}

/// A count under way.
pub(super) struct Walk<'a> {
    pub(super) network: &'a Network,
    pub(super) library: &'a Library,
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
                        self.tally
                            .part(part, fitting.system, fitting.size, id, Why::Meets);
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
                    // A union belongs to the system of the pipe around it.
                    let system = self.library.hardware(self.system_at(id));
                    self.tally.part(name, system, part, id, Why::Stands);
                }
            }
        }
    }

    /// The system of what is linked to a node.
    fn system_at(&self, id: NodeId) -> usize {
        let first = self.network.ends(id).min_by_key(|end| end.link);
        first.map_or(self.network.system, |end| {
            self.network.link(end.link).system
        })
    }

    /// Every straight as it is cut.
    fn straights(&mut self) -> Vec<Straight> {
        let mut straights = Vec::new();
        for run in runs(self.network, self.library) {
            let Some(row) = self.library.systems()[run.system].row(run.size) else {
                continue;
            };
            match pieces::cut(run, self.network, self.library, row) {
                Ok(straight) => straights.push(straight),
                Err(no_way) => self.no_way(&run, no_way),
            }
        }
        straights
    }

    /// The pieces of every straight by size, with couplings and unions, and
    /// behind them the short pieces between sockets: what counts, and the rest.
    fn pipe(
        &mut self,
        straights: &[Straight],
        counts: impl Fn(Seat) -> bool,
    ) -> [Vec<PipeLine>; 2] {
        let mut lines: BTreeMap<(bool, usize, Reverse<Size>), PipeLine> = BTreeMap::new();
        for (index, Straight { run, cut, .. }) in straights.iter().enumerate() {
            let size = PartSize::one(run.size);
            let system = &self.library.systems()[run.system];
            let bought = system.threading(self.network.threading) == Threading::Bought;
            if !bought && self.nipple(*run, &cut.pieces) {
                continue;
            }
            let joint = (run.system, system.joint, run.size);
            let inside = Seat::straight(run.from, run.links[0]);
            for _ in 0..cut.couplings {
                self.tally
                    .part("coupling", run.system, size, inside, Why::LongerThanStick);
                self.tally.joint(&[joint, joint], inside);
            }
            if cut.union {
                self.tally
                    .part("union", run.system, size, inside, Why::ClosesRing);
                self.tally.joint(&[joint, joint], inside);
            }
            let line = lines
                .entry((counts(inside), run.system, Reverse(run.size)))
                .or_insert_with(|| self.pipe_line(run.system, run.size));
            if bought {
                let shortest = system.ready.first().copied().unwrap_or_default();
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
                    seat: inside,
                }));
        }
        for Straight { run, .. } in straights {
            let counted = counts(Seat::straight(run.from, run.links[0]));
            if let Some(line) = lines.get_mut(&(counted, run.system, Reverse(run.size))) {
                line.centre_to_centre += run.length;
            }
        }
        for (number, stub) in self.tally.stubs.clone().into_iter().enumerate() {
            let Stub {
                system,
                size,
                between: [from, to],
                at,
            } = stub;
            let Some(row) = self.library.systems()[system].row(size) else {
                continue;
            };
            let line = lines
                .entry((counts(at), system, Reverse(size)))
                .or_insert_with(|| self.pipe_line(system, size));
            line.end_to_end += row.shortest;
            line.pieces.push(Piece {
                length: row.shortest,
                from,
                to,
                straight: straights.len() + number + 1,
                number: 1,
                seat: at,
            });
        }
        let (bought, standing): (Vec<_>, Vec<_>) =
            lines.into_iter().partition(|((counted, ..), _)| *counted);
        [bought, standing].map(|lines| lines.into_iter().map(|(_, line)| line).collect())
    }

    /// Counts a straight that is one ready-made nipple; says whether it is.
    fn nipple(&mut self, run: Run, pieces: &[Length]) -> bool {
        let at = Seat::straight(run.to, run.links[0]);
        let system = &self.library.systems()[run.system];
        let [piece] = pieces else { return false };
        if !system.is_threaded() {
            return false;
        }
        let size = PartSize::one(run.size);
        if system.is_nipple(run.size, *piece) {
            let size = size.with_length(*piece);
            self.tally.part("nipple", run.system, size, at, Why::Spans);
            return true;
        }
        let close = system
            .row(run.size)
            .is_some_and(|row| row.shortest == *piece);
        if close {
            self.tally
                .part("close-nipple", run.system, size, at, Why::Spans);
        }
        close
    }

    /// Counts one ready-made piece: a nipple, or pipe threaded at both ends.
    fn ready(&mut self, run: Run, piece: Length) {
        let system = &self.library.systems()[run.system];
        let size = PartSize::one(run.size);
        let close = system
            .row(run.size)
            .is_some_and(|row| row.shortest == piece);
        let (part, size) = if close {
            ("close-nipple", size)
        } else if system.nipples.contains(&piece) {
            ("nipple", size.with_length(piece))
        } else {
            ("ready-pipe", size.with_length(piece))
        };
        let at = Seat::straight(run.to, run.links[0]);
        self.tally.part(part, run.system, size, at, Why::Spans);
    }

    fn pipe_line(&self, index: usize, size: Size) -> PipeLine {
        let system = &self.library.systems()[index];
        let part = self
            .library
            .parts()
            .iter()
            .position(|part| part.name == "pipe");
        PipeLine {
            key: PartKey {
                part: "pipe".to_owned(),
                system: system.name.clone(),
                size: PartSize::one(size),
            },
            words: part.map_or_else(String::new, |part| words(self.library, part, system)),
            size,
            centre_to_centre: Length::ZERO,
            end_to_end: Length::ZERO,
            more: Length::ZERO,
            pieces: Vec::new(),
            stick: system.stick,
            kerf: system.kerf,
            mass_lb_per_ft: system.row(size).map_or(0.0, |row| row.mass_lb_per_ft),
            ready: system.threading(self.network.threading) == Threading::Bought,
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
    fn plugs(&mut self, counts: impl Fn(Seat) -> bool) {
        let mut last = None;
        for (id, node) in self.network.nodes() {
            if let NodeKind::Device { device, .. } = node.kind
                && self.library.devices()[device].name == "coupler"
            {
                self.tally.part(
                    "coupler-plug",
                    0,
                    PartSize::NONE,
                    Seat::at_hand(id),
                    Why::FitsCoupler,
                );
                last = Some(id).filter(|id| counts(Seat::at_hand(*id))).or(last);
            }
        }
        if let Some(id) = last {
            self.tally.part(
                "coupler-plug",
                0,
                PartSize::NONE,
                Seat::at_hand(id),
                Why::Spare,
            );
        }
    }

    /// What the joints use up, in whole packs: tape for threads, solder and
    /// the like by the system's data.
    fn sundries(&mut self, counts: impl Fn(Seat) -> bool + Copy) {
        let mut used: BTreeMap<&str, f64> = BTreeMap::new();
        for ((index, joint, size), count) in self.tally.made(counts) {
            let system = &self.library.systems()[index];
            #[expect(clippy::cast_precision_loss, reason = "far fewer joints than 2^52")]
            let count = count as f64;
            if joint == Joint::Threaded {
                let outside = system.row(size).map_or(0.0, |row| row.outside.mm());
                let wound = std::f64::consts::PI * outside * f64::from(system.tape_turns);
                let roll = system.tape_roll.mm();
                if roll > 0.0 {
                    *used.entry("thread-tape").or_default() += wound * count / roll;
                }
                continue;
            }
            for consumable in &system.consumables {
                let each = consumable.per_joint.get(&size).copied().unwrap_or(0.0);
                *used.entry(&consumable.part).or_default() += each * count / consumable.pack;
            }
        }
        // Told at the first supply, else at the first place of what is new.
        let mut places = self.network.nodes().map(|(id, _)| id);
        let Some(tank) = places.find(|id| counts(Seat::at_hand(*id))) else {
            return;
        };
        for (part, packs) in used {
            let mut opened = 0.0;
            while opened < packs {
                self.tally
                    .part(part, 0, PartSize::NONE, Seat::at_hand(tank), Why::Seals);
                opened += 1.0;
            }
        }
    }
}

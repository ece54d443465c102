//! What joins the ends of every link: nothing, nipples, bushings, adapters,
//! unions.

use super::walk::Walk;
use super::{Group, Seat, Why, valves};
use crate::finding::Finding;
use crate::fitting::{End, Join, Mating};
use crate::job::Unions;
use crate::library::Gender;
use crate::network::{Link, LinkId, NodeId, NodeKind, Origin, Owner, Spot};
use crate::system::Metal;

impl<'a> Walk<'a> {
    /// What joins the ends of every link.
    pub(super) fn links(&mut self) {
        for (id, from, to, link) in self.network.links() {
            let mating = self.mating([from, to], link);
            if link.pipe.is_none() {
                let (a, b) = (self.end(from, id, true), self.end(to, id, false));
                if self.begins_set(from, to) {
                    let join = mating.serviceable(a, b);
                    self.count(
                        join,
                        [a, b],
                        [from, to],
                        Seat::end(to, id),
                        Why::ServicesSet,
                    );
                } else {
                    self.count(
                        mating.join(a, b),
                        [a, b],
                        [from, to],
                        Seat::end(to, id),
                        Why::Joins,
                    );
                }
                continue;
            }
            let pipe = self.pipe_end(link);
            for (node, first, far) in [(from, true, to), (to, false, from)] {
                if self.network.runs_through(node, id) {
                    continue;
                }
                if self.is_change(node) {
                    self.change(node, id, pipe);
                    continue;
                }
                let end = self.end(node, id, first);
                let at = Seat::end(node, id);
                if self.network.is_line_valve(node) {
                    let join = valves::join(self.network, self.library, node, id);
                    self.count(join, [end, pipe], [node, far], at, Why::ServicesValve);
                    continue;
                }
                if self.network.opens_for_tie_in(node) == Some(id) {
                    let join = mating.cut_in(end, link.system, link.size);
                    self.count(join, [end, pipe], [node, far], at, Why::TiesIn);
                    continue;
                }
                if self.needs_union(node, end, link) {
                    let join = mating.close_loop(end, link.system, link.size);
                    self.count(join, [end, pipe], [node, far], at, Why::ServicesSupply);
                } else {
                    let join = mating.join(end, pipe);
                    self.count(join, [end, pipe], [node, far], at, Why::Joins);
                }
            }
        }
    }

    /// What joins two systems where their pipe meets end to end: counted with
    /// the first of the two links.
    fn change(&mut self, node: NodeId, link: LinkId, pipe: End) {
        let other = self.network.ends(node).find(|end| end.link != link);
        let Some(other) = other.filter(|other| link < other.link) else {
            return;
        };
        let on = self.pipe_end(self.network.link(other.link));
        let one = self.network.link(link);
        let mating = self.mating([node, node], one);
        // Where pipe that stands goes on as new pipe of the same kind, neither is turned.
        let same = self.network.link(other.link).system == one.system;
        let (join, why) = match same && self.library.systems()[one.system].is_threaded() {
            true => (mating.between_pipes(one.system, one.size), Why::TiesIn),
            false => (mating.join(pipe, on), Why::Joins),
        };
        self.count(join, [pipe, on], [node, node], Seat::end(node, link), why);
    }

    fn is_change(&self, node: NodeId) -> bool {
        matches!(&self.network.node(node).kind, NodeKind::Fitting(fitting) if fitting.is_change())
    }

    /// What joins ends between two places: the system of the first fitting
    /// there is at home, else that of the link.
    fn mating(&self, places: [NodeId; 2], link: &Link) -> Mating<'a> {
        let own = places
            .into_iter()
            .find_map(|place| match &self.network.node(place).kind {
                NodeKind::Fitting(fitting) => Some(fitting.system),
                NodeKind::Port { .. } | NodeKind::Device { .. } => None,
            });
        Mating {
            library: self.library,
            home: own.unwrap_or(link.system),
            unlike: self.network.unlike,
        }
    }

    /// Counts what joins two ends, its union for its own reason.
    fn count(
        &mut self,
        join: Option<Join>,
        [a, b]: [End; 2],
        between: [NodeId; 2],
        at: Seat,
        union: Why,
    ) {
        match join {
            Some(join) => self.tally.join(&join, between, at, union),
            None => self.findings.push(Finding::error(
                "no-step-between-sizes",
                self.network.node(at.place).span,
                format!(
                    "no bushing or adapter leads from {} to {}",
                    a.size.max(b.size),
                    a.size.min(b.size)
                ),
                "choose sizes that lie nearer to each other",
            )),
        }
    }

    fn pipe_end(&self, link: &Link) -> End {
        End::of(self.library, link.system, Gender::Male, link.size)
    }

    /// Whether a union is put between the supply's last item and the pipe.
    fn needs_union(&self, node: NodeId, end: End, link: &Link) -> bool {
        let (supply, hose) = match self.network.node(node).kind {
            NodeKind::Device { length, .. } => (
                matches!(self.network.node(node).origin.owner, Owner::Supply(_)),
                length.is_some(),
            ),
            NodeKind::Port { .. } => (true, false),
            NodeKind::Fitting(_) => (false, false),
        };
        match self.network.unions {
            Unions::None => false,
            // Neither the hose nor threaded pipe can be turned; an adapter can,
            // before its tube is joined.
            Unions::Loops => {
                hose && end.gender == Gender::Male
                    && self.library.systems()[link.system].is_threaded()
            }
            Unions::Service => supply && !self.is_union(node),
        }
    }

    /// Whether the set of filter, regulator and lubricator of a side begins
    /// between these two, the job wants it to come out in one piece, and no
    /// union of the job's own stands before it.
    fn begins_set(&mut self, from: NodeId, to: NodeId) -> bool {
        let treats = self.part_of(to).is_some_and(|part| {
            let mut parts = self.library.parts().iter();
            parts.any(|known| known.name == part && known.group == Group::Treatment)
        });
        if !treats {
            return false;
        }
        let Origin { owner, spot } = self.network.node(to).origin;
        let side = match spot {
            Spot::Side(side, _) => side,
            _ => 0,
        };
        let first = self.sets.insert((owner, side));
        first && self.network.unions == Unions::Service && !self.is_union(from)
    }

    fn is_union(&self, node: NodeId) -> bool {
        self.part_of(node) == Some("union")
    }

    /// The part of the device that stands at a node.
    fn part_of(&self, node: NodeId) -> Option<&str> {
        match self.network.node(node).kind {
            NodeKind::Device { device, .. } => Some(&self.library.devices()[device].part),
            NodeKind::Port { .. } | NodeKind::Fitting(_) => None,
        }
    }

    /// The end that a node offers to a link: `outward` where the link leads
    /// away from the tank.
    fn end(&self, node: NodeId, link: LinkId, outward: bool) -> End {
        match &self.network.node(node).kind {
            NodeKind::Port { size, gender } => End::port(self.library, *gender, *size),
            NodeKind::Fitting(fitting) => {
                let link = self.network.link(link);
                let pipe = self.library.size_in(fitting.system, link.system, link.size);
                let gender = fitting.gender(link.pipe.is_none() && !outward);
                End::of(self.library, fitting.system, gender, fitting.port(pipe))
            }
            // Valves, couplers and the ends of hoses are brass.
            NodeKind::Device { device, size, .. } => {
                let device = &self.library.devices()[*device];
                let gender = if outward { device.outlet } else { None };
                End::thread(gender.unwrap_or(device.inlet), *size, Metal::Brass)
            }
        }
    }
}

//! What joins the ends of every link: nothing, nipples, bushings, unions.

use super::walk::Walk;
use super::{Group, Why};
use crate::finding::Finding;
use crate::fitting::{Join, Thread, close_loop, join, serviceable};
use crate::job::Unions;
use crate::library::Gender;
use crate::network::{LinkId, NodeId, NodeKind, Origin, Owner, Spot};
use crate::quantity::Size;

impl Walk<'_> {
    /// What joins the ends of every link.
    pub(super) fn links(&mut self) {
        for (id, from, to, link) in self.network.links() {
            if link.pipe.is_none() {
                let (a, b) = (self.thread(from, id, true), self.thread(to, id, false));
                if self.begins_set(from, to) {
                    let join = serviceable(a, b, self.system);
                    self.count(join, a.size, b.size, to, Why::ServicesSet);
                } else {
                    self.join(a, b, to);
                }
                continue;
            }
            let pipe = Thread::male(link.size);
            for (node, first) in [(from, true), (to, false)] {
                if self.network.is_plain(node) {
                    continue;
                }
                let end = self.thread(node, id, first);
                if self.needs_union(node, end) {
                    let join = close_loop(end, link.size, self.system);
                    self.count(join, end.size, link.size, node, Why::ServicesSupply);
                } else {
                    self.join(end, pipe, node);
                }
            }
        }
    }

    fn join(&mut self, a: Thread, b: Thread, at: NodeId) {
        self.count(join(a, b, self.system), a.size, b.size, at, Why::Joins);
    }

    /// Counts what joins two ends, its union for its own reason.
    fn count(&mut self, join: Option<Join>, a: Size, b: Size, at: NodeId, union: Why) {
        match join {
            Some(join) => self.tally.join(&join, at, union),
            None => self.no_step(at, a, b),
        }
    }

    /// Whether a union is put between the supply's last item and the pipe.
    fn needs_union(&self, node: NodeId, end: Thread) -> bool {
        let (supply, hose) = match self.network.node(node).kind {
            NodeKind::Device { length, .. } => (
                self.network.node(node).origin.owner == Owner::Supply,
                length.is_some(),
            ),
            NodeKind::Port { .. } => (true, false),
            NodeKind::Fitting(_) => (false, false),
        };
        match self.network.unions {
            Unions::None => false,
            // Neither the hose nor the pipe can be turned.
            Unions::Loops => hose && end.gender == Gender::Male,
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

    fn no_step(&mut self, at: NodeId, a: Size, b: Size) {
        self.findings.push(Finding::error(
            "no-step-between-sizes",
            self.network.node(at).span,
            format!("no bushing leads from {} to {}", a.max(b), a.min(b)),
            "choose sizes that lie nearer to each other",
        ));
    }

    /// The thread that a node offers to a link: `outward` where the link leads
    /// away from the tank.
    fn thread(&self, node: NodeId, link: LinkId, outward: bool) -> Thread {
        match &self.network.node(node).kind {
            NodeKind::Port { size, gender } => Thread {
                gender: *gender,
                size: *size,
            },
            NodeKind::Fitting(fitting) => {
                Thread::female(fitting.port(self.network.link(link).size))
            }
            NodeKind::Device { device, size, .. } => {
                let device = &self.library.devices()[*device];
                let gender = if outward { device.outlet } else { None };
                Thread {
                    gender: gender.unwrap_or(device.inlet),
                    size: *size,
                }
            }
        }
    }
}

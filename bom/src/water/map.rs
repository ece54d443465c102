//! The walk, and what it finds.

use super::above::Above;
use super::ends::{Step, low_end, step, ways_down};
use crate::job::TakeOff;
use crate::library::Library;
use crate::network::{LinkId, Network, NodeId};
use crate::quantity::Length;
use std::cmp::Reverse;

/// Where all water goes.
#[derive(Debug, Clone)]
pub struct WaterMap {
    /// Every place where water ends, in walking order from the tank.
    pub ends: Vec<End>,
    /// Level pipe whose water stands.
    pub standing: Vec<Standing>,
    /// Outlets to which water of the main comes, or may come.
    pub wet: Vec<Wet>,
    /// All pipe, centre to centre.
    pub all: Length,
    /// The end of each link's water, by the link's number.
    end_of: Vec<Option<usize>>,
}

/// A place where water ends.
#[derive(Debug, Clone)]
pub struct End {
    /// What it is.
    pub kind: EndKind,
    /// Where it is.
    pub at: NodeId,
    /// That place above the floor.
    pub height: Length,
    /// All pipe whose water ends here, centre to centre.
    pub pipe: Length,
    /// Pipe whose water may come here as well, from where it may take several
    /// ways: it is counted where the first of them ends.
    pub at_risk: Length,
}

/// What water ends in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum EndKind {
    /// A drain: of the main by its name, or of a drop by its outlet's.
    Drain(String),
    /// The tank, through its connection.
    Tank,
    /// A tool: the device that it reaches first.
    Tool(String),
    /// Nothing: a low point that no drain empties.
    Pocket,
    /// Level main, on which it stands with the main's own.
    Level,
}

/// Level main of one leg.
#[derive(Debug, Clone)]
pub struct Standing {
    /// Where it begins.
    pub from: NodeId,
    /// Where it ends.
    pub to: NodeId,
    /// Its length, centre to centre.
    pub length: Length,
    /// Its first link.
    pub(crate) first: LinkId,
}

/// An outlet to which water comes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wet {
    /// Its name.
    pub outlet: String,
    /// How.
    pub how: WetHow,
    /// From how much pipe.
    pub from: Length,
}

/// How water comes to an outlet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum WetHow {
    /// It ends there: nothing lies lower.
    Ends,
    /// The drop takes what passes: it leaves the bottom of the main, or the
    /// side where nothing else leads on.
    Takes,
    /// The drop leaves the side, past which it runs.
    AtRisk,
}

/// Follows every pipe's water.
pub(super) fn follow(network: &Network, library: &Library) -> WaterMap {
    // What has come to each place so far.
    let mut arrived = vec![Length::ZERO; network.node_count()];
    let mut standing = Vec::new();
    let mut all = Length::ZERO;
    for (id, from, to, link) in network.links() {
        let Some(length) = link.pipe else { continue };
        all += length;
        match low_end(network, id, [from, to]) {
            Some(low) => arrived[low.index()] += length,
            None => stand(
                network,
                &mut standing,
                Standing {
                    from,
                    to,
                    length,
                    first: id,
                },
            ),
        }
    }
    // Water only ever goes down: from the highest place to the lowest, all of
    // it has arrived when its turn comes.
    let mut order: Vec<NodeId> = network.nodes().map(|(id, _)| id).collect();
    order.sort_by_key(|id| (Reverse(network.node(*id).at.up), *id));
    let above = Above::of(network);
    let mut ends = Vec::new();
    for id in order {
        let here = arrived[id.index()];
        match step(network, library, id) {
            _ if here == Length::ZERO => {}
            Step::On(lower) => arrived[lower.index()] += here,
            Step::End(kind) => ends.push(End {
                kind,
                at: id,
                height: network.node(id).at.up,
                pipe: here,
                at_risk: above.may_come(id) - here,
            }),
        }
    }
    ends.sort_by_key(|end| walking_place(network, end));
    let end_of = end_of(network, library, &ends);
    WaterMap {
        end_of,
        wet: wet(network, &ends, &above),
        ends,
        standing,
        all,
    }
}

/// Adds level main to what stands: to the stretch before it, if it goes on from
/// there on the same leg.
fn stand(network: &Network, standing: &mut Vec<Standing>, more: Standing) {
    let leg = |one: &Standing| network.link(one.first).leg;
    match standing.last_mut() {
        Some(last) if last.to == more.from && leg(last) == leg(&more) => {
            last.to = more.to;
            last.length += more.length;
        }
        _ => standing.push(more),
    }
}

/// The end to which the water of each link comes.
fn end_of(network: &Network, library: &Library, ends: &[End]) -> Vec<Option<usize>> {
    let mut of_node: Vec<Option<usize>> = vec![None; network.node_count()];
    for (number, end) in ends.iter().enumerate() {
        of_node[end.at.index()] = Some(number);
    }
    let mut order: Vec<NodeId> = network.nodes().map(|(id, _)| id).collect();
    order.sort_by_key(|id| (network.node(*id).at.up, *id));
    for id in order {
        if let Step::On(lower) = step(network, library, id) {
            of_node[id.index()] = of_node[lower.index()];
        }
    }
    let mut of_link = vec![None; network.link_count()];
    for (id, from, to, link) in network.links() {
        if link.pipe.is_some()
            && let Some(low) = low_end(network, id, [from, to])
        {
            of_link[id.index()] = of_node[low.index()];
        }
    }
    of_link
}

/// The place on the main from which an end hangs: the order in which one walks
/// past them.
fn walking_place(network: &Network, end: &End) -> (NodeId, NodeId) {
    use crate::network::Owner;
    let on_main = match network.node(end.at).origin.owner {
        Owner::Drain(drain) => network.drains[drain].at,
        Owner::Outlet(outlet) => network.drops[outlet].take_off_at,
        Owner::Supply(_) | Owner::Leg(_) => end.at,
    };
    (on_main, end.at)
}

fn wet(network: &Network, ends: &[End], above: &Above) -> Vec<Wet> {
    use crate::network::Owner;
    let mut wet = Vec::new();
    let mut at_tools = vec![Length::ZERO; network.drops.len()];
    for end in ends {
        if let (EndKind::Tool(_), Owner::Outlet(outlet)) =
            (&end.kind, network.node(end.at).origin.owner)
        {
            at_tools[outlet] += end.pipe + end.at_risk;
        }
    }
    for (index, drop) in network.drops.iter().enumerate() {
        let into = ways_down(network, drop.take_off_at);
        let taken = into
            .first()
            .is_some_and(|lower| network.node(*lower).origin.owner == Owner::Outlet(index));
        let (how, from) = match (drop.take_off, taken) {
            (TakeOff::Top, _) => (WetHow::AtRisk, Length::ZERO),
            (TakeOff::Side, false) => (WetHow::AtRisk, above.may_pass(drop.take_off_at)),
            (TakeOff::Side, true) | (TakeOff::Bottom, _) => {
                (WetHow::Takes, above.may_pass(drop.take_off_at))
            }
        };
        let mut says = |how, from| {
            if from > Length::ZERO {
                wet.push(Wet {
                    outlet: drop.name.clone(),
                    how,
                    from,
                });
            }
        };
        says(how, from);
        says(WetHow::Ends, at_tools[index]);
    }
    wet
}

impl WaterMap {
    /// What is proved: the pipe of all ends and what stands is all pipe.
    #[must_use]
    pub fn accounts_for_all(&self) -> bool {
        let ended: Length = self.ends.iter().map(|end| end.pipe).sum();
        let standing: Length = self.standing.iter().map(|one| one.length).sum();
        ended + standing == self.all
    }

    /// The end to which the water of a link comes; none where it stands.
    pub(super) fn end_of(&self, link: LinkId) -> Option<usize> {
        self.end_of[link.index()]
    }

    /// The share of an end in all pipe, per cent.
    #[must_use]
    pub fn percent(&self, pipe: Length) -> f64 {
        if self.all == Length::ZERO {
            return 0.0;
        }
        pipe.mm() / self.all.mm() * 100.0
    }
}

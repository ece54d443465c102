//! Which part of a whole count is bought, which stands already and which comes out:
//! one rule over seats, and nothing else decides it.

use super::{JointCount, Of, PartLine, PipeLine, Seat, hangers};
use crate::job::State;
use crate::library::Library;
use crate::network::{Network, NodeId};
use std::collections::BTreeMap;

/// What was counted.
#[derive(Debug, Clone, Default)]
pub struct Counts {
    /// Parts.
    pub lines: Vec<PartLine>,
    /// Pipe.
    pub pipe: Vec<PipeLine>,
    /// Joints.
    pub joints: Vec<JointCount>,
}

/// What becomes of each seat.
#[derive(Debug)]
pub(super) struct Shares<'a> {
    network: &'a Network,
    /// What becomes of the pipe that hangers carry, by its two ends.
    carried: BTreeMap<[NodeId; 2], State>,
}

impl<'a> Shares<'a> {
    pub(super) fn of(network: &'a Network, library: &Library) -> Self {
        let hangers = hangers(network, library).into_iter();
        let carried = hangers.map(|hanger| {
            let state = network.link_state(hanger.on);
            ([hanger.from, hanger.to], state)
        });
        Self {
            network,
            carried: carried.collect(),
        }
    }

    /// What becomes of what sits there. A joint is new as soon as one of its sides is.
    pub(super) fn state(&self, seat: Seat) -> State {
        let network = self.network;
        match seat.of {
            Of::Place | Of::AtHand => network.node_state(seat.place),
            Of::End(link) => {
                let sides = [network.node_state(seat.place), network.link_state(link)];
                match sides.contains(&State::New) {
                    true => State::New,
                    false => sides.into_iter().max().unwrap_or_default(),
                }
            }
            Of::Straight(link) => network.link_state(link),
            Of::Supports(from) => {
                let carried = self.carried.get(&[from, seat.place]);
                carried
                    .copied()
                    .unwrap_or_else(|| network.node_state(seat.place))
            }
        }
    }
}

impl Counts {
    /// What of it has one of these states.
    pub(super) fn share(&self, shares: &Shares<'_>, wanted: &[State]) -> Self {
        let keeps = |seat: Seat| wanted.contains(&shares.state(seat));
        let lines = self.lines.iter().filter_map(|line| {
            let mut because = line.because.clone();
            because.retain(|because| keeps(because.at));
            (!because.is_empty()).then(|| PartLine {
                quantity: because.len() as u64,
                because,
                ..line.clone()
            })
        });
        let joints = self.joints.iter().filter_map(|joints| {
            let mut places = joints.places.clone();
            places.retain(|seat| keeps(*seat));
            (!places.is_empty()).then(|| JointCount {
                count: places.len() as u64,
                places,
                ..joints.clone()
            })
        });
        Self {
            lines: lines.collect(),
            joints: joints.collect(),
            pipe: Vec::new(),
        }
    }

    /// Both together.
    pub(super) fn with(&self, more: &Self) -> Self {
        let mut whole = self.clone();
        whole.lines.extend(more.lines.iter().cloned());
        whole.pipe.extend(more.pipe.iter().cloned());
        whole.joints.extend(more.joints.iter().cloned());
        whole
    }
}

//! What of the network is new, what stands already and what is taken out.

use super::{DraftStates, LinkId, Network, NodeId, NodeKind, Owner};
use crate::job::{Job, PlugOf, State};
use std::collections::{BTreeMap, BTreeSet};

/// What becomes of the things in the job, by their indices.
#[derive(Debug, Clone, Default)]
pub(crate) struct States {
    supplies: Vec<State>,
    legs: Vec<State>,
    drains: Vec<State>,
    outlets: Vec<State>,
    /// Line valves, by their names.
    valves: BTreeMap<String, State>,
    /// The links to plugs.
    plugs: BTreeMap<LinkId, State>,
    /// Pipe ends that are open where something has been taken out.
    opened: BTreeSet<NodeId>,
    /// Fittings with a free branch, into which something new goes.
    standing: BTreeSet<NodeId>,
}

/// A branch that is closed by a plug or a cap.
#[derive(Debug, Clone)]
pub struct Plugged {
    /// What is to come there, or has been there.
    pub name: String,
    /// The fitting on the main.
    pub at: NodeId,
    /// What closes its branch.
    pub plug: NodeId,
    /// The branch.
    pub of: PlugOf,
    /// Whether something is to come there, or has been taken out.
    pub to_come: bool,
}

/// A place where new pipe meets pipe that stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TieIn {
    /// The place.
    pub at: NodeId,
    /// Whether the pipe that stands is cut for it.
    pub cut: bool,
}

impl States {
    pub(super) fn of(job: &Job, draft: DraftStates) -> Self {
        Self {
            supplies: job
                .supplies
                .iter()
                .map(|one| State::of(one.state))
                .collect(),
            legs: job.legs.iter().map(|one| State::of(one.state)).collect(),
            drains: job.drains.iter().map(|one| State::of(one.state)).collect(),
            outlets: job.outlets.iter().map(|one| State::of(one.state)).collect(),
            valves: job
                .valves
                .iter()
                .map(|valve| (valve.name.value.clone(), State::of(valve.state)))
                .collect(),
            plugs: draft.plugs,
            opened: draft.opened,
            standing: draft.standing,
        }
    }

    fn owner(&self, owner: Owner) -> State {
        let (list, index) = match owner {
            Owner::Supply(index) => (&self.supplies, index),
            Owner::Leg(index) => (&self.legs, index),
            Owner::Drain(index) => (&self.drains, index),
            Owner::Outlet(index) => (&self.outlets, index),
        };
        list.get(index).copied().unwrap_or_default()
    }

    /// What becomes of a link that is walked on this leg, or else leads to this thing.
    pub(super) fn link(&self, id: LinkId, leg: Option<usize>, to: Owner) -> State {
        match (self.plugs.get(&id), leg) {
            (Some(state), _) => *state,
            (None, Some(leg)) => self.owner(Owner::Leg(leg)),
            (None, None) => self.owner(to),
        }
    }
}

impl Network {
    /// What becomes of a link.
    #[must_use]
    pub fn link_state(&self, id: LinkId) -> State {
        let [_, to] = self.ends_of(id);
        self.states
            .link(id, self.link(id).leg, self.node(to).origin.owner)
    }

    /// What becomes of what stands at a place: a device as the job says, a fitting as
    /// the pipes that meet there. One new pipe makes a new fitting.
    #[must_use]
    pub fn node_state(&self, id: NodeId) -> State {
        let node = self.node(id);
        if let (NodeKind::Device { .. }, Owner::Leg(_)) = (&node.kind, node.origin.owner) {
            let valve = self
                .valve_at(id)
                .and_then(|valve| self.states.valves.get(&valve.name));
            return valve.copied().unwrap_or_default();
        }
        if !matches!(node.kind, NodeKind::Fitting(_)) {
            return self.states.owner(node.origin.owner);
        }
        if self.states.opened.contains(&id) {
            return State::New;
        }
        let mut links: Vec<State> = self
            .ends(id)
            .filter(|end| !self.is_plug_link(end.link))
            .map(|end| self.link_state(end.link))
            .collect();
        if links.is_empty() {
            links = self.ends(id).map(|end| self.link_state(end.link)).collect();
        }
        let any = |state| links.contains(&state);
        if any(State::New) {
            let stands = self.states.standing.contains(&id) && any(State::Existing);
            return if stands { State::Existing } else { State::New };
        }
        if any(State::Existing) {
            State::Existing
        } else {
            State::Remove
        }
    }

    fn is_plug_link(&self, link: LinkId) -> bool {
        self.states.plugs.contains_key(&link)
    }

    /// Whether everything is new.
    #[must_use]
    pub fn is_all_new(&self) -> bool {
        self.nodes()
            .all(|(id, _)| self.node_state(id) == State::New)
            && self
                .links()
                .all(|(id, ..)| self.link_state(id) == State::New)
    }

    /// Whether a fitting of pipe that stands takes something new in its free branch.
    #[must_use]
    pub fn takes_branch(&self, id: NodeId) -> bool {
        self.states.standing.contains(&id) && self.node_state(id) == State::Existing
    }

    /// The pipe in which new pipe makes a union or a coupling necessary: the last, by the
    /// walk, that stands where a new fitting or line valve goes in.
    pub(crate) fn opens_for_tie_in(&self, id: NodeId) -> Option<LinkId> {
        let node = self.node(id);
        if matches!(&node.kind, NodeKind::Fitting(fitting) if fitting.is_saddle())
            || matches!(node.kind, NodeKind::Port { .. })
            || (matches!(node.kind, NodeKind::Device { .. }) && !self.is_line_valve(id))
            || self.node_state(id) != State::New
            || self.states.opened.contains(&id)
        {
            return None;
        }
        let stands = self
            .ends(id)
            .map(|end| end.link)
            .filter(|link| self.link_state(*link) == State::Existing);
        stands.max()
    }

    /// Where new pipe meets pipe that stands, in walking order.
    #[must_use]
    pub fn tie_ins(&self) -> Vec<TieIn> {
        let stands = |id: NodeId| {
            let links = self.ends(id).map(|end| self.link_state(end.link));
            links.filter(|state| *state == State::Existing).count()
        };
        let nodes = self.nodes().map(|(id, _)| id);
        let found = nodes.filter(|id| {
            self.opens_for_tie_in(*id).is_some()
                || self.takes_branch(*id)
                || self.is_clamped_on(*id)
        });
        found
            .map(|at| TieIn {
                at,
                cut: stands(at) > 1 && self.opens_for_tie_in(at).is_some(),
            })
            .collect()
    }

    /// Whether a new saddle is clamped on pipe that stands.
    fn is_clamped_on(&self, id: NodeId) -> bool {
        let saddle =
            matches!(&self.node(id).kind, NodeKind::Fitting(fitting) if fitting.is_saddle());
        let mut links = self.ends(id).map(|end| self.link_state(end.link));
        saddle && self.node_state(id) == State::New && links.any(|state| state == State::Existing)
    }
}

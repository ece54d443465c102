//! What every drawing calls the outlets, valves and drains, so that a tag on one is
//! found on all others.

use crate::Plan;
use crate::network::{NodeId, NodeKind, Owner, Spot};

/// The tags of a job, each list in walking order.
#[derive(Debug, Clone, Default)]
pub struct Tags {
    /// Every outlet: its foot, its number as the papers count, and its name.
    pub outlets: Vec<(NodeId, usize, String)>,
    /// Every valve that shuts off main: its place, its tag, and its name. Those of
    /// connections to tanks come first and are called by their supply.
    pub valves: Vec<(NodeId, String, String)>,
    /// Every drain of the main: its place on it, its tag, and its name.
    pub drains: Vec<(NodeId, String, String)>,
}

/// Tags everything that an owner points at: outlets by number, valves V1, V2 …,
/// drains of the main D1, D2 …
#[must_use]
pub fn tags(plan: &Plan) -> Tags {
    let network = &plan.network;
    let outlets = plan.summary.outlets.iter().filter_map(|outlet| {
        let mut drops = network.drops.iter();
        let drop = drops.find(|drop| drop.name == outlet.name)?;
        Some((drop.foot_at, outlet.number, outlet.name.clone()))
    });
    let mut valves: Vec<(NodeId, String)> = Vec::new();
    for (id, node) in network.nodes() {
        let Owner::Supply(supply) = node.origin.owner else {
            continue;
        };
        if let (NodeKind::Device { .. }, Spot::Connection(number)) = (&node.kind, node.origin.spot)
        {
            let devices = network.connections.get(supply);
            let name = devices.and_then(|devices| devices.get(number.saturating_sub(1)));
            if name.is_some_and(|name| name == "valve") {
                valves.push((id, network.supplies[supply].0.clone()));
            }
        }
    }
    let supplies = valves.len();
    let lines = network.valves.iter();
    valves.extend(lines.map(|valve| (valve.at, valve.name.clone())));
    valves[supplies..].sort_by_key(|(at, _)| *at);
    let mut drains: Vec<(NodeId, String)> = network
        .drains
        .iter()
        .map(|drain| (drain.at, drain.name.clone()))
        .collect();
    drains.sort_by_key(|(at, _)| *at);
    Tags {
        outlets: outlets.collect(),
        valves: numbered("V", valves),
        drains: numbered("D", drains),
    }
}

fn numbered(letter: &str, things: Vec<(NodeId, String)>) -> Vec<(NodeId, String, String)> {
    let things = things.into_iter().zip(1_usize..);
    things
        .map(|((at, name), number)| (at, format!("{letter}{number}"), name))
        .collect()
}

impl Tags {
    /// The number of the outlet of this name; 0 if there is none.
    #[must_use]
    pub fn outlet(&self, name: &str) -> usize {
        let mut outlets = self.outlets.iter();
        let outlet = outlets.find(|(_, _, one)| one == name);
        outlet.map_or(0, |(_, number, _)| *number)
    }

    /// The tag of the valve at a place, if one is there.
    #[must_use]
    pub fn valve_at(&self, at: NodeId) -> Option<&str> {
        let valve = self.valves.iter().find(|(node, ..)| *node == at)?;
        Some(&valve.1)
    }

    /// The tag of the main's drain at a place, if one is there.
    #[must_use]
    pub fn drain_at(&self, at: NodeId) -> Option<&str> {
        let drain = self.drains.iter().find(|(node, ..)| *node == at)?;
        Some(&drain.1)
    }
}

#[cfg(test)]
mod tests {
    use super::tags;
    use crate::library::Library;
    use crate::source::Source;

    #[test]
    fn tags_count_in_walking_order_from_the_tank() {
        let library = Library::shipped().unwrap();
        let text = include_str!("../../../tests/drawing/ring-of-twenty.toml");
        let (plan, findings) = crate::plan(&Source::new("job", text), &library);
        let plan = plan.unwrap_or_else(|| panic!("{findings:#?}"));
        let tags = tags(&plan);
        let numbers: Vec<usize> = tags.outlets.iter().map(|one| one.1).collect();
        assert_eq!(numbers, (1..=20).collect::<Vec<_>>());
        assert_eq!(tags.outlet("b20"), 20);
        assert_eq!(tags.outlet("no such outlet"), 0);
        let names = |list: &[(_, String, String)]| -> Vec<String> {
            let words = list.iter().map(|(_, tag, name)| format!("{tag} {name}"));
            words.collect()
        };
        assert_eq!(
            names(&tags.valves),
            ["V1 compressor", "V2 shut-west", "V3 shut-east"]
        );
        assert_eq!(names(&tags.drains), ["D1 low"]);
        assert_eq!(tags.valve_at(tags.valves[1].0), Some("V2"));
        assert_eq!(tags.drain_at(tags.drains[0].0), Some("D1"));
        assert_eq!(tags.drain_at(tags.valves[0].0), None);
    }
}

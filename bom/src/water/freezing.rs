//! Where water may freeze.

use super::map::{EndKind, WaterMap};
use crate::job::Job;
use crate::network::{Network, NodeId, Rooms};
use crate::quantity::{Length, Temperature};

/// A place whose water freezes when its room is coldest.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Freezing {
    /// What holds the water.
    pub kind: FreezingKind,
    /// Where it is.
    pub at: NodeId,
    /// All pipe whose water comes here.
    pub pipe: Length,
    /// The room.
    pub room: String,
    /// How cold it gets there.
    pub coldest: Temperature,
}

/// What holds water that freezes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FreezingKind {
    /// A drain: of the main by its name, or of a drop by its outlet's.
    Drain(String),
    /// A low point or a drip leg that nothing drains.
    LowPoint,
    /// Level pipe, from its place to another.
    Level(NodeId),
}

/// Every drain, low point, drip leg and level stretch in a room that gets as
/// cold as freezing, in walking order.
#[must_use]
pub fn freezing(job: &Job, network: &Network, map: &WaterMap) -> Vec<Freezing> {
    let rooms = Rooms::of(job, network);
    let point = |kind, at, pipe, room: Option<(&str, Temperature)>| {
        let (room, coldest) = room?;
        (coldest <= Temperature::from_celsius(0)).then(|| Freezing {
            kind,
            at,
            pipe,
            room: room.to_owned(),
            coldest,
        })
    };
    let ends = map.ends.iter().filter_map(|end| {
        let kind = match &end.kind {
            EndKind::Drain(name) => FreezingKind::Drain(name.clone()),
            EndKind::Pocket => FreezingKind::LowPoint,
            // Level main is a stretch below.
            EndKind::Tank | EndKind::Tool(_) | EndKind::Level => return None,
        };
        let links = network.ends(end.at).map(|one| one.link);
        point(kind, end.at, end.pipe, rooms.coldest_of(links))
    });
    let stretches = map.standing.iter().filter_map(|one| {
        let room = rooms.coldest_of([one.first]);
        point(FreezingKind::Level(one.to), one.from, one.length, room)
    });
    ends.chain(stretches).collect()
}

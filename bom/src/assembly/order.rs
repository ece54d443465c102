//! Which straight of the main follows which.

use super::Given;
use super::bag::Bag;
use crate::network::{NodeId, NodeKind, Owner};
use crate::takeoff::{Seat, Straight};
use petgraph::unionfind::UnionFind;

/// A straight of the main as it is laid.
#[derive(Debug, Clone, Copy)]
pub(super) struct Laid<'a> {
    pub(super) straight: &'a Straight,
    /// Whether it is laid from its end to its beginning.
    pub(super) back: bool,
    /// Whether nothing stands yet that it could hold on to.
    pub(super) starts: bool,
}

impl Laid<'_> {
    /// The places from which and to which it is laid, each with what joins the
    /// straight to it.
    pub(super) fn ends(&self) -> [Seat; 2] {
        let [first, last] = self.straight.links();
        let from = Seat::end(self.straight.from(), first);
        let to = Seat::end(self.straight.to(), last);
        if self.back { [to, from] } else { [from, to] }
    }
}

/// The main in the order of work: what is laid piece by piece, and then what
/// closes rings.
#[derive(Debug)]
pub(super) struct Order<'a> {
    pub(super) laid: Vec<Laid<'a>>,
    pub(super) closing: Vec<&'a Straight>,
}

/// A crew follows the legs as they are walked, from the first supply. What
/// closes a ring is left for last: a straight with the ring's union, or one that
/// comes apart at a valve; tube is left where the walk comes round to it.
pub(super) fn order<'a>(given: Given<'a>, bag: &Bag<'_>) -> Order<'a> {
    let network = given.network;
    let of_main = |straight: &&Straight| network.link(straight.links()[0]).is_main();
    let straights: Vec<&Straight> = given.takeoff.straights.iter().filter(of_main).collect();
    let mut tree: Vec<usize> = (0..straights.len()).collect();
    tree.sort_by_key(|index| (ease(given, bag, straights[*index]), *index));
    let mut joined = UnionFind::<usize>::new(network.node_count());
    tree.retain(|index| {
        let straight = straights[*index];
        joined.union(straight.from().index(), straight.to().index())
    });
    let closing = (0..straights.len()).filter(|index| !tree.contains(index));
    let closing = closing.map(|index| straights[index]).collect();
    tree.sort_unstable();
    // The first supply's pipe, else what is walked first.
    let start = |tree: &[usize]| {
        let mut places = tree.iter().map(|index| straights[*index]);
        let first = |straight: &Straight| {
            [straight.from(), straight.to()]
                .into_iter()
                .any(|place| supply_at(given, place) == Some(0))
        };
        places.position(first).unwrap_or(0)
    };
    let mut stands = vec![false; network.node_count()];
    let mut laid = Vec::new();
    while !tree.is_empty() {
        let touching = tree.iter().position(|index| {
            let straight = straights[*index];
            stands[straight.from().index()] || stands[straight.to().index()]
        });
        let straight = straights[tree.remove(touching.unwrap_or_else(|| start(&tree)))];
        laid.push(Laid {
            straight,
            back: touching.is_some() && !stands[straight.from().index()],
            starts: touching.is_none(),
        });
        for end in [straight.from(), straight.to()] {
            stands[end.index()] = true;
        }
    }
    Order { laid, closing }
}

/// How readily a straight is closed between two ends that stand: not at all, as
/// it comes apart at an end or slides in, by its own union.
fn ease(given: Given<'_>, bag: &Bag<'_>, straight: &Straight) -> u8 {
    if straight.has_union() {
        2
    } else {
        u8::from(!is_threaded(given, straight) || opens_at(bag, straight).is_some())
    }
}

/// The end of a straight at which a union stands.
pub(super) fn opens_at(bag: &Bag<'_>, straight: &Straight) -> Option<NodeId> {
    let [first, last] = straight.links();
    let mut ends = [(straight.from(), first), (straight.to(), last)].into_iter();
    let (place, _) = ends.find(|(place, link)| bag.has(Seat::end(*place, *link), "union"))?;
    Some(place)
}

/// Whether the pipe of a straight is screwed.
pub(super) fn is_threaded(given: Given<'_>, straight: &Straight) -> bool {
    given.library.systems()[given.network.link(straight.links()[0]).system].is_threaded()
}

/// The supply at a place.
pub(super) fn supply_at(given: Given<'_>, place: NodeId) -> Option<usize> {
    let node = given.network.node(place);
    match (node.origin.owner, &node.kind) {
        (Owner::Supply(supply), NodeKind::Port { .. } | NodeKind::Device { .. }) => Some(supply),
        _ => None,
    }
}

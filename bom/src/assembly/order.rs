//! Which straight of the main follows which.

use super::Given;
use super::bag::Bag;
use super::connect::Chain;
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
    // At the tank that must come first, else at the first supply.
    let supply = fast_supply(given, bag, &straights).unwrap_or(0);
    let start = |tree: &[usize]| {
        let mut places = tree.iter().map(|index| straights[*index]);
        let first = |straight: &Straight| {
            [straight.from(), straight.to()]
                .into_iter()
                .any(|place| supply_at(given, place) == Some(supply))
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

/// The first supply to which pipe is screwed without hose or union: what joins it to
/// a main that stands already could not be turned.
fn fast_supply(given: Given<'_>, bag: &Bag<'_>, straights: &[&Straight]) -> Option<usize> {
    (0..given.network.supplies.len()).find(|supply| {
        let found = leaves(given, straights.iter().copied(), *supply);
        found.is_some_and(|(straight, end)| {
            is_threaded(given, straight) && !Chain::of(given, *supply).lies_loose(bag, end)
        })
    })
}

/// The straight that begins at a supply, and what joins it there.
pub(super) fn leaves<'a>(
    given: Given<'_>,
    mut straights: impl Iterator<Item = &'a Straight>,
    supply: usize,
) -> Option<(&'a Straight, Seat)> {
    straights.find_map(|straight| {
        let [first, last] = straight.links();
        let ends = [(straight.from(), first), (straight.to(), last)];
        let mut ends = ends.into_iter();
        let (place, link) = ends.find(|(place, _)| supply_at(given, *place) == Some(supply))?;
        Some((straight, Seat::end(place, link)))
    })
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

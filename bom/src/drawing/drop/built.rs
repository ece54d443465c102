//! What one drop, drain or connection is built of, and where each part of it stands:
//! read off the count, by the places of its reasons.

use crate::Plan;
use crate::network::{NodeId, Owner, Spot};
use crate::quantity::{Length, Size};
use crate::takeoff::{Of, Piece, Seat, Why};

/// One part of the count at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Placed {
    /// The number of its line in the take-off.
    pub(super) line: usize,
    pub(super) at: NodeId,
    /// The place towards which it stands.
    pub(super) far: NodeId,
    pub(super) why: Why,
}

/// One piece that is cut.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cut {
    /// The number of its line among the pipe of the take-off.
    pub(super) line: usize,
    pub(super) piece: Piece,
}

/// What one thing in the job is built of.
#[derive(Debug, Clone)]
pub(super) struct Built {
    pub(super) owner: Owner,
    /// Its place on the main; the port of a supply.
    pub(super) root: NodeId,
    /// Its own parts.
    pub(super) parts: Vec<Placed>,
    /// What stands for it in the main, where it is counted.
    pub(super) on_main: Vec<Placed>,
    /// Its pieces but those of the down pipe, by straight.
    pub(super) pieces: Vec<Cut>,
    /// The pieces of the down pipe, in order.
    pub(super) down: Vec<Cut>,
    /// The foot to which the down pipe leads; none of what has none.
    pub(super) foot: Option<NodeId>,
    /// Its joints: the number of their line in the take-off, and how many.
    pub(super) joints: Vec<(usize, u64)>,
}

/// Reads off the count what belongs to one thing; of a drop with its foot.
pub(super) fn built(plan: &Plan, owner: Owner, root: NodeId, foot: Option<NodeId>) -> Built {
    let own = |at: NodeId| plan.network.node(at).origin.owner;
    let takeoff = &plan.takeoff;
    let (mut parts, mut on_main) = (Vec::new(), Vec::new());
    for (line, part) in takeoff.lines.iter().enumerate() {
        for because in &part.because {
            let at = because.at.place;
            let far = far(plan, because.at);
            let placed = Placed {
                line,
                at,
                far,
                why: because.why,
            };
            let for_it = far == root || own(far) == owner;
            let (own_place, root_place) = (own(at) == owner, at == root);
            match because.why {
                Why::Spare | Why::Seals => {}
                _ if own_place => parts.push(placed),
                Why::Meets | Why::Joins | Why::LongerThanStick if root_place && for_it => {
                    on_main.push(placed);
                }
                _ => {}
            }
        }
    }
    let mut pieces = Vec::new();
    for (line, pipe) in takeoff.pipe.iter().enumerate() {
        let its = |piece: &&Piece| own(piece.from).max(own(piece.to)) == owner;
        pieces.extend(pipe.pieces.iter().filter(its).map(|piece| Cut {
            line,
            piece: *piece,
        }));
    }
    pieces.sort_by_key(|cut| (cut.piece.straight, cut.piece.number));
    let straights = takeoff.straights.len();
    let (down, pieces) = pieces
        .into_iter()
        .partition(|cut| Some(cut.piece.to) == foot && cut.piece.straight <= straights);
    let joints = takeoff.joints.iter().enumerate();
    let joints = joints.map(|(line, joints)| {
        let places = joints.places.iter().filter(|at| own(at.place) == owner);
        (line, places.count() as u64)
    });
    Built {
        owner,
        root,
        parts,
        on_main,
        pieces,
        down,
        foot,
        joints: joints.filter(|(_, count)| *count > 0).collect(),
    }
}

/// The place towards which a part stands; its own where it stands at one.
fn far(plan: &Plan, seat: Seat) -> NodeId {
    let ends = match seat.of {
        Of::End(link) => plan.network.ends_of(link),
        Of::Straight(first) => {
            let mut straights = plan.takeoff.straights.iter();
            let own = straights.find(|one| one.links()[0] == first);
            own.map_or([seat.place; 2], |one| [one.from(), one.to()])
        }
        Of::Place | Of::Supports(_) | Of::AtHand => [seat.place; 2],
    };
    let [one, other] = ends;
    if one == seat.place { other } else { one }
}

/// Where something stands and towards where, if these places are its own.
type Spots = [Option<Spot>; 2];

/// What makes two things alike: their parts by what they stand on, and their pipe but
/// for the down pipe.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Likeness {
    parts: Vec<(Spots, Why, usize)>,
    pipe: Vec<(Spots, Option<Length>, Size)>,
    /// The main that it hangs on.
    main: Vec<Size>,
}

impl Built {
    /// The place at one of its spots.
    pub(super) fn spot(&self, plan: &Plan, spot: Spot) -> Option<NodeId> {
        let mut nodes = plan.network.nodes();
        let found =
            nodes.find(|(_, node)| node.origin.owner == self.owner && node.origin.spot == spot);
        found.map(|(id, _)| id)
    }

    /// Whether a part goes with the length of the down pipe.
    pub(super) fn is_of_down(&self, part: &Placed) -> bool {
        match part.why {
            Why::Spans | Why::Carries => Some(part.at) == self.foot,
            Why::LongerThanStick => Some(part.far) == self.foot,
            _ => false,
        }
    }

    /// What makes it like another one; of a drop all but its down pipe.
    pub(super) fn likeness(&self, plan: &Plan) -> Likeness {
        let network = &plan.network;
        let spot = |at: NodeId| {
            let origin = network.node(at).origin;
            (origin.owner == self.owner).then_some(origin.spot)
        };
        let fixed = |part: &&Placed| !self.is_of_down(part);
        let parts = self.parts.iter().chain(&self.on_main).filter(fixed);
        let mut parts: Vec<_> = parts
            .map(|part| ([part.at, part.far].map(spot), part.why, part.line))
            .collect();
        parts.sort_unstable();
        let own = network.links().filter(|(_, from, to, _)| {
            (spot(*from).is_some() || spot(*to).is_some()) && self.foot != Some(*to)
        });
        let main = network.ends(self.root).map(|end| network.link(end.link));
        let mut main: Vec<Size> = main
            .filter(|link| link.is_main())
            .map(|link| link.size)
            .collect();
        main.sort_unstable();
        Likeness {
            parts,
            pipe: own
                .map(|(_, from, to, link)| ([from, to].map(spot), link.pipe, link.size))
                .collect(),
            main,
        }
    }

    /// The length of the pipe that leads to one of its places, centre to centre.
    pub(super) fn pipe_to(plan: &Plan, to: NodeId) -> Option<Length> {
        let mut links = plan.network.links();
        links.find(|(_, _, end, _)| *end == to)?.3.pipe
    }
}

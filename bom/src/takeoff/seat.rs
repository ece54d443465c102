//! Where a counted part stands and where a joint is made: finer than a place,
//! so that what is put together there can be told in its order.

use crate::network::{LinkId, NodeId};

/// Where one part stands, or one joint is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Seat {
    /// The place that its reason names.
    pub place: NodeId,
    /// What of the place it belongs to.
    pub of: Of,
}

/// What of a place a part or a joint belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Of {
    /// What stands there.
    Place,
    /// What joins it to this link.
    End(LinkId),
    /// The straight that begins with this link.
    Straight(LinkId),
    /// What carries the pipe from that place to this one.
    Supports(NodeId),
    /// What is no part of the pipework itself: sealant, plugs of tools.
    AtHand,
}

impl Seat {
    /// What joins a place to a link.
    #[must_use]
    pub const fn end(place: NodeId, link: LinkId) -> Self {
        Self {
            place,
            of: Of::End(link),
        }
    }

    /// What carries the pipe between two places.
    pub(crate) const fn supports(from: NodeId, to: NodeId) -> Self {
        Self {
            place: to,
            of: Of::Supports(from),
        }
    }

    /// What is only kept at hand there.
    pub(super) const fn at_hand(place: NodeId) -> Self {
        Self {
            place,
            of: Of::AtHand,
        }
    }

    /// A part of a straight, which is told at a place.
    pub(super) const fn straight(place: NodeId, first: LinkId) -> Self {
        Self {
            place,
            of: Of::Straight(first),
        }
    }
}

impl From<NodeId> for Seat {
    fn from(place: NodeId) -> Self {
        Self {
            place,
            of: Of::Place,
        }
    }
}

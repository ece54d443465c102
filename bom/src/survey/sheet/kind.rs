//! What a row of the sheet can be.

use super::columns::{Column, plain};
use crate::quantity::{AirFlow, Pressure, QuantityError, Size, Volume};

/// What a row is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// A figure of the job or of its compressor, written as a name.
    Fact(Fact),
    /// Where the walk starts: the tank's port, and its height.
    Start,
    /// How high the main is.
    Main,
    /// A side of the room, or its eave.
    Room,
    /// Where a leg starts that goes on from a place behind.
    From,
    /// A straight of a leg.
    Leg,
    /// Something that stands along a leg.
    Mark(Mark),
    /// From the last mark of a leg to its end.
    Left,
    /// How high outlets are.
    Height,
    /// What hangs on the outlet above.
    Tool,
}

/// What stands along a leg.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Mark {
    Drop,
    Drain,
    Valve,
    /// A place that a branch leaves from.
    Place,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Fact {
    Title,
    Customer,
    Air,
    CutIn,
    CutOut,
    Relief,
    Tank,
    Port,
}

/// Every kind and its word.
const WORDS: [(&str, Kind); 20] = [
    ("title", Kind::Fact(Fact::Title)),
    ("customer", Kind::Fact(Fact::Customer)),
    ("air", Kind::Fact(Fact::Air)),
    ("cut in", Kind::Fact(Fact::CutIn)),
    ("cut out", Kind::Fact(Fact::CutOut)),
    ("relief", Kind::Fact(Fact::Relief)),
    ("tank", Kind::Fact(Fact::Tank)),
    ("port", Kind::Fact(Fact::Port)),
    ("room", Kind::Room),
    ("start", Kind::Start),
    ("main", Kind::Main),
    ("height", Kind::Height),
    ("from", Kind::From),
    ("leg", Kind::Leg),
    ("drop", Kind::Mark(Mark::Drop)),
    ("tool", Kind::Tool),
    ("drain", Kind::Mark(Mark::Drain)),
    ("valve", Kind::Mark(Mark::Valve)),
    ("place", Kind::Mark(Mark::Place)),
    ("left", Kind::Left),
];

impl Kind {
    /// The words of all kinds.
    pub(super) fn words() -> [&'static str; WORDS.len()] {
        WORDS.map(|(word, _)| word)
    }

    /// The kind that a word says.
    pub(super) fn read(word: &str) -> Option<Self> {
        let word = plain(word);
        let known = WORDS.iter().find(|(known, _)| *known == word);
        known.map(|(_, kind)| *kind)
    }

    /// Its word.
    pub(super) fn word(self) -> &'static str {
        let known = WORDS.iter().find(|(_, kind)| *kind == self);
        known.map_or("", |(word, _)| word)
    }

    /// Whether it reads one of these columns: way, name or a length.
    pub(super) const fn reads(self, column: Column) -> bool {
        let length = !matches!(self, Self::Fact(_) | Self::From | Self::Tool);
        match column {
            Column::Way => matches!(self, Self::Leg | Self::Room),
            Column::Ft | Column::In | Column::Mm => length,
            // A leg is read from the hook, whether the row says so or not.
            Column::ReadFrom => length,
            Column::Name => !matches!(self, Self::Main | Self::Left | Self::Height),
            Column::Leg | Column::Row | Column::Remark => true,
        }
    }

    /// Whether it belongs to a leg, which the rows below may leave out.
    pub(super) const fn of_leg(self) -> bool {
        matches!(
            self,
            Self::Start | Self::From | Self::Leg | Self::Mark(_) | Self::Left
        )
    }
}

impl Fact {
    /// Whether a text is such a figure.
    pub(super) fn check(self, text: &str) -> Result<(), QuantityError> {
        match self {
            Self::Title | Self::Customer => Ok(()),
            Self::Air => AirFlow::parse(text).map(drop),
            Self::CutIn | Self::CutOut | Self::Relief => Pressure::parse(text).map(drop),
            Self::Tank => Volume::parse(text).map(drop),
            Self::Port => {
                let thread = [" female", " male"];
                let mut sizes = thread.iter().filter_map(|thread| text.strip_suffix(thread));
                Size::parse(sizes.next().unwrap_or(text)).map(drop)
            }
        }
    }
}

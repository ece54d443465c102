//! Papers as PDF: the same model gives the same bytes, with its own fonts, in
//! black and white.

mod blanks;
mod blocks;
mod change;
mod columns;
mod compare;
mod crew;
mod cut;
mod drawing;
mod estimate;
mod file;
mod fonts;
mod handover;
mod imprint;
mod ink;
mod keep;
mod large;
mod leaf;
mod lists;
mod notes;
mod outline;
mod page;
mod quote;
#[cfg(test)]
mod read_back;
mod running;
mod shop;
mod table;
mod words;

pub use change::change;
pub use compare::compare;
pub use crew::{CrewSet, crew};
pub use cut::cut;
pub use drawing::{drawings, leaves};
pub use estimate::estimate;
pub use handover::{HandoverPaper, handover};
pub use leaf::Leaf;
pub use quote::quote;
pub use shop::shop;

/// The size of the sheets.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// 210 × 297 mm.
    #[default]
    A4,
    /// 8.5 × 11 in.
    Letter,
}

impl Paper {
    /// Width and height in millimetres.
    const fn millimetres(self) -> (f32, f32) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
        }
    }
}

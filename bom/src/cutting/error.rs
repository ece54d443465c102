//! Why pieces cannot be cut from a stock.

use crate::quantity::{Length, Units};

/// Why there is no cut plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CutError {
    /// A piece or a stick has no length, or the kerf is negative.
    NotALength(Length),
    /// A piece is longer than every stick.
    PieceTooLong {
        /// The piece; the longest, if there are several.
        piece: Length,
        /// The longest stick there is.
        longest: Length,
    },
    /// The sticks at hand do not hold the pieces: `pieces` of them found none.
    OutOfStock {
        /// How many pieces are left over.
        pieces: u64,
        /// Whether it is proven that they cannot be cut in another way.
        proven: bool,
    },
    /// More pieces, or higher costs, than can be added up exactly.
    TooLarge,
}

impl std::fmt::Display for CutError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let both =
            |length: Length| format!("{} ({} mm)", length.show(Units::Feet), length.to_mm_text());
        match self {
            Self::NotALength(length) => {
                write!(f, "{} mm cannot be cut", length.to_mm_text())
            }
            Self::PieceTooLong { piece, longest } => write!(
                f,
                "a piece of {} is longer than the longest stick, {}",
                both(*piece),
                both(*longest)
            ),
            Self::OutOfStock { pieces, proven } => write!(
                f,
                "the sticks at hand are too few: {pieces} pieces {}",
                if *proven {
                    "are left over however they are cut"
                } else {
                    "found no place"
                }
            ),
            Self::TooLarge => write!(
                f,
                "the pieces or the costs are too many to add up: at most a million pieces and \
                 a cost of 10^12 for a stick"
            ),
        }
    }
}

impl std::error::Error for CutError {}

//! What all of the main has in common.

use crate::quantity::{Fall, Length, Size, Speed};
use crate::source::{Span, Spanned};

/// Defaults for every leg.
#[derive(Debug, Clone)]
pub struct Main {
    /// The size of the main.
    pub size: SizeChoice,
    /// Where the size stands, for messages.
    pub size_span: Span,
    /// Where the main starts: pipe centre above the floor.
    pub height: Spanned<Length>,
    /// The fall.
    pub fall: Spanned<Fall>,
    /// The fall as the user wrote it.
    pub fall_text: String,
    /// Where unions stand.
    pub unions: Unions,
    /// Where the threads come from.
    pub threading: Threading,
    /// What stands between unlike metals.
    pub unlike: UnlikeMetals,
    /// The alloy of soldered or brazed joints, if the job names one.
    pub alloy: Option<Spanned<String>>,
    /// As fast as air may run in the main, if the job says so.
    pub speed: Option<Speed>,
    /// The same in drops.
    pub drop_speed: Option<Speed>,
    /// Heat that its outside loses, W/(m2 K), if stated.
    pub heat_loss: Option<f64>,
}

/// What stands between metals that eat each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum UnlikeMetals {
    /// A union with an insulating seal.
    #[default]
    InsulatingUnion,
    /// A brass coupling and brass nipples.
    Brass,
    /// Nothing.
    Bare,
}

/// Where the threads of the pipe come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Threading {
    /// Pipe is cut and threaded to measure.
    #[default]
    Cut,
    /// Every straight is built of ready-threaded lengths.
    Bought,
}

/// Where unions stand. A ring has one in any case: without it, it cannot be
/// screwed together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Unions {
    /// In rings only.
    None,
    /// In rings, and where a hose meets the pipe.
    #[default]
    Loops,
    /// Also where the pipe meets the supply in any other way, beside each line
    /// valve, and before each set of filter, regulator and lubricator.
    Service,
}

/// A size given, or left to be chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SizeChoice {
    /// As given.
    Given(Size),
    /// Chosen by the tool.
    Auto,
}

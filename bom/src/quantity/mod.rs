//! Quantities that cannot be mixed up: lengths, pipe sizes, pressures, air
//! flows, falls, volumes, speeds, temperatures, times. Each is read from a string that names its unit and
//! printed in the trade's units.

mod air;
mod fall;
mod length;
mod scan;
mod size;
mod speed;
mod temperature;
mod time;

pub(crate) use air::LITRES_PER_GAL;
pub use air::{AirFlow, Pressure, Volume};
pub use fall::Fall;
pub use length::{Length, Units};
pub use size::{PartSize, Size};
pub use speed::Speed;
pub use temperature::Temperature;
pub use time::Time;

/// Why a quantity could not be read, and how to write it instead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct QuantityError {
    /// What is wrong, in one sentence.
    pub message: String,
    /// How to mend it.
    pub help: String,
}

impl QuantityError {
    pub(crate) fn new(message: impl Into<String>, help: impl Into<String>) -> Self {
        Self {
            message: message.into(),
            help: help.into(),
        }
    }
}

impl std::fmt::Display for QuantityError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}; {}", self.message, self.help)
    }
}

impl std::error::Error for QuantityError {}

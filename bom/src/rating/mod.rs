//! What every part of a pressure zone may carry at its temperature, and which
//! part is the weakest.

mod heat;
mod row;
mod rules;
mod walk;
mod weak;
mod zones;

pub(crate) use heat::{AMBIENT, DISCHARGE};
pub use row::{Item, Rating};
pub use rules::{ByTemperature, Rule, Tube};
pub use weak::findings;
pub use zones::{Conditions, Rated, Shown, Zone, Zones, zones};

#[cfg(test)]
mod tests;

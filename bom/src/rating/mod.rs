//! What every part of a pressure zone may carry at its temperature, and which
//! part is the weakest.

mod row;
mod rules;

pub use row::{Item, Rating};
pub use rules::{Rule, Tube};

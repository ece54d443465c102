//! Drawings of what has prices: the cut sheet and the comparison, as data.

mod compare;
mod cut;
#[cfg(test)]
mod tests;

pub use compare::compare;
pub use cut::cut;

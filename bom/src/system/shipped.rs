//! The systems that ship with the crate, in the order in which they are listed.

/// Name of the file and its text. The first is the one whose pipe the size
/// chart is of.
pub(crate) const SHIPPED: [(&str, &str); 1] = [(
    "black-iron.toml",
    include_str!("../../data/systems/black-iron.toml"),
)];

//! The systems that ship with the crate, in the order in which they are listed.

/// Name of the file and its text. The first is the one whose pipe the size
/// chart is of.
pub(crate) const SHIPPED: [(&str, &str); 10] = [
    (
        "black-iron.toml",
        include_str!("../../data/systems/black-iron.toml"),
    ),
    (
        "galvanised.toml",
        include_str!("../../data/systems/galvanised.toml"),
    ),
    (
        "stainless-40s-threaded.toml",
        include_str!("../../data/systems/stainless-40s-threaded.toml"),
    ),
    (
        "stainless-10s-pressed.toml",
        include_str!("../../data/systems/stainless-10s-pressed.toml"),
    ),
    (
        "copper-l-soldered.toml",
        include_str!("../../data/systems/copper-l-soldered.toml"),
    ),
    (
        "copper-l-brazed.toml",
        include_str!("../../data/systems/copper-l-brazed.toml"),
    ),
    (
        "copper-l-pressed.toml",
        include_str!("../../data/systems/copper-l-pressed.toml"),
    ),
    (
        "copper-m-soldered.toml",
        include_str!("../../data/systems/copper-m-soldered.toml"),
    ),
    (
        "aluminium-push-fit.toml",
        include_str!("../../data/systems/aluminium-push-fit.toml"),
    ),
    ("brass.toml", include_str!("../../data/systems/brass.toml")),
];

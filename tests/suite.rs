//! The whole tool, checked from outside.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on fails")]

mod air;
mod air_sizes;
mod bad;
mod cases;
mod catalogs;
mod change;
mod command;
mod compare;
mod cut;
mod demand;
#[path = "drawings/drop.rs"]
mod drawings_drop;
mod estimate;
mod in_systems;
mod invariants;
mod levels;
mod practice;
mod published;
mod shop;
mod sizes;
mod supplies;
mod support;
mod systems;
mod tidy;
mod water;
mod xlsx;

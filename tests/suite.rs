//! The whole tool, checked from outside.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on fails")]

mod air;
mod air_sizes;
mod as_built;
mod assembly;
mod bad;
mod cases;
mod catalogs;
mod change;
mod command;
mod compare;
mod crew;
mod cut;
mod demand;
mod drawings;
#[path = "drawings/drop.rs"]
mod drawings_drop;
mod drawings_isometric;
mod drawings_water;
mod estimate;
mod handover;
#[path = "handover/parts.rs"]
mod handover_parts;
mod handover_readings;
mod import;
mod in_systems;
mod invariants;
mod keys;
mod levels;
mod new;
mod papers;
mod practice;
mod published;
mod readback;
mod report;
mod shop;
mod sizes;
mod states;
mod supplies;
mod support;
mod systems;
mod three_ways;
mod tidy;
mod water;
mod xlsx;

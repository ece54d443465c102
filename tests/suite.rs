//! The whole tool, checked from outside.

mod bad;
mod cases;
mod command;
mod invariants;
mod published;
mod support;
mod tidy;

//! Drawings of jobs.

mod command;
mod files;
mod plan;
mod read;

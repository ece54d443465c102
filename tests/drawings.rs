//! Drawings of jobs.

mod command;
mod files;
mod read;

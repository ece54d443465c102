//! What several tests share.

mod generate;
mod lay;
mod luck;
mod run;
mod write;

pub(crate) use generate::{Plan, Shop};
pub(crate) use run::{Outcome, files, folder, matches_file, path, read, root, run, run_in};
pub(crate) use write::Form;

#[cfg(test)]
mod tests;

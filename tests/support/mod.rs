//! What several tests share.

mod draw;
mod generate;
mod lay;
mod luck;
mod run;
#[path = "../../pricing/src/catalog/workbook/build.rs"]
pub(crate) mod workbook;
mod write;

pub(crate) use draw::{forms, same_cases, shops};
pub(crate) use generate::{Plan, Shop};
pub(crate) use run::{Outcome, files, folder, matches_file, path, read, root, run, run_in, run_on};
pub(crate) use write::Form;

#[cfg(test)]
mod tests;

//! Papers as workbooks: what is printed stands in cells, and every amount, sum
//! and total is a formula with its printed result beside it. The same model
//! gives the same bytes.

mod book;
mod estimate;
mod formula;
mod notes;
mod parts;
mod quote;
mod request;
mod run_sheet;
mod sheet;
mod shop;
mod text;

pub use estimate::estimate;
pub use parts::{Counted, parts};
pub use quote::quote;
pub use request::request;
pub use run_sheet::run_sheet;
pub use shop::shop;

#[cfg(test)]
mod tests;

//! What is written out. Every renderer reads a finished model and prints it;
//! none of them computes a sum.

pub mod csv;
pub mod json;
pub mod pdf;
pub mod terminal;
pub(crate) mod words;

#[cfg(test)]
mod fixture;

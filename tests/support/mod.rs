//! What several tests share.

mod generate;
mod luck;
mod write;

pub(crate) use generate::{Plan, Shop};
pub(crate) use write::Form;

#[cfg(test)]
mod tests;

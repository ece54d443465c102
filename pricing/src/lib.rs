//! What the counted parts cost and what the job sells for.
pub mod quote;

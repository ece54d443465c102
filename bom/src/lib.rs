//! The pipework: everything that has no price. A job file becomes one
//! immutable network; every answer is a walk over it.

pub mod finding;
pub mod library;
pub mod quantity;
pub mod source;
pub mod summary;
pub mod system;
pub mod takeoff;

//! The commands as a user runs them.

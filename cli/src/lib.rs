//! The face of the pipework: what the terminal, the files and the printer get.
pub mod output;

//! What was typed, said back: the walk in words, the shop as a small plan, a card of
//! lengths for a second walk with the tape, and what its readings say of the first.

mod card;
mod misfit;
mod probe;
mod reading;
mod sketch;
#[cfg(test)]
mod slips;
#[cfg(test)]
mod tests;
mod typed;
mod words;

pub use card::{Card, Line};
pub use misfit::misfits;
pub use reading::measure;
pub use sketch::Sketch;
pub use words::Said;

use crate::job::Job;
use crate::library::Library;
use crate::quantity::Units;

/// A job said back.
#[derive(Debug)]
pub struct ReadBack {
    /// The job's title.
    pub title: String,
    /// How lengths print.
    pub units: Units,
    /// The walk in words, leg by leg.
    pub walk: Vec<Said>,
    /// The shop from above.
    pub sketch: Sketch,
    /// What to measure on a second walk.
    pub card: Card,
}

/// Says a job back, as far as its walk leads.
#[must_use]
pub fn readback(job: &Job, library: &Library) -> ReadBack {
    let lay = crate::network::lay(job, library);
    ReadBack {
        title: job.title.clone(),
        units: job.units,
        walk: words::walk(job, &lay),
        sketch: sketch::sketch(job, &lay, library),
        card: card::card(job, &lay, library),
    }
}

//! The card by the compressor: on one page, to be read with a hand on the valve.

mod duties;
pub(super) mod holes;
mod round;
mod shut;
mod warn;

use super::{Context, Part};

/// Rows of drains and of outlets that a page has room for together.
const MOST_ROWS: usize = 13;

pub(super) fn parts(context: &Context<'_>) -> Vec<Part> {
    let mut parts = round::parts(context);
    parts.push(Part::heading("Every week or month"));
    parts.push(Part::Points(duties::points(context)));
    parts.push(Part::heading("What a hole costs"));
    parts.extend(holes::parts(context));
    parts.push(Part::heading("To work on an outlet"));
    let room = MOST_ROWS.saturating_sub(round::groups(&context.round).len());
    parts.extend(shut::parts(context, room));
    parts.push(Part::Log(
        ["Date", "Who", "What was done"].map(str::to_owned).to_vec(),
    ));
    parts
}

#[cfg(test)]
mod tests;

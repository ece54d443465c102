//! What goes together with counted parts and is not counted as one: tools,
//! consumables, labels.

use super::{has_source, rows};
use crate::quantity::Length;
use crate::summary::Summary;
use crate::system::Joint;
use crate::takeoff::Takeoff;
use serde::Deserialize;

/// A row of `data/go_togethers.csv`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reminder {
    /// The part that asks for it.
    pub trigger: String,
    /// How the pipe is joined that asks for it; none where that is all the same.
    pub joint: Option<Joint>,
    /// One for each such length of main; none for one for each of the part.
    pub every: Option<Length>,
    /// What to think of, with `{count}` and `{every}` for their figures.
    pub reminder: String,
    /// Who says so.
    pub source: String,
}

pub(super) fn read(text: &str) -> Result<Vec<Reminder>, String> {
    let reminders: Vec<Reminder> = rows("go_togethers.csv", text)?;
    for row in &reminders {
        has_source("go_togethers.csv", &row.reminder, &row.source)?;
    }
    Ok(reminders)
}

impl Reminder {
    /// Whether the pipe of a system is joined in the way that asks for it.
    fn fits(&self, system: &str, takeoff: &Takeoff) -> bool {
        let mut joints = takeoff.joints.iter();
        self.joint
            .is_none_or(|joint| joints.any(|made| made.joint == joint && made.system == system))
    }

    /// The reminder with its figures, if the job has the part.
    #[must_use]
    pub fn said(&self, summary: &Summary, takeoff: &Takeoff) -> Option<String> {
        let parts = takeoff
            .lines
            .iter()
            .filter(|line| line.key.part == self.trigger)
            .map(|line| line.quantity);
        let pipe = takeoff
            .pipe
            .iter()
            .filter(|line| line.key.part == self.trigger && self.fits(&line.key.system, takeoff))
            .map(|line| line.pieces.len() as u64);
        let counts: Vec<u64> = parts.chain(pipe).collect();
        let (count, every) = match (self.every, counts.iter().sum()) {
            // Pipe runs through the building also where no piece of it is cut.
            (Some(every), _) if !counts.is_empty() => (
                summary.main_length.stretches_of(every),
                every.show_total(summary.units),
            ),
            (None, count @ 1u64..) => (count, String::new()),
            _ => return None,
        };
        Some(
            self.reminder
                .replace("{count}", &count.to_string())
                .replace("{every}", &every),
        )
    }
}

//! Readings worked out: what was read, the sum with its figures, the result, and what it
//! means in words. A file for each kind of reading.

pub(super) mod bleed_down;
mod fall;
pub(super) mod flow;
mod leak_line;
mod machine;
mod say;
pub(super) mod strength;
#[cfg(test)]
mod tests;
mod tightness;

pub use bleed_down::{BleedDown, bled};
pub use fall::{Fall, Fell, fell};
pub use flow::{Against, Flow};
pub use leak_line::{Line, line};
pub use machine::{Machine, Plate, delivered, plate_tolerance};
pub use strength::Strength;
pub use tightness::Tightness;

use super::record::Record;
use super::sheet::Blank;
use super::{Context, Part};

/// The readings of a record, worked out.
#[derive(Debug, Clone, Default)]
pub struct Worked {
    /// Who read, who was there, and the day.
    pub people: People,
    /// Whether the record was written for another layout than this.
    pub other_layout: bool,
    /// The test for strength.
    pub strength: Option<Strength>,
    /// Parts that were watched.
    pub tightness: Vec<Tightness>,
    /// The whole system, watched while it fell.
    pub bleed_down: Vec<BleedDown>,
    /// How the leak grows with the pressure, where the readings say it.
    pub line: Option<Line>,
    /// Machines.
    pub machines: Vec<Machine>,
    /// Tools under flow.
    pub flow: Vec<Flow>,
}

/// Names and the day, as they were written; empty where they were not.
#[derive(Debug, Clone, Default)]
pub struct People {
    /// Who read.
    pub tested_by: String,
    /// Who was there.
    pub seen_by: String,
    /// The day.
    pub date: String,
}

impl Worked {
    pub(super) fn of(context: &Context<'_>, record: &Record) -> Self {
        let bleed_down: Vec<BleedDown> = record
            .bleed_down
            .iter()
            .map(|read| BleedDown::of(context, read))
            .collect();
        Self {
            people: People {
                tested_by: record.tested_by.clone(),
                seen_by: record.seen_by.clone(),
                date: record.date.clone(),
            },
            other_layout: record.other_layout,
            strength: record.test.as_ref().map(|read| Strength::of(context, read)),
            tightness: record
                .tightness
                .iter()
                .map(|read| Tightness::of(context, read))
                .collect(),
            line: Line::of(context, &record.bleed_down),
            bleed_down,
            machines: record
                .machines
                .iter()
                .map(|read| Machine::of(context, read))
                .collect(),
            flow: record
                .flow
                .iter()
                .map(|read| Flow::of(context, read))
                .collect(),
        }
    }
}

impl Context<'_> {
    /// Who read, by name, beside the line to sign on.
    pub(super) fn signed(&self, label: &str, name: impl Fn(&People) -> &String) -> Vec<Blank> {
        let people = &self.worked.people;
        vec![
            Blank::filled(&format!("{label}: name"), name(people)),
            Blank::filled("Day", &people.date),
            Blank::empty("Signature"),
        ]
    }

    /// What is said where the record is of another layout.
    pub(super) fn other_layout(&self) -> Option<Part> {
        self.worked.other_layout.then(|| {
            Part::Caution("The record was written for another layout than this one: volumes and what is expected are those of this one. See that parts and outlets are still the same.".to_owned())
        })
    }
}

/// Remarks as they were written.
fn remarks(words: &str) -> Option<Part> {
    (!words.is_empty()).then(|| Part::Note(format!("Remarks: {words}")))
}

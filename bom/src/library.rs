//! The trade data that ships with the crate: systems, devices, parts, the
//! pipe size chart. All of it is read from `data/`.

mod chart;
mod device;
mod own;
mod part;
pub mod refused;
pub mod reminder;
mod tools;

pub use device::{Device, Gender, Station};
pub use part::{Part, PartEnd};
pub use tools::ToolKind;

use crate::air::Stream;
use crate::air::friction::loss_per_metre;
use crate::air::resistance::Resistances;
use crate::quantity::{AirFlow, Length, Size};
use crate::source::Source;
use crate::system::{self, Metal, SizeRow, System};
use crate::takeoff::PartKey;
use chart::ChartRow;
use device::DeviceRow;
use part::PartRow;
use refused::Refused;
use reminder::Reminder;
use serde::Deserialize;
use std::collections::BTreeSet;

/// Everything that the walks look up.
#[derive(Debug, Clone)]
pub struct Library {
    systems: Vec<System>,
    refused: Vec<Refused>,
    devices: Vec<Device>,
    parts: Vec<Part>,
    chart: Vec<ChartRow>,
    reminders: Vec<Reminder>,
    unlike: Vec<Unlike>,
    tools: Vec<ToolKind>,
    resistances: Resistances,
}

/// Two metals that must not touch.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct Unlike {
    one: Metal,
    other: Metal,
    why: String,
    source: String,
}

/// How much more pressure a size may lose and still count as carrying the air
/// as well as another. Common practice, no source: sizes step by far more.
pub const MORE_LOSS: f64 = 1.1;

impl Library {
    /// Reads the shipped data.
    ///
    /// # Errors
    /// Which file is wrong and how; the crate's tests hold that none is.
    pub fn shipped() -> Result<Self, String> {
        let systems = system::SHIPPED
            .iter()
            .map(|(name, text)| System::read(text).map_err(|error| format!("{name}: {error}")))
            .collect::<Result<_, _>>()?;
        Ok(Self {
            systems,
            refused: refused::read(include_str!("../data/refused.csv"))?,
            devices: rows::<DeviceRow>("devices.csv", include_str!("../data/devices.csv"))?
                .into_iter()
                .map(DeviceRow::into_device)
                .collect::<Result<_, _>>()?,
            parts: rows::<PartRow>("parts.csv", include_str!("../data/parts.csv"))?
                .into_iter()
                .map(PartRow::into_part)
                .collect::<Result<_, _>>()?,
            chart: chart::read(include_str!("../data/size_chart.csv"))?,
            reminders: reminder::read(include_str!("../data/go_togethers.csv"))?,
            unlike: unlike(include_str!("../data/metals.csv"))?,
            tools: shipped_tools()?,
            resistances: Resistances::read(
                include_str!("../data/resistances.csv"),
                include_str!("../data/device_losses.csv"),
            )?,
        })
    }

    /// The pipe systems.
    #[must_use]
    pub fn systems(&self) -> &[System] {
        &self.systems
    }

    /// The threaded system whose nipples and bushings join the threads of a
    /// system's devices: its companion for tube, else itself.
    #[must_use]
    pub fn hardware(&self, system: usize) -> usize {
        let companion = self.systems[system].threads.as_ref();
        companion
            .and_then(|name| self.systems.iter().position(|one| one.name == *name))
            .unwrap_or(system)
    }

    /// The first threaded system of a metal.
    #[must_use]
    pub fn threaded_of(&self, metal: Metal) -> Option<usize> {
        let is_it = |one: &System| one.metal == metal && one.is_threaded();
        self.systems.iter().position(is_it)
    }

    /// Why two metals must not touch; none if they may.
    #[must_use]
    pub fn unlike(&self, one: Metal, other: Metal) -> Option<&str> {
        let pairs = [(one, other), (other, one)];
        self.unlike
            .iter()
            .find(|row| pairs.contains(&(row.one, row.other)))
            .map(|row| row.why.as_str())
    }

    /// The size of one system's pipe that goes with a size of another's: the
    /// one with the same thread.
    #[must_use]
    pub fn size_in(&self, system: usize, of: usize, size: Size) -> Size {
        if system == of {
            return size;
        }
        let thread = self.systems[of].thread_of(size);
        self.systems[system].size_for_thread(thread).unwrap_or(size)
    }

    /// The smallest size of one system that carries a stream as well as a size
    /// of another does: it loses at most [`MORE_LOSS`] times as much. Without a
    /// stream, the smallest whose bore is at most 5 % narrower. The largest
    /// where none does.
    #[must_use]
    pub fn carrying(&self, system: usize, of: usize, size: Size, stream: Option<&Stream>) -> Size {
        let (here, there) = (&self.systems[system], &self.systems[of]);
        let Some(wanted) = there.row(size).filter(|_| system != of) else {
            return size;
        };
        let loss = |system: &System, row: &SizeRow, stream: &Stream| {
            loss_per_metre(stream, row.bore(), system.roughness())
        };
        let carries = |row: &&SizeRow| match stream {
            Some(stream) => loss(here, row, stream) <= MORE_LOSS * loss(there, wanted, stream),
            None => row.bore() >= wanted.bore().scaled(95, 100),
        };
        let row = here.sizes().find(carries).or_else(|| here.sizes().last());
        row.map_or(size, |row| row.size)
    }

    /// The same data, with the ready-made pieces of one system that can be had.
    #[must_use]
    pub fn with_ready(mut self, system: usize, at_hand: BTreeSet<(Size, Length)>) -> Self {
        if let Some(system) = self.systems.get_mut(system) {
            system.at_hand = Some(at_hand);
        }
        self
    }

    /// The devices.
    #[must_use]
    pub fn devices(&self) -> &[Device] {
        &self.devices
    }

    /// The kinds of parts, in the order of the papers.
    #[must_use]
    pub fn parts(&self) -> &[Part] {
        &self.parts
    }

    /// What fittings and devices resist.
    #[must_use]
    pub const fn resistances(&self) -> &Resistances {
        &self.resistances
    }

    /// What goes together with the parts and is not counted as one.
    #[must_use]
    pub fn reminders(&self) -> &[Reminder] {
        &self.reminders
    }

    /// A part as the label on the shelf calls it:
    /// `3/4 in black 90 elbow, female both ends`.
    #[must_use]
    pub fn shelf_words(&self, key: &PartKey) -> String {
        let part = self.parts.iter().find(|part| part.name == key.part);
        let system = self.systems.iter().find(|one| one.name == key.system);
        let template = part.map_or_else(|| key.part.clone(), |part| part.shelf.of(system));
        let material = system.map_or("", |system| system.shelf.as_str());
        let reducing = if key.size.reduces() { "reducing " } else { "" };
        template
            .replace("{size}", &key.size.shelf())
            .replace("{material}", material)
            .replace("{reducing}", reducing)
            .trim()
            .to_owned()
    }

    /// Reads the published size chart: the next larger flow and the next
    /// longer run. None beyond its last row or column.
    ///
    /// Source: US Army TM 55-1930-209-14P-7, Table 1.
    #[must_use]
    pub fn chart_size(&self, flow: AirFlow, run: Length) -> Option<Size> {
        chart::look_up(&self.chart, flow, run)
    }
}

fn shipped_tools() -> Result<Vec<ToolKind>, String> {
    let source = Source::new("tools.csv", include_str!("../data/tools.csv"));
    tools::read(&source).map_err(|findings| {
        let said = findings.iter().map(|finding| {
            let line = source.line(finding.place().start);
            format!("tools.csv: line {line}: {}", finding.message)
        });
        said.collect::<Vec<_>>().join("; ")
    })
}

fn unlike(text: &str) -> Result<Vec<Unlike>, String> {
    let rows: Vec<Unlike> = rows("metals.csv", text)?;
    for row in &rows {
        has_source("metals.csv", row.one.word(), &row.source)?;
    }
    Ok(rows)
}

fn has_source(file: &str, row: &str, source: &str) -> Result<(), String> {
    if source.trim().is_empty() {
        return Err(format!("{file}: {row} has no source"));
    }
    Ok(())
}

pub(crate) fn rows<T: for<'de> Deserialize<'de>>(file: &str, text: &str) -> Result<Vec<T>, String> {
    csv::Reader::from_reader(text.as_bytes())
        .deserialize()
        .collect::<Result<_, _>>()
        .map_err(|error| format!("{file}: {error}"))
}

#[cfg(test)]
mod tests;

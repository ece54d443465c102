//! The trade data that ships with the crate: systems, devices, parts, the
//! pipe size chart. All of it is read from `data/`.

mod own;
pub mod refused;
pub mod reminder;
mod tools;

pub use tools::ToolKind;

use crate::air::Stream;
use crate::air::friction::loss_per_metre;
use crate::air::resistance::Resistances;
use crate::quantity::{AirFlow, Length, Size, Units};
use crate::source::Source;
use crate::system::{self, Joint, Metal, SizeRow, System};
use crate::takeoff::{Group, PartKey};
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

/// A kind of part as the catalog knows it.
#[derive(Debug, Clone)]
pub struct Part {
    /// Our plain word: `elbow-90`.
    pub name: String,
    /// Whether it belongs to a pipe system; valves and hoses do not.
    pub of_system: bool,
    /// Where it stands on paper.
    pub group: Group,
    /// What one is: `each`, `roll`.
    pub unit: String,
    /// Whether its size ends in a length.
    pub has_length: bool,
    /// Its ends that are made up, in the order of its sizes; none where a port
    /// is no joint.
    pub ends: Vec<Option<PartEnd>>,
    words: ByFamily,
    shelf: ByFamily,
}

/// An end of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PartEnd {
    /// Made as its system's pipe is joined: a socket, or an end of pipe.
    Own(Gender),
    /// A thread, whatever the system.
    Thread(Gender),
}

/// Words that differ between threaded systems and tube.
#[derive(Debug, Clone)]
struct ByFamily {
    threaded: String,
    tube: String,
}

impl ByFamily {
    /// The words for threaded systems, and behind a bar those for tube.
    fn read(text: &str) -> Self {
        let (threaded, tube) = text.split_once('|').unwrap_or((text, text));
        Self {
            threaded: threaded.to_owned(),
            tube: tube.to_owned(),
        }
    }

    /// The words in a system; of none, those of threads.
    fn of(&self, system: Option<&System>) -> String {
        let joint = system.map_or(Joint::Threaded, |system| system.joint);
        let grade = system
            .and_then(|system| system.grade.as_ref())
            .map_or_else(String::new, |grade| format!(", {grade}"));
        let socket = match joint {
            Joint::Threaded => return self.threaded.replace("{grade}", &grade),
            Joint::Soldered | Joint::Brazed => "cup",
            Joint::Pressed => "press",
            Joint::PushFit => "push-fit",
        };
        self.tube
            .replace("{socket}", socket)
            .replace("{grade}", &grade)
    }
}

impl Part {
    /// What it is called on papers, without material and size.
    #[must_use]
    pub fn words(&self, system: &System) -> String {
        self.words.of(Some(system))
    }
}

/// Which way a thread faces.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Gender {
    /// Thread outside.
    Male,
    /// Thread inside.
    Female,
}

/// Where a device may stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Station {
    /// Between the tank and the pipe.
    Supply,
    /// On the side of a drop.
    Side,
    /// At a drain.
    Drain,
    /// In the main itself.
    Line,
}

/// A device: a row of ports in data.
#[derive(Debug, Clone)]
pub struct Device {
    /// The word in job files: `valve`.
    pub name: String,
    /// The part that the catalog prices.
    pub part: String,
    /// The end towards the tank.
    pub inlet: Gender,
    /// The end away from it; none where the air or the water leaves the pipe.
    pub outlet: Option<Gender>,
    /// The sizes it is made in, smallest first.
    pub sizes: Vec<Size>,
    /// Its size where the job says none; `None` means the size of the line.
    pub default_size: Option<Size>,
    /// Whether it is sold by length.
    pub has_length: bool,
    /// The pressure that it may carry, psi.
    pub rated_psi: f64,
    /// Who says so.
    pub rated_source: String,
    stations: Vec<Station>,
    /// End to end, a length for each size; empty where it never stands in line.
    lengths: Vec<Length>,
}

impl Device {
    /// Whether the device may stand there.
    #[must_use]
    pub fn may_stand(&self, station: Station) -> bool {
        self.stations.contains(&station)
    }

    /// Its length in a size, end to end; none where it never stands in line.
    #[must_use]
    pub fn length(&self, size: Size) -> Option<Length> {
        let made = self.sizes.iter().position(|made| *made == size)?;
        self.lengths.get(made).copied()
    }

    /// Its size on a line of `line` where the job says none: the line's size
    /// or its own usual one; where it is not made so, the next larger one, or
    /// its largest.
    #[must_use]
    pub fn size_on(&self, line: Size) -> Size {
        let wanted = match self.default_size {
            Some(usual) => usual.min(line),
            None => line,
        };
        self.sizes
            .iter()
            .copied()
            .filter(|size| *size >= wanted)
            .min()
            .or_else(|| self.sizes.iter().copied().max())
            .unwrap_or(wanted)
    }
}

#[derive(Debug, Clone)]
struct ChartRow {
    cfm: f64,
    sizes: Vec<Size>,
}

/// How much more pressure a size may lose and still count as carrying the air
/// as well as another. Common practice, no source: sizes step by far more.
pub const MORE_LOSS: f64 = 1.1;

/// Columns of the size chart.
const CHART_FEET: [i64; 8] = [25, 50, 75, 100, 150, 200, 250, 300];

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
            chart: chart(include_str!("../data/size_chart.csv"))?,
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
        // A flow given in l/s comes back a hair above its cfm figure.
        let cfm = flow.cfm() - 1e-6;
        let column = CHART_FEET
            .iter()
            .position(|feet| run <= Length::from_feet(*feet))?;
        let row = self.chart.iter().find(|row| cfm <= row.cfm)?;
        row.sizes.get(column).copied()
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PartRow {
    part: String,
    of_system: String,
    group: String,
    unit: String,
    has_length: String,
    ends: String,
    words: String,
    shelf: String,
    source: String,
}

impl PartRow {
    fn into_part(self) -> Result<Part, String> {
        let group = Group::ALL
            .into_iter()
            .find(|group| group.key() == self.group)
            .ok_or_else(|| format!("parts.csv: {}: no group `{}`", self.part, self.group))?;
        has_source("parts.csv", &self.part, &self.source)?;
        Ok(Part {
            of_system: self.of_system == "yes",
            group,
            unit: self.unit,
            has_length: self.has_length == "yes",
            ends: self
                .ends
                .chars()
                .map(|end| match end {
                    'M' => Ok(Some(PartEnd::Thread(Gender::Male))),
                    'F' => Ok(Some(PartEnd::Thread(Gender::Female))),
                    'P' => Ok(Some(PartEnd::Own(Gender::Male))),
                    'E' => Ok(Some(PartEnd::Own(Gender::Female))),
                    '-' => Ok(None),
                    other => Err(format!("parts.csv: {}: no end `{other}`", self.part)),
                })
                .collect::<Result<_, _>>()?,
            name: self.part,
            words: ByFamily::read(&self.words),
            shelf: ByFamily::read(&self.shelf),
        })
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct DeviceRow {
    device: String,
    part: String,
    inlet: String,
    outlet: String,
    sizes: String,
    default_size: String,
    has_length: String,
    r#where: String,
    source: String,
    rated_psi: f64,
    rated_source: String,
    lengths: String,
    lengths_source: String,
}

impl DeviceRow {
    fn into_device(self) -> Result<Device, String> {
        let wrong = |what: &str| format!("devices.csv: {}: {what}", self.device);
        let gender = |text: &str| match text {
            "male" => Ok(Some(Gender::Male)),
            "female" => Ok(Some(Gender::Female)),
            "open" => Ok(None),
            other => Err(wrong(&format!("no end `{other}`"))),
        };
        has_source("devices.csv", &self.device, &self.source)?;
        has_source("devices.csv", &self.device, &self.rated_source)?;
        if !self.rated_psi.is_finite() || self.rated_psi <= 0.0 {
            return Err(wrong("its rated pressure is not above zero"));
        }
        let size = |text: &str| Size::parse(text).map_err(|error| wrong(&error.to_string()));
        let sizes: Vec<Size> = self
            .sizes
            .split_whitespace()
            .map(size)
            .collect::<Result<_, _>>()?;
        let length = |text: &str| {
            Length::parse(text, Units::Metric).map_err(|error| wrong(&error.to_string()))
        };
        let lengths: Vec<Length> = self
            .lengths
            .split_whitespace()
            .map(length)
            .collect::<Result<_, _>>()?;
        let stations: Vec<Station> = self
            .r#where
            .split_whitespace()
            .map(|word| match word {
                "supply" => Ok(Station::Supply),
                "side" => Ok(Station::Side),
                "drain" => Ok(Station::Drain),
                "line" => Ok(Station::Line),
                other => Err(wrong(&format!("no station `{other}`"))),
            })
            .collect::<Result<_, _>>()?;
        if stations.contains(&Station::Line) {
            has_source("devices.csv", &self.device, &self.lengths_source)?;
            if lengths.len() != sizes.len() {
                return Err(wrong("it stands in line and has no length for every size"));
            }
        }
        Ok(Device {
            inlet: gender(&self.inlet)?.ok_or_else(|| wrong("an inlet cannot be open"))?,
            outlet: gender(&self.outlet)?,
            sizes,
            lengths,
            default_size: match self.default_size.as_str() {
                "line" => None,
                other => Some(size(other)?),
            },
            has_length: self.has_length == "yes",
            rated_psi: self.rated_psi,
            rated_source: self.rated_source,
            stations,
            name: self.device,
            part: self.part,
        })
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

fn chart(text: &str) -> Result<Vec<ChartRow>, String> {
    let wrong = |what: &dyn std::fmt::Display| format!("size_chart.csv: {what}");
    csv::Reader::from_reader(text.as_bytes())
        .records()
        .map(|record| {
            let record = record.map_err(|error| wrong(&error))?;
            let cfm = record
                .get(0)
                .and_then(|cell| cell.parse().ok())
                .ok_or_else(|| wrong(&"a row has no flow"))?;
            let sizes = record
                .iter()
                .skip(1)
                .take(CHART_FEET.len())
                .map(|cell| Size::parse(&format!("{cell}in")).map_err(|error| wrong(&error)))
                .collect::<Result<_, _>>()?;
            Ok(ChartRow { cfm, sizes })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::Library;
    use crate::quantity::{AirFlow, Length, PartSize, Size};
    use crate::takeoff::{Group, PartKey};

    #[test]
    fn the_shipped_data_is_sound() {
        let library = Library::shipped().unwrap();
        assert_eq!(library.systems().len(), 10);
        for device in library.devices() {
            assert!(
                library.parts().iter().any(|part| part.name == device.part),
                "{} asks for an unknown part",
                device.name
            );
        }
    }

    // US Army TM 55-1930-209-14P-7, Table 1: 40 cfm over 100 ft is 1 in.
    #[test]
    fn the_chart_reads_the_next_row_and_column() {
        let library = Library::shipped().unwrap();
        let size = |flow: &str, feet| {
            library
                .chart_size(AirFlow::parse(flow).unwrap(), Length::from_feet(feet))
                .map(|size: Size| size.to_string())
        };
        assert_eq!(size("40 cfm", 100).as_deref(), Some("1in"));
        assert_eq!(size("36 cfm", 80).as_deref(), Some("1in"));
        assert_eq!(size("24 cfm", 81).as_deref(), Some("3/4in"));
        assert_eq!(size("100 cfm", 300).as_deref(), Some("1-1/2in"));
        assert_eq!(size("101 cfm", 25), None);
        assert_eq!(size("10 cfm", 301), None);
    }

    #[test]
    fn parts_have_the_words_of_their_label() {
        let library = Library::shipped().unwrap();
        for (part, size, words) in [
            (
                "elbow-90",
                "3/4in",
                "3/4 in black 90 elbow, female both ends",
            ),
            (
                "elbow-90",
                "1in x 3/4in",
                "1 x 3/4 in black reducing 90 elbow, female both ends",
            ),
            (
                "tee",
                "1in x 1in x 3/4in",
                "1 x 1 x 3/4 in black reducing tee, female all ends",
            ),
            (
                "bushing",
                "1/2in x 1/4in",
                "1/2 x 1/4 in black hex bushing, male x female",
            ),
            (
                "connector-hose",
                "1in x 24in",
                "1 in x 24 in flexible hose, male both ends",
            ),
            ("hanger", "25mm", "25 mm pipe hanger"),
            ("thread-tape", "", "thread seal tape"),
        ] {
            let known = library.parts().iter().find(|known| known.name == part);
            let known = known.unwrap();
            let key = PartKey {
                part: part.to_owned(),
                system: if known.of_system { "black-iron" } else { "" }.to_owned(),
                size: PartSize::parse(size, known.has_length).unwrap(),
            };
            assert_eq!(library.shelf_words(&key), words);
        }
        for part in library.parts() {
            assert!(!part.shelf.threaded.is_empty(), "{}", part.name);
            assert_eq!(
                part.of_system && part.group != Group::Supports,
                part.shelf.threaded.contains("{material}"),
                "{}",
                part.name
            );
        }
    }

    #[test]
    fn every_reminder_has_its_part() {
        let library = Library::shipped().unwrap();
        for row in library.reminders() {
            let mut parts = library.parts().iter();
            assert!(
                parts.any(|part| part.name == row.trigger),
                "{}",
                row.trigger
            );
        }
    }
}

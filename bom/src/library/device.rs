//! Devices.

use super::has_source;
use crate::quantity::{Length, Size, Units};
use serde::Deserialize;

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

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct DeviceRow {
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
    pub(super) fn into_device(self) -> Result<Device, String> {
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

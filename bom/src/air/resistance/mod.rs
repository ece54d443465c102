//! What fittings and devices resist, from `resistances.csv` and
//! `device_losses.csv`.
//!
//! Handbooks differ by up to two for screwed fittings: the larger figure is
//! taken. Tube takes the figures of threaded pipe by its bore, on the safe side:
//! cups, presses and push-fits turn the air more gently.

mod path;

pub use path::Port;

use super::solve::Pipe;
use super::{GAS, Site};
use crate::library::rows;
use crate::quantity::{AirFlow, Length, Pressure, Size, Temperature};
use serde::Deserialize;
use std::f64::consts::FRAC_PI_4;

/// How the air goes through a fitting.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Way {
    /// On in line: through a run, a valve, a coupling.
    Straight,
    /// Round by 90 degrees: an elbow, or between run and branch.
    Square,
    /// Round by 45 degrees.
    Bend,
    /// Back the way it came.
    Round,
}

/// How much a device has seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum State {
    /// As new.
    Clean,
    /// When it is due for cleaning; a device without such a figure is as new.
    Dirty,
}

/// Every figure.
#[derive(Debug, Clone)]
pub struct Resistances {
    /// Inside diameters of the columns, mm, rising.
    bores: Vec<f64>,
    /// The friction factor of full turbulence in each.
    turbulent: Vec<f64>,
    fittings: Vec<Row>,
    devices: Vec<DeviceRow>,
}

/// A handbook's figures for one way through one fitting.
#[derive(Debug, Clone)]
struct Row {
    fitting: String,
    /// None in the rows that are of the columns: their bores and factors.
    way: Option<Way>,
    times_ft: Option<f64>,
    by_size: Vec<Option<f64>>,
}

/// What a device loses at one flow.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct DeviceRow {
    device: String,
    size: Size,
    state: State,
    /// Free air at sea level and 20 C.
    cfm: f64,
    psi: f64,
    /// Gauge, at its inlet.
    at_psi: f64,
    source: String,
}

/// Sizes of the columns of `resistances.csv`, in eighths of an inch.
const COLUMNS: [u16; 13] = [2, 3, 4, 6, 8, 10, 12, 16, 20, 24, 32, 40, 48];

/// Roughness of a hose's bore, 0.01 mm: smooth rubber or plastic, common handbook
/// figures from 0.0015 to 0.07, from memory.
const HOSE_ROUGHNESS: Length = Length::from_nm(10_000);

impl Resistances {
    /// Reads both tables.
    ///
    /// # Errors
    /// Which row is wrong and how; the crate's tests hold that none is.
    pub(crate) fn read(fittings: &str, devices: &str) -> Result<Self, String> {
        let mut found = fitting_rows(fittings)?;
        let mut columns = |name: &str| {
            let place = found.iter().position(|row| row.fitting == name);
            place
                .and_then(|place| found.remove(place).by_size.into_iter().collect())
                .ok_or_else(|| format!("resistances.csv: the `{name}` row is not whole"))
        };
        let (bores, turbulent): (Vec<f64>, Vec<f64>) = (columns("bore-in")?, columns("ft")?);
        let devices: Vec<DeviceRow> = rows("device_losses.csv", devices)?;
        for row in &devices {
            let figures = row.cfm > 0.0 && row.psi > 0.0 && row.psi < row.at_psi;
            if !figures || row.source.trim().is_empty() {
                return Err(format!(
                    "device_losses.csv: the {} {} row is out of range or has no source",
                    row.device, row.size
                ));
            }
        }
        Ok(Self {
            bores: bores.into_iter().map(|inches| inches * 25.4).collect(),
            turbulent,
            fittings: found,
            devices,
        })
    }

    /// The loss coefficient of a fitting, by the speed in this bore: of two
    /// handbooks the larger. None if the fitting or the way through it is not
    /// known. Bores between those of Schedule 40 take the next smaller one's.
    #[must_use]
    pub fn k(&self, fitting: &str, way: Way, bore: Length) -> Option<f64> {
        self.k_in(fitting, way, bore.mm())
    }

    fn k_in(&self, fitting: &str, way: Way, millimetres: f64) -> Option<f64> {
        // Tube of about the same bore is the same size.
        const SAME: f64 = 1.03;
        let fits = |column: &f64| *column <= millimetres * SAME;
        let column = self.bores.iter().rposition(fits).unwrap_or(0);
        let rows = self.fittings.iter();
        rows.filter(|row| row.fitting == fitting && row.way == Some(way))
            .filter_map(|row| self.figure(row, column))
            .reduce(f64::max)
    }

    /// A handbook's figure. Below its smallest size that size's holds, in the
    /// ratio of the friction factors; above its largest there is none.
    fn figure(&self, row: &Row, column: usize) -> Option<f64> {
        let turbulent = self.turbulent.get(column)?;
        if let Some(times) = row.times_ft {
            return Some(times * turbulent);
        }
        let smallest = row.by_size.iter().position(Option::is_some)?;
        if column < smallest {
            return Some(row.by_size[smallest]? * turbulent / self.turbulent[smallest]);
        }
        row.by_size.get(column).copied().flatten()
    }

    /// What a device resists: r of p1² − p2² = r m², Pa²/(kg/s)², for air of 20 C. A size that has no row takes the next smaller one's. None for hoses,
    /// which are pipe, and for what no air goes through.
    #[must_use]
    pub fn device(&self, name: &str, size: Size, state: State) -> Option<f64> {
        let of = |state: State| {
            let rows = self.devices.iter();
            let rows = rows.filter(move |row| row.device == name && row.state == state);
            let fits = rows.clone().filter(|row| row.size <= size);
            fits.max_by_key(|row| row.size)
                .or_else(|| rows.min_by_key(|row| row.size))
        };
        if let Some(row) = of(state).or_else(|| of(State::Clean)) {
            return Some(row.r());
        }
        let bore = self.bore(size);
        let k = self.k_in(name, Way::Straight, bore)?;
        Some(k * per_k(bore))
    }

    /// The inside diameter of threaded ends of a size, mm, Schedule 40; of
    /// metric tube its outside diameter, for want of a wall.
    fn bore(&self, size: Size) -> f64 {
        let column = match size {
            Size::Outside(_) => return nominal(size).mm(),
            Size::Nominal(_) => COLUMNS.iter().position(|one| Size::Nominal(*one) >= size),
        };
        let bore = self.bores.get(column.unwrap_or(COLUMNS.len() - 1));
        bore.copied().unwrap_or_else(|| nominal(size).mm())
    }
}

impl DeviceRow {
    fn r(&self) -> f64 {
        let mass = Site::SEA_LEVEL.mass(AirFlow::from_cfm(self.cfm));
        let pascal = |psi: f64| Pressure::from_psi(psi).kpa() * 1e3;
        let inlet = pascal(self.at_psi) + Site::SEA_LEVEL.atmosphere;
        let outlet = inlet - pascal(self.psi);
        (inlet * inlet - outlet * outlet) / (mass * mass)
    }
}

/// A hose whose bore is its size.
#[must_use]
pub fn hose(size: Size, length: Length) -> Pipe {
    hose_of(nominal(size), length)
}

/// A hose of this bore.
#[must_use]
pub fn hose_of(bore: Length, length: Length) -> Pipe {
    Pipe::new(bore, HOSE_ROUGHNESS, length)
}

/// The width that a size names.
fn nominal(size: Size) -> Length {
    match size {
        Size::Nominal(eighths) => Length::from_64ths(8 * i64::from(eighths)),
        Size::Outside(micrometres) => Length::from_nm(i64::from(micrometres) * 1_000),
    }
}

/// R T / A² of air of 20 C: what a loss coefficient of 1 is as an r.
pub(super) fn per_k(millimetres: f64) -> f64 {
    let area = FRAC_PI_4 * (millimetres / 1e3).powi(2);
    GAS * Temperature::from_celsius(20).kelvin() / (area * area)
}

/// Rows of a fitting, its way, its multiple of fT, a figure for each size, and
/// a source.
fn fitting_rows(text: &str) -> Result<Vec<Row>, String> {
    type Cells = (String, Option<Way>, Option<f64>, Vec<String>);
    let wrong = |what: &dyn std::fmt::Display| format!("resistances.csv: {what}");
    rows::<Cells>("resistances.csv", text)?
        .into_iter()
        .map(|(fitting, way, times_ft, mut cells)| {
            let source = cells.pop().unwrap_or_default();
            let by_size = cells
                .iter()
                .map(|cell| match cell.as_str() {
                    "" => Ok(None),
                    number => number.parse().map(Some),
                })
                .collect::<Result<Vec<Option<f64>>, _>>()
                .map_err(|error| wrong(&format!("{fitting}: {error}")))?;
            let mut figures = by_size.iter().flatten().chain(&times_ft).peekable();
            let usable = figures.peek().is_some() && figures.all(|figure| *figure > 0.0);
            if !usable || source.trim().is_empty() {
                let what = format!("a row of {fitting} has no figure or no source");
                return Err(wrong(&what));
            }
            Ok(Row {
                fitting,
                way,
                times_ft,
                by_size,
            })
        })
        .collect()
}

#[cfg(test)]
mod tests;

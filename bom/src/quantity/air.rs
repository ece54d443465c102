use super::scan::Scanner;
use super::{QuantityError, Units};
use std::ops::RangeInclusive;

/// A gauge pressure.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Pressure {
    kpa: f64,
}

/// A flow of free air: the volume that the compressor takes in at the site.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct AirFlow {
    litres_per_second: f64,
}

/// The volume of a tank.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Volume {
    litres: f64,
}

/// 1 psi in kPa: 0.45359237 kg × 9.80665 m/s² over one square inch.
const KPA_PER_PSI: f64 = 6.894_757_293_168_36;
/// 1 cfm in l/s: 0.3048³ m³ over 60 s.
const LPS_PER_CFM: f64 = 0.471_947_443_2;
/// 1 US gallon in litres: 231 cubic inches.
pub(crate) const LITRES_PER_GAL: f64 = 3.785_411_784;

/// What compressed air in a shop has, from the gentlest air gun to machines that blow
/// bottles, kPa; a figure beyond it is a typing accident.
const PRESSURES: RangeInclusive<f64> = KPA_PER_PSI..=600.0 * KPA_PER_PSI;
/// From the average of a tool that hardly runs to the compressors of a steelworks, l/s.
const FLOWS: RangeInclusive<f64> = 0.01 * LPS_PER_CFM..=40_000.0 * LPS_PER_CFM;
/// From the tank of a pump for tyres to those of a steelworks, l.
const VOLUMES: RangeInclusive<f64> = LITRES_PER_GAL..=50_000.0 * LITRES_PER_GAL;

impl Pressure {
    /// The pressure in kPa above the surrounding air.
    #[must_use]
    pub const fn kpa(self) -> f64 {
        self.kpa
    }

    /// A computed pressure, or a difference of two.
    #[must_use]
    pub const fn from_kpa(kpa: f64) -> Self {
        Self { kpa }
    }

    /// The same in psi.
    #[must_use]
    pub const fn psi(self) -> f64 {
        self.kpa / KPA_PER_PSI
    }

    /// A gauge pressure in psi.
    #[must_use]
    pub const fn from_psi(psi: f64) -> Self {
        Self {
            kpa: psi * KPA_PER_PSI,
        }
    }

    /// Reads `175 psi`, `12 bar`, `1.2 MPa` or `1200 kPa`, all gauge.
    ///
    /// # Errors
    /// A missing or unknown unit; an absolute pressure; one that no shop has.
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        Self::parse_in(text, &PRESSURES)
    }

    /// The same of what a gauge shows, which may be nothing: `0 psi`.
    ///
    /// # Errors
    /// As for [`Pressure::parse`].
    pub fn parse_reading(text: &str) -> Result<Self, QuantityError> {
        Self::parse_in(text, &(0.0..=*PRESSURES.end()))
    }

    fn parse_in(text: &str, range: &RangeInclusive<f64>) -> Result<Self, QuantityError> {
        const HOW: &str = "write it like \"175 psi\", \"12 bar\" or \"1200 kPa\"";
        let (number, unit) = number_and_unit(text, "pressure", HOW)?;
        let per_unit = match unit.as_str() {
            "psi" | "psig" => KPA_PER_PSI,
            "bar" | "barg" => 100.0,
            "kPa" | "kpa" => 1.0,
            "MPa" | "mpa" => 1_000.0,
            "psia" | "bara" => {
                return Err(QuantityError::new(
                    format!("`{unit}` is an absolute pressure"),
                    "give the gauge pressure, as the compressor's gauge reads it",
                ));
            }
            other => return Err(unknown_unit(other, "pressure", HOW)),
        };
        let show = |kpa, units| Self { kpa }.show(units);
        let units = units_of(&unit);
        let kpa = within(number * per_unit, range, units, ("pressure", text), show)?;
        Ok(Self { kpa })
    }

    /// Psi where the job is in feet, bar where it is metric.
    #[must_use]
    pub fn show(self, units: Units) -> String {
        match units {
            Units::Feet => format!("{} psi", short(self.kpa / KPA_PER_PSI, 1)),
            Units::Metric => format!("{} bar", short(self.kpa / 100.0, 1)),
        }
    }

    /// The same with so many decimals of a psi, or one more of a bar: for what
    /// is too small for a gauge.
    #[must_use]
    pub fn show_fine(self, units: Units, decimals: usize) -> String {
        let (value, decimals, unit) = match units {
            Units::Feet => (self.kpa / KPA_PER_PSI, decimals, "psi"),
            Units::Metric => (self.kpa / 100.0, decimals + 1, "bar"),
        };
        let text = format!("{value:.decimals$}");
        let nothing = text.bytes().all(|byte| matches!(byte, b'-' | b'0' | b'.'));
        let text = text.strip_prefix('-').filter(|_| nothing).unwrap_or(&text);
        format!("{text} {unit}")
    }
}

impl AirFlow {
    /// A flow in cubic feet per minute.
    #[must_use]
    pub const fn from_cfm(cfm: f64) -> Self {
        Self {
            litres_per_second: cfm * LPS_PER_CFM,
        }
    }

    /// The flow in litres of free air each second.
    #[must_use]
    pub const fn litres_per_second(self) -> f64 {
        self.litres_per_second
    }

    /// A computed flow; it may be nothing, or below that where two differ.
    #[must_use]
    pub const fn from_litres_per_second(litres_per_second: f64) -> Self {
        Self { litres_per_second }
    }

    /// The flow in cubic feet of free air each minute.
    #[must_use]
    pub fn cfm(self) -> f64 {
        self.litres_per_second / LPS_PER_CFM
    }

    /// Reads `24 cfm`, `11 l/s`, `40 m3/h` or `680 l/min`: free air.
    ///
    /// # Errors
    /// A missing or unknown unit, no flow at all, or one that no shop has.
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        const HOW: &str = "write it like \"24 cfm\", \"11 l/s\", \"40 m3/h\" or \"680 l/min\"";
        let (number, unit) = number_and_unit(text, "air flow", HOW)?;
        let per_unit = match unit.as_str() {
            "cfm" => LPS_PER_CFM,
            "l/s" => 1.0,
            "l/min" => 1.0 / 60.0,
            "m3/h" => 1.0 / 3.6,
            "m3/min" => 1_000.0 / 60.0,
            "scfm" | "Nm3/h" => {
                return Err(QuantityError::new(
                    format!("`{unit}` is air at reference conditions, not at the site"),
                    "give the free air delivered at the site, in cfm or l/s",
                ));
            }
            other => return Err(unknown_unit(other, "air flow", HOW)),
        };
        let litres_per_second = number * per_unit;
        if litres_per_second <= 0.0 {
            return Err(QuantityError::new(
                "the air flow is nothing",
                "give what the compressor delivers, from its plate",
            ));
        }
        let show = |flow, units| Self::from_litres_per_second(flow).with_decimals(2, units);
        let units = units_of(&unit);
        within(litres_per_second, &FLOWS, units, ("air flow", text), show)
            .map(Self::from_litres_per_second)
    }

    /// Cfm where the job is in feet, l/s where it is metric.
    #[must_use]
    pub fn show(self, units: Units) -> String {
        self.with_decimals(1, units)
    }

    fn with_decimals(self, decimals: usize, units: Units) -> String {
        match units {
            Units::Feet => format!("{} cfm", short(self.cfm(), decimals)),
            Units::Metric => format!("{} l/s", short(self.litres_per_second, decimals)),
        }
    }
}

impl Volume {
    /// The volume in litres.
    #[must_use]
    pub const fn litres(self) -> f64 {
        self.litres
    }

    /// A computed volume.
    #[must_use]
    pub const fn from_litres(litres: f64) -> Self {
        Self { litres }
    }

    /// Reads `80 gal` (US) or `300 l`.
    ///
    /// # Errors
    /// A missing or unknown unit, or a volume that no tank has.
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        const HOW: &str = "write it like \"80 gal\" (US) or \"300 l\"";
        let (number, unit) = number_and_unit(text, "volume", HOW)?;
        let litres = match unit.as_str() {
            "gal" | "gallon" | "gallons" => number * LITRES_PER_GAL,
            "l" | "litre" | "litres" => number,
            other => return Err(unknown_unit(other, "volume", HOW)),
        };
        let show = |litres, units| Self { litres }.show(units);
        let units = units_of(&unit);
        within(litres, &VOLUMES, units, ("volume", text), show).map(Self::from_litres)
    }

    /// US gallons where the job is in feet, litres where it is metric.
    #[must_use]
    pub fn show(self, units: Units) -> String {
        match units {
            Units::Feet => format!("{} gal", short(self.litres / LITRES_PER_GAL, 0)),
            Units::Metric => format!("{} l", short(self.litres, 0)),
        }
    }

    /// Free air: cubic feet where the job is in feet, so that it can be divided by
    /// a flow in cfm, litres where it is metric.
    #[must_use]
    pub fn show_air(self, units: Units) -> String {
        match units {
            Units::Feet => {
                let cubic_feet = self.litres / (LPS_PER_CFM * 60.0);
                format!("{} cubic feet", short(cubic_feet, 1))
            }
            Units::Metric => self.show(units),
        }
    }
}

pub(super) fn number_and_unit(
    text: &str,
    kind: &str,
    how: &str,
) -> Result<(f64, String), QuantityError> {
    let trimmed = text.trim();
    if trimmed.starts_with(['-', '−']) {
        return Err(QuantityError::new(
            format!("the {kind} `{trimmed}` is below zero"),
            how,
        ));
    }
    let mut scan = Scanner::new(trimmed);
    let number = scan.number()?;
    scan.skip_blank();
    let unit = scan.rest().trim().to_owned();
    if unit.is_empty() {
        return Err(QuantityError::new(
            format!("the {kind} `{trimmed}` has no unit"),
            how,
        ));
    }
    Ok((number.to_f64(), unit))
}

/// The figure if it lies in the range, else which range that is.
pub(super) fn within(
    value: f64,
    range: &RangeInclusive<f64>,
    units: Units,
    (kind, text): (&str, &str),
    show: impl Fn(f64, Units) -> String,
) -> Result<f64, QuantityError> {
    if range.contains(&value) {
        return Ok(value);
    }
    let [least, most] = [range.start(), range.end()].map(|end| show(*end, units));
    Err(QuantityError::new(
        format!("`{}` is no {kind} from {least} to {most}", text.trim()),
        "check the figure and its unit",
    ))
}

/// The kind of units that a unit is of.
pub(super) fn units_of(unit: &str) -> Units {
    match unit {
        "psi" | "psig" | "cfm" | "gal" | "gallon" | "gallons" | "ft/s" => Units::Feet,
        _ => Units::Metric,
    }
}

pub(super) fn unknown_unit(unit: &str, kind: &str, how: &str) -> QuantityError {
    QuantityError::new(format!("`{unit}` is not a unit of {kind}"), how)
}

/// A number with at most `decimals` decimals and no trailing zeros.
pub(super) fn short(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    if decimals == 0 {
        return text;
    }
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

//! Compressed air: how much of it the shop wants and gets; in pipe what it loses
//! by friction and in fittings, how it divides among pipes, which sizes are the
//! cheapest that do, how it cools and what water it gives up; what leaks, and what
//! all of it costs.

pub mod answer;
pub mod cooling;
pub mod demand;
pub mod energy;
pub mod friction;
pub mod ladder;
pub mod leak;
pub mod moisture;
pub mod peak;
pub mod receiver;
pub mod resistance;
pub mod sizes;
pub mod sizing;
pub mod solve;
pub mod supply;

use crate::quantity::{AirFlow, Length, Pressure, Speed, Temperature};

/// As fast as air should run in the main where the job does not say. Common
/// practice, no source: 20 to 30 ft/s, above which it carries water past the
/// drains.
pub const MAIN_SPEED: Speed = Speed::from_feet_per_second(20.0);
/// The same in drops. Common practice, no source.
pub const DROP_SPEED: Speed = Speed::from_feet_per_second(50.0);

/// Gas constant of dry air, J/(kg K). Source: 8314.46 / 28.9647, from memory.
const GAS: f64 = 287.05;

/// Ratio of the specific heats of air, from memory.
pub(crate) const HEAT_RATIO: f64 = 1.4;

/// The air that the compressor takes in: free air is measured in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Site {
    /// Pressure of the surrounding air, Pa.
    pub atmosphere: f64,
    /// Its temperature.
    pub temperature: Temperature,
}

impl Default for Site {
    fn default() -> Self {
        Self::SEA_LEVEL
    }
}

impl Site {
    /// At sea level and 20 C.
    pub const SEA_LEVEL: Self = Self {
        atmosphere: 101_325.0,
        temperature: Temperature::from_celsius(20),
    };

    /// This high above the sea, or below it, up to 11 km: 20 C, and the pressure
    /// of the ICAO standard atmosphere, from memory.
    #[must_use]
    pub fn at_altitude(altitude: Length) -> Self {
        let metres = altitude.mm() / 1_000.0;
        Self {
            atmosphere: 101_325.0 * (1.0 - 2.255_77e-5 * metres).powf(5.255_88),
            ..Self::SEA_LEVEL
        }
    }

    /// The mass of a flow of free air, kg/s.
    #[must_use]
    pub fn mass(&self, free_air: AirFlow) -> f64 {
        let cubic_metres = free_air.litres_per_second() / 1_000.0;
        cubic_metres * density(self.atmosphere, self.temperature)
    }
}

/// Air on its way through a pipe: an ideal gas at the pipe's pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stream {
    kg_per_s: f64,
    density: f64,
    viscosity: f64,
}

impl Stream {
    /// A flow of free air where the pipe is at this gauge pressure and
    /// temperature.
    #[must_use]
    pub fn new(free_air: AirFlow, site: &Site, gauge: Pressure, pipe: Temperature) -> Self {
        let absolute = site.atmosphere + gauge.kpa() * 1_000.0;
        Self {
            kg_per_s: site.mass(free_air),
            density: density(absolute, pipe),
            viscosity: viscosity(pipe),
        }
    }

    /// Mass, kg/s.
    #[must_use]
    pub const fn kg_per_s(&self) -> f64 {
        self.kg_per_s
    }

    /// How fast it runs through this bore, m/s.
    #[must_use]
    pub fn speed(&self, bore: Length) -> f64 {
        let metres = bore.mm() / 1_000.0;
        let area = std::f64::consts::PI / 4.0 * metres * metres;
        self.kg_per_s / (self.density * area)
    }

    /// The Reynolds number in this bore.
    #[must_use]
    pub fn reynolds(&self, bore: Length) -> f64 {
        let metres = bore.mm() / 1_000.0;
        4.0 * self.kg_per_s / (std::f64::consts::PI * metres * self.viscosity)
    }
}

/// kg/m3 of an ideal gas at an absolute pressure in Pa.
fn density(absolute: f64, temperature: Temperature) -> f64 {
    absolute / (GAS * temperature.kelvin())
}

/// Pa s, by Sutherland's law: 1.716e-5 at 273.15 K, constant 110.4 K.
/// Source: White, Viscous Fluid Flow, from memory.
fn viscosity(temperature: Temperature) -> f64 {
    const AT_FREEZING: f64 = 1.716e-5;
    const FREEZING: f64 = 273.15;
    const SUTHERLAND: f64 = 110.4;
    let kelvin = temperature.kelvin();
    AT_FREEZING * (kelvin / FREEZING).powf(1.5) * (FREEZING + SUTHERLAND) / (kelvin + SUTHERLAND)
}

#[cfg(test)]
mod tests {
    use super::{Site, Stream, density, viscosity};
    use crate::quantity::{AirFlow, Length, Pressure, Temperature, Units};

    // Air at 1 atm and 20 C: 1.204 kg/m3, 1.81e-5 Pa s (common tables, from
    // memory).
    #[test]
    fn air_is_as_the_tables_have_it() {
        let site = Site::SEA_LEVEL;
        assert!((density(site.atmosphere, site.temperature) - 1.204).abs() < 0.001);
        assert!((viscosity(site.temperature) - 1.81e-5).abs() < 0.01e-5);
        let hot = viscosity(Temperature::from_celsius(100));
        assert!((hot - 2.18e-5).abs() < 0.02e-5);
    }

    // ICAO standard atmosphere: parts of the pressure at sea level.
    #[test]
    fn the_pressure_falls_with_the_altitude_as_published() {
        for (metres, published) in [
            ("0m", 1.0),
            ("1000m", 0.8870),
            ("1500m", 0.8345),
            ("3000m", 0.6919),
            ("5000m", 0.5331),
        ] {
            let altitude = Length::parse(metres, Units::Metric).unwrap();
            let part = Site::at_altitude(altitude).atmosphere / 101_325.0;
            assert!((part - published).abs() < 1e-4, "{metres}: {part}");
        }
    }

    // Piping Handbook, Table B8.14: 100 cfm in 3/4 in pipe at 100 psig runs at
    // 57.68 ft/s (computed beside the table's points).
    #[test]
    fn speed_is_that_of_the_compressed_air() {
        let flow = AirFlow::parse("100 cfm").unwrap();
        let gauge = Pressure::parse("100 psi").unwrap();
        let site = Site::SEA_LEVEL;
        let stream = Stream::new(flow, &site, gauge, site.temperature);
        let bore = Length::parse("0.824in", Units::Feet).unwrap();
        assert!((stream.speed(bore) / 0.3048 / 57.68 - 1.0).abs() < 1e-3);
    }
}

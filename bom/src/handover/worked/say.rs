//! Figures as they stand in a sum that a reader can follow by hand.

use crate::handover::Context;
use crate::quantity::{AirFlow, Pressure, Temperature, Time, Units};

/// 1 cubic foot, l.
const CUBIC_FOOT: f64 = 28.316_846_592;
/// 0 F above absolute zero.
const ZERO_F: f64 = 459.67;

/// The units of a job's sums: psi, cubic feet and minutes, or bar, litres and seconds.
pub(super) struct Sum {
    units: Units,
    atmosphere: f64,
}

impl Sum {
    pub(super) fn of(context: &Context<'_>) -> Self {
        Self {
            units: context.plan.summary.units,
            atmosphere: context.atmosphere(),
        }
    }

    /// A pressure without its unit.
    pub(super) fn gauge(&self, pressure: Pressure) -> String {
        match self.units {
            Units::Feet => plain(pressure.psi(), 2),
            Units::Metric => plain(pressure.kpa() / 100.0, 3),
        }
    }

    /// The same with its unit.
    pub(super) fn pressure(&self, pressure: Pressure) -> String {
        let unit = match self.units {
            Units::Feet => "psi",
            Units::Metric => "bar",
        };
        format!("{} {unit}", self.gauge(pressure))
    }

    /// The air outside, without its unit.
    pub(super) fn outside(&self) -> String {
        let outside = Pressure::from_kpa(self.atmosphere / 1_000.0);
        match self.units {
            Units::Feet => format!("{:.3}", outside.psi()),
            Units::Metric => format!("{:.5}", outside.kpa() / 100.0),
        }
    }

    /// A temperature above absolute zero.
    pub(super) fn absolute(&self, temperature: Temperature) -> String {
        match self.units {
            Units::Feet => format!("{:.2}", temperature.fahrenheit() + ZERO_F),
            Units::Metric => format!("{:.2}", temperature.kelvin()),
        }
    }

    /// What is filled with air.
    pub(super) fn volume(&self, litres: f64) -> String {
        match self.units {
            Units::Feet => format!("{} cubic feet", significant(litres / CUBIC_FOOT, 4)),
            Units::Metric => format!("{} l", significant(litres, 4)),
        }
    }

    pub(super) fn flow(&self, flow: AirFlow) -> String {
        match self.units {
            Units::Feet => format!("{} cfm", significant(flow.cfm(), 3)),
            Units::Metric => format!("{} l/s", significant(flow.litres_per_second(), 3)),
        }
    }

    /// A flow for each psi or bar, from l/s for each Pa.
    pub(super) fn each(&self, slope: f64) -> String {
        let flow = |of: Pressure| AirFlow::from_litres_per_second(slope * of.kpa() * 1_000.0);
        match self.units {
            Units::Feet => {
                let each = flow(Pressure::from_psi(1.0)).cfm();
                format!("{} cfm/psi", significant(each, 4))
            }
            Units::Metric => {
                let each = flow(Pressure::from_kpa(100.0)).litres_per_second();
                format!("{} l/s/bar", significant(each, 4))
            }
        }
    }

    pub(super) fn time(&self, seconds: f64) -> String {
        match self.units {
            Units::Feet => format!("{} min", plain(seconds / 60.0, 3)),
            Units::Metric => format!("{} s", plain(seconds, 1)),
        }
    }
}

/// A stretch of time in words.
pub(super) fn lasted(seconds: f64) -> String {
    Time::from_seconds(seconds).show()
}

/// At most so many decimals, and no zeros behind them.
fn plain(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0" } else { text }.to_owned()
}

/// So many figures, whole numbers left whole.
fn significant(value: f64, figures: usize) -> String {
    const MOST: usize = 9;
    let (mut size, mut decimals) = (value.abs(), figures.saturating_sub(1));
    while size >= 10.0 && decimals > 0 {
        size /= 10.0;
        decimals -= 1;
    }
    while size > 0.0 && size < 1.0 && decimals < MOST {
        size *= 10.0;
        decimals += 1;
    }
    format!("{value:.decimals$}")
}

#[cfg(test)]
mod tests {
    use super::{plain, significant};

    #[test]
    fn figures_are_those_that_count() {
        for (value, text) in [
            (0.000_230_4, "0.000230"),
            (0.652, "0.652"),
            (12.99, "13.0"),
            (1_234.5, "1234"),
            (0.0, "0.00"),
        ] {
            assert_eq!(significant(value, 3), text);
        }
        for (value, text) in [
            (175.0, "175"),
            (0.504, "0.5"),
            (-0.001, "0"),
            (100.0, "100"),
        ] {
            assert_eq!(plain(value, 2), text);
        }
    }
}

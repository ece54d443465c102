//! How a rating is worked out. Lengths in inches, pressures and stresses in
//! psi, as the sources of the rules have them.

use crate::quantity::{Length, Temperature};
use crate::system::SizeRow;

/// What the rules ask of a size of pipe or tube.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Tube {
    /// Outside diameter.
    pub outside: Length,
    /// Wall.
    pub wall: Length,
    /// Threads per inch, where it is threaded.
    pub threads_per_inch: Option<f64>,
    /// How much thinner the wall may be.
    pub wall_tolerance: Option<Length>,
    /// How much larger the outside may be.
    pub outside_tolerance: Option<Length>,
}

impl Tube {
    /// What a row of a system gives; a tolerance of nothing is one that nobody
    /// stated.
    pub(super) fn of(row: &SizeRow) -> Self {
        let stated = |tolerance: Length| Some(tolerance).filter(|one| *one > Length::ZERO);
        Self {
            outside: row.outside,
            wall: row.wall,
            threads_per_inch: row.threads_per_inch,
            wall_tolerance: stated(row.wall_tolerance),
            outside_tolerance: stated(row.outside_tolerance),
        }
    }
}

/// Figures that hold up to a temperature each, coldest first.
#[derive(Debug, Clone, PartialEq)]
pub struct ByTemperature(pub(super) Vec<(Temperature, f64)>);

impl ByTemperature {
    /// The figure of the next higher temperature; none above the last one.
    /// Between two rows nothing is interpolated.
    fn up_to(&self, temperature: Temperature) -> Option<f64> {
        let row = self.0.iter().find(|(limit, _)| temperature <= *limit)?;
        Some(row.1)
    }
}

/// How a rating is worked out.
#[derive(Debug, Clone, PartialEq)]
pub enum Rule {
    /// Threaded steel pipe: the wall without mill tolerance, corrosion and the
    /// depth of the thread: P = 2 S (0.875 t − C − 0.8/n) / D.
    ThreadedSteel {
        /// Allowable stress.
        stress: ByTemperature,
        /// What corrosion may take of the wall.
        corrosion: Length,
    },
    /// Plain steel pipe without other allowances: P = 2 S (t − C) / D.
    PlainSteel {
        /// Allowable stress.
        stress: ByTemperature,
        /// What corrosion may take of the wall; usually nothing.
        corrosion: Length,
    },
    /// Drawn tube at the limits of its tolerances:
    /// P = 2 S t / (D − 0.8 t), t the thinnest wall, D the largest outside.
    DrawnTube {
        /// Allowable stress.
        stress: ByTemperature,
    },
    /// A figure as its source states it.
    Stated {
        /// The pressure.
        psi: ByTemperature,
    },
}

impl Rule {
    /// The temperatures that it has figures for, coldest first.
    pub(super) fn temperatures(&self) -> impl DoubleEndedIterator<Item = Temperature> {
        let rows = match self {
            Self::ThreadedSteel { stress, .. }
            | Self::PlainSteel { stress, .. }
            | Self::DrawnTube { stress } => stress,
            Self::Stated { psi } => psi,
        };
        rows.0.iter().map(|(temperature, _)| *temperature)
    }

    /// Psi at a temperature; nothing less than none where the allowances take
    /// the whole wall.
    pub(super) fn psi(&self, tube: &Tube, temperature: Temperature) -> Option<f64> {
        let (wall, outside) = (inches(tube.wall), inches(tube.outside));
        let psi = match self {
            Self::ThreadedSteel { stress, corrosion } => {
                let thread = 0.8 / tube.threads_per_inch?;
                let left = 0.875 * wall - inches(*corrosion) - thread;
                2.0 * stress.up_to(temperature)? * left / outside
            }
            Self::PlainSteel { stress, corrosion } => {
                2.0 * stress.up_to(temperature)? * (wall - inches(*corrosion)) / outside
            }
            Self::DrawnTube { stress } => {
                let wall = wall - inches(tube.wall_tolerance?);
                let outside = outside + inches(tube.outside_tolerance?);
                2.0 * stress.up_to(temperature)? * wall / (outside - 0.8 * wall)
            }
            Self::Stated { psi } => psi.up_to(temperature)?,
        };
        Some(psi.max(0.0))
    }
}

fn inches(length: Length) -> f64 {
    length.feet() * 12.0
}

#[cfg(test)]
mod tests {
    use super::Tube;
    use crate::quantity::{Length, Size, Temperature, Units};
    use crate::rating::Rating;

    fn rating(row: &str) -> Rating {
        toml::from_str(row).unwrap()
    }

    fn length(inches: &str) -> Length {
        Length::parse(&format!("{inches}in"), Units::Feet).unwrap()
    }

    const fn f(degrees: i32) -> Temperature {
        Temperature::from_fahrenheit(degrees)
    }

    const INCH: Size = Size::Nominal(8);

    // Working pressures of threaded ASTM A53 pipe, Schedule 40 and 80, in psig:
    // ASHRAE steel pipe data table (HVAC Systems and Equipment 2008, ch. 45,
    // Table 2). Within 0.6 psi; 1/4 and 3/8 in within 2.5.
    #[test]
    fn threaded_steel_is_as_the_handbook_table() {
        let rating = rating(
            r#"
            item = "pipe"
            words = "pipe, threaded"
            rule = "threaded-steel"
            stress_psi = [[400, 6800]]
            corrosion = "0.025in"
            source = "test"
            "#,
        );
        for (outside, wall, threads, published, within) in [
            ("0.54", "0.088", 18.0, 188.0, 2.5),
            ("0.54", "0.119", 18.0, 871.0, 2.5),
            ("0.675", "0.091", 18.0, 203.0, 2.5),
            ("0.675", "0.126", 18.0, 820.0, 2.5),
            ("0.84", "0.109", 14.0, 214.0, 0.6),
            ("0.84", "0.147", 14.0, 753.0, 0.6),
            ("1.05", "0.113", 14.0, 217.0, 0.6),
            ("1.05", "0.154", 14.0, 681.0, 0.6),
            ("1.315", "0.133", 11.5, 226.0, 0.6),
            ("1.315", "0.179", 11.5, 642.0, 0.6),
            ("1.66", "0.14", 11.5, 229.0, 0.6),
            ("1.66", "0.191", 11.5, 594.0, 0.6),
            ("1.9", "0.145", 11.5, 231.0, 0.6),
            ("1.9", "0.2", 11.5, 576.0, 0.6),
            ("2.375", "0.154", 11.5, 230.0, 0.6),
            ("2.375", "0.218", 11.5, 551.0, 0.6),
        ] {
            let tube = Tube {
                outside: length(outside),
                wall: length(wall),
                threads_per_inch: Some(threads),
                ..Tube::default()
            };
            let psi = rating.at(INCH, &tube, f(150)).unwrap();
            assert!((psi - published).abs() < within, "{outside} {wall}: {psi}");
            let plain = Tube {
                threads_per_inch: None,
                ..tube
            };
            assert_eq!(rating.at(INCH, &plain, f(150)), None);
            assert_eq!(rating.at(INCH, &tube, f(401)), None);
        }
        let thin = Tube {
            outside: length("0.84"),
            wall: length("0.083"),
            threads_per_inch: Some(14.0),
            ..Tube::default()
        };
        assert_eq!(rating.at(INCH, &thin, f(100)), Some(0.0));
    }

    // Barlow's formula by hand: 2 × 6800 × 0.109 / 0.84.
    #[test]
    fn plain_steel_has_the_whole_wall() {
        let row = r#"
            item = "pipe"
            words = "pipe, plain"
            rule = "plain-steel"
            stress_psi = [[400, 6800]]
            source = "test"
        "#;
        let tube = Tube {
            outside: length("0.84"),
            wall: length("0.109"),
            ..Tube::default()
        };
        let psi = rating(row).at(INCH, &tube, f(100)).unwrap();
        assert!((psi - 1_764.762).abs() < 1e-3, "{psi}");
        let eaten = rating(&format!("{row}\ncorrosion = \"0.009in\""));
        let psi = eaten.at(INCH, &tube, f(100)).unwrap();
        assert!((psi - 1_619.048).abs() < 1e-3, "{psi}");
    }

    // Copper Tube Handbook, Table 14.3c: rated internal working pressure of
    // type M tube, psi: annealed at 100, 150 and 200 F, and drawn. All exact
    // to 1 psi. The table is worked out with the tolerance on the outside that
    // ASTM B88 gives for each temper, which is larger for annealed tube; walls
    // and their tolerances of the same standard. From memory, and held by the
    // published figures.
    #[test]
    fn drawn_tube_is_as_the_copper_handbook() {
        let row = |stress: &str| {
            rating(&format!(
                "item = \"pipe\"\nwords = \"tube\"\nrule = \"drawn-tube\"\n\
                 stress_psi = {stress}\nsource = \"test\""
            ))
        };
        let annealed = row("[[100, 6000], [150, 5100], [200, 4900], [250, 4800]]");
        let drawn = row("[[250, 10300]]");
        for (outside, wall, thinner, soft, hard, published) in [
            (
                "0.5",
                "0.025",
                "0.002",
                "0.0025",
                "0.001",
                [570, 485, 466, 982],
            ),
            (
                "0.625",
                "0.028",
                "0.003",
                "0.0025",
                "0.001",
                [494, 420, 403, 850],
            ),
            (
                "0.875",
                "0.032",
                "0.003",
                "0.003",
                "0.001",
                [407, 346, 332, 701],
            ),
            (
                "1.125",
                "0.035",
                "0.004",
                "0.0035",
                "0.0015",
                [337, 286, 275, 580],
            ),
            (
                "1.375",
                "0.042",
                "0.004",
                "0.004",
                "0.0015",
                [338, 287, 276, 582],
            ),
            (
                "1.625",
                "0.049",
                "0.005",
                "0.0045",
                "0.002",
                [331, 282, 270, 569],
            ),
            (
                "2.125",
                "0.058",
                "0.006",
                "0.005",
                "0.002",
                [299, 254, 244, 514],
            ),
            (
                "2.625",
                "0.065",
                "0.006",
                "0.005",
                "0.002",
                [274, 233, 224, 471],
            ),
            (
                "3.125",
                "0.072",
                "0.007",
                "0.005",
                "0.002",
                [253, 215, 207, 435],
            ),
            (
                "3.625",
                "0.083",
                "0.008",
                "0.005",
                "0.002",
                [252, 214, 206, 433],
            ),
            (
                "4.125",
                "0.095",
                "0.01",
                "0.005",
                "0.002",
                [251, 213, 205, 431],
            ),
        ] {
            let tube = |tolerance: &str| Tube {
                outside: length(outside),
                wall: length(wall),
                threads_per_inch: None,
                wall_tolerance: Some(length(thinner)),
                outside_tolerance: Some(length(tolerance)),
            };
            let psi = [
                annealed.at(INCH, &tube(soft), f(100)),
                annealed.at(INCH, &tube(soft), f(150)),
                annealed.at(INCH, &tube(soft), f(200)),
                drawn.at(INCH, &tube(hard), f(200)),
            ];
            let psi = psi.map(|psi| psi.map(f64::round));
            assert_eq!(psi, published.map(|psi| Some(f64::from(psi))), "{outside}");
            let unknown = Tube {
                wall_tolerance: None,
                ..tube(soft)
            };
            assert_eq!(annealed.at(INCH, &unknown, f(100)), None);
        }
    }

    // ASME B16.3, class 150 malleable iron, psi: 300 to 150 F, 265 at 200, 225
    // at 250, 185 at 300, 150 at 350 F. Between two rows the hotter one holds.
    #[test]
    fn a_temperature_takes_the_next_row() {
        let malleable = rating(
            r#"
            item = "fitting"
            words = "malleable iron fittings, class 150"
            rule = "stated"
            psi = [[150, 300], [200, 265], [250, 225], [300, 185], [350, 150]]
            source = "ASME B16.3"
            "#,
        );
        let at = |degrees| malleable.at(INCH, &Tube::default(), f(degrees));
        for (degrees, psi) in [
            (-20, 300.0),
            (150, 300.0),
            (151, 265.0),
            (200, 265.0),
            (250, 225.0),
            (300, 185.0),
            (350, 150.0),
        ] {
            assert_eq!(at(degrees), Some(psi), "{degrees} F");
        }
        assert_eq!(at(351), None);
    }

    // Copper Tube Handbook, Table 14.4a: soldered joints, psi, by alloy,
    // temperature and size.
    #[test]
    fn solder_holds_by_alloy_and_size() {
        let joints = [
            ("50-50", ["1/8in", "1in"], [200, 150, 100, 85]),
            ("50-50", ["1-1/4in", "2in"], [175, 125, 90, 75]),
            ("95-5", ["1/8in", "1in"], [1090, 625, 505, 270]),
            ("95-5", ["1-1/4in", "2in"], [850, 485, 395, 210]),
            ("95-5", ["2-1/2in", "4in"], [705, 405, 325, 175]),
        ];
        for (alloy, [smallest, largest], psi) in joints {
            let [a, b, c, d] = psi;
            let row = rating(&format!(
                "item = \"joint\"\nwords = \"soldered\"\nrule = \"stated\"\n\
                 sizes = [\"{smallest}\", \"{largest}\"]\nalloy = \"{alloy}\"\n\
                 psi = [[100, {a}], [150, {b}], [200, {c}], [250, {d}]]\nsource = \"test\""
            ));
            assert_eq!(row.alloy.as_deref(), Some(alloy));
            let size = |text| Size::parse(text).unwrap();
            for end in [smallest, largest] {
                let at = |degrees| row.at(size(end), &Tube::default(), f(degrees));
                let found = [100, 150, 200, 250].map(at);
                assert_eq!(found, psi.map(|psi| Some(f64::from(psi))), "{alloy} {end}");
                assert_eq!(at(251), None);
            }
            let larger = row.at(size("6in"), &Tube::default(), f(100));
            assert_eq!(larger, None);
        }
    }
}

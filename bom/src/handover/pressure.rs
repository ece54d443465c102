//! The pressure to test at, by the rule that is agreed on: the sources disagree, so that
//! none is taken by itself.

use crate::quantity::{Pressure, Units};
use csv::ReaderBuilder;

const ROWS: &str = include_str!("../../data/test_rules.csv");
/// What B31.3 lets the relief valve of a test be set to above the test: 50 psi, or a
/// tenth of it. ASME B31.3 345.5.2, 2016.
const RELIEF_ABOVE: (f64, f64) = (50.0, 0.1);
/// The first step: half of the test, or 25 psi. ASME B31.3 345.8.
const FIRST_STEP: (f64, f64) = (25.0, 0.5);

/// A rule for tests.
#[derive(Debug, Clone, PartialEq)]
pub struct Rule {
    /// Its name: `110-percent`.
    pub name: String,
    /// Times the highest pressure that the pipe can see.
    pub factor: f64,
    /// For how long, in words.
    pub hold: String,
    /// What to know about it.
    pub words: String,
    /// Who says so.
    pub source: String,
}

/// The rules that are known.
///
/// # Errors
/// Where the shipped data is broken.
pub fn rules() -> Result<Vec<Rule>, String> {
    let mut reader = ReaderBuilder::new().from_reader(ROWS.as_bytes());
    let rows = reader.records().map(|row| {
        let row = row.map_err(|error| error.to_string())?;
        let field = |at: usize| row.get(at).unwrap_or_default().to_owned();
        Ok(Rule {
            name: field(0),
            factor: field(1)
                .parse()
                .map_err(|_| format!("{} is no factor", field(1)))?,
            hold: field(2),
            words: field(3),
            source: field(4),
        })
    });
    rows.collect()
}

/// The pressures of a test.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stages {
    /// The highest that the pipe can see in work.
    pub design: Pressure,
    /// A first look for leaks is taken here.
    pub first: Pressure,
    /// The test.
    pub test: Pressure,
    /// No more than this may the relief valve of the test be set to.
    pub relief: Pressure,
}

impl Stages {
    /// The test of pipework that can see so much.
    #[must_use]
    pub fn of(design: Pressure, factor: f64) -> Self {
        let psi = design.psi() * factor;
        let of = Pressure::from_psi;
        Self {
            design,
            first: of(FIRST_STEP.0.min(psi * FIRST_STEP.1)),
            test: of(psi),
            relief: of(psi + RELIEF_ABOVE.0.min(psi * RELIEF_ABOVE.1)),
        }
    }

    /// The steps from the first look to the test, each held until nothing strains: half
    /// of the test, then a tenth of it at a time, as B31.3 345.5 has it (from memory);
    /// down to a mark that a gauge has, so that nobody guesses between two.
    #[must_use]
    pub fn steps(&self, units: Units) -> Vec<Pressure> {
        let (first, test) = (self.first.kpa(), self.test.kpa());
        let mark = match units {
            Units::Feet => Pressure::from_psi(5.0).kpa(),
            Units::Metric => 50.0,
        };
        let tenths = (5..10).map(|tenths| test * f64::from(tenths) / 10.0);
        let marks = tenths.map(|step| (step / mark + 1e-9).floor() * mark);
        let mut steps = vec![first];
        for step in marks.chain([test]) {
            if steps.last().is_none_or(|last| step > last + 1e-9) {
                steps.push(step);
            }
        }
        steps.into_iter().map(Pressure::from_kpa).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // ASME B31.3 345.5.2 (relief; a page of 2016 was seen), 345.5.4 (110 %; seen second
    // hand) and 345.8 (first step; wording seen).
    #[test]
    fn pressures_are_those_of_the_code() {
        for (design, test, relief) in [
            (125.0, 137.5, 151.25),
            (150.0, 165.0, 181.5),
            (175.0, 192.5, 211.75),
            (600.0, 660.0, 710.0),
        ] {
            let stages = Stages::of(Pressure::from_psi(design), 1.1);
            assert!((stages.test.psi() - test).abs() < 1e-9);
            assert!((stages.relief.psi() - relief).abs() < 1e-9);
            assert!((stages.first.psi() - 25.0).abs() < 1e-9);
        }
        let low = Stages::of(Pressure::from_psi(20.0), 1.1);
        assert!((low.first.psi() - 11.0).abs() < 1e-9);
    }

    // Half of 220 psi and on by tenths is 110, 132, 154 …: down to whole fives.
    #[test]
    fn steps_rise_from_the_first_look_to_the_test_by_marks_of_the_gauge() {
        let steps = |psi: f64, units| -> Vec<String> {
            let steps = Stages::of(Pressure::from_psi(psi), 1.1).steps(units);
            let shown = steps.iter().map(|step| step.show_fine(units, 1));
            shown.collect()
        };
        let feet = steps(200.0, Units::Feet);
        let words = ["25.0", "110.0", "130.0", "150.0", "175.0", "195.0", "220.0"];
        assert_eq!(feet, words.map(|word| format!("{word} psi")));
        // 11 bar: 12.1 bar and its tenths, down to half bars.
        let metric = steps(1_100.0 / 6.894_757, Units::Metric);
        let words = ["1.72", "6.00", "7.00", "8.00", "9.50", "10.50", "12.10"];
        assert_eq!(metric, words.map(|word| format!("{word} bar")));
        for psi in [0.5, 3.0, 20.0, 45.0, 60.0] {
            for units in [Units::Feet, Units::Metric] {
                let steps = Stages::of(Pressure::from_psi(psi), 1.1).steps(units);
                assert!(steps.windows(2).all(|two| two[0].psi() < two[1].psi()));
                assert!((steps[steps.len() - 1].psi() - psi * 1.1).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn every_rule_has_its_source() {
        let rules = rules().unwrap();
        assert!(rules.len() > 1);
        assert!(
            rules
                .iter()
                .all(|rule| rule.factor >= 1.0 && !rule.source.is_empty())
        );
    }
}

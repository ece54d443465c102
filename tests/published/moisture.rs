//! Moisture: the figures that `moisture_check.py` holds against the open
//! `psychrolib` package, and points restated from it.

use super::close;
use crate::support::{matches_file, root};
use bom::air::cooling::{MoistAir, Wall};
use bom::air::moisture::{dew_point_at, saturation, saturation_ratio};
use std::fmt::Write;

const FREEZING: f64 = 273.15;
const ATMOSPHERE: f64 = 101_325.0;

#[test]
fn the_grid_is_what_the_formulas_give() {
    let mut grid = "celsius,absolute_pa,saturation_pa,ratio,dew_celsius\n".to_owned();
    for celsius in (-40..=90).step_by(5) {
        let kelvin = FREEZING + f64::from(celsius);
        for bar in [0, 2, 4, 6, 8, 10, 13] {
            let absolute = ATMOSPHERE + 1e5 * f64::from(bar);
            let dew = dew_point_at(kelvin, absolute, ATMOSPHERE).unwrap() - FREEZING;
            writeln!(
                grid,
                "{celsius},{absolute},{:.6e},{:.6e},{dew:.4}",
                saturation(kelvin),
                saturation_ratio(kelvin, absolute),
            )
            .unwrap();
        }
    }
    let mut wrong = String::new();
    let file = root().join("tests/published/moisture_grid.csv");
    matches_file(&file, &grid, &mut wrong);
    assert!(wrong.is_empty(), "{wrong}");
}

/// Saturated air by psychrolib 2.5.0: Pa and kg of vapour to each of dry air,
/// within 0.1 %.
#[test]
fn saturated_air_is_as_psychrolib_has_it() {
    for (celsius, absolute, pascal, ratio) in [
        (0.01, 101_325.0, 611.657, 3.777_226e-3),
        (3.0, 801_325.0, 758.031, 5.888_998e-4),
        (10.0, 801_325.0, 1_227.995, 9.545_662e-4),
        (20.0, 101_325.0, 2_338.804, 1.469_505e-2),
        (20.0, 801_325.0, 2_338.804, 1.820_566e-3),
        (25.0, 101_325.0, 3_169.216, 2.008_112e-2),
        (30.0, 801_325.0, 4_246.03, 3.313_094e-3),
        (35.0, 1_001_325.0, 5_627.819, 3.515_320e-3),
        (40.0, 901_325.0, 7_383.46, 5.136_920e-3),
        (50.0, 801_325.0, 12_349.856, 9.735_328e-3),
    ] {
        let kelvin = FREEZING + celsius;
        let name = format!("{celsius} C, {absolute} Pa");
        close(&name, saturation(kelvin), pascal, 1e-3 * pascal);
        let ours = saturation_ratio(kelvin, absolute);
        close(&name, ours, ratio, 1e-3 * ratio);
    }
}

/// Air of a temperature, saturated to a part, in kg/s without its vapour behind
/// 1 m2 of pipe: what leaves.
fn cooled([celsius, part, around, bar, dry, loss]: [f64; 6]) -> (MoistAir, MoistAir) {
    let absolute = ATMOSPHERE + 1e5 * bar;
    let kelvin = FREEZING + celsius;
    let comes = MoistAir {
        kelvin,
        ratio: part * saturation_ratio(kelvin, absolute),
    };
    let wall = Wall {
        surface: 1.0,
        loss,
        around: FREEZING + around,
        absolute,
    };
    (comes, comes.behind(&wall, dry))
}

#[test]
fn the_grid_of_cooled_air_is_what_the_formulas_give() {
    let mut grid =
        "celsius,ratio,around,absolute_pa,dry_kg_per_s,loss,leaves_celsius,leaves_ratio\n"
            .to_owned();
    for celsius in [5.0, 40.0, 65.0, 90.0] {
        for part in [0.3, 1.0] {
            for around in [-20.0, 20.0, 35.0] {
                for (bar, loss) in [(3.0, 10.0), (7.0, 10.0), (7.0, 40.0)] {
                    let case = [celsius, part, around, bar, 0.01, loss];
                    let (comes, leaves) = cooled(case);
                    writeln!(
                        grid,
                        "{celsius},{:.9e},{around},{},0.01,{loss},{:.6},{:.8e}",
                        comes.ratio,
                        ATMOSPHERE + 1e5 * bar,
                        leaves.kelvin - FREEZING,
                        leaves.ratio,
                    )
                    .unwrap();
                }
            }
        }
    }
    let mut wrong = String::new();
    let file = root().join("tests/published/cooling_grid.csv");
    matches_file(&file, &grid, &mut wrong);
    assert!(wrong.is_empty(), "{wrong}");
}

/// A fine integration in 80 000 steps with psychrolib 2.5.0's vapour pressures:
/// C within 0.001 K, kg of vapour to each of dry air within 0.01 %.
#[test]
fn moist_air_cools_as_an_integration_with_psychrolib_has_it() {
    for (case, celsius, ratio) in [
        ([65.5, 1.0, 21.0, 7.0, 0.01, 20.0], 39.537_162, 5.641_435e-3),
        ([65.5, 0.5, 21.0, 7.0, 0.01, 20.0], 33.497_08, 4.043_863e-3),
        ([37.8, 1.0, -10.0, 7.0, 0.01, 40.0], -8.504_81, 2.302_691e-4),
        ([90.0, 1.0, 30.0, 3.0, 0.01, 30.0], 76.070_826, 6.952_986e-2),
        ([4.0, 1.0, 20.0, 7.0, 0.01, 10.0], 14.071_844, 6.320_206e-4),
    ] {
        let (_, leaves) = cooled(case);
        let name = format!("{case:?}");
        close(&name, leaves.kelvin - FREEZING, celsius, 1e-3);
        close(&name, leaves.ratio, ratio, 1e-4 * ratio);
    }
}

//! Moisture: the figures that `moisture_check.py` holds against the open
//! `psychrolib` package, and points restated from it.

use super::close;
use crate::support::{matches_file, root};
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

//! Receivers and pump-up tests: worked values of a public formula.

use super::close;
use bom::air::Site;
use bom::air::receiver::{pumped, tank_for};
use bom::quantity::Temperature;

const PSI: f64 = 6_894.757;
const CFM: f64 = 0.471_947_4;
const GALLON: f64 = 3.785_412;

/// V = T (C − S) Pa / (P1 − P2), worked out by hand.
#[test]
fn receivers_are_as_the_formula_gives_them() {
    for (minutes, demand, supply, atmosphere, upper, lower, gallons) in [
        (0.5, 60.0, 0.0, 14.7, 120.0, 90.0, 109.96),
        (2.0, 35.0, 20.0, 14.7, 125.0, 95.0, 109.96),
        // 1500 m above the sea.
        (2.0, 35.0, 20.0, 12.26, 125.0, 95.0, 91.71),
        (1.0, 100.0, 70.0, 14.7, 110.0, 100.0, 329.89),
        (5.0, 80.0, 60.0, 14.7, 150.0, 100.0, 219.93),
    ] {
        let litres = tank_for(
            minutes * 60.0,
            demand * CFM,
            supply * CFM,
            upper * PSI,
            lower * PSI,
            atmosphere * PSI,
        );
        let name = format!("{demand} cfm for {minutes} min");
        close(&name, litres.unwrap() / GALLON, gallons, 0.01);
    }
}

/// What a compressor delivers that pumps a tank up: V dP / (Pa t).
#[test]
fn pump_up_tests_give_what_is_delivered() {
    for (gallons, from, to, seconds, cfm) in [
        (80.0, 0.0, 125.0, 420.0, 12.991),
        (120.0, 90.0, 120.0, 75.0, 26.19),
    ] {
        let litres = pumped(gallons * GALLON, from * PSI, to * PSI, seconds, 14.7 * PSI);
        close("pump-up", litres.unwrap() / CFM, cfm, 0.001);
    }
}

/// The density of air by height, against that at sea level and the same
/// temperature: the barometric pressure at 0, 1500 and 3000 m.
#[test]
fn air_is_thinner_high_up() {
    for (pascal, ratio) in [(101_325.0, 1.0), (84_556.0, 0.834_5), (70_109.0, 0.691_9)] {
        let site = Site {
            atmosphere: pascal,
            temperature: Temperature::from_celsius(20),
        };
        let flow = bom::quantity::AirFlow::parse("100 cfm").unwrap();
        let found = site.mass(flow) / Site::SEA_LEVEL.mass(flow);
        close("density", found, ratio, 5e-5);
    }
}

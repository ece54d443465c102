use super::{ALL_YEAR, Compression, OVERALL_EFFICIENCY, Plant, growth};
use crate::air::Site;
use crate::quantity::{AirFlow, Length, Pressure, Temperature, Units};

const KINDS: [Compression; 3] = [
    Compression::Isothermal,
    Compression::TwoStage,
    Compression::OneStage,
];
const ATMOSPHERE: f64 = 101_325.0;

fn plant(compression: Compression) -> Plant {
    Plant {
        compression,
        efficiency: OVERALL_EFFICIENCY,
        discharge: 7e5,
        atmosphere: ATMOSPHERE,
        worked: 2_000.0,
        under_pressure: ALL_YEAR,
    }
}

fn near(found: Option<f64>, wanted: f64, tolerance: f64) {
    let found = found.unwrap();
    assert!((found - wanted).abs() <= tolerance, "{found} for {wanted}");
}

// By hand: 7 bar over 1.01325 is a ratio of 7.90846, whose logarithm is 2.067933.
// One stage: 3.5 × 101325 × (e^(2.067933/3.5) − 1) = 285 661 J for each m3. 10 l/s
// are 2.85661 kW, at 70 % 4.08087 kW; in 2000 hours 8161.7 kWh, as a leak through
// 8760 hours 35 748 kWh.
#[test]
fn a_year_worked_by_hand() {
    let plant = plant(Compression::OneStage);
    near(plant.kilowatts(10.0), 4.080_87, 1e-5);
    near(plant.energy(10.0), 8_161.7, 0.1);
    near(plant.of_leak(10.0), 35_748.0, 0.5);
}

#[test]
fn nothing_costs_nothing() {
    for kind in KINDS {
        let plant = plant(kind);
        for nothing in [
            plant.energy(0.0),
            plant.of_leak(0.0),
            plant.of_pressure(10.0, 0.0),
            plant.of_pressure(0.0, 1e5),
            Plant {
                worked: 0.0,
                ..plant
            }
            .energy(10.0),
            Plant {
                under_pressure: 0.0,
                ..plant
            }
            .of_leak(10.0),
            Plant {
                discharge: 0.0,
                ..plant
            }
            .energy(10.0),
        ] {
            assert_eq!(nothing, Some(0.0));
        }
    }
}

// What is lost is what the higher pressure costs more, and two losses add up.
#[test]
fn pressure_lost_is_pressure_to_be_made() {
    for kind in KINDS {
        let low = plant(kind);
        let high = Plant {
            discharge: 8e5,
            ..low
        };
        let more = high.energy(10.0).unwrap() - low.energy(10.0).unwrap();
        near(low.of_pressure(10.0, 1e5), more, 1e-9 * more);
        let first = low.of_pressure(10.0, 4e4).unwrap();
        let then = Plant {
            discharge: 7.4e5,
            ..low
        }
        .of_pressure(10.0, 6e4);
        near(then, more - first, 1e-9 * more);
    }
}

#[test]
fn more_of_anything_costs_more() {
    for kind in KINDS {
        let mut before = [0.0; 4];
        for step in 1..=500_i32 {
            let part = f64::from(step) / 500.0;
            let now = [
                plant(kind).energy(1e6 * part).unwrap(),
                plant(kind).of_pressure(10.0, 4.3e6 * part).unwrap(),
                Plant {
                    discharge: 5e6 * part,
                    ..plant(kind)
                }
                .energy(10.0)
                .unwrap(),
                Plant {
                    worked: 8_784.0 * part,
                    ..plant(kind)
                }
                .energy(10.0)
                .unwrap(),
            ];
            for (now, before) in now.iter().zip(before) {
                assert!(now.is_finite() && *now > before, "{kind:?} {step}");
            }
            before = now;
        }
    }
}

// Cooling saves work at every pressure, and a bad compressor wastes it.
#[test]
fn more_stages_take_less() {
    for step in 1..=100_i32 {
        let discharge = 5e4 * f64::from(step);
        let [isothermal, two, one] = KINDS.map(|kind| {
            Plant {
                discharge,
                ..plant(kind)
            }
            .energy(10.0)
            .unwrap()
        });
        assert!(isothermal < two && two < one, "{discharge}");
    }
    let worse = Plant {
        efficiency: 0.35,
        ..plant(Compression::OneStage)
    };
    let twice = 2.0 * plant(Compression::OneStage).energy(10.0).unwrap();
    near(worse.energy(10.0), twice, 1e-9 * twice);
}

#[test]
fn figures_out_of_range_have_no_answer() {
    let good = plant(Compression::TwoStage);
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1.0, 1e9] {
        for plant in [
            Plant {
                efficiency: bad,
                ..good
            },
            Plant {
                discharge: bad,
                ..good
            },
            Plant {
                atmosphere: bad,
                ..good
            },
        ] {
            assert_eq!(plant.kilowatts(10.0), None, "{plant:?}");
            assert_eq!(plant.of_pressure(10.0, 1e4), None, "{plant:?}");
        }
        assert_eq!(
            Plant {
                worked: bad,
                ..good
            }
            .energy(10.0),
            None
        );
        assert_eq!(
            Plant {
                under_pressure: bad,
                ..good
            }
            .of_leak(10.0),
            None
        );
        assert_eq!(good.energy(bad), None);
        assert_eq!(good.of_pressure(10.0, bad), None);
    }
    let idle = Plant {
        efficiency: 0.0,
        ..good
    };
    assert_eq!(idle.kilowatts(10.0), None);
    assert_eq!(good.of_pressure(10.0, 4.4e6), None);
}

// By hand: a bore of 2.067 in has 0.023303 ft2, which at 30 ft/s lets 41.945 cfm
// through; at 100 psi that was 114.69595 / 14.69595 = 7.8046 times as much free
// air, 327.36 cfm, so next to 250 cfm there is room for 77.36 cfm: 36.511 l/s.
#[test]
fn room_for_one_more_outlet() {
    let site = Site::SEA_LEVEL;
    let room = |now: &str, limit: f64, pipe| {
        let now = AirFlow::parse(now).unwrap();
        let bore = Length::parse("2.067in", Units::Feet).unwrap();
        growth(now, bore, limit, &site, Pressure::from_psi(100.0), pipe)
    };
    near(room("250 cfm", 9.144, site.temperature), 36.511, 2e-3);
    assert_eq!(room("328 cfm", 9.144, site.temperature), Some(0.0));
    // Warm air takes more of it: 327.364 cfm × 293.15 / 313.15 are 306.456.
    let warm = Temperature::from_celsius(40);
    near(room("250 cfm", 9.144, warm), 26.644, 2e-3);
    for limit in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert_eq!(room("250 cfm", limit, site.temperature), None);
    }
}

#[test]
fn no_bore_has_no_room() {
    let now = AirFlow::parse("10 cfm").unwrap();
    let site = Site::SEA_LEVEL;
    let gauge = Pressure::from_psi(100.0);
    for bore in [Length::ZERO, Length::from_mm(-10)] {
        assert_eq!(growth(now, bore, 9.0, &site, gauge, site.temperature), None);
    }
    let nowhere = Site {
        atmosphere: 0.0,
        ..site
    };
    let bore = Length::from_mm(50);
    assert_eq!(
        growth(now, bore, 9.0, &nowhere, gauge, site.temperature),
        None
    );
}

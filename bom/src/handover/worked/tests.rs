//! Readings worked out against published tests and sums by hand, in both units.

use super::{Fell, bled, delivered, fell, line, plate_tolerance};
use crate::handover::record;
use crate::quantity::{AirFlow, Pressure, Temperature, Time};

const ATMOSPHERE: f64 = 101_325.0;
const CUBIC_FOOT: f64 = 28.316_846_592;
const GALLON: f64 = 3.785_411_784;

/// 14.7 psi, as old books have it.
fn psi_14_7() -> f64 {
    Pressure::from_psi(14.7).kpa() * 1_000.0
}

fn pressure(text: &str) -> Pressure {
    Pressure::parse_reading(text).unwrap()
}

fn near(found: f64, wanted: f64, tolerance: f64) {
    assert!((found - wanted).abs() <= tolerance, "{found} for {wanted}");
}

fn watched(
    first: (&str, Option<&str>),
    last: (&str, Option<&str>),
    held: &str,
) -> record::Tightness {
    let shown = |(gauge, pipe): (&str, Option<&str>)| record::Shown {
        gauge: pressure(gauge),
        pipe: pipe.map(|pipe| Temperature::parse(pipe).unwrap()),
    };
    record::Tightness {
        part: None,
        times: (String::new(), String::new()),
        first: shown(first),
        last: shown(last),
        seconds: Time::parse(held).unwrap().seconds(),
        mark: None,
        remarks: String::new(),
    }
}

fn falls(from: f64, to: f64, minutes: f64) -> record::BleedDown {
    record::BleedDown {
        from: Pressure::from_psi(from),
        to: Pressure::from_psi(to),
        seconds: minutes * 60.0,
        remarks: String::new(),
    }
}

fn pumped(to: &str, time: &str) -> record::Machine {
    record::Machine {
        supply: 0,
        from: pressure("0 psi"),
        to: pressure(to),
        seconds: Time::parse(time).unwrap().seconds(),
        with_pipe: false,
        remarks: String::new(),
    }
}

// A public page on pump-up tests: 80 gal from 0 to 125 psig in 420 s are 12.99 cfm with
// 14.7 psi outside.
#[test]
fn a_published_pump_up_gives_what_it_gives() {
    let flow = delivered(80.0 * GALLON, &pumped("125 psi", "420 s"), psi_14_7());
    near(flow.unwrap().cfm(), 12.99, 0.005);
    // By hand: 300 l x 8 bar / 1.01325 / 200 s.
    let flow = delivered(300.0, &pumped("8 bar", "3 min 20 s"), ATMOSPHERE);
    near(flow.unwrap().litres_per_second(), 11.843_079, 1e-6);
}

// NAVFAC MO-209, ch. 5, tables 5-3 and 5-4: minutes between readings 10 psi apart from 90 to
// 20 psig, the loss in scfm that the page gives for each, its line Q = 0.62 P - 12.75 and
// 47 scfm at 96 psig; with its own figures 0.6214 P - 12.750 and 46.9. Its volume, 629 ft3,
// follows from all seven.
#[test]
fn the_navy_s_leak_test_gives_its_losses_and_its_line() {
    let rows = [
        (90.0, 10.7, 40.0),
        (80.0, 12.58, 34.0),
        (70.0, 15.29, 28.0),
        (60.0, 20.36, 21.0),
        (50.0, 28.54, 15.0),
        (40.0, 47.55, 9.0),
        (30.0, 142.65, 3.0),
    ];
    let litres = 629.0 * CUBIC_FOOT;
    let read = rows.map(|(from, minutes, _)| falls(from, from - 10.0, minutes));
    for (read, (.., loss)) in read.iter().zip(rows) {
        let (mean, first) = bled(litres, read, psi_14_7());
        near(mean.unwrap().cfm(), loss, 0.05);
        // Falls of 10 psi are not corrected.
        near(first.unwrap().cfm(), mean.unwrap().cfm(), 1e-6);
    }
    let line = line(litres, &read, psi_14_7()).unwrap();
    let cfm = |flow: f64| AirFlow::from_litres_per_second(flow).cfm();
    let psi = Pressure::from_psi(1.0).kpa() * 1_000.0;
    near(cfm(line.slope * psi), 0.621_4, 5e-5);
    near(cfm(line.at_zero), -12.750, 1e-3);
    near(cfm(line.at(96.0 * psi).unwrap()), 46.9, 0.05);
}

#[test]
fn falls_that_do_not_meet_have_no_line() {
    let met = [falls(90.0, 80.0, 10.0), falls(80.0, 70.0, 12.0)];
    assert!(line(100.0, &met, ATMOSPHERE).is_some());
    let apart = [falls(90.0, 80.0, 10.0), falls(79.0, 70.0, 12.0)];
    assert!(line(100.0, &apart, ATMOSPHERE).is_none());
    assert!(line(100.0, &met[..1], ATMOSPHERE).is_none());
    assert!(line(100.0, &[], ATMOSPHERE).is_none());
    // More than 50 psi is above every correction, and still has a mean.
    let (mean, first) = bled(100.0, &falls(175.0, 100.0, 60.0), ATMOSPHERE);
    assert!(mean.is_some() && first.is_none());
}

// At 125 psig air that cools by 20 F loses 5.3 psi with no leak at all, by 5 F 1.3 psi: by
// hand, 139.696 psia x 20 / 529.67 from 70 F.
#[test]
fn cooling_is_no_leak() {
    for (shows, pipe, psi) in [
        ("119.725 psi", "50 F", 5.275),
        ("123.681 psi", "65 F", 1.319),
    ] {
        let read = watched(("125 psi", Some("70 F")), (shows, Some(pipe)), "12 h");
        let fall = fell(60.0, &read, Pressure::from_psi(1.0), ATMOSPHERE);
        near(125.0 - fall.still.unwrap().psi(), psi, 1e-3 * psi);
        near(fall.left.psi(), 0.0, 1e-3);
        assert_eq!(fall.fell, Fell::Stands);
        // The same with no thermometer looks like a leak.
        let blind = watched(("125 psi", None), (shows, None), "12 h");
        let blind = fell(60.0, &blind, Pressure::from_psi(1.0), ATMOSPHERE);
        near(blind.left.psi(), psi, 1e-3 * psi);
        assert_eq!((blind.still, blind.fell), (None, Fell::Falls));
    }
}

// By hand. 10 gal, 100 to 90 psi in an hour at one temperature: 1.33681 ft3 x 10 / 14.69595
// / 60 min. 100 l, 7 to 6.5 bar in an hour: 100 x 0.5 / 1.01325 / 3600 s; and cooling from
// 20 to 10 C: 8.01325 x 283.15 / 293.15 - 1.01325 = 6.726650 bar for still air, 0.226650
// of it lost, at the first temperature 0.226650 x 293.15 / 283.15.
#[test]
fn leaks_worked_by_hand_in_both_units() {
    let (psi, bar) = (Pressure::from_psi(1.0), Pressure::from_kpa(10.0));
    let read = watched(("100 psi", Some("60 F")), ("90 psi", Some("60 F")), "1 h");
    let fall = fell(10.0 * GALLON, &read, psi, ATMOSPHERE);
    near(fall.leak.cfm(), 0.015_160_70, 1e-8);
    near(fall.sees.cfm(), 0.001_516_07, 1e-8);
    let read = watched(("7 bar", None), ("6.5 bar", None), "60 min");
    let fall = fell(100.0, &read, bar, ATMOSPHERE);
    near(fall.leak.litres_per_second(), 0.013_707_267_6, 1e-10);
    let read = watched(("7 bar", Some("20 C")), ("6.5 bar", Some("10 C")), "60 min");
    let fall = fell(100.0, &read, bar, ATMOSPHERE);
    near(fall.still.unwrap().kpa(), 672.665_0, 1e-4);
    near(fall.leak.litres_per_second(), 0.006_432_951_6, 1e-10);
    assert_eq!(fall.fell, Fell::Falls);
}

#[test]
fn a_fall_counts_from_more_than_a_mark_on() {
    for (last, fell_by) in [
        ("99 psi", Fell::Stands),
        ("98.99 psi", Fell::Falls),
        ("101 psi", Fell::Stands),
        ("101.01 psi", Fell::Rises),
        ("0 psi", Fell::Falls),
    ] {
        let read = watched(("100 psi", None), (last, None), "4 h");
        let fall = fell(60.0, &read, Pressure::from_psi(1.0), ATMOSPHERE);
        assert_eq!(fall.fell, fell_by, "{last}");
    }
    // Warming makes room for a rise: 100 psi at 50 F are 102.2 psi at 60 F.
    let read = watched(("100 psi", Some("50 F")), ("102 psi", Some("60 F")), "4 h");
    let fall = fell(60.0, &read, Pressure::from_psi(1.0), ATMOSPHERE);
    assert_eq!(fall.fell, Fell::Stands);
}

// ISO 1217, annex C, from memory.
#[test]
fn a_small_plate_may_be_further_off() {
    for (cubic_metres, tolerance) in [(0.4, 0.07), (1.0, 0.06), (10.0, 0.05), (20.0, 0.04)] {
        let plate = AirFlow::from_litres_per_second(cubic_metres * 1_000.0 / 60.0);
        near(plate_tolerance(plate), tolerance, 1e-12);
    }
}

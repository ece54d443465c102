use super::{Verdict, verdict};
use crate::air::Site;
use crate::air::demand::demand;
use crate::job::read;
use crate::library::Library;
use crate::quantity::Temperature;
use crate::source::Source;

const GARAGE: &str = include_str!("../../../../catalogs-demo/garage.toml");
const MILLRACE: &str = include_str!("../../../../catalogs-demo/millrace.toml");

fn at(text: &str, site: &Site) -> Verdict {
    let library = Library::shipped().unwrap();
    let (job, findings) = read(&Source::new("job", text), &library);
    assert_eq!(findings, []);
    let job = job.unwrap();
    verdict(&job, &demand(&job, &library), site)
}

fn sea(text: &str) -> Verdict {
    at(text, &Site::SEA_LEVEL)
}

// 80 gal are 10.694 ft3; 35 psi of them are 25.47 ft3 of free air, which 27.39
// cfm use up in 55.8 s. Then 3.39 cfm are missing: 4.66 psi a minute.
#[test]
fn more_than_is_delivered_is_never_made_up() {
    let shop = sea(MILLRACE);
    assert_eq!(
        shop.line,
        "27.4 cfm average against 24 cfm delivered: the compressor never stops and the pressure falls"
    );
    assert_eq!(
        shop.remarks,
        [
            "No tank mends that: full, this one is down to its cut-in after 56 seconds, and from there the pressure falls by 4.7 psi each minute."
        ]
    );
    let tank = shop.tank.unwrap();
    assert!((tank.usable.litres() / 28.316_846_6 - 25.47).abs() < 0.01);
    assert_eq!(tank.starts, None);
    assert_eq!(tank.bursts.len(), 10 + 3);
}

// 20 × 0.15 + 16 × 0.15 + 4 × 0.2 = 6.2 cfm of 12. 60 gal give 30 psi × 8.021
// ft3 / 14.696 psi = 16.37 ft3: 2.64 min to use them up and 2.82 to fill them.
#[test]
fn what_is_left_and_how_often_the_motor_starts() {
    let garage = sea(GARAGE);
    assert_eq!(
        garage.line,
        "6.2 cfm average against 12 cfm delivered: the compressor runs 52 % of the time, and 5.8 cfm is left"
    );
    let tank = garage.tank.as_ref().unwrap();
    assert!(
        (tank.starts.unwrap() - 60.0 / 5.463).abs() < 0.01,
        "{:?}",
        tank.starts
    );
    assert_eq!(
        garage.remarks,
        [
            "The motor starts 11 times an hour at average demand: 10 to 15 are the most that is usual (common practice, no source). A larger tank or a wider band mends that."
        ]
    );
    // The wrench at its 20 cfm, with 3.2 cfm of the rest.
    let wrench = &tank.bursts[1];
    assert_eq!(
        wrench.what,
        "impact wrench at bench, the rest at its average"
    );
    assert!((wrench.flow.cfm() - 23.2).abs() < 1e-6);
    assert!((wrench.until_cut_in.unwrap() - 16.37 / 23.2).abs() < 1e-3);
    // A minute of 40 cfm, all at once, is likely in less than 1 % of the time.
    let peak = tank.bursts[4].flow.cfm();
    let carried = tank.for_peak.unwrap();
    assert!((carried.standing.litres() / tank.volume.litres() - peak / 16.37).abs() < 1e-3);
    let running = carried.running.litres() / carried.standing.litres();
    assert!((running - (peak - 12.0) / peak).abs() < 1e-9);
}

#[test]
fn a_steady_supply_says_nothing_more() {
    let large = sea(&GARAGE.replace("\"60 gal\"", "\"120 gal\""));
    assert_eq!(large.remarks, [""; 0]);
    let near = sea(&GARAGE
        .replace("\"60 gal\"", "\"120 gal\"")
        .replace("12 cfm", "7 cfm"));
    assert_eq!(
        near.remarks,
        ["More than 80 % leaves nothing for growth, wear and leaks (common practice, no source)."]
    );
}

// 1500 m: 84,556 Pa, so air has 83.45 % of its mass; the tank's band holds as
// much as ever.
#[test]
fn high_up_the_same_machine_delivers_less() {
    let site = Site {
        atmosphere: 84_556.0,
        ..Site::SEA_LEVEL
    };
    let (low, high) = (sea(GARAGE), at(GARAGE, &site));
    assert_eq!(
        high.line,
        "6.2 cfm average against 10 cfm delivered: the compressor runs 62 % of the time, and 3.8 cfm is left"
    );
    assert_eq!(
        high.remarks[0],
        "The compressor takes in 12 cfm of air that weighs 83.5 % of air at sea level and 68 F: to the tools that is 10 cfm."
    );
    let usable = |verdict: &Verdict| verdict.tank.as_ref().unwrap().usable.litres();
    assert!((usable(&low) - usable(&high)).abs() < 1e-9);
    let hot = Site {
        temperature: Temperature::from_celsius(40),
        ..Site::SEA_LEVEL
    };
    assert!((at(GARAGE, &hot).density_ratio - 293.15 / 313.15).abs() < 1e-9);
}

#[test]
fn what_is_not_known_is_said_loudly() {
    let unknown = sea(&GARAGE
        .replace("free_air = \"12 cfm\"\n", "")
        .replace("tank     = \"60 gal\"\n", ""));
    assert_eq!(
        unknown.line,
        "6.2 cfm average, and nothing says what the compressor delivers: NOT CHECKED"
    );
    assert_eq!(
        unknown.missing,
        [
            "NOT KNOWN: what the compressor delivers, and so whether it is enough. Write `free_air` under the supply.",
            "NOT KNOWN: how long the tank lasts a burst. Write `tank` under the supply.",
        ]
    );
    assert_eq!(unknown.tank, None);
    let idle = GARAGE.lines().filter(|line| !line.starts_with("tools"));
    let idle = sea(&idle.collect::<Vec<_>>().join("\n"));
    assert_eq!(
        idle.line,
        "No tool is named: nothing says how much air the shop wants"
    );
    assert_eq!(idle.missing.len(), 1);
    assert_eq!(idle.remarks, [""; 0]);
    assert_eq!(idle.tank.unwrap().starts, None);
}

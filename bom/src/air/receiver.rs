//! What a tank holds between two pressures, and how long it lasts. Air in the
//! tank is as warm as the air that is taken in; a tank that is still hot holds
//! less. Volumes are litres, flows litres of free air each second, pressures Pa.

/// Free air that a tank gives from one gauge pressure down to another.
#[must_use]
pub fn usable(tank: f64, upper: f64, lower: f64, atmosphere: f64) -> f64 {
    tank * (upper - lower).max(0.0) / atmosphere
}

/// The tank that carries a burst: V = T (C − S) Pa / (P1 − P2). Source: public
/// pages on receivers. None where the two pressures leave it nothing.
#[must_use]
pub fn tank_for(
    seconds: f64,
    demand: f64,
    supply: f64,
    upper: f64,
    lower: f64,
    atmosphere: f64,
) -> Option<f64> {
    let missing = (demand - supply).max(0.0);
    (upper > lower).then(|| seconds * missing * atmosphere / (upper - lower))
}

/// What a compressor delivers that pumps a tank up in so many seconds: the
/// free air that has gone into it. None where no time passes.
#[must_use]
pub fn pumped(tank: f64, from: f64, to: f64, seconds: f64, atmosphere: f64) -> Option<f64> {
    (seconds > 0.0).then(|| usable(tank, to, from, atmosphere) / seconds)
}

/// How often each hour a compressor starts that fills the usable air and then
/// stands until it is used up. None where it never stops, or never runs.
#[must_use]
pub fn starts_an_hour(usable: f64, demand: f64, supply: f64) -> Option<f64> {
    let cycles = demand > 0.0 && demand < supply && usable > 0.0;
    cycles.then(|| 3_600.0 / (usable / demand + usable / (supply - demand)))
}

#[cfg(test)]
mod tests {
    use super::{pumped, starts_an_hour, tank_for, usable};

    #[test]
    fn a_tank_gives_what_its_two_pressures_differ_by() {
        assert!((usable(100.0, 8e5, 6e5, 1e5) - 200.0).abs() < 1e-9);
        assert!(usable(100.0, 6e5, 8e5, 1e5).abs() < f64::EPSILON);
        assert_eq!(tank_for(60.0, 5.0, 9.0, 8e5, 6e5, 1e5), Some(0.0));
        assert_eq!(tank_for(60.0, 9.0, 5.0, 6e5, 6e5, 1e5), None);
        assert_eq!(pumped(100.0, 0.0, 8e5, 0.0, 1e5), None);
    }

    // 200 litres at 4 l/s last 50 s; the other 6 l/s fill them in 33.3 s.
    #[test]
    fn starts_follow_from_one_turn() {
        let starts = starts_an_hour(200.0, 4.0, 10.0).unwrap();
        assert!((starts - 43.2).abs() < 1e-9, "{starts}");
        for demand in [0.0, 10.0, 12.0] {
            assert_eq!(starts_an_hour(200.0, demand, 10.0), None);
        }
    }
}

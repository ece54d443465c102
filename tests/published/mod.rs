//! Published values restated: the shipped data must agree with them. Sources
//! and tolerances stand in `README.md` and above each table in `tables.rs`.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod energy;
mod flow;
mod joints;
mod moisture;
mod money;
mod receivers;
mod systems;
mod tables;
mod tube;

use bom::quantity::{AirFlow, Length, Pressure, Units, Volume};
use tables::{CHART, NPT, Row, SCHEDULE_40, SPACING};

const BLACK_IRON: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/../bom/data/systems/black-iron.toml"
);
const SIZE_CHART: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../bom/data/size_chart.csv");

fn system() -> toml::Table {
    std::fs::read_to_string(BLACK_IRON)
        .unwrap()
        .parse()
        .unwrap()
}

/// The rows of one table of the system, in the file's order.
fn rows(table: &str) -> Vec<toml::Table> {
    let rows = system()[table].as_array().unwrap().clone();
    rows.into_iter()
        .map(|row| row.as_table().unwrap().clone())
        .collect()
}

fn length(row: &toml::Table, key: &str) -> Length {
    Length::parse(row[key].as_str().unwrap(), Units::Metric).unwrap()
}

fn inches(row: &toml::Table, key: &str) -> f64 {
    length(row, key).mm() / 25.4
}

fn inches_of(inches: f64) -> Length {
    Length::parse(&format!("{inches}in"), Units::Feet).unwrap()
}

fn close(name: &str, found: f64, published: f64, tolerance: f64) {
    assert!(
        (found - published).abs() <= tolerance,
        "{name}: {found} is not {published} within {tolerance}"
    );
}

/// Every published row beside the row of the same size in the data, which has
/// these sizes in this order and no others.
fn beside<const N: usize>(
    published: &'static [Row<N>],
    table: &str,
) -> Vec<(&'static str, [f64; N], toml::Table)> {
    let rows = rows(table);
    let sizes: Vec<&str> = rows
        .iter()
        .map(|row| row["size"].as_str().unwrap())
        .collect();
    let wanted: Vec<&str> = published.iter().map(|row| row.0).collect();
    assert_eq!(sizes, wanted, "sizes of `{table}`");
    published
        .iter()
        .zip(rows)
        .map(|((size, figures), row)| (*size, *figures, row))
        .collect()
}

#[test]
fn pipe_has_the_published_diameter_wall_and_mass() {
    for (size, [outside, wall, _, mass], row) in beside(&SCHEDULE_40, "pipe") {
        close(size, inches(&row, "outside"), outside, 1e-9);
        close(size, inches(&row, "wall"), wall, 1e-9);
        close(size, row["mass_lb_per_ft"].as_float().unwrap(), mass, 1e-9);
    }
}

#[test]
fn bore_is_outside_less_two_walls() {
    for (size, [_, _, inside, _], row) in beside(&SCHEDULE_40, "pipe") {
        let bore = inches(&row, "outside") - 2.0 * inches(&row, "wall");
        close(size, bore, inside, 0.0005);
    }
}

/// Carbon steel at 0.2833 lb/in3, twelve inches of it.
#[test]
fn mass_is_that_of_the_metal() {
    for (size, [_, _, _, mass], row) in beside(&SCHEDULE_40, "pipe") {
        let outside = inches(&row, "outside");
        let bore = outside - 2.0 * inches(&row, "wall");
        let metal = std::f64::consts::FRAC_PI_4 * (outside * outside - bore * bore);
        close(size, metal * 12.0 * 0.2833, mass, 0.003 * mass);
    }
}

/// ASME B1.20.1: L2 = (0.80 D + 6.8) / n, D the outside diameter of the pipe.
#[test]
fn thread_length_follows_from_the_outside_diameter() {
    for (size, [threads, _, effective], row) in beside(&NPT, "pipe") {
        let formula = (0.8 * inches(&row, "outside") + 6.8) / threads;
        close(size, formula, effective, 0.0001);
    }
}

/// Make-up lies between hand-tight L1 (ASME B1.20.1) and wrench-tight L1 + L3
/// (L3 three threads up to 2 in, two above: from memory) with a quarter inch
/// of run-out thread (common practice, no source).
#[test]
fn make_up_lies_between_hand_tight_and_wrench_tight() {
    for (size, [threads, hand_tight, _], row) in beside(&NPT, "fitting") {
        let turns = if threads > 8.0 { 3.0 } else { 2.0 };
        let wrench_tight = hand_tight + turns / threads;
        let make_up = inches(&row, "make_up");
        assert!(make_up >= hand_tight, "{size}: {make_up} < {hand_tight}");
        assert!(
            make_up <= wrench_tight + 0.25,
            "{size}: {make_up} > {wrench_tight} + 0.25"
        );
    }
}

#[test]
fn threads_fit_into_fittings_couplings_and_nipples() {
    for row in rows("fitting") {
        let size = row["size"].as_str().unwrap();
        let make_up = length(&row, "make_up");
        assert!(length(&row, "centre_to_end") > make_up, "{size}");
        assert!(length(&row, "centre_to_end_45") > make_up, "{size}");
        for two_ended in ["coupling", "union", "close_nipple"] {
            assert!(
                length(&row, two_ended) >= make_up.times(2),
                "{size} {two_ended}"
            );
        }
    }
}

#[test]
fn supports_stand_as_published() {
    let rows = rows("support");
    for (size, feet) in SPACING {
        let row = rows.iter().find(|row| row["size"].as_str() == Some(size));
        assert_eq!(
            length(row.unwrap(), "level"),
            Length::from_feet(feet),
            "{size}"
        );
    }
}

/// Upright steel pipe: IMC and IPC; stick: ASTM A53 uniform length. Both from
/// memory.
#[test]
fn upright_spacing_and_stick_are_as_published() {
    let system = system();
    assert_eq!(length(&system, "upright_spacing"), Length::from_feet(15));
    assert_eq!(length(&system, "stick"), Length::from_feet(21));
}

#[test]
fn size_chart_has_the_published_sizes() {
    let chart = chart();
    for (cfm, feet, size) in CHART {
        let column = chart[0].iter().position(|cell| cell == feet).unwrap();
        let row = chart.iter().find(|row| row[0] == cfm).unwrap();
        assert_eq!(row[column], size, "{cfm} cfm, {feet}");
    }
}

#[test]
fn size_chart_never_shrinks_with_flow_or_length() {
    let sizes = ["1/2", "3/4", "1", "1-1/4", "1-1/2"];
    let rank = |cell: &String| sizes.iter().position(|size| size == cell).unwrap();
    let ranks: Vec<Vec<usize>> = chart()[1..]
        .iter()
        .map(|row| row[1..=8].iter().map(rank).collect())
        .collect();
    for row in &ranks {
        assert!(row.is_sorted(), "{row:?}");
    }
    for pair in ranks.windows(2) {
        let grows = pair[0]
            .iter()
            .zip(&pair[1])
            .all(|(less, more)| less <= more);
        assert!(grows, "{pair:?}");
    }
}

/// The size chart's cells, its heading first.
fn chart() -> Vec<Vec<String>> {
    std::fs::read_to_string(SIZE_CHART)
        .unwrap()
        .lines()
        .map(|line| line.split(',').map(str::to_owned).collect())
        .collect()
}

/// NIST SP 811, Appendix B, from memory: 1 psi = 6.894757 kPa, 1 ft3/min =
/// 0.4719474 l/s, 1 US gallon = 3.785412 l; 1 ft = 304.8 mm exactly.
#[test]
fn units_convert_as_published() {
    close(
        "psi",
        Pressure::parse("1 psi").unwrap().kpa(),
        6.894_757,
        5e-7,
    );
    let flow = AirFlow::parse("1 cfm").unwrap();
    close("cfm", flow.litres_per_second(), 0.471_947_4, 5e-8);
    let hundred = Volume::parse("100 gal").unwrap();
    assert_eq!(hundred.show(Units::Metric), "379 l");
    let foot = Length::parse("1ft", Units::Feet).unwrap();
    assert_eq!(foot, Length::from_nm(304_800_000));
}

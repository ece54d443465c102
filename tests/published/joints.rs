//! Joints of copper tube, held against `tube.rs`: what they bear and use up.

use super::close;
use super::systems::{inches, row, system};
use super::tube::{RATING_M, SOLDER};
use bom::quantity::Size;
use bom::system::SizeRow;
use std::f64::consts::PI;

/// P = 2 S t / (D - 0.8 t) with the thinnest wall and the largest outside.
fn drawn_tube(row: &SizeRow, stress: f64) -> f64 {
    let wall = inches(row.wall - row.wall_tolerance);
    let outside = inches(row.outside + row.outside_tolerance);
    2.0 * stress * wall / (outside - 0.8 * wall)
}

/// Copper Tube Handbook, Table 14.3c: drawn, 10,300 psi. Both tolerances go
/// into it: the wall's were solved from this table, the outside's are from
/// memory.
#[test]
fn tolerances_rebuild_the_published_ratings_of_drawn_tube() {
    let system = system("copper-m-soldered");
    for (size, [_, _, _, drawn]) in RATING_M {
        close(size, drawn_tube(row(&system, size), 10_300.0), drawn, 0.51);
    }
}

/// Figures that the files state and the formula gives: fittings as annealed
/// type L tube, and brazed joints up to 200 F. The sizes, tolerances and
/// stresses of annealed tube stand in the brazed system.
#[test]
fn stated_figures_are_those_of_annealed_tube() {
    let annealed = system("copper-l-brazed");
    for (name, item, sizes) in [
        ("copper-l-brazed", "joint", 11),
        ("copper-l-soldered", "fitting", 11),
        ("copper-m-soldered", "fitting", 10),
    ] {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../bom/data/systems/");
        let text = std::fs::read_to_string(format!("{path}{name}.toml")).unwrap();
        let table: toml::Table = text.parse().unwrap();
        let ratings = table["rating"].as_array().unwrap().iter();
        let ratings: Vec<_> = ratings
            .filter(|row| row["item"].as_str() == Some(item))
            .collect();
        assert_eq!(ratings.len(), sizes, "{name}");
        for rating in ratings {
            let size = rating["sizes"][0].as_str().unwrap();
            let psi = rating["psi"].as_array().unwrap();
            for (step, stress) in psi.iter().zip([6_000.0, 5_100.0, 4_900.0]) {
                let stated = f64::from(i32::try_from(step[1].as_integer().unwrap()).unwrap());
                let said = format!("{name} {size}");
                close(
                    &said,
                    stated,
                    drawn_tube(row(&annealed, size), stress),
                    0.51,
                );
            }
        }
    }
}

/// Copper Tube Handbook, Table 14.10, and what it rests on: 1/8 in wire of
/// 0.01227 in3 by the inch, and solder at 0.266 lb/in3 (own reckoning).
#[test]
fn solder_fills_the_cups_as_published() {
    for name in ["copper-l-soldered", "copper-m-soldered"] {
        let system = system(name);
        let per_joint = |part: &str| {
            let found = system.consumables.iter().find(|one| one.part == part);
            found.unwrap().per_joint.clone()
        };
        let (solder, flux) = (per_joint("solder"), per_joint("flux"));
        for (size, [cup, wire, hundred]) in SOLDER {
            let Some(row) = system.row(Size::parse(size).unwrap()) else {
                continue;
            };
            let pounds = solder[&row.size];
            close(size, inches(row.make_up), cup, 1e-9);
            close(size, pounds * 100.0, hundred, 1e-9);
            let filled = PI * inches(row.outside) * inches(row.make_up) * 0.010;
            close(size, filled / 0.01227, wire, 0.0015 * wire);
            close(size, filled * 0.266, pounds, 0.002 * pounds);
            // Two ounces of flux to the pound of solder.
            close(size, flux[&row.size], 2.0 * pounds, 1e-9);
        }
    }
}

/// An estimate, not a published figure: the cup filled at 0.005 in clearance
/// with an alloy of 0.29 lb/in3, twice.
#[test]
fn brazing_rod_fills_the_cups_as_estimated() {
    let system = system("copper-l-brazed");
    for row in system.sizes() {
        let cup = PI * inches(row.outside) * inches(row.make_up) * 0.005;
        let pounds = system.consumables[0].per_joint[&row.size];
        close("brazing rod", pounds, 2.0 * cup * 0.29, 0.000_01);
    }
}

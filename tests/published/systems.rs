//! The systems beside black iron, held against `tables.rs` and `tube.rs`.

use super::close;
use super::tables::{Row, SCHEDULE_40, SPACING};
use super::tube::{
    COPPER_SPACING, GROWTH, MASS_10S, SCHEDULE_10S, SCHEDULE_40S, TYPE_L, TYPE_M, WATER_SPACING,
};
use bom::library::Library;
use bom::quantity::{Length, Size};
use bom::system::{SizeRow, System};
use std::f64::consts::FRAC_PI_4;

const COPPER: [&str; 4] = [
    "copper-l-soldered",
    "copper-l-brazed",
    "copper-l-pressed",
    "copper-m-soldered",
];

pub(super) fn system(name: &str) -> System {
    let library = Library::shipped().unwrap();
    let found = library.systems().iter().find(|one| one.name == name);
    found.unwrap_or_else(|| panic!("no {name}")).clone()
}

pub(super) fn row<'a>(system: &'a System, size: &str) -> &'a SizeRow {
    let row = system.row(Size::parse(size).unwrap());
    row.unwrap_or_else(|| panic!("{} has no {size}", system.name))
}

pub(super) fn inches(length: Length) -> f64 {
    length.mm() / 25.4
}

/// The wall's own volume by the foot, in cubic inches.
fn metal(row: &SizeRow) -> f64 {
    let (outside, bore) = (inches(row.outside), inches(row.bore()));
    FRAC_PI_4 * (outside * outside - bore * bore) * 12.0
}

/// The data has the published diameters, and the published sizes where
/// `whole`; a system may leave small sizes out.
fn has_the_dimensions<const N: usize>(name: &str, published: &[Row<N>], whole: bool) {
    let system = system(name);
    let sizes: Vec<String> = system.sizes().map(|row| row.size.to_string()).collect();
    let wanted: Vec<&str> = published.iter().map(|row| row.0).collect();
    let left_out = wanted.len() - sizes.len();
    assert!(!whole || left_out == 0, "{name} lacks sizes");
    assert_eq!(sizes, wanted[left_out..], "sizes of {name}");
    for (size, figures) in &published[left_out..] {
        let row = row(&system, size);
        let said = format!("{name} {size}");
        close(&said, inches(row.outside), figures[0], 1e-9);
        close(&said, inches(row.wall), figures[1], 1e-9);
        close(&said, inches(row.bore()), figures[2], 0.0005);
    }
}

#[test]
fn galvanised_pipe_is_black_pipe() {
    has_the_dimensions("galvanised", &SCHEDULE_40, true);
    let system = system("galvanised");
    for (size, [_, _, _, mass]) in SCHEDULE_40 {
        close(size, row(&system, size).mass_lb_per_ft, mass, 1e-9);
    }
}

#[test]
fn stainless_pipe_has_the_published_dimensions() {
    has_the_dimensions("stainless-40s-threaded", &SCHEDULE_40S, true);
    has_the_dimensions("stainless-10s-pressed", &SCHEDULE_10S, true);
}

/// Austenitic stainless at 0.290 lb/in3, a common handbook value.
#[test]
fn stainless_mass_is_that_of_the_metal() {
    for name in ["stainless-40s-threaded", "stainless-10s-pressed"] {
        let system = system(name);
        for row in system.sizes() {
            let mass = metal(row) * 0.290;
            let said = format!("{name} {}", row.size);
            close(&said, row.mass_lb_per_ft, mass, 0.002 * mass);
        }
    }
    let system = system("stainless-10s-pressed");
    for (size, [mass]) in MASS_10S {
        close(size, row(&system, size).mass_lb_per_ft, mass, 0.02 * mass);
    }
}

#[test]
fn copper_tube_has_the_published_dimensions() {
    has_the_dimensions("copper-l-soldered", &TYPE_L, true);
    has_the_dimensions("copper-l-brazed", &TYPE_L, true);
    has_the_dimensions("copper-l-pressed", &TYPE_L, false);
    has_the_dimensions("copper-m-soldered", &TYPE_M, true);
}

/// Copper at 0.323 lb/in3 (8.94), a common handbook value; the published
/// masses are rounded to two or three digits.
#[test]
fn copper_mass_is_that_of_the_metal() {
    for name in COPPER {
        let system = system(name);
        for row in system.sizes() {
            let mass = metal(row) * 0.323;
            let said = format!("{name} {}", row.size);
            close(&said, row.mass_lb_per_ft, mass, 0.003 * mass);
        }
    }
    let masses = |name: &str, published: &[Row<4>]| {
        let system = system(name);
        for (size, [_, _, _, mass]) in published {
            close(size, row(&system, size).mass_lb_per_ft, *mass, 0.005 * mass);
        }
    };
    masses("copper-l-soldered", &TYPE_L);
    masses("copper-m-soldered", &TYPE_M);
}

#[test]
fn supports_stand_as_published() {
    let level = |name: &str, size: &str| {
        let row = row(&system(name), size).support;
        row.nm() / Length::from_feet(1).nm()
    };
    for name in ["galvanised", "stainless-40s-threaded"] {
        for (size, feet) in SPACING {
            assert_eq!(level(name, size), feet, "{name} {size}");
        }
    }
    for (size, feet) in WATER_SPACING {
        assert_eq!(level("stainless-10s-pressed", size), feet, "{size}");
    }
    for name in COPPER {
        for (size, published) in COPPER_SPACING {
            let feet = published.into_iter().min().unwrap();
            assert_eq!(level(name, size), feet, "{name} {size}");
        }
        // IMC Table 305.4, copper tube, vertical; ASTM B88, straight lengths.
        assert_eq!(system(name).upright_spacing, Length::from_feet(10));
        assert_eq!(system(name).stick, Length::from_feet(20));
    }
}

#[test]
fn pipe_grows_as_published() {
    for (name, growth) in GROWTH {
        let per_million = system(name).growth_per_million_per_f.value;
        close(name, per_million * 1e-6 * 1_200.0 * 100.0, growth, 0.0005);
    }
}

/// Aluminium at 2700 kg/m3, a common handbook value; the walls are invented.
#[test]
fn aluminium_mass_is_that_of_the_metal() {
    let system = system("aluminium-push-fit");
    for row in system.sizes() {
        let mass = metal(row) * 2_700.0 / 27_679.9;
        let size = row.size.to_string();
        close(&size, row.mass_lb_per_ft, mass, 0.005 * mass);
    }
}

/// Brass at 0.316 lb/in3 (8.75); ASTM B43 dimensions and masses from memory.
#[test]
fn brass_mass_is_that_of_the_metal() {
    let system = system("brass");
    for row in system.sizes() {
        let mass = metal(row) * 0.316;
        let size = row.size.to_string();
        close(&size, row.mass_lb_per_ft, mass, 0.01 * mass);
    }
}

#[test]
fn tube_goes_into_fittings_and_its_ends_do_not_meet() {
    let library = Library::shipped().unwrap();
    for system in library.systems() {
        for row in system.sizes() {
            let said = format!("{} {}", system.name, row.size);
            assert!(row.centre_to_end > row.make_up, "{said}");
            assert!(row.centre_to_end_45 > row.make_up, "{said}");
            for two_ended in [row.coupling, row.union, row.shortest] {
                assert!(two_ended >= row.make_up.times(2), "{said}");
            }
        }
    }
}

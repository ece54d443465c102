//! What the crew gets: the order of work as text, for programs, and the whole set as
//! PDF.

use crate::support::{folder, path, read, root, run};
use bom::drawing::{DRAWINGS, Field, Scene};
use bom::library::Library;
use bom::source::Source;
use dripleg::Exit;
use serde_json::Value;
use std::path::Path;

const DATED: [&str; 2] = ["--date", "2026-11-02"];

fn crew(job: &str, more: &[&str]) -> crate::support::Outcome {
    let job = path(job);
    run(&[&["crew", &job], &DATED[..], more].concat())
}

fn order(job: &str, more: &[&str]) -> Value {
    let outcome = crew(job, &[&["--format", "json"], more].concat());
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    serde_json::from_str(&outcome.out).unwrap()
}

fn steps(order: &Value) -> Vec<&Value> {
    let stages = order["stages"].as_array().unwrap().iter();
    stages
        .flat_map(|stage| stage["steps"].as_array().unwrap())
        .collect()
}

/// How many of something all steps take together.
fn sum(order: &Value, list: &str, count: &str, is: impl Fn(&Value) -> bool) -> u64 {
    steps(order)
        .into_iter()
        .flat_map(|step| step[list].as_array().unwrap())
        .filter(|one| is(one))
        .map(|one| one[count].as_u64().unwrap())
        .sum()
}

fn joints(order: &Value) -> u64 {
    sum(order, "joints", "count", |_| true)
}

#[test]
fn the_order_is_said_for_reading() {
    let outcome = crew("catalogs-demo/millrace.toml", &[]);
    assert_eq!(outcome.exit, Exit::Done);
    let ring = " 24  Close the ring: the union, 21'-1 3/16\" from leg 5 (south wall), at assembly, between 12.1 and
     12.2
     Screw 12.1 into the tee at leg 5 (south wall), at assembly, with one half of the union on its
     end.
     Into the tee at leg 5 (south wall), at door: 12.2, with the other half on its end.
     Both halves must meet square and without force; then tighten the nut. It is the only joint here
     that needs no turning of pipe.
     Pieces: 12.1 3/4in 21'-0\"; 12.2 3/4in 9 5/8\".
     Parts: 1 black iron union female 3/4in.
     4 joints. Up to 10'-8\" above the floor.
";
    assert!(outcome.out.contains(ring), "{}", outcome.out);
    let headings: Vec<&str> = outcome
        .out
        .lines()
        .filter(|line| line.chars().any(char::is_alphabetic) && line.to_uppercase() == *line)
        .collect();
    assert_eq!(
        headings,
        [
            "BEFORE YOU START",
            "ON THE BENCH",
            "THE MAIN",
            "CLOSE THE RINGS",
            "THE DROPS",
            "DRAINS AND THE TANK",
            "BEFORE AIR GOES IN"
        ]
    );
}

// Millrace has 165 joints and 21 pieces.
#[test]
fn the_order_is_said_for_programs() {
    let order = order("catalogs-demo/millrace.toml", &[]);
    assert_eq!(joints(&order), 165);
    let steps = steps(&order);
    let numbers: Vec<u64> = steps
        .iter()
        .map(|step| step["number"].as_u64().unwrap())
        .collect();
    assert_eq!(numbers, (1..=38).collect::<Vec<u64>>());
    let pieces: usize = steps
        .iter()
        .map(|step| step["pieces"].as_array().unwrap().len())
        .sum();
    assert_eq!(pieces, 21);
    let ring = steps
        .iter()
        .find(|step| step["holds"] == "between")
        .unwrap();
    assert_eq!(
        ring["onto"],
        serde_json::json!([
            "leg 5 (south wall), at assembly",
            "leg 5 (south wall), at door"
        ])
    );
}

// By hand in tests/cases/no-cross/count.md: three crosses are made of two tees each,
// ten joints more in all.
#[test]
fn what_stands_in_for_a_part_is_put_together_where_the_part_was() {
    let job = "tests/cases/no-cross/job.toml";
    let catalog = path("tests/cases/no-cross/catalog.csv");
    let (plain, made) = (order(job, &[]), order(job, &["--catalog", &catalog]));
    let parts =
        |order: &Value, name: &str| sum(order, "parts", "quantity", |part| part["part"] == name);
    assert_eq!((parts(&plain, "cross"), parts(&made, "cross")), (3, 0));
    assert_eq!(parts(&made, "tee"), parts(&plain, "tee") + 2 * 3);
    assert_eq!(joints(&made), joints(&plain) + 10);
}

fn set(out: &Path) -> Vec<u8> {
    let name = out.display().to_string();
    let prices = path("catalogs-demo/iron.csv");
    let more = ["--catalog", &prices, "--out", &name];
    let outcome = crew("catalogs-demo/millrace.toml", &more);
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    std::fs::read(out).unwrap()
}

/// How many drawings of the demo a crew builds by.
fn drawn() -> usize {
    let library = Library::shipped().unwrap();
    let job = read(root().join("catalogs-demo/millrace.toml"));
    let plan = bom::plan(&Source::new("job", job), &library).0.unwrap();
    let scene = Scene {
        plan: &plan,
        library: &library,
        field: Field::COMMON,
    };
    let drawings = DRAWINGS.iter().filter(|drawing| drawing.word != "pressure");
    drawings.map(|drawing| (drawing.sheets)(&scene).len()).sum()
}

#[test]
fn the_set_has_every_step_and_comes_out_the_same_twice() {
    let folder = folder("crew-set");
    let bytes = set(&folder.join("crew.pdf"));
    assert!(bytes == set(&folder.join("again.pdf")), "the bytes differ");
    let file = lopdf::Document::load_mem(&bytes).unwrap();
    let pages: Vec<u32> = file.get_pages().into_keys().collect();
    // Ten of its own, and the drawings.
    assert_eq!(pages.len(), 10 + drawn());
    let text = file.extract_text(&pages).unwrap();
    assert!(!text.contains("USD"), "a cost goes to the site");
    let flat = |text: &str| -> String { text.split_whitespace().collect() };
    let text = flat(&text.replace('\u{a0}', " "));
    for step in steps(&order("catalogs-demo/millrace.toml", &[])) {
        let title = step["title"].as_str().unwrap();
        assert!(text.contains(&flat(title)), "{title}");
    }
    for heading in ["Crewset", "Cutsheet", "Orderofwork", "Recordofthejoints"] {
        assert!(text.contains(heading), "{heading}");
    }
}

#[test]
fn a_set_needs_a_file() {
    let outcome = crew("catalogs-demo/millrace.toml", &["--format", "pdf"]);
    assert_eq!(outcome.exit, Exit::Unreadable);
    assert_eq!(
        outcome.err.trim(),
        "dripleg: a PDF needs a file: add --out crew.pdf"
    );
}

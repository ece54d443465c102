//! The isometric drawings of jobs of every kind.

use crate::support::{forms, read, root, same_cases, shops};
use bom::Plan;
use bom::drawing::{Area, At, Field, Scene, Shape, Sheet, collisions, isometric};
use bom::library::Library;
use bom::network::NodeKind;
use bom::source::Source;
use proptest::prelude::proptest;
use std::collections::BTreeMap;

fn drawn(job: &str) -> (Plan, Vec<Sheet>) {
    let library = Library::shipped().unwrap();
    let (plan, findings) = bom::plan(&Source::new("job", job), &library);
    let plan = plan.unwrap_or_else(|| panic!("{findings:#?}\n{job}"));
    let sheets = isometric(&Scene {
        plan: &plan,
        library: &library,
        field: Field::COMMON,
    });
    (plan, sheets)
}

/// What holds for the drawings of every job.
fn check(job: &str) {
    let (plan, sheets) = drawn(job);
    let network = &plan.network;
    assert!(!sheets.is_empty());
    assert!(
        sheets.len() <= network.legs.len() + network.drops.len() + 1,
        "{} sheets\n{job}",
        sheets.len()
    );
    for sheet in &sheets {
        assert_eq!(collisions(sheet), [], "{}\n{job}", sheet.title);
        let field = Field::COMMON;
        let upright = sheet.width <= field.width && sheet.height <= field.height;
        let lying = sheet.width <= field.lying_width && sheet.height <= field.lying_height;
        assert!(upright || lying, "{}", sheet.title);
        let paper = Area::of(At::default(), At::new(sheet.width, sheet.height));
        for area in shapes(sheet).filter_map(Shape::area) {
            assert!(paper.holds(&area), "{}: {area:?}\n{job}", sheet.title);
        }
    }
    let mut said: BTreeMap<String, usize> = BTreeMap::new();
    for text in sheets.iter().flat_map(Sheet::texts) {
        let label = text.words.split(':').next().unwrap_or_default();
        *said.entry(label.to_owned()).or_default() += 1;
    }
    let pieces = plan.takeoff.pipe.iter().flat_map(|line| &line.pieces);
    for piece in pieces {
        let label = piece.label();
        assert_eq!(said.get(&label), Some(&1), "piece {label}\n{job}");
    }
    let mut marks: BTreeMap<&str, usize> = BTreeMap::new();
    let all = sheets.iter().flat_map(|sheet| &sheet.marks);
    for id in all.filter_map(|mark| mark.id.as_deref()) {
        *marks.entry(id).or_default() += 1;
    }
    for (id, node) in network.nodes() {
        let plain = matches!(&node.kind, NodeKind::Fitting(fitting) if fitting.is_plain());
        let mark = format!("place-{}", id.index());
        let times = marks.get(&*mark).copied();
        let wanted = if plain { None } else { Some(1) };
        assert_eq!(times, wanted, "{}\n{job}", network.place(id));
    }
    for outlet in &plan.summary.outlets {
        let mark = format!("outlet-{}", outlet.number);
        assert_eq!(marks.get(&*mark), Some(&1), "{mark}\n{job}");
    }
}

fn shapes(sheet: &Sheet) -> impl Iterator<Item = &Shape> {
    sheet.marks.iter().flat_map(|mark| &mark.shapes)
}

#[test]
fn every_job_at_hand_is_drawn_whole_and_can_be_read() {
    let folder = |path: &str| {
        let entries = std::fs::read_dir(root().join(path)).unwrap();
        let mut paths: Vec<_> = entries.map(|entry| entry.unwrap().path()).collect();
        paths.sort();
        paths
    };
    let demo = ["millrace.toml", "annex.toml", "garage.toml"]
        .map(|name| root().join("catalogs-demo").join(name));
    let cases = folder("tests/cases")
        .into_iter()
        .map(|case| case.join("job.toml"));
    let jobs = demo.into_iter().chain(folder("tests/drawing")).chain(cases);
    for job in jobs.filter(|job| job.is_file()) {
        check(&read(job));
    }
}

proptest! {
    #![proptest_config(same_cases(60))]

    #[test]
    fn every_shop_is_drawn_whole_and_can_be_read(shop in shops(1..14), form in forms()) {
        check(&shop.job(form));
    }
}

/// The same job with its tables turned round, all but the legs.
fn reordered(job: &str) -> String {
    let mut tables: Vec<String> = Vec::new();
    for line in job.lines() {
        if line.starts_with('[') || tables.is_empty() {
            tables.push(String::new());
        }
        let table = tables.last_mut().unwrap();
        table.push_str(line);
        table.push('\n');
    }
    let is_leg = |table: &String| table.starts_with("[[leg]]");
    let (legs, mut others): (Vec<String>, Vec<String>) = tables.into_iter().partition(is_leg);
    others.reverse();
    let shown = others.into_iter().chain(legs);
    shown.collect()
}

/// Pieces are numbered in the order of the file; nothing else hangs on it.
#[test]
fn a_reordered_job_has_the_same_drawings() {
    let jobs = [
        "catalogs-demo/millrace.toml",
        "catalogs-demo/annex.toml",
        "tests/drawing/two-levels.toml",
    ];
    for job in jobs {
        let job = read(root().join(job));
        let told = |sheets: &[Sheet]| -> Vec<String> {
            let shapes = sheets.iter().flat_map(shapes);
            let mut told: Vec<String> = shapes
                .map(|shape| match shape {
                    Shape::Text(text) => match text.words.split_once(": ") {
                        Some((_, length)) => length.to_owned(),
                        None => text.words.clone(),
                    },
                    _ => format!("{shape:?}"),
                })
                .collect();
            told.sort();
            told
        };
        let (plain, other) = (drawn(&job).1, drawn(&reordered(&job)).1);
        assert_eq!(told(&plain), told(&other));
    }
}

//! The walk equals the counts that were made by hand.

use crate::support::{read, root};
use bom::library::Library;
use bom::quantity::{Length, PartSize};
use bom::source::Source;
use std::collections::BTreeMap;

/// The rows of the table under a heading of a count.
fn table(count: &str, heading: &str) -> Vec<Vec<String>> {
    count
        .split_once(&format!("\n## {heading}\n"))
        .unwrap_or_else(|| panic!("no table {heading}"))
        .1
        .lines()
        .skip_while(|line| !line.starts_with('|'))
        .take_while(|line| line.starts_with('|'))
        .skip(2)
        .map(|line| {
            line.trim_matches('|')
                .split('|')
                .map(|cell| cell.trim().to_owned())
                .collect()
        })
        .collect()
}

fn inches(text: &str) -> Length {
    Length::parse(&format!("{text}in"), bom::quantity::Units::Metric).unwrap()
}

/// Holds one job's walk against its hand count.
fn equals_hand_count(name: &str) {
    let count = read(root().join("tests/cases").join(name).join("count.md"));
    let job = root().join("catalogs-demo").join(format!("{name}.toml"));
    let library = Library::shipped().unwrap();
    let (plan, findings) = bom::plan(&Source::new(name, read(job)), &library);
    let takeoff = plan
        .unwrap_or_else(|| panic!("{name}: {findings:#?}"))
        .takeoff;

    let by_hand: BTreeMap<(String, String), u64> = table(&count, "Parts")
        .into_iter()
        .map(|row| ((row[0].clone(), row[1].clone()), row[2].parse().unwrap()))
        .collect();
    let walked: BTreeMap<(String, String), u64> = takeoff
        .lines
        .iter()
        .map(|line| {
            let size = match line.key.size {
                PartSize::NONE => "-".to_owned(),
                size => size.to_string(),
            };
            ((line.key.part.clone(), size), line.quantity)
        })
        .collect();
    assert_eq!(walked, by_hand, "{name}: parts");

    let by_hand: Vec<(String, Length, Length, usize)> = table(&count, "Pipe")
        .into_iter()
        .map(|row| {
            (
                row[0].clone(),
                inches(&row[1]),
                inches(&row[2]),
                row[3].parse().unwrap(),
            )
        })
        .collect();
    let walked: Vec<(String, Length, Length, usize)> = takeoff
        .pipe
        .iter()
        .map(|line| {
            (
                line.size.to_string(),
                line.centre_to_centre,
                line.end_to_end,
                line.pieces.len(),
            )
        })
        .collect();
    assert_eq!(walked, by_hand, "{name}: pipe");

    let by_hand: Vec<(String, u64)> = table(&count, "Joints")
        .into_iter()
        .map(|row| (row[0].clone(), row[1].parse().unwrap()))
        .collect();
    let walked: Vec<(String, u64)> = takeoff
        .joints
        .iter()
        .map(|joint| (joint.size.to_string(), joint.count))
        .collect();
    assert_eq!(walked, by_hand, "{name}: joints");
}

#[test]
fn millrace_equals_its_hand_count() {
    equals_hand_count("millrace");
}

#[test]
fn garage_equals_its_hand_count() {
    equals_hand_count("garage");
}

#[test]
fn annex_equals_its_hand_count() {
    equals_hand_count("annex");
}

//! The walk equals the counts that were made by hand.

use crate::support::{read, root};
use bom::Plan;
use bom::library::Library;
use bom::quantity::{Length, PartSize, Units};
use bom::source::Source;
use bom::system::Joint;
use bom::takeoff::Takeoff;
use pricing::catalog::Catalog;
use pricing::money::Currency;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::Path;

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

/// A length of a table of pipe, whose heading names its unit.
fn length(text: &str, unit: &str) -> Length {
    Length::parse(&format!("{text}{unit}"), Units::Metric).unwrap()
}

/// Says where one job's walk differs from its hand count.
fn difference(case: &Path) -> String {
    let name = case.file_name().unwrap().to_string_lossy().into_owned();
    let count = read(case.join("count.md"));
    let own = case.join("job.toml");
    let job = if own.exists() {
        own
    } else {
        root().join("catalogs-demo").join(format!("{name}.toml"))
    };
    let library = Library::shipped().unwrap();
    let (plan, findings) = bom::plan(&Source::new(&name, read(job)), &library);
    let plan = plan.unwrap_or_else(|| panic!("{name}: {findings:#?}"));
    let prices = case.join("catalog.csv");
    let takeoff = if prices.exists() {
        stood_in(&plan, &library, read(prices))
    } else {
        plan.takeoff
    };

    let parts = table(&count, "Parts");
    let by_hand: BTreeMap<String, String> = parts
        .into_iter()
        .map(|row| (format!("{} {}", row[0], row[1]), row[2].clone()))
        .collect();
    let mut walked = BTreeMap::new();
    for line in &takeoff.lines {
        let size = match line.key.size {
            PartSize::NONE => "-".to_owned(),
            size => size.to_string(),
        };
        let part = match line.key.system.as_str() {
            "" => line.key.part.clone(),
            system if system == takeoff.system => line.key.part.clone(),
            system => format!("{} @{system}", line.key.part),
        };
        walked.insert(format!("{part} {size}"), line.quantity.to_string());
    }
    let mut wrong = compare(&name, &by_hand, &walked);

    let unit = if count.contains("centre to centre (mm)") {
        "mm"
    } else {
        "in"
    };
    let by_hand: BTreeMap<String, String> = table(&count, "Pipe")
        .into_iter()
        .map(|row| {
            let (centres, ends) = (length(&row[1], unit), length(&row[2], unit));
            (format!("pipe {}", row[0]), pipe(centres, ends, &row[3]))
        })
        .collect();
    let walked = takeoff
        .pipe
        .iter()
        .map(|line| {
            let pieces = line.pieces.len().to_string();
            let figures = pipe(line.centre_to_centre, line.end_to_end, &pieces);
            let size = match line.key.system.as_str() {
                system if system == takeoff.system => line.size.to_string(),
                system => format!("{system} {}", line.size),
            };
            (format!("pipe {size}"), figures)
        })
        .collect();
    wrong += &compare(&name, &by_hand, &walked);

    let by_hand: BTreeMap<String, String> = table(&count, "Joints")
        .into_iter()
        .map(|row| (format!("joints {}", row[0]), row[1].clone()))
        .collect();
    // Threads of a size are counted together, whatever they are cut in.
    let mut made: BTreeMap<String, u64> = BTreeMap::new();
    for joint in &takeoff.joints {
        let size = match joint.joint {
            Joint::Threaded => joint.size.to_string(),
            _ => format!("{} {}", joint.system, joint.size),
        };
        *made.entry(format!("joints {size}")).or_default() += joint.count;
    }
    let walked = made
        .into_iter()
        .map(|(joint, count)| (joint, count.to_string()))
        .collect();
    wrong + &compare(&name, &by_hand, &walked)
}

/// The count with stand-ins for what a case's own price list lacks.
fn stood_in(plan: &Plan, library: &Library, prices: String) -> Takeoff {
    let usd = Currency::parse("USD").unwrap();
    let source = [Source::new("catalog.csv", prices)];
    let (catalog, findings) = Catalog::read(&source, library.parts(), usd);
    assert_eq!(findings, []);
    pricing::stand_ins::settle(&plan.takeoff, &plan.network, library, &catalog, usd).unwrap()
}

fn pipe(centres: Length, ends: Length, pieces: &str) -> String {
    format!(
        "{} mm centre to centre, {} mm cut, {pieces} pieces",
        centres.to_mm_text(),
        ends.to_mm_text()
    )
}

fn compare(
    name: &str,
    by_hand: &BTreeMap<String, String>,
    walked: &BTreeMap<String, String>,
) -> String {
    let mut wrong = String::new();
    let things: BTreeSet<&String> = by_hand.keys().chain(walked.keys()).collect();
    for thing in things {
        let (hand, walk) = (by_hand.get(thing), walked.get(thing));
        if hand != walk {
            let _ = writeln!(wrong, "{name}: {thing}: by hand {hand:?}, walked {walk:?}");
        }
    }
    wrong
}

#[test]
fn every_walk_equals_its_hand_count() {
    let mut wrong = String::new();
    let mut cases = 0;
    for entry in std::fs::read_dir(root().join("tests/cases")).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            cases += 1;
            wrong += &difference(&path);
        }
    }
    assert!(cases >= 25, "only {cases} counted cases");
    assert!(wrong.is_empty(), "\n{wrong}");
}

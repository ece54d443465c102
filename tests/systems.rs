//! The list of pipe systems, and a seventh that is added by data alone.

use crate::support::{Outcome, files, path, run};
use bom::library::Library;
use dripleg::{Exit, output};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Runs a command with the invented river tube in the library.
fn with_river(words: &[&str]) -> Outcome {
    let river = path("tests/systems/river-tube.toml");
    run(&[words, &["--system-file", &river]].concat())
}

fn json_of(outcome: &Outcome) -> Value {
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    serde_json::from_str(&outcome.out).unwrap()
}

// Counted by hand: the leg of 13-6 is longer than a stick of 4 m and takes the
// coupling; the entry turns once, a drop from the top turns twice, and the one
// at the end of the run three times. Every adapter goes through an insulating
// union, since aluminium meets brass.
#[test]
fn a_system_that_is_data_alone_is_counted() {
    let job = path("tests/systems/river-garage.toml");
    let parts = json_of(&with_river(&["parts", &job, "--format", "json"]));
    let lines = parts["lines"].as_array().unwrap();
    let counted: BTreeMap<String, u64> = lines
        .iter()
        .filter(|line| line["system"] == "river-tube" || line["system"] == "brass")
        .map(|line| {
            let text = |key: &str| line[key].as_str().unwrap();
            let name = format!("{} {} {}", text("system"), text("part"), text("size"));
            (name, line["quantity"].as_u64().unwrap())
        })
        .collect();
    let by_hand = [
        ("brass bushing 1/2in x 1/4in", 2),
        ("brass close-nipple 1/2in", 5),
        ("brass close-nipple 1/4in", 2),
        ("brass close-nipple 3/4in", 1),
        ("brass reducer 3/4in x 1/2in", 1),
        ("river-tube adapter-male 18mm x 1/2in", 3),
        ("river-tube adapter-male 18mm x 1/4in", 2),
        ("river-tube coupling 18mm", 1),
        ("river-tube elbow-90 18mm", 6),
        ("river-tube hanger 18mm", 6),
        ("river-tube tee 18mm", 3),
        ("river-tube wall-bracket 18mm", 2),
    ];
    let by_hand = by_hand.map(|(name, count)| (name.to_owned(), count));
    assert_eq!(counted, BTreeMap::from(by_hand));
}

// Three sticks at 10.00, and 53 parts at 1.00.
#[test]
fn a_system_that_is_data_alone_is_priced() {
    let job = path("tests/systems/river-garage.toml");
    let prices = path("tests/systems/river-prices.csv");
    let shop = ["shop", &job, "--catalog", &prices, "--format", "json"];
    let list = json_of(&with_river(&shop));
    assert_eq!(list["without_spares"], "83.00");
    let without = run(&shop);
    assert_eq!(without.exit, Exit::Unreadable);
    assert!(
        without.err.contains("there is no pipe system `river-tube`"),
        "{}",
        without.err
    );
}

#[test]
fn an_own_system_changes_no_other_jobs_papers() {
    for job in files("catalogs-demo", "toml") {
        let job = job.display().to_string();
        if job.ends_with("rates.toml") || job.ends_with("readings.toml") {
            continue;
        }
        for command in [
            vec!["check", &job],
            vec!["parts", &job, "--format", "json"],
            vec!["cut", &job, "--format", "json"],
        ] {
            let (plain, with) = (run(&command), with_river(&command));
            assert_eq!(plain.exit, with.exit, "{command:?}");
            assert_eq!(plain.out, with.out, "{command:?}");
            assert_eq!(plain.err, with.err, "{command:?}");
        }
    }
    let (job, prices) = (
        path("catalogs-demo/millrace.toml"),
        path("catalogs-demo/iron.csv"),
    );
    let shop = ["shop", &job, "--catalog", &prices];
    assert_eq!(run(&shop).out, with_river(&shop).out);
    for system in Library::shipped().unwrap().systems() {
        let show = ["systems", system.name.as_str()];
        assert_eq!(run(&show).out, with_river(&show).out, "{}", system.name);
    }
}

#[test]
fn the_list_has_every_system_and_every_refusal() {
    let library = Library::shipped().unwrap();
    let names = |list: &Value| -> Vec<String> {
        let items = list.as_array().unwrap().iter();
        items
            .map(|item| item["name"].as_str().unwrap().to_owned())
            .collect()
    };
    let list = json_of(&with_river(&["systems", "--format", "json"]));
    let mut systems: Vec<String> = library
        .systems()
        .iter()
        .map(|one| one.name.clone())
        .collect();
    systems.push("river-tube".to_owned());
    assert_eq!(names(&list["systems"]), systems);
    let refused: Vec<String> = library
        .refused()
        .iter()
        .map(|one| one.name.clone())
        .collect();
    assert_eq!(names(&list["refused"]), refused);

    let text = run(&["systems"]).out;
    for refused in library.refused() {
        assert!(text.contains(&format!("\n{}  ", refused.name)), "{text}");
    }
}

// ASME B36.10M via ASHRAE steel pipe data: 1 in Schedule 40 is 1.315 x 0.133 in,
// its bore 1.049 in.
#[test]
fn one_system_is_shown_with_its_figures_and_sources() {
    let shown = json_of(&run(&["systems", "black-iron", "--format", "json"]));
    let sizes = shown["sizes"].as_array().unwrap();
    let inch = sizes.iter().find(|row| row["size"] == "1in").unwrap();
    assert_eq!(inch["outside_mm"], json!(33.401));
    assert_eq!(inch["bore_mm"], json!(26.645));
    assert_eq!(
        inch["sources"]["pipe"],
        "ASME B36.10M via ASHRAE steel pipe data"
    );
    for table in ["sizes", "bushings", "ratings", "sources"] {
        assert!(!shown[table].as_array().unwrap().is_empty(), "{table}");
    }
    let text = run(&["systems", "black-iron"]).out;
    assert!(
        text.contains("\n1in        1.315  0.133  1.049   1.68   11.5"),
        "{text}"
    );
}

#[test]
fn a_name_that_is_no_system_is_answered() {
    let near = run(&["systems", "black-irn"]);
    assert_eq!(near.exit, Exit::Unreadable);
    assert!(
        near.err.contains("did you mean `black-iron`?"),
        "{}",
        near.err
    );
    let refused = run(&["systems", "sch40 PVC"]);
    assert_eq!(refused.exit, Exit::Done);
    assert!(
        refused
            .out
            .starts_with("PVC: refused for compressed air\n\nWhy\n"),
        "{}",
        refused.out
    );
}

#[test]
fn what_is_shown_of_systems_fits_the_terminal() {
    let library = Library::shipped().unwrap();
    for width in [80, 120, 160] {
        let mut shown = Vec::new();
        output::terminal::systems(&library, width, &mut shown).unwrap();
        for system in library.systems() {
            output::terminal::system(system, width, &mut shown).unwrap();
        }
        for refused in library.refused() {
            output::terminal::refused(refused, width, &mut shown).unwrap();
        }
        for line in String::from_utf8(shown).unwrap().lines() {
            assert!(line.chars().count() <= width, "{width}: {line}");
        }
    }
}

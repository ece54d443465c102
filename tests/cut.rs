//! The cut plan as a user asks for it.

use crate::support::{folder, path, read, root, run};
use dripleg::Exit;
use serde_json::Value;
use std::collections::BTreeSet;

fn file(folder: &str, name: &str, text: &str) -> String {
    let file = self::folder(folder).join(name);
    std::fs::write(&file, text).unwrap();
    file.display().to_string()
}

/// The JSON of a command that is done.
fn json(words: &[&str]) -> Value {
    let outcome = run(words);
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    serde_json::from_str(&outcome.out).unwrap()
}

/// Every stick holds its pieces, with a cut behind each but a flush last one.
fn sticks_hold(sheet: &Value) {
    let kerf = sheet["kerf_mm"].as_f64().unwrap();
    for stick in sheet["sticks"].as_array().unwrap() {
        let pieces: Vec<f64> = stick["pieces_mm"]
            .as_array()
            .unwrap()
            .iter()
            .map(|piece| piece.as_f64().unwrap())
            .collect();
        let cut: f64 = pieces.iter().map(|piece| piece + kerf).sum();
        let left = (stick["stock_mm"].as_f64().unwrap() - cut).max(0.0);
        let said = stick["waste_mm"].as_f64().unwrap();
        assert!((left - said).abs() < 0.002, "{stick}: {left}");
    }
}

#[test]
fn a_jobs_pieces_are_each_cut_once() {
    let job = path("catalogs-demo/millrace.toml");
    let parts = json(&["parts", &job, "--format", "json"]);
    let wanted: BTreeSet<String> = parts["pipe"][0]["pieces"]
        .as_array()
        .unwrap()
        .iter()
        .map(|piece| piece["label"].to_string())
        .collect();
    let catalog = path("catalogs-demo/iron.csv");
    for words in [
        vec!["cut", &job, "--format", "json"],
        vec!["cut", &job, "--format", "json", "--catalog", &catalog],
    ] {
        let sheet = json(&words);
        sticks_hold(&sheet);
        let labels: Vec<String> = sheet["sticks"]
            .as_array()
            .unwrap()
            .iter()
            .flat_map(|stick| stick["labels"].as_array().unwrap())
            .map(ToString::to_string)
            .collect();
        assert_eq!(labels.len(), wanted.len());
        assert_eq!(labels.into_iter().collect::<BTreeSet<_>>(), wanted);
        assert_eq!(sheet["proven"], true);
    }
}

/// The annex with its second leg paced, in a folder of a test's own.
fn paced(folder: &str) -> String {
    let annex = read(root().join("catalogs-demo/annex.toml"));
    let job = annex.replacen("\"north 22-0\"", "\"north ~22-0\"", 1);
    assert_ne!(job, annex);
    file(folder, "paced.toml", &job)
}

#[test]
fn the_quote_buys_the_sticks_that_the_cut_plan_cuts() {
    bought_as_cut(&path("catalogs-demo/annex.toml"));
    bought_as_cut(&paced("cut-paced-bought"));
}

#[test]
fn what_is_paced_is_ordered_with_some_more_and_cut_last() {
    let job = paced("cut-paced");
    let catalog = path("catalogs-demo/iron.csv");
    let sheet = json(&["cut", &job, "--format", "json", "--catalog", &catalog]);
    let sticks = sheet["sticks"].as_array().unwrap().iter();
    let spare = sticks.flat_map(|stick| {
        let labels = stick["labels"].as_array().unwrap().iter();
        let pieces = stick["pieces_mm"].as_array().unwrap();
        let pieces = pieces.iter().map(|piece| piece.as_f64().unwrap());
        let both = labels.map(|label| label.as_str().unwrap()).zip(pieces);
        both.filter(|(label, _)| label.starts_with("spare"))
            .map(|(_, piece)| piece)
    });
    // A tenth of 22 ft, in millimetres.
    assert_eq!(spare.collect::<Vec<f64>>(), [670.56]);
    let parts = run(&["parts", &job]);
    assert!(
        parts.out.contains("More pipe is ordered than is counted"),
        "{}",
        parts.out
    );
}

fn bought_as_cut(job: &str) {
    let catalog = path("catalogs-demo/iron.csv");
    let sheet = json(&["cut", job, "--format", "json", "--catalog", &catalog]);
    let rates = path("catalogs-demo/rates.toml");
    let words = [
        "quote",
        job,
        "--catalog",
        &catalog,
        "--rates",
        &rates,
        "--format",
        "json",
    ];
    let quote = json(&words);
    let bought: u64 = quote["sections"][0]["lines"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|line| line["unit"].as_str().unwrap().starts_with("stick"))
        .map(|line| line["quantity"].as_str().unwrap().parse::<u64>().unwrap())
        .sum();
    let cut: u64 = sheet["sizes"]
        .as_array()
        .unwrap()
        .iter()
        .map(|size| size["sticks"].as_u64().unwrap())
        .sum();
    assert_eq!(bought, cut);
}

#[test]
fn own_offcuts_are_used_first() {
    let job = path("catalogs-demo/garage.toml");
    let before = json(&["cut", &job, "--format", "json"]);
    let offcuts = file(
        "offcuts",
        "offcuts.csv",
        "size,length,quantity\n1/2in,21ft,1\n",
    );
    let after = json(&["cut", &job, "--format", "json", "--offcuts", &offcuts]);
    sticks_hold(&after);
    let bought = |sheet: &Value| sheet["sizes"][0]["sticks"].as_u64().unwrap();
    assert_eq!(bought(&after) + 1, bought(&before));
    assert_eq!(after["sticks"][0]["offcut"], true);
}

/// Common cutting rule: sum of piece + kerf is at most stock + kerf.
#[test]
fn a_list_is_cut_by_the_kerf_rule() {
    let stock = file("list", "stock.csv", "length,price\n6000mm,1.00\n");
    let cut = |pieces: &str, kerf: &str| {
        let pieces = file("list-pieces", "pieces.csv", pieces);
        json(&[
            "cut", "--pieces", &pieces, "--stock", &stock, "--kerf", kerf, "--format", "json",
        ])
    };
    let sheet = cut("length,quantity,label\n2000mm,3,rail\n", "2mm");
    assert_eq!(sheet["sizes"][0]["sticks"], 2);
    let sheet = cut("length,quantity\n1998mm,3\n", "3mm");
    assert_eq!(sheet["sizes"][0]["sticks"], 1);
    assert_eq!(sheet["sizes"][0]["bound_cost"], "1.00");
    sticks_hold(&sheet);
}

#[test]
fn what_cannot_be_cut_is_said() {
    let stock = file("cannot", "stock.csv", "length,price,quantity\n2m,1.00,1\n");
    let pieces = file("cannot-pieces", "pieces.csv", "length,quantity\n3m,1\n");
    let outcome = run(&["cut", "--pieces", &pieces, "--stock", &stock]);
    assert_eq!(outcome.exit, Exit::Stopped);
    assert!(
        outcome.err.contains("longer than the longest stick"),
        "{}",
        outcome.err
    );
    let pieces = file("cannot-pieces", "pieces.csv", "length,quantity\n1.5m,2\n");
    let outcome = run(&["cut", "--pieces", &pieces, "--stock", &stock]);
    assert_eq!(outcome.exit, Exit::Stopped);
    assert!(outcome.err.contains("too few"), "{}", outcome.err);
    let pieces = file("cannot-pieces", "pieces.csv", "length,quantity\n1500,2\n");
    let outcome = run(&["cut", "--pieces", &pieces, "--stock", &stock]);
    assert_eq!(outcome.exit, Exit::Unreadable);
    let pieces = file(
        "cannot-pieces",
        "pieces.csv",
        "length,quantity\n1ft,1000000000000\n",
    );
    let outcome = run(&["cut", "--pieces", &pieces, "--stock", &stock]);
    assert_eq!(outcome.exit, Exit::Unreadable);
    assert!(
        outcome.err.contains("a whole number from 1 to 100000"),
        "{}",
        outcome.err
    );
    assert_eq!(run(&["cut"]).exit, Exit::Unreadable);
}

#[test]
fn the_picture_shows_every_stick() {
    let outcome = run(&["cut", &path("catalogs-demo/garage.toml")]);
    let said = "1/2in: 2 sticks to buy; no plan takes fewer than 2 (proven the best).";
    assert!(
        outcome.out.lines().any(|line| line == said),
        "{}",
        outcome.out
    );
    let bars = outcome
        .out
        .lines()
        .filter(|line| line.trim_start().starts_with('|'))
        .count();
    assert_eq!(bars, 2, "{}", outcome.out);
}

/// Each system is cut by its own kerf, and an offcut is used once: in the
/// system that it names, else in the first section of its size.
#[test]
fn two_systems_share_no_offcut_and_no_kerf() {
    let job = path("tests/cases/iron-and-copper/job.toml");
    let offcuts = |rows: &str| {
        let offcuts = file("two-systems", "offcuts.csv", rows);
        json(&["cut", &job, "--offcuts", &offcuts, "--format", "json"])
    };
    let sheet = offcuts("size,length\n3/4in,19-0\n");
    assert_eq!(sheet["kerf_mm"], Value::Null);
    let kerfs: Vec<(&str, f64)> = sheet["sizes"]
        .as_array()
        .unwrap()
        .iter()
        .map(|size| {
            (
                size["system"].as_str().unwrap(),
                size["kerf_mm"].as_f64().unwrap(),
            )
        })
        .collect();
    assert!(kerfs.contains(&("black-iron", 3.175)), "{kerfs:?}");
    assert!(kerfs.contains(&("copper-l-soldered", 0.0)), "{kerfs:?}");
    let of_19_ft = |sheet: &Value| -> Vec<String> {
        let sticks = sheet["sticks"].as_array().unwrap().iter();
        let short = sticks.filter(|stick| stick["stock_mm"].as_f64() == Some(5791.2));
        short
            .map(|stick| stick["system"].as_str().unwrap().to_owned())
            .collect()
    };
    assert_eq!(of_19_ft(&sheet), ["black-iron"]);
    let named = offcuts("size,length,system\n3/4in,19-0,copper-l-soldered\n");
    assert_eq!(of_19_ft(&named), ["copper-l-soldered"]);
    let mistyped = "size,length,system\n3/4in,19-0,copper-l-solderd\n";
    let offcuts = file("two-systems", "offcuts.csv", mistyped);
    let outcome = run(&["cut", &job, "--offcuts", &offcuts]);
    assert_eq!(outcome.exit, Exit::Unreadable);
    let near = "did you mean `copper-l-soldered`?";
    assert!(outcome.err.contains(near), "{}", outcome.err);
}

/// Pipe of one size in two metals is told apart, over its sticks and in the
/// list; a job in one metal does not repeat it.
#[test]
fn a_size_in_two_systems_names_its_system() {
    let outcome = run(&["cut", &path("tests/cases/iron-and-copper/job.toml")]);
    let said = outcome.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in [
        "The saw takes 1/8\" at each cut of black-iron; a wheel cutter takes nothing of \
         copper-l-soldered; a last piece may finish flush.",
        " black-iron 3/4in: 1 stick to buy",
        " copper-l-soldered 3/4in: 1 stick to buy",
        " 4 copper-l-soldered 3/4in leg 1, at tap",
    ] {
        assert!(said.contains(part), "{part}\n{}", outcome.out);
    }
    let outcome = run(&["cut", &path("catalogs-demo/garage.toml")]);
    assert!(
        outcome.out.contains("\n1/2in: 2 sticks to buy"),
        "{}",
        outcome.out
    );
}

/// Every piece on a stick is found in the list of straights, stubs too.
#[test]
fn every_piece_of_tube_is_in_the_list() {
    let job = path("tests/cases/aluminium/job.toml");
    let sheet = json(&["cut", &job, "--format", "json"]);
    let straights = sheet["straights"].as_array().unwrap();
    let listed: usize = straights
        .iter()
        .map(|straight| straight["pieces_mm"].as_array().unwrap().len())
        .sum();
    let sticks = sheet["sticks"].as_array().unwrap().iter();
    let cut: usize = sticks
        .map(|stick| stick["pieces_mm"].as_array().unwrap().len())
        .sum();
    assert_eq!(listed, cut);
    let numbers = straights
        .iter()
        .map(|straight| straight["number"].as_u64().unwrap());
    assert!(numbers.eq(1..=straights.len() as u64));
}

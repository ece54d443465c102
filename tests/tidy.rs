//! The house rules as tests.

use crate::support::{files, read, root};
use std::path::{Path, PathBuf};

/// Every Rust file below a folder of the workspace.
fn sources(folder: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![root().join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

fn name(path: &Path) -> String {
    path.strip_prefix(root())
        .unwrap_or(path)
        .display()
        .to_string()
}

#[test]
fn main_stays_small() {
    let lines = read(root().join("cli/src/main.rs")).lines().count();
    assert!(
        lines <= 40,
        "cli/src/main.rs has {lines} lines, and 40 are its limit"
    );
}

#[test]
fn renderers_compute_no_money() {
    // Renderers read finished models: a sum or a product there would be a
    // second place that rounds.
    for path in sources("cli/src/output") {
        for word in [
            "Money::sum",
            ".plus(",
            ".minus(",
            ".times(",
            "Money::new",
            "rust_decimal",
        ] {
            let text = read(&path);
            let shipped = text.split("#[cfg(test)]").next().unwrap_or_default();
            assert!(
                !shipped.contains(word) || name(&path).contains("fixture"),
                "{} uses {word}: let the model carry the figure",
                name(&path)
            );
        }
    }
}

#[test]
fn rounding_stands_in_one_place() {
    for folder in ["pricing/src", "cli/src"] {
        for path in sources(folder) {
            let inside_money = name(&path).starts_with("pricing/src/money");
            assert!(
                inside_money || !read(&path).contains("round_dp"),
                "{} rounds: only pricing/src/money does",
                name(&path)
            );
        }
    }
}

#[test]
fn every_rule_fires_in_some_bad_file() {
    let folders = [
        "bad",
        "bad-systems",
        "bad-tools",
        "bad-sheets",
        "bad-readings",
    ];
    let expected: String = folders
        .into_iter()
        .map(|folder| format!("tests/{folder}/expected"))
        .flat_map(|folder| files(&folder, "txt"))
        .map(read)
        .collect();
    // The shipped bushings and ready lengths reach everywhere, but a user's own
    // may not; and no
    // job makes a proof fail (takeoff/proof.rs breaks counts to show that it can).
    let elsewhere = ["no-step-between-sizes", "no-ready-lengths", "proof-failed"];
    for path in sources("bom/src") {
        let text = read(&path);
        for call in [
            "Finding::unreadable(",
            "Finding::error(",
            "Finding::warning(",
        ] {
            for after in text.split(call).skip(1) {
                let Some(rule) = after
                    .trim_start()
                    .strip_prefix('"')
                    .and_then(|rest| rest.split('"').next())
                else {
                    continue;
                };
                assert!(
                    expected.contains(&format!("[{rule}]")) || elsewhere.contains(&rule),
                    "no file in tests/bad shows the rule {rule} of {}",
                    name(&path)
                );
            }
        }
    }
}

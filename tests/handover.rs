//! The sheets that end a job, as commands write them.

use crate::support::{folder, matches_file, path, root, run};
use dripleg::Exit;
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// Small, on rings, on two floors, with several machines, bad, metric, and many outlets.
const JOBS: [&str; 9] = [
    "catalogs-demo/millrace.toml",
    "tests/drawing/ring-of-twenty.toml",
    "catalogs-demo/garage.toml",
    "catalogs-demo/annex.toml",
    "tests/drawing/two-levels.toml",
    "tests/practice/bad-shop.toml",
    "tests/cases/two-compressors/job.toml",
    "tests/cases/metric/job.toml",
    "tests/drawing/hall-of-a-hundred.toml",
];

fn demo() -> String {
    path("catalogs-demo/millrace.toml")
}

#[test]
fn all_sheets_are_printed_or_those_that_are_named() {
    let all = run(&["handover", &demo()]);
    assert_eq!(all.exit, Exit::Done, "{}", all.err);
    let titles = [
        "BEFORE PRESSURE",
        "TIGHTNESS",
        "THE MACHINE",
        "UNDER FLOW",
        "UPKEEP CARD",
        "AS BUILT",
    ];
    let places = titles.map(|title| all.out.find(title).unwrap());
    assert!(places.is_sorted());
    let one = run(&["handover", &demo(), "--sheet", "upkeep,flow"]);
    assert!(one.out.starts_with("UNDER FLOW"), "{}", one.out);
    assert!(!one.out.contains("TIGHTNESS"));
}

#[test]
fn a_rule_is_taken_by_name_and_a_slip_in_it_is_told() {
    let ruled = [
        "handover",
        &demo(),
        "--rule",
        "110-percent",
        "--sheet",
        "before",
    ];
    let said = run(&[&ruled[..], &["--format", "json"]].concat());
    let said: Value = serde_json::from_str(&said.out).unwrap();
    // 200 psi of the relief valve, 1.1 times, and a tenth above it: kPa.
    assert_eq!(said["design_kpa"], 1378.951);
    assert_eq!(said["test_kpa"], 1516.847);
    assert_eq!(said["relief_at_most_kpa"], 1668.531);
    assert_eq!(said["first_step_kpa"], 172.369);
    let slip = run(&["handover", &demo(), "--rule", "110-per-cent"]);
    assert_eq!(slip.exit, Exit::Unreadable);
    assert!(
        slip.err.contains("did you mean `110-percent`?"),
        "{}",
        slip.err
    );
}

#[test]
fn the_papers_hold_every_sheet_the_card_on_one_page() {
    let folder = folder("handover");
    for paper in ["a4", "letter"] {
        let pages = |job: &str, more: &[&str]| {
            let out = folder.join("handover.pdf").display().to_string();
            let dated = ["--date", "2026-11-02", "--paper", paper, "--out", &out];
            let written = run(&[&["handover", job], more, &dated].concat());
            assert_eq!(written.exit, Exit::Done, "{}", written.err);
            let bytes = std::fs::read(folder.join("handover.pdf")).unwrap();
            lopdf::Document::load_mem(&bytes).unwrap().get_pages().len()
        };
        for job in JOBS {
            let job = path(job);
            assert_eq!(pages(&job, &["--sheet", "upkeep"]), 1, "{job} on {paper}");
        }
        for job in &JOBS[..2] {
            assert!(
                (6..=8).contains(&pages(&path(job), &[])),
                "{job} on {paper}"
            );
        }
    }
}

/// What stands on a sheet, in any form: its words without what breaks lines and rules
/// blanks.
fn words(text: &str) -> Vec<String> {
    let bare = |word: &str| word.trim_matches(['_', '-', ':', '\u{2013}']).to_owned();
    let words = text.split_whitespace().map(bare);
    words.filter(|word| !word.is_empty()).collect()
}

#[test]
fn the_papers_say_what_the_sheets_say() {
    let folder = folder("handover-words");
    let out = folder.join("handover.pdf").display().to_string();
    for job in JOBS.iter().step_by(2) {
        let asked = ["handover", &path(job), "--rule", "110-percent"];
        let said = run(&[&asked[..], &["--format", "json"]].concat());
        let written = run(&[&asked[..], &["--date", "2026-11-02", "--out", &out]].concat());
        assert_eq!(written.exit, Exit::Done, "{}", written.err);
        let file = lopdf::Document::load(&out).unwrap();
        let pages: Vec<u32> = file.get_pages().into_keys().collect();
        let printed: BTreeSet<String> = words(&file.extract_text(&pages).unwrap())
            .into_iter()
            .collect();
        let said: Value = serde_json::from_str(&said.out).unwrap();
        let mut told = Vec::new();
        texts(&said["sheets"], &mut told);
        for text in told {
            for word in words(&text) {
                assert!(printed.contains(&word), "`{word}` of `{text}` in {job}");
            }
        }
    }
}

/// All texts of a value, but for the names that a program goes by.
fn texts(value: &Value, all: &mut Vec<String>) {
    match value {
        Value::String(text) => all.push(text.clone()),
        Value::Array(values) => values.iter().for_each(|value| texts(value, all)),
        // Of a table without rows no heads are printed.
        Value::Object(fields) if fields.get("rows").is_some_and(|rows| rows == &json!([])) => {}
        Value::Object(fields) => {
            let fields = fields
                .iter()
                .filter(|(name, _)| !["sheet", "log"].contains(&name.as_str()));
            fields.for_each(|(_, value)| texts(value, all));
        }
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

#[test]
fn the_sheets_say_what_a_person_has_read_in_them() {
    let mut wrong = String::new();
    for (name, job) in [
        ("millrace", "catalogs-demo/millrace.toml"),
        ("ring-of-twenty", "tests/drawing/ring-of-twenty.toml"),
        ("bad-shop", "tests/practice/bad-shop.toml"),
    ] {
        let rule = ["--rule", "110-percent", "--energy-price", "0.15"];
        let said = run(&[&["handover", &path(job)], &rule[..]].concat());
        assert_eq!(said.exit, Exit::Done, "{}", said.err);
        let expected = root().join(format!("tests/handover/{name}.txt"));
        matches_file(&expected, &said.out, &mut wrong);
    }
    assert!(wrong.is_empty(), "{wrong}");
}

//! Readings on site, worked out on the sheets of a handover.

use crate::support::{folder, matches_file, path, read, root, run};
use dripleg::Exit;
use serde_json::Value;

fn demo() -> String {
    path("catalogs-demo/millrace.toml")
}

fn demo_with(more: &[&str]) -> crate::support::Outcome {
    let readings = path("catalogs-demo/millrace.readings.toml");
    let words = ["handover", &demo(), "--readings", &readings];
    let said = run(&[&words[..], &["--rule", "110-percent"], more].concat());
    assert_eq!(said.exit, Exit::Done, "{}", said.err);
    said
}

#[test]
fn the_demo_s_record_says_what_a_person_has_read_in_it() {
    let sheets = ["--sheet", "before,tightness,machine,flow"];
    let said = demo_with(&[&sheets[..], &["--energy-price", "0.15"]].concat());
    assert!(said.err.is_empty(), "{}", said.err);
    // By hand: 80 gal and 6.058 gal are 11.504 cubic feet, and 1 % of 24 cfm takes 175 to 140
    // psi off them in 11.504 x 35 / 14.696 / 0.24 = 114.16 min.
    assert!(said.out.contains("1 h 54 min 10 s"), "{}", said.out);
    let mut wrong = String::new();
    let expected = root().join("tests/handover/millrace.readings.txt");
    matches_file(&expected, &said.out, &mut wrong);
    assert!(wrong.is_empty(), "{wrong}");
}

// By hand: 80 gal from nothing to 175 psi in 352 s, 302.8329 l x 1206.5825 / 101.325 / 352;
// 24 cfm are 11.3267 l/s.
#[test]
fn programs_get_the_results_as_figures() {
    let said = demo_with(&["--format", "json"]);
    let said: Value = serde_json::from_str(&said.out).unwrap();
    let readings = &said["readings"];
    let machine = &readings["machines"][0];
    assert_eq!(machine["delivers_l_s"], 10.244738383);
    assert_eq!(machine["plate_l_s"], 11.326738637);
    assert_eq!(machine["against_plate"], "below");
    assert_eq!(readings["tightness"][0]["gauge"], "falls");
    assert_eq!(readings["tightness"][0]["seconds"], 50400.0);
    assert_eq!(readings["tightness"][0]["begin_pipe_c"], 20.0);
    assert_eq!(readings["tightness"][1]["gauge"], "stands");
    assert_eq!(readings["flow"][0]["against_expected"], "alike");
    assert_eq!(readings["flow"][1]["against_expected"], "lower");
    assert_eq!(readings["test"]["agreed_kpa"], 1516.847);
    assert_eq!(readings["test"]["short_by_kpa"], Value::Null);
    let blanks = said["sheets"][0]["parts"].as_array().unwrap();
    let blanks = blanks.iter().find(|part| part["filled_in"].is_array());
    assert_eq!(blanks.unwrap()["filled_in"][3]["label"], "Reached");
    assert_eq!(blanks.unwrap()["to_fill_in"][0], "Signature, date");
    let without = run(&["handover", &demo(), "--format", "json"]);
    let without: Value = serde_json::from_str(&without.out).unwrap();
    assert_eq!(without["readings"], Value::Null);
}

#[test]
fn an_empty_record_is_written_once_and_can_be_read() {
    let folder = folder("readings");
    let out = folder.join("record.toml").display().to_string();
    let blank = ["handover", &demo(), "--blank-readings", "--out", &out];
    let written = run(&blank);
    assert_eq!(written.exit, Exit::Done, "{}", written.err);
    let text = read(&out);
    assert_eq!(
        text,
        run(&["handover", &demo(), "--blank-readings"]).out,
        "the terminal gets the same"
    );
    // A filled-in record is a person's work.
    let again = run(&blank);
    assert_eq!(again.exit, Exit::Unreadable);
    assert!(again.err.contains("is there already"), "{}", again.err);
    assert_eq!(run(&[&blank[..], &["--replace"]].concat()).exit, Exit::Done);
    let sheets = ["--sheet", "tightness"];
    let with = run(&[&["handover", &demo(), "--readings", &out], &sheets[..]].concat());
    assert_eq!(with.exit, Exit::Done, "{}", with.err);
    assert!(with.err.contains("nothing was read"), "{}", with.err);
    let without = run(&[&["handover", &demo()], &sheets[..]].concat());
    assert_eq!(with.out, without.out);
}

#[test]
fn a_record_and_an_empty_one_are_not_asked_for_together() {
    let both = run(&["handover", &demo(), "--blank-readings", "--readings", "x"]);
    assert_eq!(both.exit, Exit::Unreadable);
    let none = run(&["handover", &demo(), "--readings", "no-such-record.toml"]);
    assert_eq!(none.exit, Exit::Unreadable);
    assert!(none.err.contains("no-such-record.toml"), "{}", none.err);
}

#[test]
fn a_record_on_paper_keeps_its_pages() {
    let folder = folder("readings-paper");
    for paper in ["a4", "letter"] {
        let file = folder.join(format!("{paper}.pdf"));
        let out = file.display().to_string();
        demo_with(&["--paper", paper, "--out", &out]);
        let bytes = std::fs::read(&file).unwrap();
        let pages = lopdf::Document::load_mem(&bytes).unwrap().get_pages().len();
        assert!((7..=9).contains(&pages), "{pages} on {paper}");
    }
}

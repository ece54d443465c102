//! `readback` from outside: said back, written on, typed in again.

use crate::support::{path, read, root, run};
use dripleg::Exit;

/// A job beside its readings, in a folder of its own.
fn with_readings(name: &str, readings: &str) -> String {
    let folder = std::env::temp_dir().join(format!("dripleg-readback-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join(name);
    let job = read(root().join("catalogs-demo/millrace.toml"));
    std::fs::write(&file, format!("{job}\n{readings}")).unwrap();
    file.display().to_string()
}

#[test]
fn a_job_is_said_back_before_anything_is_bought() {
    let said = run(&["readback", &path("catalogs-demo/millrace.toml")]);
    assert_eq!(said.exit, Exit::Done);
    for words in [
        "Go on east 48'-0\" along the north wall: at 10'-0\" a drop for bench",
        "There you are back at entry: the ring closes.",
        "   T════a",
        "D1  drain low",
        "from bench to router",
    ] {
        assert!(said.out.contains(words), "{words}\n{}", said.out);
    }
    // What it comes to is for whoever compares, not for whoever measures.
    assert!(!said.out.contains("20'-6\""), "{}", said.out);
    assert!(said.out.lines().all(|line| line.chars().count() <= 100));
}

#[test]
fn a_walk_that_does_not_close_is_said_back_too() {
    let bad = path("tests/bad/330-check-misfit.toml");
    let said = run(&["readback", &bad]);
    assert_eq!(said.exit, Exit::Unreadable);
    assert!(said.err.contains("[check-misfit]"), "{}", said.err);
    assert!(said.out.contains("along the west wall"), "{}", said.out);
    let said = run(&["readback", &path("tests/bad/05-empty.toml")]);
    assert_eq!((said.exit, said.out.as_str()), (Exit::Unreadable, ""));
}

#[test]
fn the_card_is_typed_back() {
    let demo = path("catalogs-demo/millrace.toml");
    let card = run(&["readback", &demo, "--format", "toml"]).out;
    let json = run(&["readback", &demo, "--format", "json"]).out;
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let lines = json["card"].as_array().unwrap();
    assert_eq!(card.matches("[[check]]").count(), lines.len());
    let open = with_readings("open.toml", &card);
    let plain = run(&["check", &demo]);
    let outcome = run(&["check", &open]);
    assert_eq!(outcome.exit, plain.exit);
    // Filled in with what the walk makes of it, and with one reading 1 ft off.
    let filled = |wrong: usize| {
        let mut text = String::new();
        let mut readings = lines.iter().enumerate().map(|(number, line)| {
            let off = if number == wrong { 304.8 } else { 0.0 };
            format!("{}mm", line["expected_mm"].as_f64().unwrap() + off)
        });
        for part in card.split_inclusive("\"?\"") {
            match part.strip_suffix("\"?\"") {
                Some(before) => {
                    let reading = readings.next().unwrap();
                    text.push_str(&format!("{before}\"{reading}\""));
                }
                None => text.push_str(part),
            }
        }
        text
    };
    let right = run(&["check", &with_readings("right.toml", &filled(lines.len()))]);
    assert_eq!(right.exit, plain.exit, "{}", right.out);
    let wrong = run(&["check", &with_readings("wrong.toml", &filled(2))]);
    assert_eq!(wrong.exit, Exit::Unreadable);
    assert_eq!(wrong.out.matches("[check-misfit]").count(), 1);
}

//! `draw` as a user runs it.

use crate::support::{folder, path, read, run};
use dripleg::Exit;

#[test]
fn sheets_are_listed_or_written_to_a_file_or_a_folder() {
    let folder = folder("drawn");
    let job = path("catalogs-demo/garage.toml");
    let draw = |words: &[&str]| {
        let outcome = run(&[&["draw", &job], words].concat());
        assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
        outcome
    };
    let listed = draw(&["--sheet", "plan"]);
    assert!(listed.out.contains("plan   Plan"), "{}", listed.out);
    let file = folder.join("one.svg").display().to_string();
    draw(&["--sheet", "plan", "--out", &file]);
    let made = folder.join("made/").display().to_string();
    draw(&["--sheet", "plan", "--out", &made]);
    assert_eq!(read(&file), read(folder.join("made/plan.svg")));
    let signs = draw(&["--sheet", "signs"]);
    assert!(signs.out.contains("ball valve"), "{}", signs.out);
}

#[test]
fn a_set_has_the_cut_sheet_and_a_comparison_where_it_is_asked_for() {
    let job = path("catalogs-demo/millrace.toml");
    let priced = |words: &[&str]| {
        let [iron, copper, brass] =
            ["iron", "copper", "brass"].map(|name| path(&format!("catalogs-demo/{name}.csv")));
        let rates = path("catalogs-demo/rates.toml");
        let lists = [
            "--catalog",
            &iron,
            "--catalog",
            &copper,
            "--catalog",
            &brass,
        ];
        let prices = [&lists[..], &["--rates", &rates]].concat();
        run(&[&["draw", &job], &prices[..], words].concat())
    };
    let alone = run(&["draw", &job]);
    assert_eq!(alone.exit, Exit::Done, "{}", alone.err);
    assert!(alone.out.contains("Cut sheet") && !alone.out.contains("compare"));
    assert!(
        alone.err.contains("left out: `compare` needs --systems"),
        "{}",
        alone.err
    );
    let refused = priced(&["--sheet", "compare"]);
    assert_eq!(refused.exit, Exit::Unreadable);
    assert!(
        refused.err.contains("`compare` needs --systems"),
        "{}",
        refused.err
    );
    let systems = ["--systems", "black-iron,copper-l-soldered"];
    let compared = priced(&[&["--sheet", "compare"], &systems[..]].concat());
    assert_eq!(compared.exit, Exit::Done, "{}", compared.err);
    assert_eq!(
        compared
            .out
            .lines()
            .nth(2)
            .unwrap()
            .split_whitespace()
            .next(),
        Some("compare")
    );
}

#[test]
fn what_cannot_be_drawn_is_said() {
    let folder = folder("not-drawn");
    let job = path("catalogs-demo/garage.toml");
    let says = |words: &[&str], said: &str, exit: Exit| {
        let outcome = run(&[&["draw", &job], words].concat());
        assert_eq!(outcome.exit, exit, "{}", outcome.err);
        assert!(outcome.err.contains(said), "{}", outcome.err);
    };
    says(&["--sheet", "plam"], "possible values", Exit::Unreadable);
    let file = folder.join("two.svg").display().to_string();
    let said = "an SVG holds one sheet and these are";
    says(
        &["--sheet", "plan,signs", "--out", &file],
        said,
        Exit::Unreadable,
    );
    let file = folder.join("signs.png").display().to_string();
    let said = "a file ending in `.png` cannot be written here";
    says(
        &["--sheet", "signs", "--out", &file],
        said,
        Exit::Unreadable,
    );
    let nowhere = folder.join("no/such/").display().to_string();
    says(
        &["--sheet", "signs", "--out", &nowhere],
        "could not be made",
        Exit::Outside,
    );
    let taken = folder.join("taken");
    std::fs::write(&taken, "").unwrap();
    let taken = taken.display().to_string();
    says(
        &["--sheet", "signs", "--out", &taken],
        "could not be made",
        Exit::Outside,
    );
}

//! `draw` as a user runs it.

use crate::support::{folder, path, read, run};
use dripleg::Exit;

#[test]
fn sheets_are_drawn_as_a_file_a_folder_or_a_list() {
    let folder = folder("sheets");
    let job = path("catalogs-demo/garage.toml");
    let listed = run(&["draw", &job, "--sheet", "signs"]);
    assert_eq!(listed.exit, Exit::Done, "{}", listed.err);
    assert!(listed.out.contains("ball valve"), "{}", listed.out);
    let file = folder.join("plan.svg").display().to_string();
    let drawn = run(&["draw", &job, "--sheet", "plan", "--out", &file]);
    assert_eq!(drawn.exit, Exit::Done, "{}", drawn.err);
    let made = folder.join("made/").display().to_string();
    let drawn = run(&["draw", &job, "--sheet", "plan", "--out", &made]);
    assert_eq!(drawn.exit, Exit::Done, "{}", drawn.err);
    assert_eq!(read(&file), read(folder.join("made/plan.svg")));
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

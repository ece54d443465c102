//! The first job file: by questions, or from a ready-made start.

use crate::support::{Outcome, folder, path, read, root, run, run_on};
use dripleg::{Exit, Io};
use std::io::BufRead;
use std::path::Path;

/// An owner who knows little: a room, a compressor, two tools.
const OWNER: &str = "\n\n24-0 x 20-0\nleft 3-0\n\n5 hp, 60 gal\n\ndoor track\nahead\n\nbench 8-0\nbay ?\n\n\
                     \nimpact wrench\n?\n1\n\n\n\n\nhome\n";

fn new(job: &Path, input: &str, more: &[&str]) -> Outcome {
    let job = job.display().to_string();
    let words: Vec<&str> = ["new", &job]
        .into_iter()
        .chain(more.iter().copied())
        .collect();
    let mut outcome = run_on(80, input, &words);
    // The folder of the test is none of the user's.
    let folder = format!("{}/", Path::new(&job).parent().unwrap().display());
    let folder = folder.replace(&format!("{}/", root().display()), "");
    outcome.out = outcome.out.replace(&folder, "");
    outcome.err = outcome.err.replace(&folder, "");
    outcome
}

#[test]
fn an_interview_writes_a_job_and_prints_its_first_sheet() {
    let job = folder("new-owner").join("garage.toml");
    let outcome = new(&job, OWNER, &[]);
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    assert_eq!(outcome.err, "wrote garage.toml\n");
    let (_, sheet) = outcome.out.split_once("First rough sheet").unwrap();
    let expected = root().join("tests/new/owner.txt");
    let mut wrong = String::new();
    crate::support::matches_file(&expected, sheet, &mut wrong);
    assert!(wrong.is_empty(), "{wrong}");
    assert!((24..=40).contains(&sheet.lines().count()));
    // What was asked for by name works as it is typed.
    for command in ["check", "parts", "air", "water"] {
        let again = run(&[command, &job.display().to_string()]);
        assert_eq!(again.exit, Exit::Done, "{command}: {}", again.err);
    }
    let text = read(&job);
    assert!(text.contains("# To confirm: how the pipe passes what is in its way: door track."));
    assert!(text.contains("threading = \"bought\""));
    assert!(!job.with_file_name("garage.toml.asking").exists());
}

#[test]
fn the_end_of_the_input_takes_the_rest_as_usual() {
    let folder = folder("new-end");
    for (name, input) in [
        ("a.toml", ""),
        ("b.toml", "metric\nnorth"),
        ("c.toml", "\n\n60-0 x 40-0\n"),
    ] {
        let outcome = new(&folder.join(name), input, &[]);
        assert_eq!(outcome.exit, Exit::Done, "{name}: {}", outcome.err);
        assert!(outcome.out.contains("First rough sheet"), "{}", outcome.out);
        assert!(
            outcome
                .out
                .contains("what the plate of the compressor says")
        );
    }
}

#[test]
fn who_leaves_goes_on_from_there() {
    let folder = folder("new-leave");
    let job = folder.join("shop.toml");
    let kept = folder.join("shop.toml.asking");
    let left = new(&job, "metric\nwest\n14.6m x 9.8m\nquit\n", &[]);
    assert_eq!(left.exit, Exit::Done);
    assert!(left.out.ends_with(
        "The answers are kept in shop.toml.asking: `dripleg new shop.toml` goes on from here.\n"
    ));
    assert!(!job.exists());
    assert_eq!(
        read(&kept).lines().skip(1).collect::<Vec<_>>(),
        ["units: metric", "door: west", "room: 14.6m x 9.8m"]
    );
    // The fourth question comes next, and the answers before it stand.
    let on = new(&job, "back\n\n", &[]);
    assert_eq!(on.exit, Exit::Done, "{}", on.err);
    assert!(on.out.contains(" 4 of 16"));
    assert!(on.out.contains("[14.6m x 9.8m]"));
    assert!(!on.out.contains(" 1 of 16"));
    assert!(read(&job).contains("size    = \"9800mm x 14600mm\""));
    assert!(!kept.exists());
}

#[test]
fn an_unfinished_file_that_somebody_wrote_in_goes_as_far_as_it_fits() {
    let folder = folder("new-broken");
    let job = folder.join("shop.toml");
    std::fs::write(folder.join("shop.toml.asking"), "units: feet\ndoor: up\n").unwrap();
    let outcome = new(&job, "", &[]);
    assert_eq!(outcome.exit, Exit::Done);
    let plain = outcome.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(plain.contains(
        "From `door: up` on they do not fit the questions any more, and are asked again."
    ));
    assert!(plain.contains("2 of 16"));
    assert!(!plain.contains("1 of 16 Do"));
}

#[test]
fn a_job_that_is_there_stays() {
    let job = folder("new-there").join("shop.toml");
    std::fs::write(&job, "mine\n").unwrap();
    for more in [&[][..], &["--like", "garage"]] {
        let outcome = new(&job, "", more);
        assert_eq!(outcome.exit, Exit::Unreadable);
        assert_eq!(
            outcome.err,
            "dripleg: `shop.toml` is there already: name another file, or add --overwrite to replace it\n"
        );
        assert_eq!(read(&job), "mine\n");
    }
    let outcome = new(&job, "", &["--like", "garage", "--overwrite"]);
    assert_eq!(outcome.exit, Exit::Done);
    assert!(read(&job).starts_with("# A one-bay garage"));
}

#[test]
fn every_start_is_sound_and_can_be_priced() {
    let folder = folder("new-like");
    let listed = run(&["new", "--list"]);
    assert_eq!(listed.exit, Exit::Done);
    let names: Vec<&str> = listed
        .out
        .lines()
        .skip(2)
        .filter_map(|line| line.split_whitespace().next())
        .collect();
    assert_eq!(names, ["garage", "workshop", "ring-hall", "barn"]);
    for name in names {
        let job = folder.join(format!("{name}.toml"));
        let outcome = new(&job, "", &["--like", name]);
        assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
        assert_eq!(outcome.err, format!("wrote {name}.toml\n"));
        assert!(
            outcome
                .out
                .contains("what good practice says: nothing found"),
            "{}",
            outcome.out
        );
        assert!(!outcome.out.contains("WEAK"), "{}", outcome.out);
        let lines = outcome.out.lines().count();
        assert!((24..=40).contains(&lines), "{name}: {lines} lines");
        let text = read(&job);
        assert!(text.contains("invented"), "{name}");
        let comments = text.lines().filter(|line| line.contains('#')).count();
        assert!(comments >= 20, "{name}: {comments}");
        let quote = run(&[
            "quote",
            &job.display().to_string(),
            "--catalog",
            &path("catalogs-demo/iron.csv"),
            "--rates",
            &path("catalogs-demo/rates.toml"),
        ]);
        assert_eq!(quote.exit, Exit::Done, "{name}: {}", quote.err);
    }
    let wrong = new(&folder.join("x.toml"), "", &["--like", "garaje"]);
    assert_eq!(wrong.exit, Exit::Unreadable);
    assert_eq!(
        wrong.err,
        "dripleg: there is no start `garaje`: did you mean `garage`? there are garage, workshop, ring-hall, barn\n"
    );
}

#[test]
fn a_folder_that_cannot_be_written_is_told_with_the_first_answer() {
    let job = folder("new-nowhere").join("no/such/shop.toml");
    let outcome = new(&job, "feet\nsouth\n", &[]);
    assert_eq!(outcome.exit, Exit::Outside);
    assert!(
        outcome
            .err
            .contains("shop.toml.asking` could not be written"),
        "{}",
        outcome.err
    );
}

/// A person at a terminal who types so much and then closes it.
fn at_terminal(job: &Path, mut input: impl BufRead) -> (Exit, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let exit = dripleg::run(
        ["dripleg", "new", &job.display().to_string()].map(Into::into),
        &mut Io {
            out: &mut out,
            err: &mut err,
            input: &mut input,
            at_terminal: true,
            width: 80,
            today: || jiff::civil::date(2026, 11, 2),
        },
    );
    (exit, String::from_utf8_lossy(&out).into_owned())
}

#[test]
fn a_terminal_that_closes_keeps_the_answers() {
    let folder = folder("new-closed");
    let job = folder.join("shop.toml");
    let (exit, out) = at_terminal(&job, &b"\nnorth\n48-0 x 32-0\n"[..]);
    assert_eq!(exit, Exit::Done);
    assert!(out.contains("The answers are kept in"), "{out}");
    assert!(!job.exists());
    assert!(read(folder.join("shop.toml.asking")).contains("room: 48-0 x 32-0\n"));
    // What is no text is a bad answer like any other.
    let (_, out) = at_terminal(&job, &b"\xff\xfe\n"[..]);
    assert!(out.contains("begin with the wall"), "{out}");
}

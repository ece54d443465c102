//! What follows from what is measured, on the demo's ring and on a tree.

use crate::job::{Guess, Job};
use crate::library::Library;
use crate::source::Source;

const RING: &str = include_str!("../../../../catalogs-demo/millrace.toml");

/// The demo with some of its text replaced.
fn edited(edits: &[(&str, &str)]) -> Job {
    let mut text = RING.to_owned();
    for (old, new) in edits {
        assert!(text.contains(old), "{old}");
        text = text.replacen(old, new, 1);
    }
    let (job, findings) = crate::job::read(&Source::new("job", text), &Library::shipped().unwrap());
    job.unwrap_or_else(|| panic!("{findings:?}"))
}

/// What is told of its guesses: how, what, taken as, and where from.
fn told(edits: &[(&str, &str)]) -> Vec<String> {
    let job = edited(edits);
    let units = job.units;
    let told = job.unmeasured.iter().map(|one| {
        let mark = match one.how {
            Guess::Paced => "~",
            Guess::NotMeasured => "?",
        };
        format!(
            "{mark} {}: {} ({})",
            one.what,
            one.taken.show(units),
            one.from
        )
    });
    told.collect()
}

#[test]
fn a_job_that_is_measured_has_nothing_to_confirm() {
    assert_eq!(told(&[]), Vec::<String>::new());
}

#[test]
fn a_leg_reaches_its_furthest_mark_and_what_is_left_from_there() {
    let open = [
        ("along = \"north wall\"\n", ""),
        ("\"east 48-0\"", "\"east ?\""),
        // A ring would close it.
        (
            "[[leg]]                           # closes the ring\ngo = \"north 16-0\"\nto = \"entry\"\n",
            "",
        ),
    ];
    let said = |edits: &[(&str, &str)]| told(&[&open[..], edits].concat());
    assert_eq!(
        said(&[("left  = \"17-6\"", "")]),
        ["? leg 3, east: 30'-6\" (as far as its furthest mark)"]
    );
    assert_eq!(
        said(&[]),
        ["? leg 3, east: 48'-0\" (its last mark and what is left from there)"]
    );
}

#[test]
fn a_leg_along_a_wall_is_as_long_as_the_wall() {
    let wall = "leg 3 (north wall), east: 48'-0\" (the length of the wall)";
    assert_eq!(
        told(&[("\"east 48-0\"", "\"east ?\"")]),
        [format!("? {wall}")]
    );
    assert_eq!(
        told(&[("\"east 48-0\"", "\"east ~50-0\"")]),
        [format!("~ {wall}")]
    );
    // Paced so far off is a mistake, which the wall then finds.
    assert_eq!(
        told(&[("\"east 48-0\"", "\"east ~30-0\"")]),
        ["~ leg 3 (north wall), east: 30'-0\" (as paced)"]
    );
}

#[test]
fn a_ring_closes_with_its_one_guess() {
    assert_eq!(
        told(&[("go   = \"north 16-0\"", "go   = \"north ?\"")]),
        ["? leg 2, north: 16'-0\" (what closes the ring)"]
    );
    assert_eq!(
        told(&[(
            "go = \"north 16-0\"\nto = \"entry\"",
            "go = \"north ~15-0\"\nto = \"entry\""
        )]),
        ["~ leg 6, north: 16'-0\" (what closes the ring)"]
    );
}

#[test]
fn the_riser_leads_from_the_port_to_the_main() {
    let rise = "[\"up 7-6\", \"east 4-0\"]";
    assert_eq!(
        told(&[(rise, "[\"up ?\", \"east 4-0\"]")]),
        ["? leg 1, up: 7'-6\" (what is left from the port up to the main)"]
    );
    assert_eq!(
        told(&[("height   = \"3-6\"", "height   = \"?\"")]),
        ["? the height of the port of compressor: 3'-6\" (the main's height less the rise)"]
    );
    assert_eq!(
        told(&[("height = \"11-0\"", "height = \"?\"")]),
        ["? the height of the main: 11'-0\" (the port's height and the rise)"]
    );
    assert_eq!(
        told(&[(rise, "[\"up 7-6\", \"east ?\"]")]),
        ["? leg 1, east: 10'-0\" (a stand-in)"]
    );
}

#[test]
fn marks_stand_evenly_and_outlets_as_is_usual() {
    let from = "evenly between its neighbours";
    assert_eq!(
        told(&[(
            "bench = \"10-0\", router = \"30-6\"",
            "bench = \"?\", router = \"? back\""
        )]),
        [
            format!("? where bench stands on leg 3 (north wall): 16'-0\" ({from})"),
            format!("? where router stands on leg 3 (north wall): 16'-0\" ({from})"),
        ]
    );
    assert_eq!(
        told(&[("low = \"16-0\"", "low = \"?\"")]),
        [format!(
            "? where low stands on leg 4 (east wall): 14'-0\" ({from})"
        )]
    );
    assert_eq!(
        told(&[(
            "drop   = \"reel\"\nheight = \"8-0\"",
            "drop   = \"reel\"\nheight = \"?\""
        )]),
        ["? the height of outlet door: 4'-0\" (a stand-in)"]
    );
}

#[test]
fn a_closing_reading_that_was_not_taken_checks_nothing() {
    assert!(
        edited(&[("left  = \"17-6\"", "left  = \"?\"")]).legs[2]
            .left
            .is_none()
    );
    assert!(edited(&[]).legs[2].left.is_some());
}

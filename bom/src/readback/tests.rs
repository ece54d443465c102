//! The demo said back, and readings of a second walk.

use super::{ReadBack, misfits, readback};
use crate::finding::Severity;
use crate::job::Job;
use crate::library::Library;
use crate::source::Source;

const RING: &str = include_str!("../../../catalogs-demo/millrace.toml");
const GARAGE: &str = include_str!("../../../catalogs-demo/garage.toml");

fn job(text: &str) -> (Job, Library) {
    let library = Library::shipped().unwrap();
    let (job, findings) = crate::job::read(&Source::new("job", text), &library);
    (job.unwrap_or_else(|| panic!("{findings:?}")), library)
}

fn said(text: &str) -> ReadBack {
    let (job, library) = job(text);
    readback(&job, &library)
}

/// The demo with some of its text replaced and some readings.
fn checked(
    edits: &[(&str, &str)],
    readings: &[(&str, &str, &str)],
) -> Vec<(Severity, String, String)> {
    let mut text = RING.to_owned();
    for (old, new) in edits {
        assert!(text.contains(old), "{old}");
        text = text.replacen(old, new, 1);
    }
    for (from, to, read) in readings {
        text.push_str(&format!(
            "\n[[check]]\nfrom = \"{from}\"\nto = \"{to}\"\nread = \"{read}\"\n"
        ));
    }
    let (job, library) = job(&text);
    let found = misfits(&job, &library).into_iter();
    found
        .map(|one| (one.severity, one.message, one.help))
        .collect()
}

#[test]
fn the_walk_is_told_leg_by_leg() {
    let back = said(RING);
    let words: Vec<&str> = back.walk.iter().map(|one| one.words.as_str()).collect();
    assert_eq!(
        words,
        [
            "From compressor, whose port is 3'-6\" above the floor, go up 7'-6\", then east 4'-0\". There is entry.",
            "From entry go north 16'-0\".",
            "Go on east 48'-0\" along the north wall: at 10'-0\" a drop for bench, at 30'-6\" a drop for router; 17'-6\" are left.",
            "Go on south 32'-0\" along the east wall: at 6'-0\" a drop for spray, at 16'-0\" the drain low, at 22'-0\", 10'-0\" before the end, a drop for press.",
            "Go on west 48'-0\" along the south wall: at 14'-0\" a drop for assembly, at 36'-0\", 12'-0\" before the end, a drop for door.",
            "Go on north 16'-0\". There you are back at entry: the ring closes.",
        ]
    );
}

#[test]
fn the_shop_is_seen_from_above() {
    let back = said(RING);
    let lines = &back.sketch.lines;
    assert_eq!(lines.len(), 24);
    assert!(lines.iter().all(|line| line.chars().count() <= 78));
    let drawn = [
        "       │╔═══════════1═══════════════════════2════════════════════╗│",
        "W      │║                                                        ║│  E",
        "   T════a                                                        D1",
        "       │╚═════════════6══════════════════════════5═══════════════╝│",
    ];
    assert_eq!(
        [2, 11, 12, 21].map(|line: usize| lines[line].as_str()),
        drawn
    );
    let legend: Vec<String> = back
        .sketch
        .legend
        .iter()
        .map(|(sign, words)| format!("{sign} {words}"))
        .collect();
    assert_eq!(
        legend,
        [
            "T tank of compressor",
            "a place entry",
            "1 drop for bench",
            "2 drop for router",
            "3 drop for spray",
            "D1 drain low",
            "4 drop for press",
            "5 drop for assembly",
            "6 drop for door",
        ]
    );
}

#[test]
fn the_card_hangs_on_every_length_that_was_typed() {
    for text in [RING, GARAGE] {
        assert_eq!(said(text).card.unchecked, Vec::<String>::new());
    }
    let back = said(RING);
    let lines: Vec<String> = back
        .card
        .lines
        .iter()
        .map(|line| {
            let expected = line.expected.show(back.units);
            format!(
                "{} to {}: {expected}",
                line.from.written(),
                line.to.written()
            )
        })
        .collect();
    assert_eq!(
        lines,
        [
            "south-west corner to north-east corner: 57'-8 1/4\"",
            "north-west corner to south-east corner: 57'-8 1/4\"",
            "low to press: 6'-0\"",
            "assembly to door: 22'-0\"",
            "bench to router: 20'-6\"",
            "spray to low: 10'-0\"",
            "entry to bench: 18'-10 7/16\"",
            "eave to main: 3'-0\"",
            "assembly to south-west corner: 34'-0\"",
            "eave to compressor: 10'-6\"",
            "compressor to entry: 4'-0\"",
        ]
    );
}

#[test]
fn readings_that_fit_say_nothing() {
    let fitting = [
        ("bench", "router", "20-6"),
        ("bench", "router", "20-3"),
        ("entry", "north wall", "16-0"),
        ("south-west corner", "north-east corner", "57-8"),
        ("southeast corner", "northwest corner", "57-9"),
        ("press", "north-east corner", "22-0"),
        ("eave", "main", "3-0"),
        ("floor", "compressor", "3-6"),
        ("bench", "door", "?"),
        ("bench", "door", "~99-0"),
    ];
    assert_eq!(checked(&[], &fitting), []);
}

#[test]
fn a_misfit_names_the_length_that_explains_it() {
    let slip = [("bench = \"10-0\"", "bench = \"11-0\"")];
    let one = checked(&slip, &[("bench", "router", "20-6")]);
    let message = "from bench to router the second walk read 20'-6\", and the first makes it 19'-6\": 1'-0\" more";
    let help = "measure once more; one length explains it all: where bench stands on leg 3 (north wall) (to 10'-0\")";
    let expected = (Severity::Unreadable, message.to_owned(), help.to_owned());
    assert_eq!(one, std::slice::from_ref(&expected));
    let both = checked(
        &slip,
        &[("bench", "router", "20-6"), ("bench", "entry", "18-10")],
    );
    assert_eq!(both[0], expected);
    assert_eq!(both.len(), 2);
    assert_eq!(both[1].2, help);
}

#[test]
fn a_misfit_of_what_was_paced_is_a_warning() {
    let paced = [("bench = \"10-0\"", "bench = \"~12-0\"")];
    let found = checked(&paced, &[("bench", "router", "20-6")]);
    let message = "from bench to router the second walk read 20'-6\", and the first makes it 18'-6\": 2'-0\" more";
    let help = "a length that was not measured explains it: where bench stands on leg 3 (north wall) (to 10'-0\")";
    assert_eq!(
        found,
        [(Severity::Warning, message.to_owned(), help.to_owned())]
    );
}

//! Heights worked by hand. The main starts at 7'-6" and falls 1 in on 10 ft.

use crate::library::Library;
use crate::network::Network;
use crate::quantity::Units;
use crate::source::Source;
use crate::water;

const HEAD: &str = r#"
[job]
title = "By hand"
units = "feet"
[supply.compressor]
port    = "3/4in female"
height  = "2-6"
connect = ["valve", "hose 18in"]
[main]
system = "black-iron"
size   = "1/2in"
height = "7-6"
fall   = "1in per 10ft"
"#;

fn network(legs: &str, drains: &[&str]) -> Network {
    let mut job = format!("{HEAD}{legs}");
    for name in drains {
        job += &format!("\n[drain.{name}]\ndrip_leg = \"8in\"\n");
    }
    planned(job)
}

fn planned(job: String) -> Network {
    let library = Library::shipped().unwrap();
    let (plan, findings) = crate::plan(&Source::new("job", job), &library);
    plan.unwrap_or_else(|| panic!("{findings:#?}")).network
}

/// The main from the side, a line for each way.
fn heights(legs: &str, drains: &[&str]) -> Vec<String> {
    profile(&network(legs, drains))
}

fn profile(network: &Network) -> Vec<String> {
    water::profile(network)
        .iter()
        .map(|way| {
            let places = way.iter();
            let said: Vec<String> = places
                .map(|place| format!("{} {}", place.name, place.height.show(Units::Feet)))
                .collect();
            said.join(", ")
        })
        .collect()
}

/// What is taken for granted of rings.
fn of_rings(legs: &str, drains: &[&str]) -> Vec<String> {
    let said = network(legs, drains).assumptions.into_iter();
    said.filter(|one| one.contains("ring")).collect()
}

const FEED: &str = r#"
[[leg]]
from = "compressor"
go   = ["up 5-0", "east 10-0"]
to   = "entry"
"#;

/// A ring of 100-0 that the feed enters at 7'-5".
fn ring(marks: &str) -> String {
    format!(
        r#"{FEED}
[[leg]]
from  = "entry"
go    = ["north 10-0", "east 30-0", "south 20-0", "west 30-0", "north 10-0"]
marks = {{ {marks} }}
to    = "entry"
"#
    )
}

/// The same ring with a rung across it, 20-0 long, half way along the walls.
fn rung(marks: &str) -> String {
    let ring = ring(&format!("a = \"25-0\", b = \"75-0\"{marks}"));
    format!("{ring}[[leg]]\nfrom = \"a\"\ngo = \"south 20-0\"\nto = \"b\"\n")
}

#[test]
fn a_tree_falls_away_or_back_or_not_at_all_leg_by_leg() {
    let legs = |fall: &str| {
        format!("{FEED}[[leg]]\nfrom = \"entry\"\ngo = \"east 20-0\"\nto = \"end\"\n{fall}")
    };
    let end = |fall: &str| heights(&legs(fall), &[])[0].clone();
    let start = "compressor 2'-6\", corner 7'-6\", entry 7'-5\"";
    assert_eq!(end(""), format!("{start}, end 7'-3\""));
    assert_eq!(
        end("fall = \"1in per 10ft back\""),
        format!("{start}, end 7'-7\"")
    );
    assert_eq!(end("fall = \"1 %\""), format!("{start}, end 7'-2 5/8\""));
    assert_eq!(end("fall = \"level\""), format!("{start}, end 7'-5\""));
}

// 80-0 the long way fall 8 in, and 20-0 the short way as much.
#[test]
fn a_ring_falls_both_ways_to_its_low_point() {
    assert_eq!(
        heights(&ring("low = \"20-0\""), &["low"]),
        [
            "compressor 2'-6\", corner 7'-6\", entry 7'-5\", corner 7'-1\", low 6'-9\", \
             corner 6'-11\", corner 7'-1\", corner 7'-4\", entry 7'-5\""
        ]
    );
}

// 30-0 from the entry to each low point fall 3 in; midway, 20-0 from each, the
// pipe is 2 in higher: in the middle of the east wall.
#[test]
fn a_ring_with_two_low_points_is_highest_between_them() {
    let lows = ["one", "two"];
    assert_eq!(
        heights(&ring("one = \"30-0\", two = \"70-0\""), &lows),
        [
            "compressor 2'-6\", corner 7'-6\", entry 7'-5\", corner 7'-4\", one 7'-2\", \
             corner 7'-3\", highest point 7'-4\", corner 7'-3\", two 7'-2\", corner 7'-4\", entry 7'-5\""
        ]
    );
    // 30-0 and 50-0 from it: as low as the longer way says, and highest in the
    // corner that lies midway, where a place stands already.
    assert_eq!(
        heights(&ring("one = \"30-0\", two = \"50-0\""), &lows),
        [
            "compressor 2'-6\", corner 7'-6\", entry 7'-5\", corner 7'-3 5/16\", one 7'-0\", \
             corner 7'-1\", two 7'-0\", corner 7'-1\", corner 7'-4\", entry 7'-5\""
        ]
    );
    assert!(of_rings(&ring("one = \"30-0\", two = \"50-0\""), &lows).is_empty());
    // 5-0 from it, and 90-0 apart: 4 1/2 in above low points that are 1/2 in deep.
    assert_eq!(
        of_rings(&ring("one = \"5-0\", two = \"95-0\""), &lows),
        [
            "So that all of a ring falls as stated, its highest place lies 4\" above the place where the air enters it."
        ]
    );
}

// Whichever end of the pipe is its first.
#[test]
fn a_crest_stands_where_the_ways_down_are_equally_long() {
    let west_first = r#"
[[leg]]
from  = "entry"
go    = ["north 10-0", "east 30-0"]
marks = { one = "20-0" }
to    = "ne"
[[leg]]
from  = "entry"
go    = ["south 10-0", "east 30-0", "north 20-0"]
marks = { two = "20-0" }
to    = "ne"
"#;
    // From one 20-0 to the corner, from two 20-0 to the other and 20-0 up: the
    // crest is 30-0 from each, 10-0 along the east wall.
    let all = heights(&format!("{FEED}{west_first}"), &["one", "two"]);
    assert_eq!(
        all[1],
        "entry 7'-5\", corner 7'-4\", two 7'-3\", corner 7'-5\", highest point 7'-6\", ne 7'-5\""
    );
}

#[test]
fn a_ring_that_falls_back_is_highest_half_way() {
    let job = HEAD.replace("10ft", "10ft back") + &ring("a = \"30-0\"");
    let job = job + "[[leg]]\nfrom = \"a\"\ngo = \"north 10-0\"\n";
    assert_eq!(
        profile(&planned(job)),
        [
            "compressor 2'-6\", corner 7'-6\", entry 7'-7\", corner 7'-8\", a 7'-10\", corner 7'-11\", \
             highest point 8'-0\", corner 7'-11\", corner 7'-8\", entry 7'-7\"",
            "a 7'-10\", end 7'-11\""
        ]
    );
}

// From the low point in the middle of the east wall: 10-0 to the corners, 25-0
// to the rung, 35-0 to its middle, 40-0 to the west corners, 50-0 to the entry,
// which is 5 in higher. Nothing lies above the entry.
#[test]
fn rings_that_share_pipe_fall_the_shortest_way() {
    let job = rung(", low = \"50-0\"");
    assert_eq!(
        heights(&job, &["low"]),
        [
            "compressor 2'-6\", corner 7'-6\", entry 7'-5\", corner 7'-4\", a 7'-2 1/2\", corner 7'-1\", \
             low 7'-0\", corner 7'-1\", b 7'-2 1/2\", corner 7'-4\", entry 7'-5\"",
            "a 7'-2 1/2\", highest point 7'-3 1/2\", b 7'-2 1/2\""
        ]
    );
    let shared = "Where rings share pipe, all their low points are equally low, and every pipe falls by the shortest way to one.";
    assert_eq!(of_rings(&job, &["low"]), [shared]);
    // In the north wall, 20-0 from the entry and 5-0 from the rung: 25-0 to the
    // rung's other end, 40-0 to the south-east corner either way, which is 2 in
    // above the entry, and 30-0 to the south-west corner.
    let job = rung(", low = \"20-0\"");
    assert_eq!(
        heights(&job, &["low"]),
        [
            "compressor 2'-6\", corner 7'-6\", entry 7'-5\", corner 7'-4\", low 7'-3\", a 7'-3 1/2\", corner 7'-5\", \
             corner 7'-7\", b 7'-5 1/2\", highest point 7'-6 1/2\", corner 7'-6\", entry 7'-5\"",
            "a 7'-3 1/2\", b 7'-5 1/2\""
        ]
    );
    assert_eq!(
        of_rings(&job, &["low"]),
        [
            shared,
            "So that all of a ring falls as stated, its highest place lies 2\" above the place where the air enters it."
        ]
    );
    // Two low points, in the middle of the east wall and of the rung: from the
    // latter 10-0 to its ends and 35-0 to the entry; between them 35-0 along the
    // north wall, the crest 17-6 from each.
    let two = rung(", low = \"50-0\"").replace(
        "go = \"south 20-0\"",
        "go = \"south 20-0\"\nmarks = { mid = \"10-0\" }",
    );
    assert_eq!(
        heights(&two, &["low", "mid"])[0],
        "compressor 2'-6\", corner 7'-6\", entry 7'-5\", corner 7'-4\", a 7'-2 1/2\", highest point 7'-3 1/4\", \
         corner 7'-2 1/2\", low 7'-1 1/2\", corner 7'-2 1/2\", highest point 7'-3 1/4\", b 7'-2 1/2\", corner 7'-4\", entry 7'-5\""
    );
}

// The first pair of rings has its low point in the east wall, 5 in below its
// entry; a bridge of 10-0 leaves the east corner (1 in above the low point) and
// falls 1 in; the second pair falls from there.
#[test]
fn rings_hang_behind_rings() {
    let first = rung(", low = \"50-0\", se = \"60-0\"");
    let second = r#"
[[leg]]
from = "se"
go   = "east 10-0"
to   = "gate"
[[leg]]
from  = "gate"
go    = ["north 10-0", "east 20-0", "south 20-0", "west 20-0", "north 10-0"]
marks = { c = "20-0", low2 = "40-0", d = "60-0" }
to    = "gate"
[[leg]]
from = "c"
go   = "south 20-0"
to   = "d"
"#;
    let all = heights(&format!("{first}{second}"), &["low", "low2"]);
    assert!(all[0].contains("low 7'-0\", corner 7'-1\""), "{all:?}");
    // 40-0 from the second low point to its gate: 4 in.
    assert!(
        all.iter().any(|way| way.ends_with(
            "corner 7'-1\", gate 7'-0\", corner 6'-11\", c 6'-10\", corner 6'-9\", low2 6'-8\", corner 6'-9\", d 6'-10\", corner 6'-11\", gate 7'-0\""
        )),
        "{all:?}"
    );
    assert!(
        all.contains(&"c 6'-10\", highest point 6'-11\", d 6'-10\"".to_owned()),
        "{all:?}"
    );
}

// They share a place and no pipe: the second ring enters where the first is at
// 6'-11", 15-0 and 25-0 from its own low point, which is 2 1/2 in lower.
#[test]
fn rings_that_only_touch_are_two() {
    let second = r#"
[[leg]]
from  = "ne"
go    = ["east 10-0", "north 10-0", "west 10-0", "south 10-0"]
marks = { low2 = "15-0" }
to    = "ne"
"#;
    let first = ring("low = \"20-0\", ne = \"40-0\"");
    let all = heights(&format!("{first}{second}"), &["low", "low2"]);
    assert_eq!(
        all[1],
        "corner 6'-11\", corner 6'-9 5/16\", low2 6'-8 1/2\", corner 6'-9\", corner 6'-10\", corner 6'-11\""
    );
}

// Out 20-0 to the first low point, back 30-0 from the top, on 30-0 to the next.
#[test]
fn a_saw_tooth_falls_to_both_feet() {
    let legs = format!(
        r#"{FEED}
[[leg]]
from = "entry"
go   = "east 20-0"
to   = "one"
[[leg]]
go   = "east 30-0"
fall = "1in per 10ft back"
[[leg]]
go   = "east 30-0"
to   = "two"
"#
    );
    assert_eq!(
        heights(&legs, &["one", "two"]),
        ["compressor 2'-6\", corner 7'-6\", entry 7'-5\", one 7'-3\", end 7'-6\", two 7'-3\""]
    );
}

// 50-0 fall 5 in, the riser lifts 6 in, 50-0 fall 5 in again.
#[test]
fn a_riser_makes_a_tooth_too() {
    let legs = r#"
[[leg]]
from  = "compressor"
go    = ["up 5-0", "east 50-0", "up 0-6", "east 50-0"]
marks = { foot = "55-0", low = "105-6" }
"#;
    assert_eq!(
        heights(legs, &["foot", "low"]),
        ["compressor 2'-6\", corner 7'-6\", foot 7'-1\", corner 7'-7\", low 7'-2\""]
    );
}

// Below the floor where the riser goes down 10-0 from 7'-4", and up to a deck.
#[test]
fn a_basement_and_a_mezzanine_fall_on_from_where_they_start() {
    let legs = format!(
        r#"{FEED}
[[leg]]
from = "entry"
go   = ["east 10-0", "down 10-0", "east 10-0"]
to   = "low"
[[leg]]
from = "entry"
go   = ["up 4-0", "north 20-0"]
to   = "deck"
"#
    );
    assert_eq!(
        heights(&legs, &["low", "deck"]),
        [
            "compressor 2'-6\", corner 7'-6\", entry 7'-5\", corner 7'-4\", corner -2'-8\", low -2'-9\"",
            "entry 7'-5\", corner 11'-5\", deck 11'-3\""
        ]
    );
}

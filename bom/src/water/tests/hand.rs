//! Shops worked by hand: what ends where, to the inch.
//!
//! The drain of a low point stands at the end of a leg of 7 5/8 in: a nipple
//! and what the fitting takes out. A drop from the top adds its rise of 6 1/4
//! in to the water of the main.

use super::said;

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

const BENCH: &str = r#"
[drop.one]
take_off = "top"
foot     = "tee"
sides    = [["valve", "coupler"]]
size     = "1/2in"
[outlet.bench]
drop   = "one"
height = "1-6"
"#;

fn shop(legs: &str, drains: &[&str]) -> String {
    let mut job = format!("{HEAD}{legs}");
    for name in drains {
        job += &format!("\n[drain.{name}]\ndrip_leg = \"8in\"\n");
    }
    job
}

// A ring of 100-0 whose low point lies 40-0 one way and 60-0 the other: all of
// it, and the 2-0 that feeds it, meet there. No water has a choice of ends.
#[test]
fn a_ring_drains_both_ways_into_its_low_point() {
    let ring = r#"
[[leg]]
from = "compressor"
go   = ["up 5-0", "east 2-0"]
to   = "entry"
[[leg]]
from  = "entry"
go    = ["north 10-0", "east 30-0", "south 20-0", "west 30-0", "north 10-0"]
marks = { low = "50-0" }
to    = "entry"
"#;
    let low = ring.replace("50-0", "45-0");
    for ring in [ring, &low] {
        let all = said(&shop(ring, &["low"]));
        assert_eq!(all, ["tank 5'-0\"", "drain low 102'-7 5/8\""]);
    }
}

// The main steps down 1-0 half way: nothing is held at the step.
#[test]
fn a_step_down_lets_the_water_on() {
    let legs = r#"
[[leg]]
from  = "compressor"
go    = ["up 5-0", "east 10-0", "down 1-0", "east 10-0"]
marks = { low = "26-0" }
"#;
    let all = said(&shop(legs, &["low"]));
    assert_eq!(all, ["tank 5'-0\"", "drain low 21'-7 5/8\""]);
}

// Saw-tooth: the foot of the rise of 2-0 has its own drain, which takes the
// 20-0 before it and the rise; the 6-0 above fall on to the next.
#[test]
fn the_foot_of_each_tooth_drains() {
    let legs = r#"
[[leg]]
from  = "compressor"
go    = ["up 5-0", "east 20-0"]
to    = "tooth"
[[leg]]
from  = "tooth"
go    = ["up 2-0", "east 6-0"]
marks = { low = "8-0" }
"#;
    let all = said(&shop(legs, &["tooth", "low"]));
    assert_eq!(
        all,
        [
            "tank 5'-0\"",
            "drain tooth 22'-7 5/8\"",
            "drain low 6'-7 5/8\""
        ]
    );
}

// The same with a fall of its own: from the top of the tooth 6-0 fall back to
// the foot of the rise, which takes 26-0 and the rise.
#[test]
fn a_foot_takes_both_sides_of_a_tooth_that_falls_back() {
    let legs = r#"
[[leg]]
from  = "compressor"
go    = ["up 5-0", "east 20-0"]
to    = "tooth"
[[leg]]
from  = "tooth"
go    = ["up 2-0", "east 6-0"]
fall  = "1in per 10ft back"
[[leg]]
go    = "east 10-0"
to    = "low"
"#;
    let all = said(&shop(legs, &["tooth", "low"]));
    assert_eq!(
        all,
        [
            "tank 5'-0\"",
            "drain tooth 28'-7 5/8\"",
            "drain low 10'-7 5/8\""
        ]
    );
}

const ROUND: &str = r#"
[[leg]]
from = "compressor"
go   = ["up 5-0", "east 2-0"]
to   = "entry"
[[leg]]
from  = "entry"
go    = ["north 10-0", "east 30-0", "south 20-0", "west 30-0", "north 10-0"]
marks = { MARKS }
to    = "entry"
"#;

// A ring of 100-0 with low points 30-0 from its entry either way: each takes
// these and half of the 40-0 between them, which are highest in the middle of a
// pipe. The 2-0 of the feed may go either way.
#[test]
fn two_low_points_share_a_ring_at_its_highest_place() {
    let ring = ROUND.replace("MARKS", "one = \"30-0\", two = \"70-0\"");
    assert_eq!(
        said(&shop(&ring, &["one", "two"])),
        [
            "tank 5'-0\"",
            "drain one 52'-7 5/8\"",
            "drain two 50'-7 5/8\", at risk 2'-0\""
        ]
    );
}

// With a rung of 20-0: its water leaves at both ends, and all 122-0 meet in the
// low point of the east wall.
#[test]
fn rings_that_share_pipe_drain_into_their_low_point() {
    let ring = ROUND.replace("MARKS", "a = \"25-0\", low = \"50-0\", b = \"75-0\"");
    let rung = "[[leg]]\nfrom = \"a\"\ngo = \"south 20-0\"\nto = \"b\"\n";
    assert_eq!(
        said(&shop(&format!("{ring}{rung}"), &["low"])),
        ["tank 5'-0\"", "drain low 122'-7 5/8\""]
    );
    // A fall of its own that is the main's is none.
    let same = format!("{ring}{rung}fall = \"10in per 100ft\"\n");
    assert_eq!(
        said(&shop(&same, &["low"])),
        ["tank 5'-0\"", "drain low 122'-7 5/8\""]
    );
}

// Down into the basement at the end: 20-0, the 4-0 down and 6-0 below.
#[test]
fn a_basement_takes_the_water_of_the_floor_above() {
    let legs = r#"
[[leg]]
from  = "compressor"
go    = ["up 5-0", "east 20-0", "down 4-0", "east 6-0"]
marks = { low = "35-0" }
"#;
    let all = said(&shop(legs, &["low"]));
    assert_eq!(all, ["tank 5'-0\"", "drain low 30'-7 5/8\""]);
}

// Up 4-0 to a mezzanine from half way: the riser runs back into the main, the
// 8-0 above go on to their own drain.
#[test]
fn a_mezzanine_drains_on_its_own_floor() {
    let legs = r#"
[[leg]]
from  = "compressor"
go    = ["up 5-0", "east 20-0"]
marks = { deck = "15-0", low = "25-0" }
[[leg]]
from  = "deck"
go    = ["up 4-0", "north 8-0"]
marks = { upper = "12-0" }
"#;
    let all = said(&shop(legs, &["low", "upper"]));
    assert_eq!(
        all,
        [
            "tank 5'-0\"",
            "drain low 24'-7 5/8\"",
            "drain upper 8'-7 5/8\""
        ]
    );
}

const SPLIT: [&str; 3] = [
    r#"
[[leg]]
from = "compressor"
go   = ["up 5-0", "east 20-0"]
to   = "end"
"#,
    r#"
[[leg]]
from  = "end"
go    = "north 10-0"
marks = { bench = "4-0", lown = "10-0" }
"#,
    r#"
[[leg]]
from  = "end"
go    = "south 10-0"
marks = { lows = "10-0" }
"#,
];

// 20-0 come to a tee from which pipe falls both ways. The way whose next place
// lies lower has them (southwards nothing stands before the drain); either may
// get them, so that a take-off on either side is told of all 24-0, in whichever
// order the legs are written.
#[test]
fn water_that_may_go_two_ways_is_counted_once_and_warned_of_twice() {
    let side = BENCH.replace("\"top\"", "\"side\"");
    let [feed, north, south] = SPLIT;
    let tail = shop("", &["lown", "lows"]).replace(HEAD, "") + &side;
    let ends = |legs: &str| -> Vec<String> {
        let all = said(&format!("{HEAD}{legs}{tail}"));
        let mains = all.into_iter().filter(|one| !one.contains("drain bench"));
        mains.collect()
    };
    let (tank, bench) = ("tank 5'-0\"", "bench AtRisk 24'-0\"");
    let (lown, lows) = (
        "drain lown 10'-7 5/8\", at risk 20'-0\"",
        "drain lows 30'-7 5/8\"",
    );
    assert_eq!(
        ends(&format!("{feed}{north}{south}")),
        [tank, lown, lows, bench]
    );
    assert_eq!(
        ends(&format!("{feed}{south}{north}")),
        [tank, lows, lown, bench]
    );
}

// A main that ends in a drop from its side runs over into it.
#[test]
fn a_side_take_off_at_the_end_takes_all() {
    let legs = r#"
[[leg]]
from  = "compressor"
go    = ["up 5-0", "east 20-0"]
marks = { bench = "25-0" }
"#;
    let side = BENCH.replace("\"top\"", "\"side\"");
    let all = said(&(shop(legs, &[]) + &side));
    assert_eq!(all.len(), 3, "{all:?}");
    assert!(all[1].starts_with("drain bench 2"), "{all:?}");
    assert_eq!(all[2], "bench Takes 20'-0\"");
    // From the top it cannot: the end is a pocket.
    let top = said(&(shop(legs, &[]) + BENCH));
    assert!(top.contains(&"pocket 20'-6 1/4\"".to_owned()), "{top:?}");
}

// What comes down on level main is no low point of its own, and all that stands
// may come to a take-off from its bottom, however many marks cut it up: 30-0,
// and the 6 1/4 in by which the other drop leaves the main.
#[test]
fn level_main_is_one_place() {
    let legs = r#"
[[leg]]
from  = "compressor"
go    = ["up 5-0", "east 30-0"]
marks = { bench = "15-0", press = "25-0" }
"#;
    let bottom = r#"
[drop.two]
take_off = "bottom"
foot     = "tee"
sides    = [["valve", "coupler"]]
size     = "1/2in"
[outlet.press]
drop   = "two"
height = "1-6"
"#;
    let job = (shop(legs, &[]) + BENCH + bottom).replace("1in per 10ft", "level");
    let all = said(&job);
    assert!(all.contains(&"level 6 1/4\"".to_owned()), "{all:?}");
    assert!(all.iter().all(|one| !one.starts_with("pocket")), "{all:?}");
    assert!(
        all.contains(&"press Takes 30'-6 1/4\"".to_owned()),
        "{all:?}"
    );
}

// The heights of the saw-tooth, worked by hand: 20-0 fall 2 in, the tooth rises
// 2-0, 6-0 fall 3/5 in.
#[test]
fn the_profile_walks_along_the_main() {
    use crate::library::Library;
    use crate::quantity::Units;
    use crate::source::Source;
    let legs = r#"
[[leg]]
from  = "compressor"
go    = ["up 5-0", "east 20-0"]
marks = { tooth = "15-0" }
[[leg]]
from  = "tooth"
go    = ["up 2-0", "north 6-0"]
marks = { low = "8-0" }
"#;
    let library = Library::shipped().unwrap();
    let job = shop(legs, &["low"]);
    let plan = crate::plan(&Source::new("job", job), &library).0.unwrap();
    let said: Vec<Vec<String>> = super::super::profile(&plan.network)
        .iter()
        .map(|way| {
            let places = way.iter();
            places
                .map(|place| format!("{} {}", place.name, place.height.show(Units::Feet)))
                .collect()
        })
        .collect();
    let wanted = [
        &[
            "compressor 2'-6\"",
            "corner 7'-6\"",
            "tooth 7'-5\"",
            "end 7'-4\"",
        ][..],
        &["tooth 7'-5\"", "corner 9'-5\"", "low 9'-4 3/8\""],
    ];
    assert_eq!(said, wanted);
}

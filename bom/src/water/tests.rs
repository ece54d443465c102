mod day;
mod hand;

use super::{EndKind, WaterMap, WetHow, walk};
use crate::library::Library;
use crate::quantity::{Length, Units};
use crate::source::Source;

/// A garage with one wall: a riser of 5-0 and 20-0 of main that falls 1 in
/// on 10 ft, with a drop at the far end.
const SHOP: &str = r#"
[job]
title = "Water"
units = "feet"
[supply.compressor]
port    = "3/4in female"
height  = "2-6"
cut_out = "140 psi"
connect = ["valve", "hose 18in"]
[main]
system = "black-iron"
size   = "1/2in"
height = "7-6"
fall   = "1in per 10ft"
[[leg]]
from  = "compressor"
go    = ["up 5-0", "east 20-0"]
marks = { bench = "15-0" }
to    = "end"
[[leg]]
from  = "end"
go    = "east 0-6"
marks = { low = "0-6" }
[drain.low]
drip_leg = "8in"
[drop.one]
take_off = "top"
foot     = "tee"
sides    = [["valve", "coupler"]]
size     = "1/2in"
[outlet.bench]
drop   = "one"
height = "3-6"
"#;

fn map(job: &str) -> (WaterMap, crate::network::Network) {
    let library = Library::shipped().unwrap();
    let (plan, findings) = crate::plan(&Source::new("job", job), &library);
    let network = plan.unwrap_or_else(|| panic!("{findings:#?}")).network;
    let map = walk(&network, &library);
    assert!(map.accounts_for_all());
    (map, network)
}

/// Every end and how much pipe drains there, in feet and inches.
fn said(job: &str) -> Vec<String> {
    let (map, _) = map(job);
    let ends = map.ends.iter().map(|end| {
        let kind = match &end.kind {
            EndKind::Drain(name) => format!("drain {name}"),
            EndKind::Tank => "tank".to_owned(),
            EndKind::Tool(_) => "tool".to_owned(),
            EndKind::Pocket => "pocket".to_owned(),
            EndKind::Level => "level".to_owned(),
        };
        let pipe = format!("{kind} {}", end.pipe.show(Units::Feet));
        match end.at_risk {
            Length::ZERO => pipe,
            more => format!("{pipe}, at risk {}", more.show(Units::Feet)),
        }
    });
    let standing = map
        .standing
        .iter()
        .map(|one| format!("stands {}", one.length.show(Units::Feet)));
    let wet = map.wet.iter().map(|one| {
        format!(
            "{} {:?} {}",
            one.outlet,
            one.how,
            one.from.show(Units::Feet)
        )
    });
    ends.chain(standing).chain(wet).collect()
}

// By hand: the riser falls back to the tank; all 20-6 of main run to the low
// drain, with its own leg; rise, reach and drop go to the drop's drain.
#[test]
fn a_falling_main_drains_and_a_top_take_off_is_dry() {
    let all = said(SHOP);
    assert_eq!(all.len(), 3, "{all:?}");
    assert_eq!(all[0], "tank 5'-0\"");
    assert!(all[1].starts_with("drain bench "), "{all:?}");
    // 20-6 of main and the drain's leg of a 7 in nipple and a take-out.
    assert!(all[2].starts_with("drain low 21'-"), "{all:?}");
}

// The other way round, with a cap at the far end: the main falls back to the
// riser, and the riser to the tank, with the 6 1/4 in of the bench's riser.
#[test]
fn a_main_that_falls_back_drains_into_the_tank() {
    let back = SHOP
        .replace("1in per 10ft", "1in per 10ft back")
        .replace("[drain.low]\ndrip_leg = \"8in\"\n", "")
        .replace("marks = { low = \"0-6\" }\n", "");
    let all = said(&back);
    assert_eq!(all[0], "tank 26'-0 1/4\"", "{all:?}");
    assert_eq!(all.len(), 2, "{all:?}");
}

#[test]
fn a_level_main_holds_its_water() {
    let all = said(&SHOP.replace("1in per 10ft", "level"));
    let stands: Vec<&String> = all.iter().filter(|one| one.starts_with("stands")).collect();
    // The leg's 20-0 past the bench to its end, and 0-6 to the drain.
    assert_eq!(stands, ["stands 20'-0\"", "stands 6\""]);
}

#[test]
fn a_side_take_off_is_at_risk_and_a_bottom_one_takes_all() {
    let wet = |take_off: &str| {
        let (map, _) = map(&SHOP.replace("\"top\"", take_off));
        let wet: Vec<(WetHow, String)> = map
            .wet
            .iter()
            .map(|one| (one.how, one.from.show(Units::Feet)))
            .collect();
        wet
    };
    // What passes the bench is the 10-0 of main before it.
    assert_eq!(wet("\"side\""), [(WetHow::AtRisk, "10'-0\"".to_owned())]);
    assert_eq!(wet("\"bottom\""), [(WetHow::Takes, "10'-0\"".to_owned())]);
}

// Level main behind the low drain: what falls to the drain leaves there, and
// only the 8-0 of level main stand beside the drop.
#[test]
fn a_drain_at_the_start_of_level_main_lets_its_water_out() {
    let behind = SHOP
        .replace(
            "[drain.low]",
            "[[leg]]\nfrom = \"low\"\ngo = \"east 8-0\"\nfall = \"level\"\nmarks = { saw = \"5-0\" }\n[drain.low]",
        )
        .replace(
            "[outlet.bench]",
            "[outlet.saw]\ndrop = \"two\"\nheight = \"3-6\"\n[drop.two]\nsize = \"1/2in\"\ntake_off = \"side\"\nfoot = \"tee\"\nsides = [[\"valve\", \"coupler\"]]\n[outlet.bench]",
        );
    let all = said(&behind);
    assert!(all.contains(&"stands 8'-0\"".to_owned()), "{all:?}");
    assert!(all.contains(&"saw AtRisk 8'-0\"".to_owned()), "{all:?}");
}

// Nothing lies lower than an elbow foot but the tool.
#[test]
fn an_elbow_foot_sends_its_water_to_the_tool() {
    let (map, _) = map(&SHOP.replace("foot     = \"tee\"", "foot     = \"elbow\""));
    let [wet] = &map.wet[..] else { panic!() };
    assert_eq!((wet.outlet.as_str(), wet.how), ("bench", WetHow::Ends));
    assert!(
        map.ends
            .iter()
            .any(|end| matches!(&end.kind, EndKind::Tool(at) if at == "outlet bench, valve 1/2in"))
    );
}

#[test]
fn a_check_valve_holds_the_water_of_the_riser() {
    let all = said(&SHOP.replace(
        "[\"valve\", \"hose 18in\"]",
        "[\"valve\", \"check\", \"hose 18in\"]",
    ));
    assert_eq!(all[0], "pocket 5'-0\"");
    let hard = said(&SHOP.replace("[\"valve\", \"hose 18in\"]", "[]"));
    assert_eq!(hard[0], "tank 5'-0\"");
}

// Up and over a door: the water of the high straight runs on to the far end.
// The 20-0 before the rise, the rise of 2-0 and the 6 1/4 in by which the bench
// leaves the main run to its foot, which has
// no drain.
#[test]
fn a_low_point_before_a_rise_is_a_pocket() {
    let over = SHOP.replace(
        "go    = \"east 0-6\"\nmarks = { low = \"0-6\" }",
        "go    = [\"up 2-0\", \"east 6-0\"]\nmarks = { low = \"8-0\" }",
    );
    let all = said(&over);
    assert!(all.contains(&"pocket 22'-6 1/4\"".to_owned()), "{all:?}");
}

//! Several compressors on one main.

use bom::Plan;
use bom::air::answer::answer;
use bom::air::demand::demand;
use bom::air::ladder::{Ladders, Part, Step, Wear};
use bom::library::Library;
use bom::quantity::{AirFlow, Length, Temperature};
use bom::source::Source;
use bom::water::{EndKind, profile};
use std::collections::BTreeMap;

const CONNECT: &str = r#"["valve", "check", "union", "hose 18in"]"#;

fn supply(name: &str, connect: &str) -> String {
    format!(
        r#"
[supply.{name}]
free_air = "12 cfm"
cut_in   = "110 psi"
cut_out  = "140 psi"
relief   = "150 psi"
tank     = "60 gal"
port     = "1/2in female"
height   = "2-6"
connect  = {connect}
"#
    )
}

/// A leg up from a supply and on to a place.
fn leg(from: &str, go: &str, more: &str) -> String {
    format!("\n[[leg]]\nfrom = \"{from}\"\ngo = [\"up 5-0\", {go}]\n{more}\n")
}

/// A job of these tables with one tool at `end`.
fn job(fall: &str, tables: &[&str], air: &str) -> String {
    format!(
        r#"
[job]
title = "Several compressors"
units = "feet"
[main]
system = "black-iron"
size   = "1/2in"
height = "7-6"
fall   = "{fall}"
{}
[drop.one]
take_off = "bottom"
foot     = "elbow"
size     = "1/2in"
sides    = [["valve", "coupler 1/4in"]]
[outlet.end]
drop   = "one"
height = "3-6"
tools  = [{{ note = "edge bander", air = "{air}", pressure = "70 psi", share = 1.0 }}]
"#,
        tables.join("\n")
    )
}

fn planned(job: &str) -> Plan {
    let library = Library::shipped().unwrap();
    let (plan, findings) = bom::plan(&Source::new("job", job), &library);
    plan.unwrap_or_else(|| panic!("{findings:#?}\n{job}"))
}

/// The count without its places, and the pieces of pipe.
fn counted(plan: &Plan) -> BTreeMap<String, String> {
    let lines = plan.takeoff.lines.iter();
    let mut count: BTreeMap<String, String> = lines
        .map(|line| {
            let key = format!("{} {}", line.key.part, line.key.size);
            (key, line.quantity.to_string())
        })
        .collect();
    for line in &plan.takeoff.pipe {
        let mut pieces: Vec<_> = line.pieces.iter().map(|piece| piece.length).collect();
        pieces.sort();
        count.insert(format!("pipe {}", line.size), format!("{pieces:?}"));
    }
    count
}

/// The heights along each way.
fn heights(job: &str) -> Vec<String> {
    let plan = planned(job);
    let ways = profile(&plan.network);
    ways.iter()
        .map(|way| {
            let places = way.iter();
            let places =
                places.map(|place| format!("{} {}", place.name, place.height.show(plan.job.units)));
            places.collect::<Vec<_>>().join(", ")
        })
        .collect()
}

/// The steps to the tool, as new, and the most that flows through each leg, kg/s.
fn pressures(job: &str) -> (Vec<Step>, BTreeMap<usize, f64>) {
    let library = Library::shipped().unwrap();
    let plan = planned(job);
    let wanted = demand(&plan.job, &library);
    let ladders = Ladders::of(&plan.job, &plan.network, &library, &wanted, Wear::New);
    assert!(ladders.residual.miss < 1.0, "{:?}", ladders.residual);
    let mut flows = BTreeMap::new();
    for fast in &ladders.fastest {
        if let Some(leg) = plan.network.link(fast.link).leg {
            let flow: &mut f64 = flows.entry(leg).or_default();
            *flow = flow.max(fast.kg_per_s);
        }
    }
    (ladders.tools[0].steps.clone(), flows)
}

/// What the parts of the way before the drop lose, kPa.
fn lost(steps: &[Step]) -> f64 {
    let before = steps
        .iter()
        .filter(|step| matches!(step.part, Part::Main | Part::Connection));
    before.map(|step| step.loss.kpa()).sum()
}

fn alone(go: &str, air: &str) -> String {
    let tables = [supply("left", CONNECT), leg("left", go, "to = \"end\"")];
    job("level", &tables.each_ref().map(String::as_str), air)
}

fn both(left: &str, right: &str, air: &str) -> String {
    let tables = [
        supply("left", CONNECT),
        supply("right", CONNECT),
        leg("left", left, "to = \"end\""),
        leg("right", right, "to = \"end\""),
    ];
    job("level", &tables.each_ref().map(String::as_str), air)
}

// By the law of a tree: what two equal ways share, each loses as one way alone
// with half the air.
#[test]
fn two_equal_compressors_halve_the_air_of_their_ways() {
    let (steps, flows) = pressures(&both("\"east 40-0\"", "\"west 40-0\"", "20 cfm"));
    let (half, of_half) = pressures(&alone("\"east 40-0\"", "10 cfm"));
    assert!((flows[&0] - flows[&1]).abs() < 1e-9, "{flows:?}");
    assert!((flows[&0] - of_half[&0]).abs() < 1e-9, "{flows:?}");
    assert!((lost(&steps) - lost(&half)).abs() < 1e-3, "{}", lost(&half));
    assert!(lost(&half) > 0.1, "{}", lost(&half));
    let connection = steps.iter().filter(|step| step.part == Part::Connection);
    let items: Vec<&str> = connection.map(|step| step.item.as_str()).collect();
    assert_eq!(
        items,
        [
            "valve 1/2in",
            "check 1/2in",
            "union 1/2in",
            "hose 1/2in, 1'-6\""
        ]
    );
}

// Each way alone, with the air that it was found to carry, loses as much as the
// other: the split is the one at which the pressures meet.
#[test]
fn the_nearer_compressor_gives_the_more_air_until_the_pressures_meet() {
    let (near, far) = ("\"west 10-0\"", "\"east 60-0\"");
    let (steps, flows) = pressures(&both(far, near, "30 cfm"));
    assert!(flows[&1] > 1.5 * flows[&0], "{flows:?}");
    // kg/s to litres a second at 101 325 Pa and 20 C.
    let litres = |kg: f64| kg / (101_325.0 / (287.05 * 293.15)) * 1_000.0;
    for (leg, go) in [(0, far), (1, near)] {
        let air = format!("{:.9} l/s", litres(flows[&leg]));
        let (single, _) = pressures(&alone(go, &air));
        let (one, two) = (lost(&single), lost(&steps));
        assert!((one - two).abs() < 1e-3 * two, "leg {leg}: {one} {two}");
    }
}

#[test]
fn a_regulator_set_lower_than_the_other_tank_gives_nothing() {
    let low = r#"["valve", "regulator set 60 psi", "hose 18in"]"#;
    let tables = [
        supply("left", CONNECT),
        supply("right", low),
        leg("left", "\"east 40-0\"", "to = \"end\""),
        leg("right", "\"west 40-0\"", "to = \"end\""),
    ];
    let tables = tables.each_ref().map(String::as_str);
    let (steps, flows) = pressures(&job("level", &tables, "10 cfm"));
    let (single, _) = pressures(&alone("\"east 40-0\"", "10 cfm"));
    assert!((lost(&steps) - lost(&single)).abs() < 1e-3);
    assert!(flows.get(&1).is_none_or(|flow| *flow < 1e-9), "{flows:?}");
}

// A header that two compressors join, and a third that joins the second's leg.
#[test]
fn the_order_of_compressors_and_legs_changes_no_count() {
    let [a, b, c] = ["left", "right", "third"].map(|name| supply(name, CONNECT));
    let main = leg(
        "left",
        "\"east 40-0\"",
        "marks = { join = \"15-0\", end = \"45-0\" }",
    );
    let second = leg(
        "right",
        "\"south 20-0\"",
        "marks = { side = \"15-0\" }\nto = \"join\"",
    );
    let third = leg("third", "\"west 8-0\"", "to = \"side\"");
    let orders: [[&str; 6]; 5] = [
        [&a, &b, &c, &main, &second, &third],
        [&c, &b, &a, &main, &second, &third],
        [&b, &a, &c, &third, &second, &main],
        [&a, &c, &b, &third, &main, &second],
        [&b, &c, &a, &second, &third, &main],
    ];
    let plans = orders.map(|tables| planned(&job("level", &tables, "10 cfm")));
    let first = counted(&plans[0]);
    assert_eq!(first["ball-valve 1/2in"], "4");
    assert_eq!(first["tee 1/2in"], "2");
    for plan in &plans {
        assert_eq!(counted(plan), first);
        assert_eq!(plan.summary.rings, 0);
        assert_eq!(plan.summary.connections.len(), 3);
    }
}

// The main falls 1/96. From the left 10-0 to the join make 1-1/4 in; the right
// leg is 20-0 level and falls 2-1/2 in to the same place, or away from it with
// `back`.
#[test]
fn a_leg_falls_away_from_its_own_compressor() {
    let main = leg(
        "left",
        "\"east 20-0\"",
        "marks = { join = \"15-0\", end = \"25-0\" }",
    );
    let told = |more: &str| {
        let right = leg("right", "\"south 20-0\"", &format!("to = \"join\"\n{more}"));
        let (left, other) = (supply("left", CONNECT), supply("right", CONNECT));
        job("1/8in per ft", &[&left, &other, &main, &right], "10 cfm")
    };
    let first = "left 2'-6\", corner 7'-6\", join 7'-4 3/4\", end 7'-3 1/2\"";
    assert_eq!(
        heights(&told("")),
        [
            first,
            "right 2'-7 1/4\", corner 7'-7 1/4\", join 7'-4 3/4\""
        ]
    );
    assert_eq!(
        heights(&told("fall = \"1/8in per ft back\"")),
        [
            first,
            "right 2'-2 1/4\", corner 7'-2 1/4\", join 7'-4 3/4\""
        ]
    );
    let plan = planned(&told(""));
    let said = plan.takeoff.assumptions.join("\n");
    assert!(
        said.contains("the pipe at `right` 1-1/4\" higher than its port is said to be")
            || said.contains("the pipe at `right` 1 1/4\" higher than its port is said to be"),
        "{said}"
    );
}

#[test]
fn each_tank_takes_what_falls_back_to_it() {
    let open = r#"["valve", "hose 18in"]"#;
    let main = leg(
        "left",
        "\"east 20-0\"",
        "marks = { join = \"15-0\", end = \"25-0\" }",
    );
    let right = leg("right", "\"south 20-0\"", "to = \"join\"");
    let tables = [
        &supply("left", open),
        &supply("right", CONNECT),
        &main,
        &right,
    ];
    let plan = planned(&job("1/8in per ft", &tables.map(String::as_str), "10 cfm"));
    let ends: Vec<(EndKind, f64)> = plan
        .water
        .ends
        .iter()
        .filter(|end| end.pipe.mm() < 2_000.0 && plan.network.place(end.at).starts_with("the "))
        .map(|end| (end.kind.clone(), end.pipe.mm()))
        .collect();
    let riser = 60.0 * 25.4;
    assert_eq!(ends, [(EndKind::Tank, riser), (EndKind::Pocket, riser)]);
}

#[test]
fn the_air_of_all_is_held_against_the_tools_and_tanks_of_one_band_are_one() {
    let library = Library::shipped().unwrap();
    let answered = |job: &str| {
        let plan = planned(job);
        answer(&plan.job, &plan.network, &library)
    };
    let job = both("\"east 40-0\"", "\"west 40-0\"", "18 cfm");
    let air = answered(&job);
    assert_eq!(
        air.supply.line,
        "18 cfm average against 24 cfm delivered: all compressors together run 75 % of the time, and 6 cfm is left"
    );
    let tank = air.supply.tank.unwrap();
    assert!((tank.volume.litres() - 2.0 * 60.0 * 3.785_411_784).abs() < 1e-6);
    let unlike = answered(&job.replacen("110 psi", "100 psi", 1));
    assert!(unlike.supply.tank.is_none());
    assert!((unlike.cut_in.kpa() - 100.0 * 6.894_757).abs() < 0.01);
    assert!(
        unlike.supply.missing[0].contains("the same `cut_in` and the same `cut_out`"),
        "{:?}",
        unlike.supply.missing
    );
    let silent = answered(&job.replacen("free_air = \"12 cfm\"\n", "", 1));
    assert!(silent.supply.delivered.is_none());
    assert_eq!(
        silent.supply.missing[0],
        "NOT KNOWN: what the compressor delivers, and so whether it is enough. Write `free_air` under [supply.left]."
    );
}

// One of two that says no temperature may give air of the usual 150 F; a hotter
// one that says so is the hottest all the same.
#[test]
fn the_hottest_air_of_all_tanks_is_judged() {
    let job = both("\"east 40-0\"", "\"west 40-0\"", "10 cfm");
    let discharge = |first: &str, second: &str| {
        let stated = job
            .replacen("cut_in ", &format!("{first}\ncut_in "), 1)
            .replace("[supply.right]", &format!("[supply.right]\n{second}"));
        planned(&stated).job.conditions().discharge
    };
    let degrees = |fahrenheit| Some(Temperature::from_fahrenheit(fahrenheit));
    let stated = |text: &str| format!("discharge = \"{text}\"");
    assert_eq!(discharge("", ""), None);
    assert_eq!(discharge(&stated("100 F"), ""), None);
    assert_eq!(discharge("", &stated("180 F")), degrees(180));
    assert_eq!(discharge(&stated("100 F"), &stated("120 F")), degrees(120));
}

// The chart has 1/2 in for 12 cfm and more pipe for 24 cfm, though the tool is small.
#[test]
fn sizes_left_open_come_from_the_chart_at_all_the_air() {
    let given = both("\"east 40-0\"", "\"west 40-0\"", "2 cfm");
    let open = given.replacen("size   = \"1/2in\"", "size   = \"auto\"", 1);
    let plan = planned(&open);
    let library = Library::shipped().unwrap();
    let all = AirFlow::parse("24 cfm").unwrap();
    let farthest = Length::from_feet(49);
    assert_eq!(
        Some(plan.summary.main_sizes.clone()),
        library.chart_size(all, farthest).map(|size| vec![size])
    );
    let said = plan.takeoff.assumptions.join("\n");
    assert!(said.contains("at the whole 24 cfm and 49.0 ft"), "{said}");
    assert!(
        said.contains("as if each of them gave all the air"),
        "{said}"
    );
}

#[test]
fn ratings_are_held_against_the_highest_relief_valve() {
    let job = both("\"east 40-0\"", "\"west 40-0\"", "10 cfm");
    let zones = |job: &str| planned(job).zones.zones[0].clone();
    let higher = zones(&job.replacen("150 psi", "175 psi", 1));
    assert_eq!(higher.name, "under the relief valve of left and right");
    assert_eq!(higher.limit_words, "the relief valve opens at 175 psi");
    // 1.1 times a cut-out of 140 psi is 154 psi, above the other's 150 psi.
    let usual = zones(&job.replacen("relief   = \"150 psi\"\n", "", 1));
    assert!((usual.limit_psi.unwrap() - 154.0).abs() < 1e-6);
    // One that says nothing may go as high as any.
    let silent = job.replacen("cut_out  = \"140 psi\"\nrelief   = \"150 psi\"\n", "", 1);
    assert_eq!(zones(&silent).limit_psi, None);
}

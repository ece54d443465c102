//! The water walk over generated shops, and as a user asks for it.

use crate::support::{Form, Plan, Shop, path, run, same_cases};
use bom::library::Library;
use bom::network::NodeId;
use bom::quantity::{Fall, Length};
use bom::source::Source;
use bom::water::{Day, End, EndKind, WaterMap, WetHow, walk};
use dripleg::Exit;
use proptest::prelude::{any, prop_assert, prop_assert_eq, proptest};
use proptest::sample::select;
use serde_json::Value;
use std::path::Path;

fn map(job: &str) -> WaterMap {
    let library = Library::shipped().unwrap();
    let (plan, findings) = bom::plan(&Source::new("job", job), &library);
    let plan = plan.unwrap_or_else(|| panic!("{findings:#?}\n{job}"));
    walk(&plan.network, &library)
}

type Figures = (
    Vec<(u8, Length, Length)>,
    Vec<Length>,
    Vec<(WetHow, Length)>,
);

/// Kinds and lengths of all ends, what stands and what gets wet, without names.
fn figures(map: &WaterMap) -> Figures {
    let kind = |kind: &EndKind| match kind {
        EndKind::Drain(_) => 0,
        EndKind::Tank => 1,
        EndKind::Tool(_) => 2,
        EndKind::Pocket => 3,
        EndKind::Level => 4,
    };
    let ends = map.ends.iter();
    let mut ends: Vec<_> = ends
        .map(|end| (kind(&end.kind), end.pipe, end.at_risk))
        .collect();
    ends.sort_unstable();
    let mut standing: Vec<Length> = map.standing.iter().map(|one| one.length).collect();
    standing.sort_unstable();
    let mut wet: Vec<_> = map.wet.iter().map(|wet| (wet.how, wet.from)).collect();
    wet.sort_unstable();
    (ends, standing, wet)
}

/// Whether a drain or the tank takes what ends there.
fn drains_it(end: &End) -> bool {
    matches!(end.kind, EndKind::Drain(_) | EndKind::Tank)
}

/// The pipe that neither a drain nor the tank empties.
fn undrained(map: &WaterMap) -> Length {
    let ends = map.ends.iter();
    let drained = ends.filter(|end| drains_it(end)).map(|end| end.pipe).sum();
    map.all - drained
}

proptest! {
    #![proptest_config(same_cases(64))]

    #[test]
    fn every_length_of_pipe_has_one_end(
        plan in select(&Plan::ALL[..]), outlets in 1_usize..14, seed in any::<u64>()
    ) {
        let map = map(&Shop::new(plan, outlets, seed).job(Form::default()));
        prop_assert!(map.accounts_for_all());
        for end in &map.ends {
            prop_assert!(end.at_risk >= Length::ZERO && end.pipe + end.at_risk <= map.all);
        }
        prop_assert!(map.wet.iter().all(|wet| wet.from <= map.all));
    }

    #[test]
    fn turning_renaming_reordering_and_metric_change_no_water(
        plan in select(&Plan::ALL[..]), outlets in 1_usize..14, seed in any::<u64>(),
        rotate in 0_u8..4, [mirror, metric, reorder, rename] in any::<[bool; 4]>()
    ) {
        let shop = Shop::new(plan, outlets, seed);
        let form = Form { rotate, mirror, metric, reorder, rename };
        let (plain, other) = (map(&shop.job(Form::default())), map(&shop.job(form)));
        prop_assert_eq!(figures(&plain), figures(&other));
    }

    // A main raised level at its low points leaves no less pipe undrained: its
    // drops, which come down from higher, may be longer. Nor does a shop without
    // its drain valves.
    #[test]
    fn no_pipe_is_emptied_by_raising_low_points_or_leaving_out_drains(
        plan in select(&Plan::ALL[..]), outlets in 1_usize..14, seed in any::<u64>()
    ) {
        let job = Shop::new(plan, outlets, seed).job(Form::default());
        let falling = map(&job);
        let level: Vec<&str> = job.lines()
            .map(|line| if line.starts_with("fall") { "fall = \"level\"" } else { line })
            .collect();
        let level = map(&level.join("\n"));
        prop_assert!(undrained(&level) >= undrained(&falling));
        let capped = job.replace("drain = \"valve\"", "drain = \"none\"");
        let capped = map(&capped.replace("drain = \"automatic\"", "drain = \"none\""));
        prop_assert!(undrained(&capped) >= undrained(&falling));
        prop_assert_eq!(capped.all, falling.all);
    }

    // What is left of the low points lies no lower than before, and what stood
    // in one has nowhere to go.
    #[test]
    fn no_pipe_is_emptied_by_taking_a_low_point_away(
        plan in select(&[Plan::Ring, Plan::Rungs, Plan::Teeth][..]), outlets in 1_usize..14,
        seed in any::<u64>(), which in any::<usize>()
    ) {
        let shop = Shop::new(plan, outlets, seed);
        let (job, drains) = (shop.job(Form::default()), shop.drains());
        // A ring without any low point is refused.
        if plan == Plan::Teeth || drains > 1 {
            let less = shop.without_drain(which % drains).job(Form::default());
            let (less, all) = (map(&less), map(&job));
            let open = |map: &WaterMap| map.ends.iter().filter(|end| !drains_it(end)).count();
            prop_assert!(open(&less) >= open(&all));
            // A ring that lies lower has shorter drops.
            prop_assert!(plan != Plan::Teeth || undrained(&less) >= undrained(&all));
        }
    }

    // All of a main falls at the stated fall at least, crests included, to a place
    // that is drained: no water of it stands, and none is lost at a tool or in a
    // pocket, but what its drops take.
    #[test]
    fn every_pipe_falls_as_stated_to_a_drain(
        plan in select(&[Plan::Ring, Plan::Rungs, Plan::Teeth][..]), outlets in 1_usize..14,
        seed in any::<u64>()
    ) {
        let job = Shop::new(plan, outlets, seed).job(Form::default());
        let line = job.lines().find(|line| line.starts_with("fall")).unwrap();
        let fall = Fall::parse(line.split('"').nth(1).unwrap()).unwrap();
        let library = Library::shipped().unwrap();
        let network = bom::plan(&Source::new("job", job), &library).0.unwrap().network;
        let up = |id| network.node(id).at.up;
        let ends = |id| network.ends(id).filter(|end| network.link(end.link).is_main()).map(|end| end.far);
        let drained: Vec<NodeId> = network.drains.iter().map(|drain| drain.at).collect();
        for (_, from, to, link) in network.links().filter(|(_, _, _, link)| link.is_main()) {
            if !link.direction.is_level() {
                continue;
            }
            let by = (up(from) - up(to)).abs();
            let stated = fall.over(link.pipe.unwrap_or_default());
            prop_assert!(by + Length::from_nm(2) >= stated, "{} {by:?} {stated:?}", network.place(to));
            // Where rings share pipe, no pipe is steeper.
            prop_assert!(plan == Plan::Ring || by <= stated + Length::from_nm(2));
            let low = if up(from) < up(to) { from } else { to };
            prop_assert!(drained.contains(&low) || ends(low).any(|far| up(far) < up(low)));
        }
    }
}

/// A wall with one drop, to be told of its air and its rooms.
const AIR_SHOP: &str = r#"
[job]
title = "Air"
units = "feet"
#ROOMS
[supply.compressor]
port    = "3/4in female"
height  = "2-6"
connect = ["valve", "hose 18in"]
#AIR
[main]
system = "black-iron"
size   = "1/2in"
height = "7-6"
fall   = "1in per 10ft"
[[leg]]
from  = "compressor"
go    = ["up 5-0", "east 20-0"]
marks = { bench = "15-0", low = "25-0" }
[drain.low]
[drop.one]
foot     = "tee"
sides    = [["valve", "coupler"]]
size     = "1/2in"
[outlet.bench]
drop   = "one"
height = "3-6"
"#;

fn accounted(day: &Day) -> f64 {
    day.in_tank + day.at_ends.iter().sum::<f64>() + day.standing + day.leaves
}

proptest! {
    #![proptest_config(same_cases(48))]

    // In = tank + pipe + out, whatever a job may say.
    #[test]
    fn no_water_is_lost(
        [intake, discharge, cold, warm] in [-148_i32..=392, -58..=482, -148..=200, 0..=190],
        humidity in 0_u32..=100, hours in 0_u32..=24, flow in 1_u32..=2_000,
        [pressure, altitude] in [1_i32..=500, -1_300..=16_400],
        loss in 0_u32..=100, level in any::<bool>(),
    ) {
        let air = format!(
            "free_air = \"{flow} cfm\"\nintake = \"{intake} F\"\ndischarge = \"{discharge} F\"\nhumidity = \"{humidity} %\"\nrunning = \"{hours} h\"\ncut_in = \"{pressure} psi\"\ncut_out = \"501 psi\"\nrelief = \"502 psi\""
        );
        let rooms = format!(
            "[site]\naltitude = \"{altitude}ft\"\n[room.shop]\nsize = \"60-0 x 40-0\"\ncoldest = \"{cold} F\"\nhottest = \"{} F\"",
            cold + warm
        );
        let job = AIR_SHOP
            .replace("#AIR", &air)
            .replace("#ROOMS", &rooms)
            .replace("fall   = ", &format!("heat_loss = \"{loss} W/m2K\"\nfall   = "))
            .replace("1in per 10ft", if level { "level" } else { "1in per 10ft" });
        let library = Library::shipped().unwrap();
        let (job, findings) = bom::job::read(&Source::new("job", job), &library);
        // Air that would be nothing but vapour is refused, and nothing else is.
        if let [refused] = &findings[..] {
            prop_assert_eq!(refused.rule, "intake-without-air");
            return Ok(());
        }
        prop_assert!(findings.is_empty(), "{:?}", findings);
        let job = job.unwrap();
        let network = bom::network::build(&job, &library, bom::network::Open::Chart).0.unwrap();
        let map = walk(&network, &library);
        let amounts = bom::water::amounts(&job, &network, &library, &map).unwrap();
        for day in [Some(&amounts.mean), amounts.coldest.as_ref(), amounts.hottest.as_ref()].into_iter().flatten() {
            for figure in day.at_ends.iter().chain([&day.in_tank, &day.standing, &day.leaves]) {
                prop_assert!(figure.is_finite() && *figure >= 0.0, "{:?}", day);
            }
            prop_assert!((accounted(day) - day.taken_in).abs() <= 1e-9 * day.taken_in, "{:?}", day);
        }
        for arrival in &amounts.arrivals {
            prop_assert!(arrival.dew_point.is_none_or(|dew| dew <= arrival.air));
        }
    }
}

/// Millrace: the ring is 171-6 of main less the riser of 7-6, six risers of top
/// take-offs run back into it, and the drain has its own leg.
#[test]
fn the_demo_ring_drains_into_its_low_point() {
    let job = path("catalogs-demo/millrace.toml");
    let outcome = run(&["water", &job, "--format", "json"]);
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    let json: Value = serde_json::from_str(&outcome.out).unwrap();
    let drains = json["drains"].as_array().unwrap();
    assert_eq!(drains.len(), 7);
    let low = drains.iter().find(|drain| drain["name"] == "low").unwrap();
    // 164-0 of main, six rises of 7 nipple-made inches less one, one leg.
    let feet = low["drains_mm"].as_f64().unwrap() / 304.8;
    assert!((feet - 164.0 - 3.64).abs() < 0.01, "{feet}");
    let tank = &json["other_ends"].as_array().unwrap()[0];
    assert_eq!(tank["kind"], "tank");
    assert_eq!(tank["drains_mm"], 2286.0);
    let sum: f64 = drains
        .iter()
        .chain([tank])
        .map(|end| end["drains_mm"].as_f64().unwrap())
        .sum();
    assert!((sum - json["pipe_mm"].as_f64().unwrap()).abs() < 0.01);
    assert_eq!(json["undrained"], Value::Array(Vec::new()));
    assert_eq!(json["wet_outlets"], Value::Array(Vec::new()));
    // Behind the riser 4-0 of level pipe to the entry: one hanger in its middle,
    // 2-0 of fall at 1/8in per ft lower than 11-0.
    let hangers = json["hangers"].as_array().unwrap();
    let second = &hangers[1];
    assert_eq!(second["from"], "leg 1, a corner");
    assert_eq!(second["along_mm"], 609.6);
    assert_eq!(second["height_mm"], 3346.45);
    let text = run(&["water", &job, "--hangers"]);
    assert!(text.out.contains("Every foot drains"), "{}", text.out);
    let row = "along the pipe  above floor  pipe";
    assert!(text.out.contains(row), "{}", text.out);
    let csv = run(&["water", &job, "--format", "csv", "--hangers"]);
    let row = "\nhanger,\"609.6 mm from leg 1, a corner to leg 1, its end entry\",3346.45,,,\n";
    assert!(csv.out.contains(row), "{}", csv.out);
}

/// Two rooms, the low drain in the cold one; paint at the bench.
#[test]
fn days_dew_points_and_frost_are_told() {
    let job = AIR_SHOP
        .replace(
            "#ROOMS",
            "[room.shop]\nsize = \"30-0 x 20-0\"\ncoldest = \"50 F\"\nhottest = \"90 F\"\n[room.outdoors]\ncoldest = \"14 F\"\nhottest = \"95 F\"\n[site]\naltitude = \"650ft\"",
        )
        .replace("#AIR", "free_air = \"12 cfm\"")
        .replace("marks = { bench = \"15-0\", low = \"25-0\" }", "marks = { bench = \"15-0\" }\n[[leg]]\nroom = \"outdoors\"\ngo = \"east 10-0\"\nmarks = { low = \"10-0\" }")
        .replace("height = \"3-6\"", "height = \"3-6\"\nquality = \"paint\"");
    let file = Path::new(env!("CARGO_TARGET_TMPDIR")).join("days.toml");
    std::fs::write(&file, job).unwrap();
    let path = file.display().to_string();
    let text = run(&["water", &path]);
    let json = run(&["water", &path, "--format", "json"]);
    assert_eq!(text.exit, Exit::Done, "{}", text.err);
    for said in [
        "water a day",
        "hottest day",
        "On the hottest day it brings",
        "On the coldest day it brings",
        "for paint, put a dryer in the main or at the outlet",
        "What freezes when its room is coldest",
        "drain low: outdoors as cold as 14 F, the water of ",
        "Not looked at: tanks, hoses, filter bowls and tools that stand in outdoors; the water in them freezes too.",
        "What names no room stands in shop: leg 1.",
    ] {
        let words = text.out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words.contains(said), "{said}: {}", text.out);
    }
    assert!(!text.out.contains("sea level"));
    let json: Value = serde_json::from_str(&json.out).unwrap();
    let outlet = &json["outlets"][0];
    assert_eq!(outlet["name"], "bench");
    assert_eq!(outlet["saturated"], true);
    assert_eq!(outlet["air_c"], outlet["pressure_dew_point_c"]);
    let freezing = json["freezing"].as_array().unwrap();
    assert_eq!(freezing.len(), 1);
    assert_eq!(
        (&freezing[0]["room"], &freezing[0]["coldest_c"]),
        (&"outdoors".into(), &(-10.0).into())
    );
    let litres = |day: &Value| day["taken_in_litres"].as_f64().unwrap();
    let day = &json["day"];
    assert!(litres(&day["coldest"]) < litres(day) && litres(day) < litres(&day["hottest"]));
}

//! The sheets on water, pressure and valves over the jobs that are drawn by hand and
//! over generated shops.

use crate::support::{forms, read, root, same_cases, shops};
use bom::Plan;
use bom::air::answer::{State, answer};
use bom::drawing::{Field, Scene, Shape, Sheet, Text, collisions, pressure, tags, valves, water};
use bom::library::Library;
use bom::network::{Network, NodeId};
use bom::source::Source;
use bom::takeoff::hangers;
use bom::water::{Drained, profile, round};
use proptest::prelude::proptest;
use std::collections::{BTreeMap, BTreeSet};

const JOBS: [&str; 7] = [
    "catalogs-demo/millrace.toml",
    "catalogs-demo/annex.toml",
    "catalogs-demo/garage.toml",
    "tests/drawing/ring-of-twenty.toml",
    "tests/drawing/two-levels.toml",
    "tests/drawing/hall-of-a-hundred.toml",
    "tests/drawing/re-pipe.toml",
];

fn planned(job: &str, library: &Library) -> Plan {
    let (plan, findings) = bom::plan(&Source::new("job", job), library);
    plan.unwrap_or_else(|| panic!("{findings:#?}\n{job}"))
}

/// Every sheet fits the paper, and nothing on it is in the way of a text.
fn are_sound(sheets: &[Sheet], job: &str) {
    let field = Field::COMMON;
    let fits = |sheet: &Sheet| {
        let fits =
            |width: f64, height: f64| sheet.width <= width + 1e-6 && sheet.height <= height + 1e-6;
        fits(field.width, field.height) || fits(field.lying_width, field.lying_height)
    };
    let mut ids = BTreeSet::new();
    for sheet in sheets {
        assert!(ids.insert(sheet.id.clone()), "{} twice\n{job}", sheet.id);
        assert_eq!(collisions(sheet), [], "{}\n{job}", sheet.id);
        assert!(
            fits(sheet),
            "{}: {} x {}\n{job}",
            sheet.id,
            sheet.width,
            sheet.height
        );
        assert!(!sheet.about.is_empty());
        let mut names = BTreeSet::new();
        for mark in &sheet.marks {
            if let Some(id) = &mark.id {
                assert!(names.insert(id.clone()), "{}: {id} twice\n{job}", sheet.id);
            }
            for area in mark.shapes.iter().filter_map(Shape::area) {
                let inside = area.left > -0.3
                    && area.top > -0.3
                    && area.right < sheet.width + 0.3
                    && area.bottom < sheet.height + 0.3;
                assert!(inside, "{}: {area:?} of {:?}\n{job}", sheet.id, mark.id);
            }
        }
    }
}

fn texts<'a>(sheets: &'a [Sheet], id: &str) -> Vec<&'a Text> {
    let sheets = sheets.iter().filter(|sheet| sheet.id.starts_with(id));
    sheets.flat_map(Sheet::texts).collect()
}

/// The rows of a table: its texts by their baseline.
fn rows(sheets: &[Sheet], id: &str) -> Vec<Vec<String>> {
    let mut rows = Vec::new();
    for sheet in sheets.iter().filter(|sheet| sheet.id.starts_with(id)) {
        let mut lines: BTreeMap<String, Vec<(String, String)>> = BTreeMap::new();
        for text in sheet.texts() {
            let line = lines.entry(format!("{:09.3}", text.at.y)).or_default();
            line.push((format!("{:09.3}", text.area().left), text.words.clone()));
        }
        rows.extend(lines.into_values().map(|mut line| {
            line.sort();
            line.into_iter()
                .map(|(_, words)| words)
                .collect::<Vec<String>>()
        }));
    }
    rows
}

/// The drain round, and the table of the hangers that goes on below it.
fn lists(sheets: &[Sheet]) -> (Vec<Vec<String>>, Vec<Vec<String>>) {
    let mut round = rows(sheets, "water-lists");
    let hangers = round.iter().position(|row| row[0] == "hanger");
    let hangers = round.split_off(hangers.unwrap_or(round.len()));
    (round, hangers)
}

/// Each place of the main and each hanger with the height that the network has there.
fn heights_are_the_networks(plan: &Plan, library: &Library, sheets: &[Sheet]) {
    let units = plan.summary.units;
    let wanted: BTreeSet<(String, String)> = profile(&plan.network)
        .iter()
        .flatten()
        .map(|place| {
            let up = plan.network.node(place.at).at.up;
            (place.along.show(units), up.show(units))
        })
        .collect();
    let mut shown = BTreeSet::new();
    for sheet in sheets
        .iter()
        .filter(|sheet| sheet.id.starts_with("water-profile"))
    {
        for mark in &sheet.marks {
            let turned: Vec<&Text> = mark
                .shapes
                .iter()
                .filter_map(|shape| match shape {
                    Shape::Text(text) if text.turned => Some(text),
                    _ => None,
                })
                .collect();
            if let [_, along, height] = turned[..] {
                shown.insert((along.words.clone(), height.words.clone()));
            }
        }
    }
    assert_eq!(shown, wanted);
    let (_, table) = lists(sheets);
    for (number, hanger) in (1..).zip(hangers(&plan.network, library)) {
        let row = table.iter().find(|row| row[0] == number.to_string());
        let row = row.unwrap_or_else(|| panic!("no hanger {number}"));
        let figures = &row[row.len() - 3..];
        assert_eq!(figures[0], hanger.along.show(units), "{number}");
        assert_eq!(figures[1], hanger.height.show(units), "{number}");
    }
}

/// Each drain once on the map and once in the round, which holds every drip leg too.
fn every_drain_is_there_once(plan: &Plan, library: &Library, sheets: &[Sheet]) {
    let stops = round(&plan.network, library, &plan.water);
    let mut drained: Vec<Drained> = stops.iter().map(|stop| stop.what).collect();
    drained.sort_unstable();
    let tanks = (0..plan.network.supplies.len()).map(Drained::Tank);
    let drains = (0..plan.network.drains.len()).map(Drained::Main);
    let drops = plan.network.drops.iter().enumerate();
    let drops = drops.filter(|(_, drop)| drop.drain.is_some());
    let drops = drops.map(|(number, _)| Drained::Drop(number));
    assert_eq!(
        drained,
        tanks.chain(drains).chain(drops).collect::<Vec<_>>()
    );
    assert_eq!(stops[0].what, Drained::Tank(0));
    let (table, _) = lists(sheets);
    let table: Vec<&Vec<String>> = table
        .iter()
        .filter(|row| row[0].parse::<usize>().is_ok())
        .collect();
    assert_eq!(table.len(), stops.len());
    let tags = tags(plan);
    let map = texts(sheets, "water");
    for (_, tag, name) in &tags.drains {
        assert_eq!(
            table.iter().filter(|row| row[1] == *tag).count(),
            1,
            "{tag}"
        );
        let label = format!("{tag} {name}");
        let labels = map
            .iter()
            .filter(|text| text.words == label && !text.turned);
        assert_eq!(labels.count(), 1, "{label}");
    }
}

/// Which places are reached from any tank, by trying every link until nothing changes.
fn reached(network: &Network, shut: &[NodeId]) -> BTreeSet<NodeId> {
    let mut reached: BTreeSet<NodeId> = network.ports().collect();
    loop {
        let before = reached.len();
        for (_, from, to, _) in network.links() {
            for (here, there) in [(from, to), (to, from)] {
                if reached.contains(&here) && !shut.contains(&here) && !shut.contains(&there) {
                    reached.insert(there);
                }
            }
        }
        if reached.len() == before {
            return reached;
        }
    }
}

fn valves_shut_off_what_they_do(plan: &Plan, sheets: &[Sheet]) {
    let network = &plan.network;
    let tags = tags(plan);
    let places: Vec<NodeId> = tags.valves.iter().map(|valve| valve.0).collect();
    let without = |shut: &[NodeId]| -> Vec<usize> {
        let reached = reached(network, shut);
        let drops = network.drops.iter().enumerate();
        let without = drops.filter(|(_, drop)| !reached.contains(&drop.foot_at));
        without.map(|(number, _)| number).collect()
    };
    for at in &places {
        assert_eq!(network.without_air(&[*at]), without(&[*at]));
    }
    let sections = network.sections(&places);
    let mut main: Vec<_> = sections.iter().flat_map(|one| one.main.clone()).collect();
    main.sort_unstable();
    let all = network.links().filter(|(.., link)| link.is_main());
    assert_eq!(main, all.map(|(id, ..)| id).collect::<Vec<_>>());
    for section in &sections {
        let off = without(&section.valves);
        assert_eq!(network.without_air(&section.valves), off);
        if !section.has_tank {
            assert!(section.drops.iter().all(|drop| off.contains(drop)));
        }
    }
    assert_eq!(sheets.is_empty(), network.valves.is_empty());
    for (_, tag, name) in tags.valves.iter().filter(|_| !sheets.is_empty()) {
        let table = rows(sheets, "valves");
        // On the sketch other tags may stand beside it.
        let its = |row: &&Vec<String>| row.len() == 4 && row[0] == *tag && row[1].ends_with(name);
        assert_eq!(table.iter().filter(its).count(), 1, "{tag}");
    }
}

/// The last figure of each ladder is what the tool gets, and every tool that lacks
/// pressure has one.
fn ladders_end_at_the_tools(plan: &Plan, library: &Library, sheets: &[Sheet]) {
    let units = plan.summary.units;
    let air = answer(&plan.job, &plan.network, library);
    let mut ladders = 0;
    for mark in sheets.iter().flat_map(|sheet| &sheet.marks) {
        let Some(name) = mark.id.as_ref().and_then(|id| id.strip_prefix("rungs-")) else {
            continue;
        };
        let tool: usize = name.split('-').next().unwrap().parse().unwrap();
        let (new, worn) = (&air.new.tools[tool - 1], &air.aged.tools[tool - 1]);
        let ways = match name {
            name if name.ends_with("as-new") => vec![new],
            name if name.ends_with("worn") => vec![worn],
            _ => vec![new, worn],
        };
        let words: Vec<&str> = mark
            .shapes
            .iter()
            .filter_map(|shape| match shape {
                Shape::Text(text) => Some(&*text.words),
                _ => None,
            })
            .collect();
        let figure = |gets: Option<bom::quantity::Pressure>| {
            gets.map(|gets| {
                gets.show_fine(units, 1)
                    .split(' ')
                    .next()
                    .unwrap()
                    .to_owned()
            })
        };
        for (way, shown) in ways.iter().zip(&words[words.len() - ways.len()..]) {
            assert_eq!(figure(way.gets).as_deref(), Some(*shown), "{name}");
        }
        ladders += 1;
    }
    let outlets: BTreeSet<usize> = air.demand.tools.iter().map(|tool| tool.outlet).collect();
    let lacking = outlets.iter().filter(|outlet| {
        let worst = air.worst_at(**outlet);
        worst.is_some_and(|worst| air.tools[worst].state() >= State::Starved)
    });
    assert!(
        ladders >= lacking.count().max(outlets.len().min(4)),
        "{ladders}"
    );
    assert_eq!(sheets.is_empty(), air.tools.is_empty());
}

#[test]
fn the_sheets_of_the_jobs_hold_what_the_walks_hold() {
    let library = Library::shipped().unwrap();
    for path in JOBS {
        let plan = planned(&read(root().join(path)), &library);
        let scene = Scene {
            plan: &plan,
            library: &library,
            field: Field::COMMON,
        };
        let (water, valves, pressure) = (water(&scene), valves(&scene), pressure(&scene));
        for sheets in [&water, &valves, &pressure] {
            are_sound(sheets, path);
        }
        heights_are_the_networks(&plan, &library, &water);
        every_drain_is_there_once(&plan, &library, &water);
        valves_shut_off_what_they_do(&plan, &valves);
        ladders_end_at_the_tools(&plan, &library, &pressure);
    }
}

// In a shop that freezes, the drain of the low point and the drip legs do: the word stands on the map as often as the
// walk finds it, with hatching in the legend.
#[test]
fn what_freezes_says_so() {
    let library = Library::shipped().unwrap();
    let job = read(root().join("catalogs-demo/millrace.toml"));
    let cold = job.replacen("eave = \"14-0\"", "eave = \"14-0\"\ncoldest = \"10 F\"", 1);
    let plan = planned(&cold, &library);
    assert!(!plan.freezing.is_empty());
    let scene = Scene {
        plan: &plan,
        library: &library,
        field: Field::COMMON,
    };
    let sheets = water(&scene);
    are_sound(&sheets, &cold);
    let map = texts(&sheets[..1], "water");
    let words = map.iter().filter(|text| text.words.starts_with("FREEZES"));
    // And once in the legend.
    assert_eq!(words.count(), plan.freezing.len() + 1);
}

proptest! {
    #![proptest_config(same_cases(60))]

    #[test]
    fn the_sheets_of_any_shop_are_sound(shop in shops(1..14), form in forms()) {
        let library = Library::shipped().unwrap();
        let job = shop.job(form);
        let plan = planned(&job, &library);
        let scene = Scene { plan: &plan, library: &library, field: Field::COMMON };
        let (water, valves) = (water(&scene), valves(&scene));
        are_sound(&water, &job);
        are_sound(&valves, &job);
        heights_are_the_networks(&plan, &library, &water);
        every_drain_is_there_once(&plan, &library, &water);
        valves_shut_off_what_they_do(&plan, &valves);
    }
}

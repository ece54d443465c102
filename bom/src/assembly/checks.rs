//! What is looked at before air goes in, and how it goes in.

use super::say::{count, listed};
use super::{Given, Hold, Step};
use crate::job::TakeOff;
use crate::network::{NodeKind, Owner};
use std::collections::BTreeMap;

pub(super) fn steps(given: Given<'_>) -> Vec<Step> {
    let joints: u64 = given.takeoff.joints.iter().map(|joints| joints.count).sum();
    let checks = [
        ("Look over the pipe", look(given)),
        ("Shut every valve", shut(given)),
        ("Read the relief valve", relief(given)),
        (
            "Let the pressure in slowly",
            let_in(given),
        ),
        (
            "Look for leaks at every joint",
            vec![
                format!("{} to soap, step by step in the order above.", count(joints, "joint")),
                "Mend a leak without pressure: tighten on or make the joint anew, and soap it again.".to_owned(),
                "For a test that is read off a gauge, shut the pipe off from the tank and write down the air's temperature with the pressure: cooling air looks like a leak.".to_owned(),
            ],
        ),
        (
            "Blow out, drain and label",
            vec![
                "Blow out every drop before a tool is put on it, and let water out at every drain.".to_owned(),
                format!("Label {}, and the way the air goes.", labels(given)),
            ],
        ),
    ];
    checks
        .into_iter()
        .map(|(title, how)| Step {
            number: 0,
            title: title.to_owned(),
            hold: Hold::Nothing,
            how,
            pieces: Vec::new(),
            parts: Vec::new(),
            joints: Vec::new(),
            seats: Vec::new(),
            height: None,
            remarks: Vec::new(),
        })
        .collect()
}

fn look(given: Given<'_>) -> Vec<String> {
    let mut how = vec![
        "Every hanger and bracket carries and is tight; nothing hangs on a fitting.".to_owned(),
    ];
    let mut drops = given.network.drops.iter();
    if drops.any(|drop| drop.take_off == TakeOff::Top) {
        how.push("Every drop from the top goes up before it goes over and down.".to_owned());
    }
    if !given.job.main.fall.value.is_level() {
        how.push(format!(
            "The main falls {}: lay a level on every straight.",
            given.job.main.fall_text
        ));
    }
    how
}

/// How air is let in: by a valve at the tank, if there is one.
fn let_in(given: Given<'_>) -> Vec<String> {
    let valves = given.network.nodes().filter(|(_, node)| {
        let supply = matches!(node.origin.owner, Owner::Supply(_));
        supply && is_valve(given, &node.kind)
    });
    let slowly = match valves.count() {
        0 => {
            "No valve stands at the tank: run the compressor up from nothing, and stop it at a low pressure to listen before going on."
        }
        _ => {
            "Open the valve at the tank a little, and shut it at a low pressure to listen before going on."
        }
    };
    vec![
        "Nobody stands before an open end; eyes are covered.".to_owned(),
        slowly.to_owned(),
    ]
}

fn is_valve(given: Given<'_>, kind: &NodeKind) -> bool {
    matches!(kind, NodeKind::Device { device, .. } if {
        let part = given.library.devices()[*device].part.as_str();
        matches!(part, "ball-valve" | "drain-valve")
    })
}

/// The valves by where they are.
fn shut(given: Given<'_>) -> Vec<String> {
    let network = given.network;
    let mut at: BTreeMap<Owner, u64> = BTreeMap::new();
    for (_, node) in network.nodes() {
        if is_valve(given, &node.kind) {
            *at.entry(node.origin.owner).or_default() += 1;
        }
    }
    let mut tanks = Vec::new();
    let mut outlets = Vec::new();
    for (owner, number) in &at {
        match owner {
            Owner::Supply(supply) => tanks.push(network.supplies[*supply].0.clone()),
            Owner::Outlet(outlet) => {
                let name = &network.drops[*outlet].name;
                outlets.push(format!("{name} ({number})"));
            }
            Owner::Leg(_) | Owner::Drain(_) => {}
        }
    }
    let valves: Vec<String> = network
        .valves
        .iter()
        .map(|valve| valve.name.clone())
        .collect();
    let drains: Vec<String> = network
        .drains
        .iter()
        .map(|drain| drain.name.clone())
        .collect();
    let said = |lead: &str, names: &[String]| {
        (!names.is_empty()).then(|| format!("{lead} {}.", listed(names)))
    };
    let how = [
        said("At the tank:", &tanks),
        said(
            "In the main, to be opened one after the other from the tank:",
            &valves,
        ),
        said("Drains of the main:", &drains),
        said(
            "At the outlets, with the drains of their drip legs:",
            &outlets,
        ),
    ];
    how.into_iter().flatten().collect()
}

fn relief(given: Given<'_>) -> Vec<String> {
    let units = given.job.units;
    let supplies = given.job.supplies.iter();
    let mut how: Vec<String> = supplies
        .map(|supply| {
            let name = &supply.name.value;
            match (supply.relief, supply.cut_out) {
                (Some(relief), Some(stops)) => format!(
                    "{name}: it is set to {}, and the compressor stops at {}.",
                    relief.show(units),
                    stops.show(units)
                ),
                (Some(relief), None) => format!("{name}: it is set to {}.", relief.show(units)),
                (None, _) => format!("{name}: the job does not say its setting; read it off the valve and write it down."),
            }
        })
        .collect();
    how.push(
        "The plate of each must say so, and no valve stands between it and its tank.".to_owned(),
    );
    how
}

fn labels(given: Given<'_>) -> String {
    let network = given.network;
    let mut what = Vec::new();
    let lines = network.valves.len() as u64;
    let drains = network.drains.len() as u64;
    if lines > 0 {
        what.push(count(lines, "line valve"));
    }
    if drains > 0 {
        what.push(count(drains, "drain"));
    }
    what.push(count(network.drops.len() as u64, "outlet"));
    listed(&what)
}

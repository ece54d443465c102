//! What to look at: every machine, every end by which air could leave, what cannot take
//! the test, and pipe that stood before.

use super::super::{Context, Part, numbers};
use crate::drawing::Tags;
use crate::job::State;
use crate::network::{NodeKind, Spot};

/// What is made for less than pipe is.
const TENDER: [&str; 4] = ["filter", "regulator", "lubricator", "dryer"];

pub(super) fn boxes(context: &Context<'_>) -> Vec<String> {
    let network = &context.plan.network;
    let mut looks: Vec<String> = (0..network.supplies.len())
        .map(|supply| machine(context, supply))
        .collect();
    looks.push(outlets(context));
    looks.extend(drains(context));
    looks.extend(caps(context));
    looks.extend(network.plugged.iter().map(|plug| {
        let place = network.place(plug.at);
        // Of one that the file names nobody knows what was there.
        let mut said = context.plan.job.plugs.iter();
        let is_said = said.any(|one| one.span.is_some() && one.place == plug.name);
        match (plug.to_come, is_said) {
            (true, _) => format!(
                "Plug for {}, which comes later, at {place}: made up",
                plug.name
            ),
            (false, true) => format!("Plug at {place}: made up"),
            (false, false) => format!(
                "Plug where {} was taken out, at {place}: made up",
                plug.name
            ),
        }
    }));
    let lines = network.valves.iter();
    let lines: Vec<&str> = lines
        .filter_map(|valve| context.tags.valve_at(valve.at))
        .collect();
    if !lines.is_empty() {
        looks.push(format!(
            "Line valves {} open, so that all pipe is tested",
            lines.join(", ")
        ));
    }
    looks.push(format!(
        "{} that is rated for less than the test: off, its ends plugged",
        tender(context)
    ));
    looks.push("A relief valve of its own on the pipe that is tested, between the source of air and the pipe, with nothing that shuts between".to_owned());
    looks.push(
        "Every joint can be seen and soaped; every hanger is tight; nobody works on the line"
            .to_owned(),
    );
    looks
}

/// A machine with its tank is no part of the test.
fn machine(context: &Context<'_>, supply: usize) -> String {
    let network = &context.plan.network;
    let name = &network.supplies[supply].0;
    let valves = context.tags.valves.iter();
    let mut valves = valves
        .filter(|(at, ..)| network.node(*at).origin.owner == crate::network::Owner::Supply(supply));
    let hose = network.connections[supply].iter().any(|one| one == "hose");
    match (valves.next(), hose) {
        (Some((_, tag, _)), true) => format!(
            "{name}: stopped and locked; valve {tag} shut; the hose taken off the pipe, whose end is plugged: the tank is no part of the test"
        ),
        (Some((_, tag, _)), false) => format!(
            "{name}: stopped and locked; valve {tag} shut, and the pipe parted behind it and plugged: the tank is no part of the test"
        ),
        (None, _) => format!(
            "{name}: stopped and locked. No valve parts it from the pipe: take the pipe off the tank and plug it"
        ),
    }
}

/// Every outlet by name, with the number of its sides where it has more than one.
fn outlets(context: &Context<'_>) -> String {
    let drops = &context.plan.network.drops;
    let outlets: Vec<String> = context
        .outlets()
        .map(|(number, name)| {
            let drop = drops.iter().find(|drop| drop.name == name);
            match drop.map_or(1, |drop| drop.sides.len()) {
                0 | 1 => format!("{number} {name}"),
                sides => format!("{number} {name} ({sides} sides)"),
            }
        })
        .collect();
    match outlets.len() {
        0 => "No outlet".to_owned(),
        1 => format!("The outlet plugged: {}", outlets.join(", ")),
        count => format!(
            "All {count} outlets plugged on every side: {}",
            outlets.join(", ")
        ),
    }
}

fn drains(context: &Context<'_>) -> Option<String> {
    let tags = &context.tags;
    let main: Vec<&str> = tags.drains.iter().map(|(_, tag, _)| tag.as_str()).collect();
    let drops = context.plan.network.drops.iter();
    let drained = drops.filter(|drop| drop.drain.is_some());
    let legs = by_number(tags, drained.map(|drop| drop.name.as_str()));
    let main = (!main.is_empty()).then(|| main.join(", "));
    let legs = legs.map(|legs| format!("those of the drip legs of {legs}"));
    let all: Vec<String> = main.into_iter().chain(legs).collect();
    (!all.is_empty()).then(|| format!("Drains shut: {}", all.join(", and ")))
}

/// Caps, where pipe leads nowhere.
fn caps(context: &Context<'_>) -> Vec<String> {
    let network = &context.plan.network;
    let capped = |one: &crate::network::NodeId| match &network.node(*one).kind {
        NodeKind::Fitting(fitting) => fitting.kind.part == Some("cap"),
        NodeKind::Port { .. } | NodeKind::Device { .. } => false,
    };
    let ends = network.nodes().map(|(id, _)| id).filter(capped);
    let (legs, ends): (Vec<_>, Vec<_>) =
        ends.partition(|id| network.node(*id).origin.spot == Spot::DripLeg);
    let drops = legs
        .iter()
        .filter_map(|id| match network.node(*id).origin.owner {
            crate::network::Owner::Outlet(outlet) => Some(network.drops[outlet].name.as_str()),
            _ => None,
        });
    let legs = by_number(&context.tags, drops);
    let legs = legs.map(|legs| format!("Caps made up on the drip legs of {legs}"));
    let ends = ends
        .into_iter()
        .map(|id| format!("Cap made up: {}", network.place(id)));
    ends.chain(legs).collect()
}

fn by_number<'a>(tags: &Tags, names: impl Iterator<Item = &'a str>) -> Option<String> {
    let mut found: Vec<usize> = names.map(|name| tags.outlet(name)).collect();
    found.sort_unstable();
    (!found.is_empty()).then(|| numbers(&found))
}

/// The devices that the job names and that take less than pipe, and gauges.
fn tender(context: &Context<'_>) -> String {
    let devices = context.library.devices();
    let nodes = context.plan.network.nodes();
    let used: Vec<usize> = nodes
        .filter_map(|(_, node)| match node.kind {
            NodeKind::Device { device, .. } => Some(device),
            NodeKind::Port { .. } | NodeKind::Fitting(_) => None,
        })
        .collect();
    let named = TENDER
        .into_iter()
        .filter(|name| used.iter().any(|device| devices[*device].name == *name));
    let words: Vec<&str> = named.collect();
    match words.is_empty() {
        true => "Every gauge".to_owned(),
        false => format!("Every {} and gauge", words.join(", ")),
    }
}

/// Pipe that stood before and is under the test too.
pub(super) fn old_pipe(context: &Context<'_>) -> Option<Part> {
    let network = &context.plan.network;
    if network.is_all_new() {
        return None;
    }
    let mut old: Vec<&str> = Vec::new();
    for (id, .., link) in network.links() {
        if let Some(leg) = link
            .leg
            .filter(|_| network.link_state(id) == State::Existing)
        {
            let label = network.legs[leg].label.as_str();
            if !old.contains(&label) {
                old.push(label);
            }
        }
    }
    let what = match old.is_empty() {
        true => "What stands already".to_owned(),
        false => format!("Pipe that stands already ({})", old.join(", ")),
    };
    Some(Part::Caution(format!(
        "{what} takes part in the test, and nobody has proved it: rust, wear and what was used are not known. Agree on it with the owner in writing, or part it off with a plug and test the new pipe alone; where old and new meet is then soaped at working pressure."
    )))
}

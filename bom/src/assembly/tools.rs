//! What the crew brings, and what it must know first. Common practice, no source.

use super::Given;
use super::say::{listed, methods};
use crate::quantity::{Length, Pressure, Size, Units};
use crate::system::{Joint, System};
use crate::takeoff::{Piece, PipeLine};
use std::collections::BTreeSet;

/// Pounds to kilograms.
const KILOGRAMS: f64 = 0.453_592_37;

pub(super) fn tools(given: Given<'_>) -> Vec<String> {
    let mut tools = Vec::new();
    for joint in methods(given) {
        tools.extend(of(given, joint));
    }
    if given.network.systems().len() == 1 && !methods(given).contains(&Joint::Threaded) {
        tools.push("Wrenches for the threads of valves and adapters.".to_owned());
    }
    tools.push("Tape measure, level or laser for the fall, marker, drill and fixings.".to_owned());
    if let Some(highest) = highest(given) {
        tools.push(format!(
            "Ladder or lift for work at {}.",
            highest.show(given.network.units)
        ));
    }
    tools.push(
        "Soap solution and brush, a gauge that reads past the relief setting, eye protection."
            .to_owned(),
    );
    tools
}

/// What one way to join takes.
fn of(given: Given<'_>, joint: Joint) -> Vec<String> {
    let sizes = sizes(given, joint);
    match joint {
        Joint::Threaded => {
            let mut tools = vec![format!("Two pipe wrenches that open to {}, and a pipe vice.", largest(&sizes))];
            let threaded = threaded(given);
            if !threaded.is_empty() {
                tools.push(format!(
                    "Pipe cutter or saw, reamer, and threading dies of {}.",
                    listed(&threaded)
                ));
            }
            tools
        }
        Joint::Soldered => vec!["Tube cutter, reamer, abrasive and brush; torch and gas, a sheet that does not burn, an extinguisher.".to_owned()],
        Joint::Brazed => vec!["Tube cutter, reamer, brush; brazing torch and gas, a sheet that does not burn, an extinguisher.".to_owned()],
        Joint::Pressed => vec![format!("Tube cutter, reamer, depth marker; press tool with jaws of {}.", listed(&sizes))],
        Joint::PushFit => vec!["Tube cutter, reamer, depth marker.".to_owned()],
    }
}

/// The sizes of joints made in one way, largest first.
fn sizes(given: Given<'_>, joint: Joint) -> Vec<String> {
    let of_it = given.takeoff.joints.iter().filter(|one| one.joint == joint);
    let sizes: BTreeSet<Size> = of_it.map(|one| one.size).collect();
    sizes
        .into_iter()
        .rev()
        .map(|size| size.to_string())
        .collect()
}

/// The sizes of pipe that is threaded here.
fn threaded(given: Given<'_>) -> Vec<String> {
    let systems = given.library.systems();
    let is_threaded = |line: &&PipeLine| {
        let own = systems.iter().find(|system| system.name == line.key.system);
        own.is_some_and(System::is_threaded)
    };
    let lines = given.takeoff.pipe.iter().filter(is_threaded);
    let cut = lines.filter(|line| !line.ready && !line.pieces.is_empty());
    cut.map(|line| line.size.to_string()).collect()
}

fn largest(sizes: &[String]) -> String {
    sizes.first().cloned().unwrap_or_default()
}

fn highest(given: Given<'_>) -> Option<Length> {
    given.network.nodes().map(|(_, node)| node.at.up).max()
}

pub(super) fn cautions(given: Given<'_>) -> Vec<String> {
    let units = given.network.units;
    let mut cautions = vec![
        "Compressed air can hurt people. Local codes and licensed practice come first; nothing here goes before them.".to_owned(),
    ];
    let supplies = given.job.supplies.iter();
    let most: Option<Pressure> = supplies
        .filter_map(|supply| supply.relief.or(supply.cut_out))
        .reduce(|one, other| if other.kpa() > one.kpa() { other } else { one });
    if let Some(most) = most {
        cautions.push(format!(
            "The pipe can see {}. Open no joint and tighten none while there is pressure in it.",
            most.show(units)
        ));
    }
    if let Some(highest) = highest(given) {
        cautions.push(format!(
            "The highest pipe is {} above the floor: work there as the local rules for work at heights say.",
            highest.show(units)
        ));
    }
    cautions.extend(heaviest(given));
    if methods(given)
        .iter()
        .any(|joint| matches!(joint, Joint::Soldered | Joint::Brazed))
    {
        cautions.push(
            "Hot work: permit, fire watch and clear surroundings as the local code asks."
                .to_owned(),
        );
    }
    cautions.extend(given.takeoff.cautions.iter().cloned());
    cautions
}

/// The heaviest piece of pipe.
fn heaviest(given: Given<'_>) -> Option<String> {
    let units = given.network.units;
    let pounds = |line: &PipeLine, piece: &Piece| line.mass_lb_per_ft * piece.length.feet();
    let lines = given.takeoff.pipe.iter();
    let pieces = lines.flat_map(|line| line.pieces.iter().map(move |piece| (line, piece)));
    let (line, piece) =
        pieces.max_by(|(a, one), (b, other)| pounds(a, one).total_cmp(&pounds(b, other)))?;
    let mass = pounds(line, piece);
    let mass = match units {
        Units::Feet => format!("{mass:.0} lb"),
        Units::Metric => format!("{:.0} kg", mass * KILOGRAMS),
    };
    Some(format!(
        "The heaviest piece is {}, {} of {}: {mass}, before what is screwed to it.",
        piece.label(),
        piece.length.show(units),
        line.size
    ))
}

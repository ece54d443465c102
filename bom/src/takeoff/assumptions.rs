//! What every count takes for granted, said where the reader sees it.

use super::pieces::{self, Straight};
use crate::job::{Threading, Unions, UnlikeMetals};
use crate::library::Library;
use crate::network::Network;
use crate::system::{Joint, Metal, System};

/// The job's own assumptions and those of the count, each once.
pub(super) fn assumptions(
    network: &Network,
    library: &Library,
    straights: &[Straight],
) -> Vec<String> {
    let units = network.units;
    let systems: Vec<&System> = network
        .systems()
        .into_iter()
        .map(|index| &library.systems()[index])
        .collect();
    let mut said = network.assumptions.clone();
    for system in &systems {
        let of = if systems.len() > 1 {
            format!(" of {}", system.material)
        } else {
            String::new()
        };
        said.push(match system.threading(network.threading) {
            Threading::Cut => format!(
                "Straights{of} longer than a stick of {} are made of several, with couplings.",
                system.stick.show(units)
            ),
            Threading::Bought => {
                let (couplings, threads) = pieces::against_cutting(straights, library);
                format!(
                    "Every straight{of} is built of ready-threaded lengths, to within {}: that takes {couplings} more couplings than pipe cut to measure, for which {threads} threads would be cut.",
                    system.ready_within.show(units)
                )
            }
        });
        said.extend(take_outs(system));
    }
    said.extend([
        "The fall changes heights, not the lengths of the legs (under 0.02 % at a fall of 2 %).".to_owned(),
        if systems.iter().all(|system| system.is_threaded()) {
            "Supports are spaced by MSS SP-69 for vapour or gas; where a local code asks for less, the code holds.".to_owned()
        } else {
            "Supports are spaced by the tables of each pipe system; where a local code asks for less, the code holds.".to_owned()
        },
        "One tool-side plug is counted for each coupler, and one spare.".to_owned(),
    ]);
    let hardware = network
        .systems()
        .into_iter()
        .map(|index| &library.systems()[library.hardware(index)]);
    said.extend(hardware.filter(|system| system.tape_turns > 0).map(|system| {
        format!(
            "Thread tape: {} turns at each joint, {} on a roll (common practice, no source).",
            system.tape_turns,
            system.tape_roll.show_total(units)
        )
    }));
    said.extend(line_valves(network, library, &systems));
    said.extend(unlike(network, &systems, library));
    for system in &systems {
        said.extend(system.consumables.iter().map(|consumable| {
            format!(
                "{}: by the size of each joint, in packs of {} {} ({}).",
                consumable.part.replace('-', " "),
                consumable.pack,
                consumable.measure,
                consumable.source
            )
        }));
    }
    let mut once = Vec::new();
    for line in said {
        if !once.contains(&line) {
            once.push(line);
        }
    }
    once
}

/// What the count takes of line valves.
fn line_valves(network: &Network, library: &Library, systems: &[&System]) -> Vec<String> {
    if network.valves.is_empty() {
        return Vec::new();
    }
    let mut said = vec![
        "Line valves have the length of typical threaded ball valves, from memory; the maker's figure holds: check it before you cut the pipe beside them.".to_owned(),
    ];
    let other_sizes = network.valves.iter().filter_map(|valve| {
        let pipe = network.link(valve.upstream);
        let thread = library.systems()[pipe.system].thread_of(pipe.size);
        (valve.size != thread).then(|| {
            format!(
                "The line valve {} is {} and its pipe {}: the bushings or reducers on both sides of it are counted.",
                valve.name, valve.size, pipe.size
            )
        })
    });
    said.extend(other_sizes);
    if network.unions != Unions::Service && systems.iter().any(|system| system.is_threaded()) {
        said.push(
            "Line valves get no union of their own: to take one out of threaded pipe, the pipe is opened from the nearest union or end (unions = \"service\" puts one beside each).".to_owned(),
        );
    }
    said
}

/// What stands between unlike metals, with both views of it.
fn unlike(network: &Network, systems: &[&System], library: &Library) -> Option<String> {
    let mut metals: Vec<Metal> = systems.iter().map(|system| system.adapter_metal).collect();
    // The tank is steel; where the pipe is screwed into it, that counts too.
    if network.is_hard_piped() {
        metals.push(Metal::BlackSteel);
    }
    let (one, other, why) = metals.iter().enumerate().find_map(|(index, one)| {
        let others = metals[index + 1..].iter();
        others
            .filter_map(|other| Some((*one, *other, library.unlike(*one, *other)?)))
            .next()
    })?;
    let chosen = match network.unlike {
        UnlikeMetals::InsulatingUnion => {
            "an insulating union keeps them apart. It stops the current, but its seal ages with heat and oil and must be rated for the pressure; the other way is brass between them (unlike_metals = \"brass\")"
        }
        UnlikeMetals::Brass => {
            "brass stands between them. It has no seal to age and lies between the two in the galvanic series, but does not stop the current; the other way is an insulating union (unlike_metals = \"insulating-union\")"
        }
        UnlikeMetals::Bare => {
            "nothing keeps them apart, as the job says; the ways to do so are an insulating union or brass between them"
        }
    };
    Some(format!(
        "Where {} meets {}, {why}: {chosen} (common practice, no source).",
        one.word(),
        other.word()
    ))
}

/// Where the lengths of the pieces come from.
fn take_outs(system: &System) -> Vec<String> {
    match system.joint {
        Joint::Threaded => vec![
            "Lengths of pieces use take-outs and thread make-up from memory of ASME B16.3, and example lengths of unions: check them against the fittings before you cut or buy.".to_owned(),
            "Rises, reaches and drip legs are made of ready-made nipples: each is as long as the nearest nipple allows, and the down pipe follows.".to_owned(),
        ],
        Joint::Soldered | Joint::Brazed | Joint::Pressed | Joint::PushFit => vec![
            "Lengths of pieces use example take-outs: those of tube fittings differ by maker, so check them against the fittings before you cut. Adapters are not taken off the pieces next to them.".to_owned(),
            format!(
                "Where two sockets meet, a short piece of {} joins them: it is cut from the sticks and counted with the pipe.",
                system.material
            ),
        ],
    }
}

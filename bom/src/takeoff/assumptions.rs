//! What every count takes for granted, said where the reader sees it.

use super::pieces::{self, Straight};
use crate::job::Threading;
use crate::network::Network;
use crate::system::System;

/// The job's own assumptions and those of the count, each once.
pub(super) fn assumptions(
    network: &Network,
    system: &System,
    straights: &[Straight],
) -> Vec<String> {
    let units = network.units;
    let mut said = network.assumptions.clone();
    said.push(match network.threading {
        Threading::Cut => format!(
            "Straights longer than a stick of {} are made of several, with couplings.",
            system.stick.show(units)
        ),
        Threading::Bought => {
            let (couplings, threads) = pieces::against_cutting(straights, system);
            format!(
                "Every straight is built of ready-threaded lengths, to within {}: that takes {couplings} more couplings than pipe cut to measure, for which {threads} threads would be cut.",
                system.ready_within.show(units)
            )
        }
    });
    said.extend([
        "Lengths of pieces use take-outs and thread make-up from memory of ASME B16.3, and example lengths of unions: check them against the fittings before you cut or buy.".to_owned(),
        "Rises, reaches and drip legs are made of ready-made nipples: each is as long as the nearest nipple allows, and the down pipe follows.".to_owned(),
        "The fall changes heights, not the lengths of the legs (under 0.02 % at a fall of 2 %).".to_owned(),
        "Supports are spaced by MSS SP-69 for vapour or gas; where a local code asks for less, the code holds.".to_owned(),
        "One tool-side plug is counted for each coupler, and one spare.".to_owned(),
        format!(
            "Thread tape: {} turns at each joint, {} on a roll (common practice, no source).",
            system.tape_turns,
            system.tape_roll.show_total(units)
        ),
    ]);
    let mut once = Vec::new();
    for line in said {
        if !once.contains(&line) {
            once.push(line);
        }
    }
    once
}

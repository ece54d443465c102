//! Ready-made starting points: invented shops as commented job files.

use super::first::Told;
use crate::exit::{Exit, Failure};
use bom::finding::did_you_mean;
use bom::interview::Who;

/// A job to begin with.
#[derive(Debug)]
pub(super) struct Start {
    /// Its name on the command line.
    pub(super) name: &'static str,
    /// What it is, in a line.
    pub(super) what: &'static str,
    /// The job file.
    pub(super) text: &'static str,
    owner: bool,
}

/// Every one of them.
pub(super) static STARTS: [Start; 4] = [
    Start {
        name: "garage",
        what: "one bay at home, two outlets on one wall, built of ready-threaded lengths",
        text: include_str!("../../../data/starts/garage.toml"),
        owner: true,
    },
    Start {
        name: "workshop",
        what: "a wood shop, five outlets on three walls, one of them for paint",
        text: include_str!("../../../data/starts/workshop.toml"),
        owner: false,
    },
    Start {
        name: "ring-hall",
        what: "a hall with a ring main, twelve outlets and line valves",
        text: include_str!("../../../data/starts/ring-hall.toml"),
        owner: false,
    },
    Start {
        name: "barn",
        what: "a long barn, a main in teeth and one tool far out",
        text: include_str!("../../../data/starts/barn.toml"),
        owner: true,
    },
];

/// The one of a name.
pub(super) fn called(name: &str) -> Result<&'static Start, Failure> {
    let names = || STARTS.iter().map(|start| start.name);
    STARTS
        .iter()
        .find(|start| start.name == name)
        .ok_or_else(|| {
            let near = did_you_mean(name, names())
                .map_or_else(String::new, |near| format!("did you mean `{near}`? "));
            let known: Vec<&str> = names().collect();
            Failure::Untold(
                Exit::Unreadable,
                format!(
                    "there is no start `{name}`: {near}there are {}",
                    known.join(", ")
                ),
            )
        })
}

impl Start {
    pub(super) fn told(&self) -> Told {
        Told {
            who: if self.owner {
                Who::Home
            } else {
                Who::Contractor
            },
            systems: Vec::new(),
        }
    }
}

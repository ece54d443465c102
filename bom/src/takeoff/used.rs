//! Where parts are used, in few words: by the thing in the job, not by the
//! place.

use super::{Because, Piece, Why};
use crate::network::{Network, NodeId, Owner};
use std::collections::BTreeMap;

/// A thing in the job and how many of a line it takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Use {
    /// Its name: `main`, `bench`, `drain low`, `spare`.
    pub owner: String,
    /// How many.
    pub count: u64,
}

/// The things that take parts, in the order in which they are named.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Taker {
    Supply(usize),
    Main,
    Drain(usize),
    Outlet(usize),
    Joints,
    Spare,
}

/// Which things take the parts with these reasons.
#[must_use]
pub fn used(network: &Network, because: &[Because]) -> Vec<Use> {
    named(
        network,
        because.iter().map(|because| match because.why {
            Why::Spare => Taker::Spare,
            Why::Seals => Taker::Joints,
            Why::Meets
            | Why::Stands
            | Why::Joins
            | Why::StandsIn
            | Why::Spans
            | Why::ServicesSupply
            | Why::ServicesSet
            | Why::ServicesValve
            | Why::TiesIn
            | Why::ClosesRing
            | Why::LongerThanStick
            | Why::Carries
            | Why::HoldsFoot
            | Why::FitsCoupler => taker(network, because.at.place),
        }),
    )
}

/// Which things take these pieces of pipe: a piece that leads from the main
/// to a drop is the drop's.
#[must_use]
pub fn used_pipe(network: &Network, pieces: &[Piece]) -> Vec<Use> {
    named(
        network,
        pieces
            .iter()
            .map(|piece| taker(network, piece.from).max(taker(network, piece.to))),
    )
}

fn taker(network: &Network, node: NodeId) -> Taker {
    match network.node(node).origin.owner {
        Owner::Supply(supply) => Taker::Supply(supply),
        Owner::Leg(_) => Taker::Main,
        Owner::Drain(drain) => Taker::Drain(drain),
        Owner::Outlet(outlet) => Taker::Outlet(outlet),
    }
}

fn named(network: &Network, takers: impl Iterator<Item = Taker>) -> Vec<Use> {
    let mut counts: BTreeMap<Taker, u64> = BTreeMap::new();
    for taker in takers {
        *counts.entry(taker).or_default() += 1;
    }
    counts
        .into_iter()
        .map(|(taker, count)| Use {
            owner: match taker {
                Taker::Supply(supply) => network.supplies[supply].0.clone(),
                Taker::Main => "main".to_owned(),
                Taker::Drain(drain) => format!("drain {}", network.drains[drain].name),
                Taker::Outlet(outlet) => network.drops[outlet].name.clone(),
                Taker::Joints => "all joints".to_owned(),
                Taker::Spare => "spare".to_owned(),
            },
            count,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::{Use, used, used_pipe};
    use crate::library::Library;
    use crate::source::Source;

    #[test]
    fn each_part_is_taken_by_one_thing() {
        let library = Library::shipped().unwrap();
        let job = include_str!("../../../catalogs-demo/millrace.toml");
        let plan = crate::plan(&Source::new("job", job), &library).0.unwrap();
        let said = |uses: Vec<Use>| -> String {
            let uses = uses
                .iter()
                .map(|one| format!("{} {}", one.owner, one.count));
            uses.collect::<Vec<_>>().join(", ")
        };
        let lines = &plan.takeoff.lines;
        for line in lines {
            let uses = used(&plan.network, &line.because);
            let sum: u64 = uses.iter().map(|one| one.count).sum();
            assert_eq!(sum, line.quantity, "{}", line.key.part);
        }
        let of = |part: &str| {
            let line = lines.iter().find(|line| line.key.part == part).unwrap();
            said(used(&plan.network, &line.because))
        };
        assert_eq!(of("tee"), "main 8, spray 1, door 1");
        assert_eq!(of("cross"), "bench 1, router 1, press 1, assembly 1");
        // The first nipple of the list is the riser's and the reach's.
        assert_eq!(
            of("nipple"),
            "bench 2, router 2, spray 2, press 2, assembly 2, door 2"
        );
        assert_eq!(of("connector-hose"), "compressor 1");
        assert_eq!(of("thread-tape"), "all joints 4");
        assert!(of("coupler-plug").ends_with("door 1, spare 1"));
        // The main is 14 straights, one of them with the ring's union; of a drop
        // only the down pipe is cut, of the drain nothing.
        let pieces = &plan.takeoff.pipe[0].pieces;
        assert_eq!(
            said(used_pipe(&plan.network, pieces)),
            "main 15, bench 1, router 1, spray 1, press 1, assembly 1, door 1"
        );
    }
}

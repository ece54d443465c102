//! The proofs that a count carries. Each is worked out anew from the finished
//! list and the network, not from how the list came about.

use super::pieces::Straight;
use super::valves;
use super::{JointCount, PartLine, PipeLine, Why};
use crate::library::{Gender, Library, PartEnd};
use crate::network::{Network, NodeKind};
use crate::quantity::{Length, PartSize, Size, Units};
use petgraph::unionfind::UnionFind;
use std::collections::BTreeMap;

/// One thing that must hold of a count.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Proof {
    /// What must hold.
    pub claim: &'static str,
    /// The figures on which it stands, a line each.
    pub figures: Vec<String>,
    /// What does not hold, and where; none if all of it does.
    pub failure: Option<String>,
}

/// The counted things that the proofs look at.
#[derive(Debug, Clone, Copy)]
pub(super) struct Counted<'a> {
    pub(super) network: &'a Network,
    pub(super) library: &'a Library,
    pub(super) lines: &'a [PartLine],
    pub(super) pipe: &'a [PipeLine],
    pub(super) joints: &'a [JointCount],
    pub(super) straights: &'a [Straight],
}

/// Every proof, in the order in which it is printed.
pub(super) fn proofs(counted: Counted<'_>) -> Vec<Proof> {
    vec![
        ends_balance(counted),
        straights_close(counted),
        rings_have_unions(counted),
        everything_counted_once(counted),
        every_part_has_its_reason(counted),
    ]
}

/// What ends are made for: threads of a size whatever the metal, or tube of a
/// system.
type Kind<'a> = (Option<&'a str>, Size);

/// Per thread size and tube size: as many female ends as male ones, the tank's
/// port included, and as many joints.
fn ends_balance(counted: Counted<'_>) -> Proof {
    let systems = counted.library.systems();
    let tube = |name: &str| {
        let system = systems.iter().find(|system| system.name == name);
        system
            .filter(|system| !system.is_threaded())
            .map(|system| system.name.as_str())
    };
    let mut ends: BTreeMap<Kind<'_>, [u64; 2]> = BTreeMap::new();
    let mut add = |form: Option<_>, size: Option<Size>, gender: Gender, count: u64| {
        if let Some(size) = size {
            ends.entry((form, size)).or_default()[usize::from(gender == Gender::Male)] += count;
        }
    };
    for line in counted.lines {
        let mut parts = counted.library.parts().iter();
        let part = parts.find(|part| part.name == line.key.part);
        for (number, end) in part.iter().flat_map(|part| part.ends.iter().enumerate()) {
            let (form, gender) = match end {
                Some(PartEnd::Own(gender)) => (tube(&line.key.system), *gender),
                Some(PartEnd::Thread(gender)) => (None, *gender),
                None => continue,
            };
            add(form, line.key.size.port(number), gender, line.quantity);
        }
    }
    for line in counted.pipe {
        let form = tube(&line.key.system);
        let pieces = line.pieces.len() as u64;
        add(form, Some(line.size), Gender::Male, 2 * pieces);
    }
    for (_, node) in counted.network.nodes() {
        if let NodeKind::Port { size, gender } = node.kind {
            add(None, Some(size), gender, 1);
        }
    }
    let made_up = |(form, size): Kind<'_>| -> u64 {
        let of_kind = |joints: &&JointCount| joints.size == size && tube(&joints.system) == form;
        let joints = counted.joints.iter().filter(of_kind);
        joints.map(|joints| joints.count).sum()
    };
    let named = |(form, size): Kind<'_>| {
        form.map_or_else(|| size.to_string(), |form| format!("{form} {size}"))
    };
    let wrong = ends
        .iter()
        .find(|(kind, [female, male])| female != male || *female != made_up(**kind));
    Proof {
        claim: "every female end takes one male end, and is one joint",
        failure: wrong.map(|(kind, [female, male])| {
            format!(
                "at {} there are {female} female and {male} male ends for {} joints",
                named(*kind),
                made_up(*kind)
            )
        }),
        figures: ends
            .iter()
            .rev()
            .map(|(kind, [female, male])| {
                format!(
                    "{}: {female} female, {male} male, {} joints",
                    named(*kind),
                    made_up(*kind)
                )
            })
            .collect(),
    }
}

/// Pieces, gaps and take-outs make up each straight to the nanometre.
fn straights_close(counted: Counted<'_>) -> Proof {
    let units = counted.network.units;
    let closes = |straight: &&Straight| {
        let pieces: Length = straight.cut.pieces.iter().copied().sum();
        pieces + straight.cut.gaps + straight.take_outs[0] + straight.take_outs[1]
            == straight.run.length + straight.cut.over
    };
    let furthest = counted
        .straights
        .iter()
        .map(|straight| straight.cut.over.abs())
        .max();
    let wrong = counted.straights.iter().find(|straight| !closes(straight));
    let length: Length = counted
        .straights
        .iter()
        .map(|straight| straight.run.length)
        .sum();
    Proof {
        claim: "pieces, gaps and take-outs make up every straight exactly",
        failure: wrong.map(|straight| {
            format!(
                "the straight of {} from {} to {} does not",
                straight.run.length.show(units),
                counted.network.describe(straight.run.from),
                counted.network.describe(straight.run.to)
            )
        }),
        figures: vec![format!(
            "{} straights, {} centre to centre, at most {} off",
            counted.straights.len(),
            show_exact(length, units),
            show_exact(furthest.unwrap_or_default(), units)
        )],
    }
}

fn show_exact(length: Length, units: Units) -> String {
    match units {
        Units::Feet => length.show(units),
        Units::Metric => format!("{} mm", length.to_mm_text()),
    }
}

/// Without the straights that carry a union, no ring of threaded pipe is left.
/// Tube closes a ring by itself: it slides into its sockets.
fn rings_have_unions(counted: Counted<'_>) -> Proof {
    let network = counted.network;
    let mut joined = UnionFind::<usize>::new(network.node_count());
    for (_, from, to, link) in network.links() {
        if link.pipe.is_none() {
            joined.union(from.index(), to.index());
        }
    }
    let mut wrong = None;
    let systems = counted.library.systems();
    let turned = |straight: &&Straight| {
        systems[straight.run.system].is_threaded()
            && !straight.cut.union
            && !valves::opens(network, &straight.run)
    };
    for straight in counted.straights.iter().filter(turned) {
        let (from, to) = (straight.run.from, straight.run.to);
        if !joined.union(from.index(), to.index()) {
            wrong = Some(format!(
                "the ring through {} and {} has none",
                network.describe(from),
                network.describe(to)
            ));
        }
    }
    let having = |union: &dyn Fn(&Straight) -> bool| {
        let straights = counted.straights.iter();
        straights.filter(|straight| union(straight)).count()
    };
    let unions = having(&|straight| straight.cut.union);
    let at_valves = match having(&|straight| valves::opens(network, &straight.run)) {
        0 => String::new(),
        unions => format!(", unions at line valves: {unions}"),
    };
    Proof {
        claim: "every ring can be closed: a union stands in each of threaded pipe",
        failure: wrong,
        figures: vec![format!(
            "rings: {}, unions in them: {unions}{at_valves}",
            (network.link_count() + 1).saturating_sub(network.node_count())
        )],
    }
}

/// Each fitting and each device stands in the list once.
fn everything_counted_once(counted: Counted<'_>) -> Proof {
    let network = counted.network;
    let mut times = vec![0_u32; network.node_count()];
    for because in counted.lines.iter().flat_map(|line| &line.because) {
        if matches!(because.why, Why::Meets | Why::Stands) {
            times[because.at.place.index()] += 1;
        }
    }
    let wanted = |kind: &NodeKind| match kind {
        NodeKind::Port { .. } => 0,
        NodeKind::Fitting(fitting) => u32::from(fitting.kind.part.is_some()),
        NodeKind::Device { .. } => 1,
    };
    let wrong = network
        .nodes()
        .find(|(id, node)| times[id.index()] != wanted(&node.kind));
    let counted_things: u32 = times.iter().sum();
    Proof {
        claim: "every fitting and every device is counted once",
        failure: wrong.map(|(id, _)| {
            format!(
                "{} is counted {} times",
                network.describe(id),
                times[id.index()]
            )
        }),
        figures: vec![format!(
            "{counted_things} fittings and devices at {} places",
            network.node_count()
        )],
    }
}

/// A line has as many reasons as parts.
fn every_part_has_its_reason(counted: Counted<'_>) -> Proof {
    let wrong = counted
        .lines
        .iter()
        .find(|line| line.quantity != line.because.len() as u64);
    let parts: u64 = counted.lines.iter().map(|line| line.quantity).sum();
    Proof {
        claim: "every part has its reason in the job",
        failure: wrong.map(|line| {
            let size = match line.key.size {
                PartSize::NONE => String::new(),
                size => format!(" {size}"),
            };
            format!(
                "{}{size}: {} parts, {} reasons",
                line.key.part,
                line.quantity,
                line.because.len()
            )
        }),
        figures: vec![format!("{parts} parts in {} lines", counted.lines.len())],
    }
}

#[cfg(test)]
mod tests {
    use super::{Counted, proofs};
    use crate::library::Library;
    use crate::quantity::{Length, Size};
    use crate::source::Source;
    use crate::takeoff::pieces::Straight;
    use crate::takeoff::{JointCount, PartLine, PipeLine, walk};

    struct Broken {
        lines: Vec<PartLine>,
        pipe: Vec<PipeLine>,
        joints: Vec<JointCount>,
        straights: Vec<Straight>,
    }

    /// The failures after a count has been tampered with.
    fn failures(tamper: impl FnOnce(&mut Broken)) -> Vec<&'static str> {
        let library = Library::shipped().unwrap();
        let job = include_str!("../../../catalogs-demo/millrace.toml");
        let plan = crate::plan(&Source::new("job", job), &library).0.unwrap();
        let takeoff = walk::counted(&plan.network, &library).unwrap();
        let mut broken = Broken {
            lines: takeoff.lines,
            pipe: takeoff.pipe,
            joints: takeoff.joints,
            straights: takeoff.straights,
        };
        tamper(&mut broken);
        proofs(Counted {
            network: &plan.network,
            library: &library,
            lines: &broken.lines,
            pipe: &broken.pipe,
            joints: &broken.joints,
            straights: &broken.straights,
        })
        .into_iter()
        .filter(|proof| proof.failure.is_some())
        .map(|proof| proof.claim)
        .collect()
    }

    const BALANCE: &str = "every female end takes one male end, and is one joint";
    const CLOSURE: &str = "pieces, gaps and take-outs make up every straight exactly";
    const UNIONS: &str = "every ring can be closed: a union stands in each of threaded pipe";
    const ONCE: &str = "every fitting and every device is counted once";
    const REASONS: &str = "every part has its reason in the job";

    #[test]
    fn a_sound_count_fails_no_proof() {
        assert!(failures(|_| {}).is_empty());
    }

    #[test]
    fn each_proof_can_fail() {
        let nipple = |broken: &mut Broken| {
            let line = broken
                .lines
                .iter_mut()
                .find(|line| line.key.part == "close-nipple");
            let line = line.unwrap();
            line.quantity -= 1;
            line.because.pop();
        };
        assert_eq!(failures(nipple), [BALANCE]);
        let bushing = |broken: &mut Broken| {
            broken.lines.retain(|line| line.key.part != "bushing");
        };
        assert_eq!(failures(bushing), [BALANCE]);
        let joint = |broken: &mut Broken| broken.joints[0].count += 1;
        assert_eq!(failures(joint), [BALANCE]);
        let piece = |broken: &mut Broken| {
            broken.straights[3].cut.pieces[0] += Length::from_nm(1);
        };
        assert_eq!(failures(piece), [CLOSURE]);
        let union = |broken: &mut Broken| {
            for straight in &mut broken.straights {
                straight.cut.union = false;
            }
        };
        assert_eq!(failures(union), [UNIONS]);
        let tee = |broken: &mut Broken| {
            let line = broken
                .lines
                .iter_mut()
                .find(|line| line.key.part == "tee")
                .unwrap();
            line.quantity -= 1;
            line.because.pop();
        };
        assert_eq!(failures(tee), [BALANCE, ONCE]);
        let reason = |broken: &mut Broken| {
            let line = broken
                .lines
                .iter_mut()
                .find(|line| line.key.part == "hanger");
            line.unwrap().because.pop();
        };
        assert_eq!(failures(reason), [REASONS]);
        let size = |broken: &mut Broken| broken.pipe[0].size = Size::Nominal(8);
        assert_eq!(failures(size), [BALANCE]);
    }
}

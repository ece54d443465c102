//! Line valves: what joins them to the pipe on both sides, and how much of it
//! they take up.

use super::runs::Run;
use crate::fitting::{End, Join, Mating};
use crate::job::Unions;
use crate::library::{Gender, Library};
use crate::network::{LinkId, Network, NodeId, NodeKind};
use crate::quantity::Length;
use crate::system::Metal;

/// Whether a straight begins or ends at a union of a line valve.
pub(super) fn opens(network: &Network, run: &Run) -> bool {
    let [first, last] = run.links;
    has_union(network, run.from, first) || has_union(network, run.to, last)
}

/// Whether a union stands between a line valve and this pipe: on the side away
/// from the tank, where the job wants what stands in the pipe to come out, or it is cut
/// into pipe that stands.
fn has_union(network: &Network, node: NodeId, link: LinkId) -> bool {
    network.valve_at(node).is_some_and(|valve| {
        let cut_in = network.opens_for_tie_in(node).is_some();
        (network.unions == Unions::Service || cut_in) && valve.upstream != link
    })
}

/// What joins a line valve to its pipe; none if no part makes a step between
/// them.
pub(super) fn join(
    network: &Network,
    library: &Library,
    node: NodeId,
    link: LinkId,
) -> Option<Join> {
    let NodeKind::Device { device, size, .. } = network.node(node).kind else {
        return None;
    };
    let pipe = network.link(link);
    let mating = Mating {
        library,
        home: pipe.system,
        unlike: network.unlike,
    };
    let valve = End::thread(library.devices()[device].inlet, size, Metal::Brass);
    if has_union(network, node, link) {
        return mating.close_loop(valve, pipe.system, pipe.size);
    }
    let end = End::of(library, pipe.system, Gender::Male, pipe.size);
    mating.join(valve, end)
}

/// From the valve's middle to the end of the pipe.
pub(super) fn take_out(network: &Network, library: &Library, node: NodeId, link: LinkId) -> Length {
    let NodeKind::Device { device, size, .. } = network.node(node).kind else {
        return Length::ZERO;
    };
    let length = library.devices()[device].length(size).unwrap_or_default();
    let between = join(network, library, node, link)
        .and_then(|join| beyond(&join, library))
        .unwrap_or_default();
    length.scaled(1, 2) + between
}

/// From the valve's face to the end of the pipe: what stands between, less what
/// goes in at each joint. None where that has an adapter, which is not taken off.
fn beyond(join: &Join, library: &Library) -> Option<Length> {
    let mut length = Length::ZERO;
    for (part, system, size) in &join.parts {
        let row = library.systems()[*system].row(size.largest()?)?;
        length += match *part {
            "close-nipple" => row.shortest,
            "union" => row.union,
            "coupling" | "reducer" => row.coupling,
            // It goes into the port with its whole thread.
            "bushing" => row.make_up,
            _ => return None,
        };
    }
    for (system, _, size) in &join.joints {
        length -= library.systems()[*system].row(*size)?.make_up;
    }
    Some(length)
}

#[cfg(test)]
mod tests {
    use crate::Plan;
    use crate::library::Library;
    use crate::quantity::{Length, Units};
    use crate::source::Source;

    const RING: &str = include_str!("../../../tests/cases/ring-valves/job.toml");

    fn plan(job: &str) -> Plan {
        let library = Library::shipped().unwrap();
        let (plan, findings) = crate::plan(&Source::new("job", job), &library);
        plan.unwrap_or_else(|| panic!("{findings:#?}"))
    }

    /// What the valve `first` takes out of the pipe before and behind it.
    fn take_outs(job: &str) -> [Length; 2] {
        let plan = plan(job);
        let at = plan.network.valves[0].at;
        let straights = &plan.takeoff.straights;
        let before = straights.iter().find(|straight| straight.to() == at);
        let behind = straights.iter().find(|straight| straight.from() == at);
        [before.unwrap().take_outs[1], behind.unwrap().take_outs[0]]
    }

    // Valve 3/4 in: 2.625 long; 1 in: 3.125; 1-1/4 in: 3.5. Make-ups 0.5625,
    // 0.6875, 0.6875; close nipples 1.375, 1.5; coupling of 1 in 1.67, union 2.2.
    #[test]
    fn a_valve_takes_out_its_half_and_what_joins_it() {
        let inches = |text: &str| Length::parse(text, Units::Metric).unwrap();
        let plain = RING.replace("unions = \"service\"\n", "");
        let cases = [
            (RING.to_owned(), ["0.875in", "3.2in"]),
            (plain.clone(), ["0.875in", "0.875in"]),
            // Half 1.3125, reducer 1.67, close nipple 1.375, three joints 1.8125.
            (
                plain.replace("[valve.first]", "[valve.first]\nsize = \"3/4in\""),
                ["2.545in", "2.545in"],
            ),
            // Half 1.75, the bushing wholly in, the pipe 0.6875 in it.
            (
                plain.replace("[valve.first]", "[valve.first]\nsize = \"1-1/4in\""),
                ["1.0625in", "1.0625in"],
            ),
        ];
        for (job, wanted) in cases {
            assert_eq!(take_outs(&job), wanted.map(inches), "{wanted:?}");
        }
    }

    #[test]
    fn a_valve_of_another_size_is_said_and_its_bushings_are_counted() {
        let counted = |size: &str, part: &str| {
            let valve = format!("[valve.first]\nsize = \"{size}\"");
            let plain = RING.replace("unions = \"service\"\n", "");
            let takeoff = plan(&plain.replace("[valve.first]", &valve)).takeoff;
            let said = takeoff.assumptions.iter();
            let said = said.filter(|line| line.starts_with("The line valve"));
            let lines = takeoff.lines.iter().filter(|line| line.key.part == part);
            let quantity: u64 = lines.map(|line| line.quantity).sum();
            (said.cloned().collect::<Vec<_>>(), quantity)
        };
        let usual = |part| counted("1in", part).1;
        let larger = "The line valve first is 1-1/4in and its pipe 1in: the bushings or reducers on both sides of it are counted.";
        let bushings = usual("bushing") + 2;
        assert_eq!(
            counted("1-1/4in", "bushing"),
            (vec![larger.to_owned()], bushings)
        );
        assert!(counted("1in", "bushing").0.is_empty());
        assert_eq!(counted("3/4in", "reducer").1, usual("reducer") + 2);
    }

    #[test]
    fn a_ring_is_closed_by_a_union_of_its_own_or_of_a_valve() {
        let unions = |job: &str| {
            let takeoff = plan(job).takeoff;
            let figures = takeoff.proofs.iter().flat_map(|proof| &proof.figures);
            let said = figures.filter(|figure| figure.starts_with("rings"));
            said.cloned().collect::<String>()
        };
        assert_eq!(
            unions(RING),
            "rings: 1, unions in them: 0, unions at line valves: 2"
        );
        assert_eq!(
            unions(&RING.replace("\"service\"", "\"loops\"")),
            "rings: 1, unions in them: 1"
        );
    }

    #[test]
    fn a_valve_changes_no_support_no_fall_and_no_water() {
        let falling = RING
            .replace("fall   = \"level\"", "fall   = \"1in per 10ft\"")
            .replace(
                "go    = \"south 16-0\"\n",
                "go    = \"south 16-0\"\nmarks = { low = \"8-0\" }\n",
            )
            + "\n[drain.low]\ndrip_leg = \"8in\"\n";
        let without = falling
            .replace("[valve.first]\n", "")
            .replace("[valve.second]\nkind = \"valve\"\n", "")
            .replace("marks = { first = \"4-0\" }\n", "")
            .replace("marks = { second = \"6-0\" }\n", "");
        let said = |job: &str| {
            let Plan {
                takeoff,
                water,
                network,
                ..
            } = plan(job);
            let hangers = takeoff
                .lines
                .iter()
                .filter(|line| line.key.part == "hanger");
            let hangers: Vec<u64> = hangers.map(|line| line.quantity).collect();
            let ends = water.ends.iter();
            let ends: Vec<_> = ends.map(|end| (end.kind.clone(), end.pipe)).collect();
            (hangers, ends, network.drops[0].down, water.standing.len())
        };
        assert_eq!(said(&falling), said(&without));
        assert_ne!(falling, without);
    }

    #[test]
    fn a_valve_is_called_by_its_name() {
        let network = plan(RING).network;
        let [first, second] = &network.valves[..] else {
            panic!("two valves");
        };
        assert_eq!((first.name.as_str(), first.line), ("first", 28));
        assert_eq!(first.size.to_string(), "1in");
        assert_eq!(network.describe(first.at), "valve first (line 28)");
        assert_eq!(network.place(second.at), "valve second");
        // The air comes to the second from the west, by the 14 ft to the corner.
        let upstream = network.link(second.upstream);
        assert_eq!(upstream.pipe, Some(Length::from_feet(14)));
    }
}

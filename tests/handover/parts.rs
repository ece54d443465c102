//! What valves part, on generated shops: every pipe is in one part, a part that is shut off
//! takes the air from those that are told and from nobody else, and halving finds the part
//! that leaks. Who gets air is worked out here anew, over the bare links.

use crate::support::{Form, Plan as Laid, Shop, same_cases};
use bom::Plan;
use bom::drawing::tags;
use bom::handover::{Section, Step, litres, parts, search};
use bom::library::Library;
use bom::network::{LinkId, NodeId};
use bom::source::Source;
use proptest::prelude::{any, proptest};
use std::collections::BTreeSet;

fn planned(laid: Laid, outlets: usize, seed: u64, library: &Library) -> Plan {
    let job = Shop::new(laid, outlets, seed).job(Form::default());
    let (plan, findings) = bom::plan(&Source::new("job", job.as_str()), library);
    plan.unwrap_or_else(|| panic!("{findings:#?}\n{job}"))
}

/// The places that air reaches from some while valves are shut.
fn reached(plan: &Plan, from: BTreeSet<NodeId>, shut: &BTreeSet<NodeId>) -> BTreeSet<NodeId> {
    let mut seen: BTreeSet<NodeId> = from.difference(shut).copied().collect();
    loop {
        let before = seen.len();
        for (_, one, other, _) in plan.network.links() {
            for (from, to) in [(one, other), (other, one)] {
                if seen.contains(&from) && !shut.contains(&to) {
                    seen.insert(to);
                }
            }
        }
        if seen.len() == before {
            return seen;
        }
    }
}

fn every_pipe_once(plan: &Plan, library: &Library, parts: &[Section]) {
    let all = plan.network.links();
    let all: Vec<LinkId> = all
        .filter(|one| one.3.pipe.is_some())
        .map(|one| one.0)
        .collect();
    let holds = |link: &LinkId| plan.network.link(*link).pipe.is_some();
    let mut told: Vec<LinkId> = parts.iter().flat_map(|part| part.pipe.clone()).collect();
    told.retain(holds);
    told.sort_unstable();
    assert_eq!(told, all);
    let sum: f64 = parts.iter().map(|part| part.litres).sum();
    let held: f64 = all
        .iter()
        .map(|link| litres(&plan.network, library, *link))
        .sum();
    assert!(
        held > 0.0 && (sum - held).abs() < 1e-9 * held,
        "{sum} {held}"
    );
}

/// What shutting a part off leaves without air, against those that are told.
fn others_keep_their_air(plan: &Plan, part: &Section) {
    let inside: BTreeSet<NodeId> = part
        .pipe
        .iter()
        .flat_map(|link| plan.network.ends_of(*link))
        .collect();
    let shut: BTreeSet<NodeId> = part.ends.iter().copied().collect();
    let ports: BTreeSet<NodeId> = plan.network.ports().collect();
    assert_eq!(
        part.has_tank,
        ports.iter().any(|port| inside.contains(port))
    );
    let live = reached(plan, ports.difference(&inside).copied().collect(), &shut);
    let tags = tags(plan);
    let told: BTreeSet<usize> = plan
        .network
        .without_air(&part.ends)
        .into_iter()
        .map(|drop| tags.outlet(&plan.network.drops[drop].name))
        .chain(part.outlets.iter().copied())
        .collect();
    for drop in &plan.network.drops {
        let number = tags.outlet(&drop.name);
        let has_air = live.contains(&drop.foot_at);
        assert_eq!(
            told.contains(&number),
            !has_air,
            "outlet {number}, part {}",
            part.letter
        );
    }
}

/// Follows the steps for a leak in one part, by what the gauge would do.
fn found(plan: &Plan, parts: &[Section], steps: &[Step], leaks: &Section) -> Vec<String> {
    let tags = tags(plan);
    let place = |tag: &String| tags.valves.iter().find(|valve| valve.1 == *tag).unwrap().0;
    let valves: BTreeSet<NodeId> = tags.valves.iter().map(|valve| valve.0).collect();
    let within = |part: &Section| -> BTreeSet<NodeId> {
        let ends = part
            .pipe
            .iter()
            .flat_map(|link| plan.network.ends_of(*link));
        ends.filter(|end| !valves.contains(end)).collect()
    };
    let mut left: BTreeSet<String> = parts.iter().map(|part| part.letter.clone()).collect();
    let whole = |step: &Step| -> BTreeSet<String> {
        step.falls.iter().chain(&step.stands).cloned().collect()
    };
    while let Some(step) = steps.iter().find(|step| whole(step) == left) {
        let shut = step.shut.iter().map(place).collect();
        let sees = reached(plan, within(&parts[0]), &shut);
        let falls = within(leaks).iter().any(|end| sees.contains(end));
        let side = if falls { &step.falls } else { &step.stands };
        left = side.iter().cloned().collect();
    }
    left.into_iter().collect()
}

proptest! {
    #![proptest_config(same_cases(5))]
    #[test]
    fn valves_part_every_shop(seed in any::<u64>(), outlets in 2_usize..9) {
        let library = Library::shipped().unwrap();
        for laid in Laid::ALL {
            let plan = planned(laid, outlets, seed, &library);
            let parts = parts(&plan, &library);
            every_pipe_once(&plan, &library, &parts);
            let steps = search(&parts);
            for part in &parts {
                others_keep_their_air(&plan, part);
                let found = found(&plan, &parts, &steps, part);
                assert_eq!(found, std::slice::from_ref(&part.letter), "{steps:#?}");
            }
        }
    }
}

// The shops above have valves in their mains, so that the property is of something.
#[test]
fn generated_shops_have_parts() {
    let library = Library::shipped().unwrap();
    let most = |laid| {
        let counts = (0..4).map(|seed| parts(&planned(laid, 6, seed, &library), &library).len());
        counts.max().unwrap_or(0)
    };
    let most: Vec<usize> = Laid::ALL.map(most).to_vec();
    assert!(
        most.iter().filter(|parts| **parts > 1).count() >= 3,
        "{most:?}"
    );
}

//! What holds of one layout in every pipe system, over generated shops.

use crate::support::{Form, Plan, Shop, same_cases};
use bom::library::Library;
use bom::network::Network;
use bom::source::Source;
use bom::takeoff::{Group, Takeoff};
use proptest::prelude::{any, prop_assert, prop_assert_eq, proptest};
use proptest::sample::select;
use std::collections::BTreeMap;

/// A generated job whose air is cool enough for every system.
fn cool(shop: &Shop, form: Form) -> String {
    let job = shop.job(form);
    let cooled = job.replace(
        "relief = \"175 psi\"",
        "relief = \"175 psi\"\ndischarge = \"90 F\"",
    );
    assert_ne!(job, cooled);
    cooled
}

/// The job in each system in which its offsets have room for the fittings.
fn built(job: &str, library: &Library) -> Vec<(usize, bom::Plan)> {
    let systems = library.systems().iter().enumerate();
    systems
        .filter(|(_, system)| system.carries_main)
        .filter_map(|(index, system)| {
            let (plan, findings) =
                bom::plan_by(&Source::new("job", job), library, Some(index), None);
            if plan.is_none() {
                // Press and push-fit sockets are long.
                let rules: Vec<&str> = findings.iter().map(|finding| finding.rule).collect();
                let room = rules.iter().all(|rule| *rule == "no-room-between-fittings");
                assert!(room, "{}: {findings:#?}", system.name);
            }
            plan.map(|plan| (index, plan))
        })
        .collect()
}

/// Valves, filters, regulators, couplers and plugs without their sizes, and
/// how many drops and drains there are.
fn devices(takeoff: &Takeoff) -> (BTreeMap<String, u64>, u64, u64) {
    let mut devices = BTreeMap::new();
    let of_none = [Group::Valves, Group::Treatment, Group::Outlets];
    for line in takeoff
        .lines
        .iter()
        .filter(|line| of_none.contains(&line.group))
    {
        *devices.entry(line.key.part.clone()).or_default() += line.quantity;
    }
    (devices, takeoff.drops, takeoff.drains)
}

/// Outlets, drains of the main and the length of the main.
fn layout(network: &Network) -> (Vec<String>, Vec<String>, String) {
    let main: bom::quantity::Length = network
        .links()
        .filter(|(_, _, _, link)| link.is_main())
        .filter_map(|(_, _, _, link)| link.pipe)
        .sum();
    (
        network.drops.iter().map(|drop| drop.name.clone()).collect(),
        network
            .drains
            .iter()
            .map(|drain| drain.name.clone())
            .collect(),
        main.to_mm_text(),
    )
}

/// The count, in one text for each line.
fn count(takeoff: &Takeoff) -> Vec<String> {
    let parts = takeoff.lines.iter().map(|line| {
        let key = &line.key;
        format!("{} {} {} {}", key.system, key.part, key.size, line.quantity)
    });
    let pipe = takeoff.pipe.iter().map(|line| {
        let mut pieces: Vec<_> = line.pieces.iter().map(|piece| piece.length).collect();
        pieces.sort();
        format!("{} {} {pieces:?}", line.key.system, line.size)
    });
    // Where each is made goes by numbers, which the order of the file gives.
    let joints = takeoff.joints.iter().map(|joints| {
        let (system, joint) = (&joints.system, joints.joint);
        format!("{system} {joint:?} {} {}", joints.size, joints.count)
    });
    parts.chain(pipe).chain(joints).collect()
}

proptest! {
    #![proptest_config(same_cases(24))]

    #[test]
    fn one_job_has_the_same_outlets_drains_and_devices_in_every_system(
        plan in select(&Plan::ALL[..]), outlets in 1_usize..12, seed in any::<u64>()
    ) {
        let library = Library::shipped().unwrap();
        let job = cool(&Shop::new(plan, outlets, seed), Form::default());
        let built = built(&job, &library);
        let (_, first) = &built[0];
        prop_assert!(built.len() >= 4);
        for (system, plan) in &built {
            let name = &library.systems()[*system].name;
            prop_assert_eq!(devices(&first.takeoff), devices(&plan.takeoff), "{}", name);
            prop_assert_eq!(layout(&first.network), layout(&plan.network), "{}", name);
        }
    }

    #[test]
    fn turning_renaming_reordering_and_metric_change_no_count_in_any_system(
        plan in select(&Plan::ALL[..]), outlets in 1_usize..10, seed in any::<u64>(),
        rotate in 0_u8..4, [mirror, metric, reorder, rename] in any::<[bool; 4]>()
    ) {
        let library = Library::shipped().unwrap();
        let shop = Shop::new(plan, outlets, seed);
        let form = Form { rotate, mirror, metric, reorder, rename };
        let (plain, other) = (cool(&shop, Form::default()), cool(&shop, form));
        let (plain, other) = (built(&plain, &library), built(&other, &library));
        prop_assert_eq!(plain.len(), other.len());
        for ((_, plain), (_, other)) in plain.iter().zip(&other) {
            prop_assert_eq!(count(&plain.takeoff), count(&other.takeoff));
        }
    }
}

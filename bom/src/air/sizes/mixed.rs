//! Rings whose legs have sizes of their own, where that is cheaper than one size all
//! round.

use super::boxes::bound;
use super::improve::improve;
use super::needs::Need;
use super::tree::Tree;
use super::whole::{Chosen, Part, Whole};
use super::{Costs, EQUAL, Sizes};
use crate::network::Network;
use crate::quantity::Size;
use std::collections::{BTreeMap, BTreeSet};

/// Makes sizes of one size round each ring cheaper, with a bound that holds of all
/// mixtures. `tree` is the tree before anything was asked on top.
pub(super) fn mix(
    sizes: &mut Sizes,
    tree: &Tree,
    needs: &[Need],
    whole: &mut Whole<'_>,
    network: &Network,
    costs: &Costs<'_>,
) {
    let rings: Vec<Vec<Part>> = tree
        .chains
        .iter()
        .map(|chain| chain.legs.iter().map(|leg| Part::Leg(leg.leg)).collect())
        .filter(|legs: &Vec<Part>| !legs.is_empty())
        .collect();
    if rings.is_empty() {
        return;
    }
    sizes.round = vec!["A ring has one size all round.".to_owned()];
    let even = chosen(&sizes.legs, &sizes.drops);
    if rings.iter().all(|legs| legs.len() == 1) {
        sizes.round.extend(whole.shut(&even));
        return;
    }
    let in_ring: BTreeSet<Part> = rings.into_iter().flatten().collect();
    let in_ring = |part: Part| in_ring.contains(&part);
    let even_cost = sizes.cost;
    let cost = |whole: &Whole<'_>, chosen: &Chosen| {
        let part =
            |(part, size): (&Part, &Size)| whole.cost(*part, *size) - whole.cost(*part, even[part]);
        even_cost + chosen.iter().map(part).sum::<f64>()
    };
    let mut best = even.clone();
    let holds = whole.judge(&even, true).is_ok();
    sizes.bound = bound(tree, needs, even_cost, &mut |(legs, drops)| {
        let tried = chosen(&legs, &drops);
        let cheaper = cost(whole, &tried);
        let is_cheaper = holds && !whole.is_tired() && cheaper < cost(whole, &best);
        let does = is_cheaper && whole.judge(&tried, false).is_ok();
        does.then(|| {
            best = tried;
            cheaper
        })
    });
    if holds {
        sizes.forced = improve(whole, &mut best, &in_ring);
    }
    sizes.cost = cost(whole, &best);
    sizes.bound = sizes.bound.min(sizes.cost);
    sizes.proven = sizes.cost <= sizes.bound * (1.0 + EQUAL);
    for (part, size) in &best {
        match part {
            Part::Leg(leg) => sizes.legs.insert(*leg, *size),
            Part::Drop(outlet) => sizes.drops.insert(*outlet, *size),
        };
    }
    let shut = whole.shut(&best);
    let of_ring = |chosen: &Chosen| -> BTreeMap<Size, Vec<String>> {
        let mut by_size: BTreeMap<Size, Vec<String>> = BTreeMap::new();
        for (part, size) in chosen {
            if let Part::Leg(leg) = part
                && in_ring(*part)
            {
                let label = network.legs[*leg].label.clone();
                by_size.entry(*size).or_default().push(label);
            }
        }
        by_size
    };
    let mixed = tree.chains.iter().any(|chain| {
        let at = |leg: &super::chain::OpenLeg| {
            let size = sizes.legs.get(&leg.leg);
            leg.sizes.iter().position(|one| Some(one) == size)
        };
        let places: BTreeSet<Option<usize>> = chain.legs.iter().map(at).collect();
        places.len() > 1
    });
    if mixed {
        let legs = of_ring(&best);
        let legs = legs
            .iter()
            .rev()
            .map(|(size, legs)| format!("{size} in {}", legs.join(", ")));
        let even: Vec<String> = of_ring(&even).keys().map(Size::to_string).collect();
        sizes.round = vec![format!(
            "Not all of the ring has one size: {}. One size all round ({}) would cost {:.1} % more by {}; whoever prefers that writes it.",
            legs.collect::<Vec<String>>().join("; "),
            even.join(", "),
            (even_cost / sizes.cost - 1.0) * 100.0,
            costs.basis,
        )];
    }
    sizes.round.extend(shut);
}

fn chosen(legs: &BTreeMap<usize, Size>, drops: &BTreeMap<usize, Size>) -> Chosen {
    let legs = legs.iter().map(|(leg, size)| (Part::Leg(*leg), *size));
    let drops = drops
        .iter()
        .map(|(outlet, size)| (Part::Drop(*outlet), *size));
    legs.chain(drops).collect()
}

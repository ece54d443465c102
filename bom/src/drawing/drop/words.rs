//! What the notes of a detail say.

use super::built::Built;
use crate::Plan;
use crate::job::Foot;
use crate::network::{Drop, Owner};
use crate::quantity::Size;
use crate::system::Joint;
use crate::water::{EndKind, WetHow};
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// How the detail is meant.
pub(super) const fn seen(drop: &Drop) -> &'static str {
    match drop.foot {
        Foot::Cross => {
            "Seen along the main, the sides turned into the plane. Not to scale: lengths as figured, from centre to centre."
        }
        Foot::Tee | Foot::Elbow => {
            "Seen along the main. Not to scale: lengths as figured, from centre to centre."
        }
    }
}

/// The joints of one, by size and method.
pub(super) fn joints(plan: &Plan, built: &Built) -> String {
    let mut counts: BTreeMap<(Joint, Reverse<Size>), u64> = BTreeMap::new();
    for (line, count) in &built.joints {
        let joints = &plan.takeoff.joints[*line];
        *counts
            .entry((joints.joint, Reverse(joints.size)))
            .or_default() += count;
    }
    let mut said: Vec<String> = Vec::new();
    for method in Joint::ALL {
        let own = counts.iter().filter(|((joint, _), _)| *joint == method);
        let own: Vec<String> = own
            .map(|((_, Reverse(size)), count)| format!("{count} at {size}"))
            .collect();
        if !own.is_empty() {
            said.push(format!("{} {}", own.join(", "), method.word()));
        }
    }
    said.join("; ")
}

/// What the water of the main and of the drop does, in sentences.
pub(super) fn water(plan: &Plan, drops: &[&Drop]) -> Vec<String> {
    let mut said = Vec::new();
    let wet = |how: WetHow| {
        let wet = plan.water.wet.iter().filter(move |wet| wet.how == how);
        let mut names: Vec<usize> = wet
            .filter(|wet| drops.iter().any(|drop| drop.name == wet.outlet))
            .map(|wet| number(plan, &wet.outlet))
            .collect();
        names.sort_unstable();
        names
    };
    let (ends, mut takes, risk) = (wet(WetHow::Ends), wet(WetHow::Takes), wet(WetHow::AtRisk));
    takes.retain(|number| !ends.contains(number));
    let all = |numbers: &[usize]| numbers.len() == drops.len();
    let at = |numbers: &[usize]| {
        let words: Vec<String> = numbers.iter().map(ToString::to_string).collect();
        match words.len() {
            1 => format!("at outlet {}", words.join("")),
            _ => format!("at outlets {}", words.join(", ")),
        }
    };
    let mut say = |numbers: &[usize], words: &str| {
        if all(numbers) {
            said.push(format!("Water of the main {words}."));
        } else if !numbers.is_empty() {
            said.push(format!("Water of the main {words} {}.", at(numbers)));
        }
    };
    say(&ends, "ends in the tool: nothing drains it before");
    say(&takes, "falls into the drop");
    say(&risk, "may come into the drop: it runs past the take-off");
    if ends.is_empty() && takes.is_empty() && risk.is_empty() {
        said.push("Water of the main runs past.".to_owned());
    }
    let drained = |drop: &&&Drop| {
        let mut ends = plan.water.ends.iter();
        ends.any(|end| {
            matches!(&end.kind, EndKind::Drain(_))
                && plan.network.node(end.at).origin.owner == owner(plan, drop)
        })
    };
    let count = drops.iter().filter(drained).count();
    if count == drops.len() {
        said.push("What comes down collects in the drip leg and leaves by its drain.".to_owned());
    } else if count == 0 && ends.is_empty() {
        said.push("What comes down stays in the drip leg: nothing drains it.".to_owned());
    }
    said
}

/// The thing in the job that a drop is.
pub(super) fn owner(plan: &Plan, drop: &Drop) -> Owner {
    plan.network.node(drop.foot_at).origin.owner
}

/// The number of an outlet as all papers count.
pub(super) fn number(plan: &Plan, name: &str) -> usize {
    let mut outlets = plan.summary.outlets.iter();
    outlets
        .find(|outlet| outlet.name == name)
        .map_or(0, |outlet| outlet.number)
}

use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::job::Leg;
use crate::network::{Owner, Spot};
use crate::quantity::Length;

pub(super) static RULE: Rule = Rule {
    name: "main-too-low",
    severity: Severity::Warning,
    finds: "Level main, or the drip leg of a drain on it, that is lower than its leg must be (`clear`).",
    why: "The pipe falls on its way: what is high enough at the riser may stand in a doorway or in a crane's way at its low point.",
    cure: "raise the main (`height` and the riser), or let it fall less: by a gentler fall, or to a low point that is nearer; hang no drain over a way",
    source: "common practice, no source; the height is the job's own",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let legs = context.job.legs.iter().enumerate();
    legs.flat_map(|(index, leg)| leg_too_low(context, index, leg))
        .collect()
}

fn leg_too_low(context: Context<'_>, index: usize, leg: &Leg) -> Vec<Found> {
    let Some(clear) = leg.clear else {
        return Vec::new();
    };
    let network = context.network;
    let height = |at| network.node(at).at.up;
    let places = || context.level_places(move |leg| leg == index);
    let found = |what: String, up: Length| {
        let short = context.at_least(clear.value - up);
        Found {
            span: clear.span,
            message: format!(
                "{what} is {} above the floor, and {} must stay clear: it would have to be {short} higher",
                up.show(network.units),
                clear.value.show(network.units),
            ),
        }
    };
    let lowest = places().min_by_key(|at| height(*at));
    let pipe = lowest
        .filter(|at| height(*at) < clear.value)
        .map(|at| found(format!("the main ({})", context.named(at)), height(at)));
    let legs = network.nodes().filter_map(|(_, node)| {
        let Owner::Drain(drain) = node.origin.owner else {
            return None;
        };
        let drain = &network.drains[drain];
        let hangs = node.origin.spot == Spot::DripLeg && places().any(|at| at == drain.at);
        (hangs && node.at.up < clear.value)
            .then(|| found(format!("the drip leg of `{}`", drain.name), node.at.up))
    });
    pipe.into_iter().chain(legs).collect()
}

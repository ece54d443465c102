use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::network::{NodeKind, Owner, Spot};
use crate::water::ONE_WAY;

pub(super) static RULE: Rule = Rule {
    name: "low-point-without-drain",
    severity: Severity::Warning,
    finds: "A low point of the pipe from which nothing drains.",
    why: "All water of the pipe above it gathers there, until the air tears it off and throws it at the tools.",
    cure: "stand a drain there (below a riser: a drip leg at its foot, on a short level straight before it), or let the pipe fall on to one",
    source: "common practice, no source; NAVFAC MO-209 ch. 5 (e): drip legs at all low points and at the foot of risers",
    check,
};

/// The device that water meets first on its way back to a supply's tank.
fn one_way(context: Context<'_>, supply: usize) -> &str {
    let connect = context.job.supplies[supply].connect.iter().rev();
    let mut names = connect.map(|used| context.name_of(used));
    match names.find(|name| ONE_WAY.contains(name)) {
        Some("check") => "check valve",
        name => name.unwrap_or("device"),
    }
}

fn check(context: Context<'_>) -> Vec<Found> {
    // A drip leg without a drain is said of its drop.
    let is_drip_leg = |at| context.network.node(at).origin.spot == Spot::DripLeg;
    let elsewhere = |at| !context.ends_main(at) && !is_drip_leg(at);
    let pockets = context.pockets().filter(|end| elsewhere(end.at));
    pockets
        .map(|end| {
            let node = context.network.node(end.at);
            let place = match (&node.kind, node.origin.owner) {
                (NodeKind::Device { .. }, Owner::Supply(supply)) => format!(
                    "before the {}, which lets nothing back to the tank",
                    one_way(context, supply)
                ),
                _ => format!("at {}", context.network.place(end.at)),
            };
            Found {
                span: node.span,
                message: format!(
                    "the water of {} of pipe stands {place}, {} above the floor",
                    end.pipe.show(context.network.units),
                    end.height.show(context.network.units)
                ),
            }
        })
        .collect()
}

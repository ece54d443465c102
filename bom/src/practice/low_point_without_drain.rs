use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::network::NodeKind;

pub(super) static RULE: Rule = Rule {
    name: "low-point-without-drain",
    severity: Severity::Warning,
    finds: "A low point of the pipe from which nothing drains.",
    why: "All water of the pipe above it gathers there, until the air tears it off and throws it at the tools.",
    cure: "stand a drain there (below a riser: a drip leg at its foot), or let the pipe fall on to one",
    source: "common practice, no source; NAVFAC MO-209 ch. 5 (e): drip legs at all low points and at the foot of risers",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let pockets = context.pockets().filter(|end| !context.ends_main(end.at));
    pockets
        .map(|end| {
            let node = context.network.node(end.at);
            let place = match node.kind {
                NodeKind::Device { .. } if !context.network.is_line_valve(end.at) => {
                    "before what lets nothing back to the tank"
                }
                NodeKind::Port { .. } | NodeKind::Fitting(_) | NodeKind::Device { .. } => "here",
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

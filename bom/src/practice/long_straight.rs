use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::network::Owner;
use crate::quantity::Length;

pub(super) static RULE: Rule = Rule {
    name: "long-straight",
    severity: Severity::Note,
    finds: "More than 100 ft of main in one line.",
    why: "Pipe grows with heat: where both ends are held, hangers tear or joints open.",
    cure: "leave it free to slide in its hangers, and give it a turn, a loop or a hose where it may grow",
    source: "growth from public tables of linear expansion; the 100 ft is common practice, no source",
    check,
};

const LONG: Length = Length::from_feet(100);

fn check(context: Context<'_>) -> Vec<Found> {
    let network = context.network;
    let long = network.straights(context.library).into_iter();
    long.filter(|straight| straight.length > LONG)
        .map(|straight| {
            let span = match network.node(straight.at).origin.owner {
                Owner::Leg(leg) => context.job.legs[leg].span,
                Owner::Supply(_) | Owner::Drain(_) | Owner::Outlet(_) => {
                    network.node(straight.at).span
                }
            };
            Found {
                span,
                message: format!(
                    "{} of main lie in one line: it grows by {} where it gets 100 F (56 K) warmer",
                    straight.length.show(network.units),
                    straight.growth.show(network.units)
                ),
            }
        })
        .collect()
}

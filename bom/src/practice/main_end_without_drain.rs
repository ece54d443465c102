use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::network::NodeKind;

pub(super) static RULE: Rule = Rule {
    name: "main-end-without-drain",
    severity: Severity::Warning,
    finds: "A low end of the main that nothing drains.",
    why: "The main falls to its end and all of its water with it: the last outlet gets what gathers there.",
    cure: "let the main end in a drip leg with a drain valve, below the last outlet",
    source: "common practice, no source; NAVFAC MO-209 ch. 5 (e) has drip legs at all low points",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let cap = |at| match &context.network.node(at).kind {
        NodeKind::Fitting(fitting) if fitting.kind.part == Some("cap") => " in a cap",
        _ => "",
    };
    let pockets = context.pockets().filter(|end| context.ends_main(end.at));
    pockets
        .map(|end| Found {
            span: context.network.node(end.at).span,
            message: format!(
                "the main ends here{} {} above the floor, and the water of {} of pipe with it",
                cap(end.at),
                end.height.show(context.network.units),
                end.pipe.show(context.network.units)
            ),
        })
        .collect()
}

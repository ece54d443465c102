use super::{Context, Found, Rule};
use crate::finding::Severity;

pub(super) static RULE: Rule = Rule {
    name: "line-valve-narrows-main",
    severity: Severity::Note,
    finds: "A line valve that is smaller than its pipe.",
    why: "All air behind it squeezes through the smaller bore, and in level pipe water stands before the step.",
    cure: "leave its size out: a full-port valve of the line's size is taken, which has the bore of the pipe",
    source: "common practice, no source",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let network = context.network;
    let valves = network.valves.iter();
    valves
        .filter_map(|valve| {
            let pipe = network.link(valve.upstream);
            let thread = context.library.systems()[pipe.system].thread_of(pipe.size);
            (valve.size < thread).then(|| Found {
                span: network.node(valve.at).span,
                message: format!(
                    "the line valve `{}` is {}, and its pipe is {}",
                    valve.name, valve.size, pipe.size
                ),
            })
        })
        .collect()
}

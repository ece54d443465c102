use super::obstacles::passes;
use super::{Context, Found, Rule};
use crate::finding::Severity;

pub(super) static RULE: Rule = Rule {
    name: "near-obstacle",
    severity: Severity::Warning,
    finds: "Pipe that passes what stands there (`[obstacle.NAME]`) with less between them than its `clear`, or than 2 in where it says nothing.",
    why: "Fittings and hangers are wider than pipe, doors shake, and a wrench needs its swing.",
    cure: "move the pipe by what the message says, or let the obstacle say that less is enough: `clear`",
    source: "common practice, no source; the box is the job's own",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let units = context.network.units;
    let passes = passes(context).into_iter();
    passes
        .filter_map(|pass| {
            let free = pass.free?;
            let (by, way) = pass.ways.first()?;
            Some(Found {
                span: pass.obstacle.name.span,
                message: format!(
                    "{} passes {} {} the {}, and {} must stay free: it has to be {} {way}",
                    pass.pipe,
                    free.show(units),
                    pass.side,
                    pass.obstacle.what,
                    pass.obstacle.clear.show(units),
                    by.show(units)
                ),
            })
        })
        .collect()
}

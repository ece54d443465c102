use super::obstacles::{Pass, passes};
use super::{Context, Found, Rule};
use crate::finding::Severity;

pub(super) static RULE: Rule = Rule {
    name: "through-obstacle",
    severity: Severity::Error,
    finds: "Pipe of the main, of a drop or of a drain that runs through what the job says stands there (`[obstacle.NAME]`).",
    why: "A door that opens, a beam or a duct is there first: the pipe cannot be hung as it is drawn, and what is cut for it does not fit.",
    cure: "lead the main over it or under it, by a `go` of several straights or another `height`, or move the drop along; or correct the box",
    source: "common practice, no source; the box is the job's own",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let passes = passes(context).into_iter();
    passes
        .filter(|pass| pass.free.is_none())
        .map(|pass| Found {
            span: pass.obstacle.name.span,
            message: message(context, &pass),
        })
        .collect()
}

fn message(context: Context<'_>, pass: &Pass<'_>) -> String {
    let units = context.network.units;
    let obstacle = pass.obstacle;
    let ways: Vec<String> = pass
        .ways
        .iter()
        .map(|(by, way)| format!("{} {way}", by.show(units)))
        .collect();
    let height = match pass.upright {
        true => String::new(),
        false => format!(" {} above the floor", pass.up.show(units)),
    };
    format!(
        "{} runs{height} through the {}, which reaches from {} to {}: it clears it {}",
        pass.pipe,
        obstacle.what,
        obstacle.low[2].show(units),
        obstacle.high[2].show(units),
        ways.join(" or ")
    )
}

use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::job::{Foot, LegEnd};

pub(super) static RULE: Rule = Rule {
    name: "no-drip-leg",
    severity: Severity::Warning,
    finds: "A drop without a drip leg, or a drip leg without a drain.",
    why: "The last water before the tool has nowhere to wait, or nobody can let it out.",
    cure: "end the drop in a drip leg of 6 to 12 in (150 to 300 mm) with a drain valve",
    source: "common practice, no source; NAVFAC MO-209 ch. 5 (e)",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let outlets = context.job.outlets.iter();
    outlets
        .filter_map(|outlet| {
            let kind = &context.job.drops[outlet.drop?];
            let lacks = match (kind.foot, kind.drain) {
                (Foot::Elbow, _) => "no drip leg",
                (Foot::Cross | Foot::Tee, LegEnd::Cap) => "a drip leg without a drain",
                (Foot::Cross | Foot::Tee, LegEnd::Drain(_)) => return None,
            };
            Some(Found {
                span: outlet.name.span,
                message: format!("the drop of `{}` has {lacks}", outlet.name.value),
            })
        })
        .collect()
}

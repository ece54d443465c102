use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::job::UnlikeMetals;

pub(super) static RULE: Rule = Rule {
    name: "unlike-metals-bare",
    severity: Severity::Warning,
    finds: "Unlike metals that touch, with nothing between.",
    why: "Where water stands on both, the baser metal is eaten at the joint.",
    cure: "write unlike_metals = \"insulating-union\" or \"brass\" under [main]; the trade is of two minds which is better",
    source: "galvanic series, common practice, no source",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    if context.job.main.unlike != UnlikeMetals::Bare {
        return Vec::new();
    }
    let systems = context.network.systems();
    let metal = |index: usize| context.library.systems()[index].adapter_metal;
    let legs = context.job.legs.iter();
    legs.filter_map(|leg| {
        let own = leg.system.as_ref()?;
        let other = systems.iter().find(|other| {
            context
                .library
                .unlike(metal(own.value), metal(**other))
                .is_some()
        })?;
        Some(Found {
            span: own.span,
            message: format!(
                "{} and {} touch, and nothing stands between them",
                metal(own.value).word(),
                metal(*other).word()
            ),
        })
    })
    .collect()
}

use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::job::TakeOff;
use crate::water::WetHow;

pub(super) static RULE: Rule = Rule {
    name: "wet-take-off",
    severity: Severity::Warning,
    finds: "A drop that leaves the side or the bottom of the main.",
    why: "Water runs along the bottom of the main: a drop from the bottom takes all of it, one from the side what splashes, and all of it where the main ends there.",
    cure: "leave the main from its top, then come down",
    source: "NAVFAC MO-209 6.1; TM 55-1930-209-14P-7 1.3 allows the side, never the bottom",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let outlets = context.job.outlets.iter();
    outlets
        .filter_map(|outlet| {
            let kind = &context.job.drops[outlet.drop?];
            let from = match kind.take_off {
                TakeOff::Top => return None,
                TakeOff::Side => "side",
                TakeOff::Bottom => "bottom",
            };
            let mut wet = context.water.wet.iter();
            let passing =
                wet.find(|wet| wet.outlet == outlet.name.value && wet.how != WetHow::Ends);
            // Where nothing else leads on, the side takes as much as the bottom.
            let takes = kind.take_off == TakeOff::Bottom
                || passing.is_some_and(|wet| wet.how == WetHow::Takes);
            let does = match takes {
                true => "takes",
                false => "is at risk from",
            };
            let water = passing.map_or_else(
                || "water that the air carries".to_owned(),
                |wet| {
                    format!(
                        "the water of {} of pipe",
                        wet.from.show(context.network.units)
                    )
                },
            );
            Some(Found {
                span: outlet.name.span,
                message: format!(
                    "`{}` leaves the {from} of the main and {does} {water}",
                    outlet.name.value
                ),
            })
        })
        .collect()
}

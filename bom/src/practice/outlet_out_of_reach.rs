use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::quantity::Length;

pub(super) static RULE: Rule = Rule {
    name: "outlet-out-of-reach",
    severity: Severity::Note,
    finds: "An outlet above 6 ft or below 1 ft 6 in that names no reel.",
    why: "Nobody can plug in a hose or reach the valve without a ladder, or a low one is kicked and stands in the dust.",
    cure: "set the outlet from 1 ft 6 in to 6 ft (460 to 1830 mm) above the floor, or say that it feeds a reel in its name or its drop's; on a deck, accept it with that as the reason",
    source: "common practice, no source",
    check,
};

const LOW: Length = Length::from_64ths(18 * 64);
const HIGH: Length = Length::from_feet(6);

fn check(context: Context<'_>) -> Vec<Found> {
    context
        .outlets()
        .filter(|(outlet, kind)| {
            let tools = outlet.tools.iter();
            let words = tools.flat_map(|tool| [&tool.name, &tool.note]).flatten();
            let mut words = words.chain([&outlet.name, &kind.name]);
            !words.any(|words| words.value.to_lowercase().contains("reel"))
        })
        .filter_map(|(outlet, _)| {
            let height = outlet.height.value;
            let is = if height > HIGH {
                "above reach"
            } else if height < LOW {
                "near the floor"
            } else {
                return None;
            };
            Some(Found {
                span: outlet.height.span,
                message: format!(
                    "`{}` stands {} above the floor: {is}",
                    outlet.name.value,
                    height.show(context.network.units)
                ),
            })
        })
        .collect()
}

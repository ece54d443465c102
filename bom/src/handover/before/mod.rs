//! Before there is pressure: what to look at, how much is stored, and how to go up.

mod look;
mod test;

use super::worked::strength;
use super::{Context, Part};
use crate::quantity::Volume;

/// Nothing that is known of a pneumatic test is left out to save a line.
const CAUTIONS: [&str; 4] = [
    "A test with air can kill: what lets go flies. Local codes and licensed practice come first; where they ask for water, or for somebody to be there, that goes before this sheet.",
    "Nobody stands in line with a joint, a cap or a gauge while the pressure rises. Go up in steps from outside the room, and keep away until it has stood at the step.",
    "Nothing is tightened, loosened or struck under pressure. Let the air out first, and see the gauge at nothing.",
    "What is rated for less than the test is taken out or shut off with a plug behind its valve; a shut valve alone is no end.",
];

pub(super) fn parts(context: &Context<'_>) -> Vec<Part> {
    let mut parts: Vec<Part> = CAUTIONS
        .iter()
        .map(|words| Part::Caution((*words).to_owned()))
        .collect();
    parts.extend(look::old_pipe(context));
    parts.push(Part::heading("Look at everything first"));
    parts.push(Part::Boxes(look::boxes(context)));
    parts.push(Part::heading("What is stored"));
    parts.push(Part::Note(stored(context)));
    parts.push(Part::heading("The test"));
    parts.extend(test::parts(context));
    parts.extend(strength::parts(context));
    parts
}

fn stored(context: &Context<'_>) -> String {
    let figures = &context.figures;
    let pipe = context.volume(figures.pipe);
    let Some((stored, at)) = figures
        .stored
        .zip(figures.stages.map(|stages| stages.test).or(figures.design))
    else {
        return format!(
            "The pipe holds {pipe}. What it stores is not worked out: state `relief`, what the relief valve is set to, under each [supply]."
        );
    };
    let with = match (figures.tank, figures.stored_with_tank) {
        (Some(tank), Some(with)) => {
            let (tanks, stay) = match context.plan.job.supplies.len() {
                1 => ("tank", "the tank stays"),
                _ => ("tanks together", "they stay"),
            };
            format!(
                "; with the {tanks} of {} it would be {with:.0} kJ, which is why {stay} out of it",
                Volume::from_litres(tank).show(context.plan.summary.units)
            )
        }
        _ => "; what a tank adds is not known, as the job does not state each `tank`".to_owned(),
    };
    format!(
        "The pipe alone holds {pipe} and stores {stored:.1} kJ at {}{with}. A kilojoule lifts 100 kg by 1 m. (Air that bursts out without heat: ASME PCC-2, from memory.) Keep everybody out of the room where it can be done; pages on safe distances disagree, so that none is stated here.",
        context.shown(at)
    )
}

#[cfg(test)]
mod tests;

//! The test for strength: what was reached against what was agreed.

use super::remarks;
use super::say::{Sum, lasted};
use crate::handover::record;
use crate::handover::sheet::{Blank, Part};
use crate::handover::{Context, Stages};
use crate::quantity::Pressure;

/// The test, worked out.
#[derive(Debug, Clone)]
pub struct Strength {
    /// What was read.
    pub read: record::Test,
    /// What the rule that was agreed on asks for.
    pub agreed: Option<Pressure>,
    /// What is missing of it.
    pub short: Option<Pressure>,
    /// What it means, in words.
    pub words: Vec<String>,
}

impl Strength {
    pub(super) fn of(context: &Context<'_>, read: &record::Test) -> Self {
        let stages = context.figures.stages;
        let agreed = stages.map(|stages| stages.test);
        let short = agreed.zip(read.reached).and_then(|(agreed, reached)| {
            let short = agreed.kpa() - reached.kpa();
            (short > 1e-6 * agreed.kpa()).then_some(Pressure::from_kpa(short))
        });
        Self {
            words: words(context, read, stages, short),
            read: read.clone(),
            agreed,
            short,
        }
    }
}

fn words(
    context: &Context<'_>,
    read: &record::Test,
    stages: Option<Stages>,
    short: Option<Pressure>,
) -> Vec<String> {
    let sum = Sum::of(context);
    let mut words = Vec::new();
    match (read.reached, stages, context.asked.rule) {
        (None, ..) => words.push("No pressure was read: there was no test that this paper could show.".to_owned()),
        (Some(reached), Some(stages), Some(rule)) => {
            let agreed = sum.pressure(stages.test);
            let held = read.held.map_or_else(
                || "how long it was held was not noted".to_owned(),
                |held| format!("held for {}", lasted(held)),
            );
            words.push(match short {
                None => format!(
                    "Reached {}, which is not below the {agreed} agreed on by {}; {held}, where the rule says: {}. Whether the test is passed is for who asked for it to say.",
                    sum.pressure(reached), rule.name, rule.hold
                ),
                Some(short) => format!(
                    "Reached {}, {} short of the {agreed} agreed on by {}: not the test that was agreed on.",
                    sum.pressure(reached), sum.pressure(short), rule.name
                ),
            });
        }
        (Some(reached), ..) => words.push(format!(
            "Reached {}. Nothing to hold it against: no rule was named (--rule), or the job states neither `relief` nor `cut_out`.",
            sum.pressure(reached)
        )),
    }
    if let Some((set, stages)) = read.relief.zip(stages)
        && set.kpa() > stages.relief.kpa() * (1.0 + 1e-6)
    {
        words.push(format!(
            "The relief valve of the test stood at {}, above the {} that ASME B31.3 345.5.2 allows.",
            sum.pressure(set),
            sum.pressure(stages.relief)
        ));
    }
    if let Some((set, reached)) = read.relief.zip(read.reached)
        && reached.kpa() > set.kpa()
    {
        words.push(format!(
            "More was reached than the relief valve was set to ({}): the valve or a gauge is wrong, or a figure was misread.",
            sum.pressure(set)
        ));
    }
    words
}

/// The blanks of the test, filled as far as they were read, and what follows.
pub(in crate::handover) fn parts(context: &Context<'_>) -> Vec<Part> {
    let sum = Sum::of(context);
    let worked = context.worked.strength.as_ref();
    let nothing = record::Test::default();
    let read = worked.map_or(&nothing, |worked| &worked.read);
    let pressure = |pressure: Option<Pressure>| {
        pressure.map_or_else(String::new, |pressure| sum.pressure(pressure))
    };
    let held = read.held.map_or_else(String::new, lasted);
    let mut parts = vec![Part::Blanks(vec![
        vec![
            Blank::filled("Begun: day, time", &read.begun),
            Blank::filled("At the test: time", &read.at_test),
            Blank::filled("Down again: time", &read.down),
        ],
        vec![
            Blank::filled("Reached", &pressure(read.reached)),
            Blank::filled("Held for", &held),
            Blank::filled("Relief valve of the test: set to", &pressure(read.relief)),
        ],
        vec![
            Blank::filled("Gauge, and when it was last checked", &read.gauge),
            Blank::filled("Agreed with, by name", &read.agreed_with),
            Blank::empty("Signature, date"),
        ],
    ])];
    if let Some(worked) = worked {
        parts.extend(context.other_layout());
        let words = worked.words.iter();
        parts.extend(words.map(|words| Part::Caution(words.clone())));
        parts.extend(remarks(&worked.read.remarks));
    }
    parts
}

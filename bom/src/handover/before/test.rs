//! The stages of the test by the rule that is agreed on, and what may not see it.

use super::super::{Context, Part, rules};
use crate::quantity::Pressure;

pub(super) fn parts(context: &Context<'_>) -> Vec<Part> {
    let Some(design) = context.figures.design else {
        return vec![Part::Caution(
            "No pressure of a test follows: the job does not say what the pipe can see. Read it off the relief valve of every tank, and state `relief` under each [supply]."
                .to_owned(),
        )];
    };
    let highest = format!(
        "The highest that the pipe can see is {}: {}.{}{}",
        context.shown(design),
        context.highest_words(),
        taken(context),
        several(context)
    );
    let Some((rule, stages)) = context.asked.rule.zip(context.figures.stages) else {
        return vec![
            Part::Note(format!(
                "{highest} The sources disagree on the test, so that none is taken: agree on one of these or on the local code's, and name it with --rule."
            )),
            known_rules(design, context),
        ];
    };
    let (units, design) = (context.plan.summary.units, context.shown(design));
    let test = context.at_least(stages.test);
    // The unit stands once, at the end.
    let steps: Vec<String> = stages
        .steps(units)
        .into_iter()
        .rev()
        .skip(1)
        .map(|step| context.at_most(step))
        .filter_map(|step| step.split(' ').next().map(str::to_owned))
        .collect();
    let steps: Vec<&str> = steps.iter().rev().skip(1).map(String::as_str).collect();
    let mut parts = vec![
        Part::Note(highest),
        Part::note(format!(
            "By {} ({}): {} times that, {test}. {}. The steps and the relief valve are those of ASME B31.3 345.5 (that of 345.5.2 and the first step seen, the others from memory).",
            rule.name, rule.source, rule.factor, rule.words
        )),
        Part::Boxes(vec![
            format!(
                "Relief valve of the test set to no more than {}",
                context.at_most(stages.relief)
            ),
            format!(
                "First step {}: look, listen, soap every joint",
                context.at_most(stages.first)
            ),
            format!(
                "Then up by these, each held until nothing strains: {}, {test}",
                steps.join(", ")
            ),
            format!("Held at {test} for {}", rule.hold),
            format!("Down to {design} and every joint soaped"),
            "All air let out, the gauge at nothing; then what was taken out goes back in"
                .to_owned(),
        ]),
    ];
    parts.extend(weak(context, stages.test));
    parts
}

/// Where the highest pressure is taken and not stated.
fn taken(context: &Context<'_>) -> &'static str {
    match context.plan.job.conditions().relief {
        Some(_) => "",
        None => {
            " That is taken (common practice, no source): read what the relief valve is set to off the valve itself before the test."
        }
    }
}

/// Where tanks on one main have relief valves that differ.
fn several(context: &Context<'_>) -> String {
    let supplies = &context.plan.job.supplies;
    let mut words: Vec<String> = Vec::new();
    let mut differ = false;
    for supply in supplies {
        let relief = supply
            .relief
            .map_or_else(|| "not stated".to_owned(), |relief| context.shown(relief));
        differ |= supply.relief.map(Pressure::kpa) != supplies[0].relief.map(Pressure::kpa);
        words.push(format!("{} {relief}", supply.name.value));
    }
    if !differ {
        return String::new();
    }
    format!(
        " The relief valves are {}: the highest counts, as a lower one may stand behind a valve that is shut, and need not carry the other machine's air.",
        words.join(", ")
    )
}

fn known_rules(design: Pressure, context: &Context<'_>) -> Part {
    let known = rules().unwrap_or_default();
    let rows = known.iter().map(|rule| {
        vec![
            rule.name.clone(),
            context.at_least(Pressure::from_kpa(design.kpa() * rule.factor)),
            rule.hold.clone(),
            rule.source.clone(),
        ]
    });
    Part::table(
        &[
            ("Rule", false),
            ("Test at", true),
            ("Held", false),
            ("Source", false),
        ],
        rows.collect(),
    )
}

/// What may not see the test, each kind once.
fn weak(context: &Context<'_>, test: Pressure) -> Vec<Part> {
    let mut rows: Vec<Vec<String>> = Vec::new();
    let items = context.plan.zones.zones.iter().flat_map(|zone| &zone.items);
    for item in items {
        let rated = match item.psi {
            Some(psi) if psi >= test.psi() - 1e-9 => continue,
            Some(psi) => context.at_most(Pressure::from_psi(psi)),
            None => "no figure".to_owned(),
        };
        if !rows.iter().any(|row| row[0] == item.what) {
            rows.push(vec![item.what.clone(), item.place_words.clone(), rated]);
        }
    }
    if rows.is_empty() {
        return vec![Part::note(
            "Every part that is counted is rated for the test where it is hottest.",
        )];
    }
    vec![
        Part::Caution(
            "Rated for less than the test. A rating is for work, and a code may allow more in a test: ask first; else take the part out and plug its end, or agree on a lower pressure."
                .to_owned(),
        ),
        Part::table(
            &[("Part", false), ("First at", false), ("Rated for", true)],
            rows,
        ),
    ]
}

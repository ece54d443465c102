//! Before there is pressure: what to look at, how much is stored, and how to go up.

use super::worked::strength;
use super::{Context, Part, rules};
use crate::drawing::Tags;
use crate::quantity::{Pressure, Volume};

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
    parts.push(Part::heading("Look at everything first"));
    parts.push(Part::Boxes(looks(context)));
    parts.push(Part::heading("What is stored"));
    parts.push(Part::Note(stored(context)));
    parts.push(Part::heading("The test"));
    parts.extend(test(context));
    parts.extend(weak(context));
    parts.extend(strength::parts(context));
    parts
}

fn looks(context: &Context<'_>) -> Vec<String> {
    let plan = context.plan;
    let supplies = &plan.network.supplies;
    let mut looks: Vec<String> = supplies
        .iter()
        .map(|(name, _)| {
            let valves = context.tags.valves.iter();
            let mut valves = valves.filter(|(.., called)| called == name);
            match valves.next() {
                Some((_, tag, _)) => format!(
                    "{name}: stopped and locked; valve {tag} shut, and the hose taken off behind it or its end plugged, so that the tank is no part of the test"
                ),
                None => format!(
                    "{name}: stopped and locked. No valve parts it from the pipe: take the pipe off the tank and plug it"
                ),
            }
        })
        .collect();
    looks.push(open_ends(&context.tags));
    let drains: Vec<&str> = context
        .tags
        .drains
        .iter()
        .map(|(_, tag, _)| tag.as_str())
        .collect();
    if !drains.is_empty() {
        looks.push(format!(
            "Drains {} and the drip leg of every drop shut",
            drains.join(", ")
        ));
    }
    let lines: Vec<&str> = plan
        .network
        .valves
        .iter()
        .filter_map(|valve| context.tags.valve_at(valve.at))
        .collect();
    if !lines.is_empty() {
        looks.push(format!(
            "Line valves {} open, so that all pipe is tested",
            lines.join(", ")
        ));
    }
    looks.extend(
        plan.network
            .plugged
            .iter()
            .map(|plug| format!("Plug at {}: made up", plan.network.place(plug.at))),
    );
    looks.push("Filters, regulators, lubricators and gauges that are rated for less than the test: off, their ends plugged".to_owned());
    looks.push("A relief valve of its own on the pipe that is tested, between the source of air and the pipe".to_owned());
    looks.push(
        "Every joint can be seen and soaped; every hanger is tight; nobody works on the line"
            .to_owned(),
    );
    looks
}

/// Every end by which air could leave, by name.
fn open_ends(tags: &Tags) -> String {
    let outlets: Vec<String> = tags
        .outlets
        .iter()
        .map(|(_, number, name)| format!("{number} {name}"))
        .collect();
    match outlets.len() {
        0 => "No outlet".to_owned(),
        1 => format!("The outlet plugged: {}", outlets.join(", ")),
        count => format!(
            "All {count} outlets plugged on every side: {}",
            outlets.join(", ")
        ),
    }
}

fn stored(context: &Context<'_>) -> String {
    let figures = &context.figures;
    let pipe = context.volume(figures.pipe);
    let Some((stored, at)) = figures
        .stored
        .zip(figures.stages.map(|stages| stages.test).or(figures.design))
    else {
        return format!(
            "The pipe holds {pipe}. What it stores is not worked out: the job states neither `relief` nor `cut_out`."
        );
    };
    let with = match (figures.tank, figures.stored_with_tank) {
        (Some(tank), Some(with)) => format!(
            "; with the tank of {} it would be {with:.0} kJ, which is why the tank stays out of it",
            Volume::from_litres(tank).show(context.plan.summary.units)
        ),
        _ => "; what a tank adds is not known, as the job states none".to_owned(),
    };
    format!(
        "The pipe alone holds {pipe} and stores {stored:.1} kJ at {}{with}. A kilojoule lifts 100 kg by 1 m. (Air that bursts out without heat: ASME PCC-2, from memory.) Keep everybody out of the room where it can be done; pages on safe distances disagree, so that none is stated here.",
        context.shown(at)
    )
}

fn test(context: &Context<'_>) -> Vec<Part> {
    let Some(design) = context.figures.design else {
        return vec![Part::note(
            "No pressure of a test follows: the job states neither `relief` nor `cut_out`.",
        )];
    };
    let from = match context.plan.job.conditions().relief {
        Some(_) => "what the relief valve is set to",
        None => "where the compressor stops, as the job states no relief valve",
    };
    let design = context.shown(design);
    let (Some(rule), Some(stages)) = (context.asked.rule, context.figures.stages) else {
        let known = rules().unwrap_or_default();
        let rows = known.iter().map(|rule| {
            vec![
                rule.name.clone(),
                format!("{:.0} %", rule.factor * 100.0),
                rule.hold.clone(),
                rule.source.clone(),
            ]
        });
        return vec![
            Part::note(format!(
                "The highest that the pipe can see is {design}: {from}. The sources disagree on the test, so that none is taken: agree on one of these or on the local code's, and name it with --rule."
            )),
            Part::table(
                &[
                    ("Rule", false),
                    ("Of the highest", true),
                    ("Held", false),
                    ("Source", false),
                ],
                rows.collect(),
            ),
        ];
    };
    let steps: Vec<String> = stages
        .steps()
        .into_iter()
        .map(|step| context.fine(step))
        .collect();
    vec![
        Part::note(format!(
            "By {} ({}): {} times {design}, {from}. {}.",
            rule.name, rule.source, rule.factor, rule.words
        )),
        Part::Boxes(vec![
            format!(
                "Relief valve of the test set to no more than {} (ASME B31.3 345.5.2)",
                context.fine(stages.relief)
            ),
            format!(
                "First step {}: look, listen, soap every joint",
                context.fine(stages.first)
            ),
            format!(
                "Up by these steps, each held until nothing strains: {}",
                steps.join(", ")
            ),
            format!("Held at {} for {}", context.fine(stages.test), rule.hold),
            format!("Down to {design} and every joint soaped"),
        ]),
    ]
}

/// What may not see the test, each kind once; nothing where no test is agreed on.
fn weak(context: &Context<'_>) -> Vec<Part> {
    let Some(stages) = context.figures.stages else {
        return Vec::new();
    };
    let mut rows: Vec<Vec<String>> = Vec::new();
    let items = context.plan.zones.zones.iter().flat_map(|zone| &zone.items);
    for item in items {
        let rated = match item.psi {
            Some(psi) if psi >= stages.test.psi() => continue,
            Some(psi) => context.shown(Pressure::from_psi(psi)),
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

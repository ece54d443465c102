//! How it was built: valves, drains, outlets and labels, under the mark of the job.

use super::{Context, Part};

/// Between two arrows on the pipe. ASME A13.1 asks for labels where they can be read, at
/// valves, branches and walls; the spacing is common practice, no source.
const SPACING: (&str, &str) = ("25 ft", "8 m");

/// More outlets than this have their labels on one line.
const MOST_LABELS: usize = 12;

pub(super) fn parts(context: &Context<'_>) -> Vec<Part> {
    let plan = context.plan;
    let units = plan.summary.units;
    let mut parts = vec![
        Part::note(format!(
            "{}{}, under the mark {}. The plan, the isometric sheets and the details of `dripleg crew` with this mark belong to it, and so does the signed record of the test.",
            plan.summary.title,
            if plan.summary.revision.is_empty() {
                String::new()
            } else {
                format!(", revision {}", plan.summary.revision)
            },
            if context.asked.fingerprint.is_empty() {
                "-"
            } else {
                context.asked.fingerprint
            }
        )),
        Part::heading("Valves"),
    ];
    let valves = context.tags.valves.iter().map(|(at, tag, name)| {
        let without = plan.network.without_air(&[*at]);
        let numbers: Vec<String> = without
            .iter()
            .map(|drop| {
                context
                    .tags
                    .outlet(&plan.network.drops[*drop].name)
                    .to_string()
            })
            .collect();
        vec![
            tag.clone(),
            name.clone(),
            plan.network.place(*at),
            if numbers.is_empty() {
                "none".to_owned()
            } else {
                numbers.join(", ")
            },
        ]
    });
    parts.push(Part::table(
        &[
            ("Tag", false),
            ("Name", false),
            ("Where", false),
            ("Shut alone, without air", false),
        ],
        valves.collect(),
    ));
    parts.push(Part::heading("Drains"));
    let drains = context.tags.drains.iter().map(|(at, tag, name)| {
        let summary = plan.summary.drains.iter().find(|drain| drain.name == *name);
        vec![
            tag.clone(),
            name.clone(),
            plan.network.place(*at),
            summary.map_or_else(String::new, |drain| drain.valve.to_string()),
            summary.map_or_else(String::new, |drain| drain.height.show(units)),
        ]
    });
    parts.push(Part::table(
        &[
            ("Tag", false),
            ("Name", false),
            ("Where", false),
            ("Valve", false),
            ("Main's height", true),
        ],
        drains.collect(),
    ));
    parts.push(Part::heading("Labels to make"));
    parts.push(Part::table(
        &[("Words", false), ("How many", true), ("Where", false)],
        labels(context),
    ));
    parts.push(Part::blanks([
        &["Changed on site: what, where, drawn in by"],
        &[
            "Handed over by: name, signature, date",
            "Taken over by: name, signature, date",
        ],
    ]));
    parts
}

fn labels(context: &Context<'_>) -> Vec<Vec<String>> {
    let plan = context.plan;
    let (spacing, step) = match plan.summary.units {
        crate::quantity::Units::Feet => (SPACING.0, crate::quantity::Length::from_feet(25)),
        crate::quantity::Units::Metric => (SPACING.1, crate::quantity::Length::from_mm(8_000)),
    };
    let arrows = plan.summary.main_length.stretches_of(step) + 1;
    let pressure = context.figures.design.map_or_else(String::new, |design| {
        format!(", max. {}", context.shown(design))
    });
    let mut rows = vec![vec![
        format!("COMPRESSED AIR{pressure}, with an arrow"),
        arrows.to_string(),
        format!(
            "along the main every {spacing} (common practice, no source), at valves, branches and on both sides of walls"
        ),
    ]];
    rows.extend(context.tags.valves.iter().map(|(_, tag, name)| {
        vec![
            format!("{tag} {name}"),
            "1".to_owned(),
            "on the handle of the valve".to_owned(),
        ]
    }));
    rows.extend(context.tags.drains.iter().map(|(_, tag, name)| {
        vec![
            format!("{tag} {name}: DRAIN DAILY"),
            "1".to_owned(),
            "at the drain".to_owned(),
        ]
    }));
    let outlets: Vec<(usize, &str)> = context.outlets().collect();
    if outlets.len() > MOST_LABELS {
        let (first, last) = (outlets[0].0, outlets[outlets.len() - 1].0);
        rows.push(vec![
            format!("number and name of each outlet, {first} to {last}"),
            outlets.len().to_string(),
            "at the outlet".to_owned(),
        ]);
        return rows;
    }
    rows.extend(outlets.into_iter().map(|(number, name)| {
        vec![
            format!("{number} {name}"),
            "1".to_owned(),
            "at the outlet".to_owned(),
        ]
    }));
    rows
}

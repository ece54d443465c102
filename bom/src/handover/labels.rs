//! The labels of pipe, valves, drains and outlets, and how large their letters are.

use super::{Context, Part};
use crate::quantity::{Length, Units};

/// Between two arrows on the pipe. ASME A13.1 asks for labels where they can be read, at
/// valves, branches and walls; the spacing is common practice, no source.
const SPACING: (&str, &str) = ("25 ft", "8 m");

/// More outlets than this have their labels on one line.
const MOST_LABELS: usize = 12;

/// The letters of a label by the outside of the pipe, ASME A13.1 (from memory): the
/// largest outside in 64ths of an inch, the letters, and how long the coloured field is.
const LETTERS: [(i64, [&str; 2], [&str; 2]); 5] = [
    (80, ["1/2 in", "13 mm"], ["8 in", "200 mm"]),
    (128, ["3/4 in", "19 mm"], ["8 in", "200 mm"]),
    (384, ["1-1/4 in", "32 mm"], ["12 in", "300 mm"]),
    (640, ["2-1/2 in", "64 mm"], ["24 in", "600 mm"]),
    (i64::MAX, ["3-1/2 in", "89 mm"], ["32 in", "800 mm"]),
];

pub(super) fn parts(context: &Context<'_>) -> Vec<Part> {
    vec![
        Part::table(
            &[("Words", false), ("How many", true), ("Where", false)],
            labels(context),
        ),
        Part::heading("Letters of the labels on pipe"),
        Part::table(
            &[("Pipe", false), ("Letters", true), ("Coloured field", true)],
            letters(context),
        ),
        Part::note(
            "Letters by the outside of the pipe after ASME A13.1 (from memory); between two of its rows the larger. Colours are those of the local standard; ASME A13.1 has white on blue for compressed air (from memory).",
        ),
    ]
}

/// The letters for each size of the main.
fn letters(context: &Context<'_>) -> Vec<Vec<String>> {
    let plan = context.plan;
    let at = match plan.summary.units {
        Units::Feet => 0,
        Units::Metric => 1,
    };
    let mut pipes: Vec<_> = plan
        .network
        .links()
        .map(|(.., link)| link)
        .filter(|link| link.is_main())
        .map(|link| (link.system, link.size))
        .collect();
    pipes.sort_unstable();
    pipes.dedup();
    let rows = pipes.into_iter().rev().filter_map(|(system, size)| {
        let system = &context.library.systems()[system];
        let outside = system.row(size)?.outside;
        let mut letters = LETTERS.iter();
        let (_, letters, field) =
            letters.find(|(most, ..)| outside.nm() <= most.saturating_mul(SIXTY_FOURTH))?;
        Some(vec![
            format!("{size}, {}", system.title),
            letters[at].to_owned(),
            field[at].to_owned(),
        ])
    });
    rows.collect()
}

const SIXTY_FOURTH: i64 = Length::from_64ths(1).nm();

fn labels(context: &Context<'_>) -> Vec<Vec<String>> {
    let plan = context.plan;
    let (spacing, step) = match plan.summary.units {
        Units::Feet => (SPACING.0, Length::from_feet(25)),
        Units::Metric => (SPACING.1, Length::from_mm(8_000)),
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

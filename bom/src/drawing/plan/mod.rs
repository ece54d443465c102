//! The plan to scale: rooms and main from above, with everything that an owner
//! points at, and a list of it.

mod beside;
mod chain;
mod crossing;
mod dimensions;
mod draft;
mod entries;
mod foot;
mod ground;
mod layout;
mod level;
mod list;
mod obstacles;
mod past;
mod pipes;
mod rooms;
mod scale;
mod tanks;
#[cfg(test)]
mod tests;
mod things;
mod view;
mod ways;
mod words;

pub use crossing::{Crossing, crossings};

use super::shape::{At, Dash};
use super::tags::{Tags, tags};
use super::{Scene, Sheet};
use crate::network::Point;
use draft::Draft;
use foot::Foot;
use layout::{Layout, layouts};
use level::{Level, levels};
use list::{list, pages};

/// How walls are drawn whose place the file does not say.
const ASSUMED: Dash = Dash::Dashed;

/// The plan to scale: a sheet for each level, more where they would be too full, and
/// the list of outlets, valves and drains where it finds no room beside the plan.
#[must_use]
pub fn plan(scene: &Scene<'_>) -> Vec<Sheet> {
    let tags = tags(scene.plan);
    let levels = levels(scene.plan);
    let mut sheets: Vec<Sheet> = Vec::new();
    for level in &levels {
        sheets.extend(of_level(scene, level, &tags));
    }
    for (sheet, number) in sheets.iter_mut().zip(1_usize..) {
        sheet.id = match number {
            1 => "plan".to_owned(),
            _ => format!("plan-{number}"),
        };
    }
    sheets
}

fn of_level(scene: &Scene<'_>, level: &Level, tags: &Tags) -> Vec<Sheet> {
    let (columns, rows) = list(scene, level, tags);
    let foot = Foot::of(scene, level, tags, words::notes(scene.plan, level));
    let size = match rows.is_empty() {
        true => None,
        false => {
            let (_, across, down) = super::table(&columns, &rows, At::default());
            Some((across, down))
        }
    };
    let Some(plans) = layouts(scene, level, &foot, size) else {
        return Vec::new();
    };
    let Some((choice, drafts)) = best(scene, level, tags, &plans) else {
        return Vec::new();
    };
    let mut sheets = Vec::new();
    let count = drafts.len();
    for (draft, part) in drafts.into_iter().zip(1_usize..) {
        let mut marks = draft.marks;
        if choice.bare {
            marks.push(foot::scaled(scene, &choice.scale, choice.foot));
        } else {
            marks.extend(foot.drawn(scene, &choice.scale, choice.foot));
        }
        marks.extend(choice.table.map(|at| super::table(&columns, &rows, at).0));
        let part = (count > 1).then(|| format!("part {part} of {count}"));
        let sheet = Sheet {
            id: String::new(),
            title: words::title(level, part.as_deref()),
            about: words::about(scene.plan, level, &choice.scale),
            width: choice.width,
            height: choice.height,
            marks,
        };
        sheets.push(sheet.layered());
    }
    if choice.table.is_none() {
        let foot = choice.bare.then_some(&foot);
        sheets.extend(lists(scene, level, foot, &columns, &rows));
    }
    sheets
}

/// The first layout on which everything has its label and most numbers stand beside
/// their outlets; else the one that lacks least.
fn best<'a>(
    scene: &'a Scene<'a>,
    level: &'a Level,
    tags: &'a Tags,
    layouts: &'a [Layout],
) -> Option<(&'a Layout, Vec<Draft<'a>>)> {
    let mut best: Option<(usize, &Layout, Vec<Draft<'_>>)> = None;
    for layout in layouts {
        let views = layout.views.iter();
        let drafts: Vec<Draft<'_>> = views
            .map(|view| drawn(scene, level, tags, *view, layout))
            .collect();
        let lacking = drafts.iter().map(|draft| draft.lacking).sum();
        let off: usize = drafts.iter().map(|draft| draft.off).sum();
        let good = lacking == 0 && off * 4 <= tags.outlets.len().max(12);
        let better = best.as_ref().is_none_or(|(least, ..)| lacking < *least);
        if better || good {
            best = Some((lacking, layout, drafts));
        }
        if good {
            break;
        }
    }
    best.map(|(_, layout, drafts)| (layout, drafts))
}

/// The list on sheets of its own, below the signs and notes if these stand there too.
fn lists(
    scene: &Scene<'_>,
    level: &Level,
    foot: Option<&Foot>,
    columns: &[super::Column],
    rows: &[Vec<String>],
) -> Vec<Sheet> {
    let (_, across, _) = super::table(columns, rows, At::default());
    let field = &scene.field;
    let (width, height) = if across <= field.width {
        (field.width, field.height)
    } else {
        (field.lying_width, field.lying_height)
    };
    let (mut marks, mut top) = foot.map_or_else(Default::default, |foot| {
        let (marks, down) = foot.signs(At::default(), width);
        (marks, down + 3.0)
    });
    let mut sheets = Vec::new();
    for page in pages(rows, height - top, height, columns) {
        let at = At::new(0.0, std::mem::take(&mut top));
        let mut marks = std::mem::take(&mut marks);
        if !page.is_empty() {
            marks.push(super::table(columns, &page, at).0);
        }
        sheets.push(Sheet {
            id: String::new(),
            title: words::title(level, Some("outlets, valves and drains")),
            about: "Every outlet, valve and drain with its height and its place.".to_owned(),
            width,
            height,
            marks,
        });
    }
    sheets
}

fn drawn<'a>(
    scene: &'a Scene<'a>,
    level: &'a Level,
    tags: &'a Tags,
    view: view::View,
    layout: &Layout,
) -> Draft<'a> {
    let mut draft = Draft::new(scene, level, tags, view, layout.names);
    draft.walls();
    let obstacles = draft.obstacles();
    draft.pipe();
    draft.past_and_later();
    draft.flow();
    let (things, risers) = draft.signs();
    draft.matches(layout);
    let measured = draft.room_sizes();
    draft.named(things);
    draft.named(risers);
    draft.chains();
    draft.obstacle_names(obstacles);
    draft.room_names(&measured);
    draft.beyond();
    draft.heights();
    draft.sizes();
    draft.falls();
    draft
}

/// From where the list measures: the south-west corner of the first room whose walls
/// are known, else the first tank.
fn origin(level: &Level) -> Point {
    let known = level.rooms.iter().find(|room| room.known);
    known.map_or_else(Point::default, |room| Point {
        east: room.inside.west,
        north: room.inside.south,
        ..Point::default()
    })
}

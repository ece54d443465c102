//! The main from the side, way after way as one walks along it.

use super::panel::{APART, FAR_APART, LEFT, panel};
use crate::drawing::page::{Block, Paper};
use crate::drawing::{Scene, Sheet, Tags, tags};
use crate::quantity::Length;
use crate::takeoff::hangers;
use crate::water::{Place, profile};
use std::collections::BTreeMap;

/// What of a way is drawn in one piece.
pub(super) struct Run<'a> {
    /// Its places in order.
    pub(super) places: &'a [Place],
    /// The hangers on it: their numbers, how far along the way, and how high.
    pub(super) hangers: Vec<(usize, Length, Length)>,
    /// Its number among all of them.
    pub(super) number: usize,
    /// Whether it is one piece of several of a way.
    pub(super) goes_on: bool,
}

/// What all panels share.
pub(super) struct Side<'a> {
    pub(super) scene: &'a Scene<'a>,
    pub(super) tags: Tags,
    /// Millimetres of paper for one of the shop, where nothing else asks for more.
    pub(super) scale: f64,
    /// The widest that a panel may be.
    pub(super) across: f64,
    /// From one column to the next.
    pub(super) apart: f64,
}

const SAID: &str = "Distances are measured along the level main from where each way begins; heights are of the pipe's centre above the floor. Between two heights that stand apart the rest is left out.";

pub(super) fn sheets(scene: &Scene<'_>) -> Vec<Sheet> {
    let field = scene.field;
    let lying = drawn(scene, field.lying_width, field.lying_height);
    let upright = drawn(scene, field.width, field.height);
    match upright.len() < lying.len() {
        true => upright,
        false => lying,
    }
}

fn drawn(scene: &Scene<'_>, across: f64, down: f64) -> Vec<Sheet> {
    let ways = profile(&scene.plan.network);
    let apart = match scene.plan.network.drops.len() < 100 {
        true => APART,
        false => FAR_APART,
    };
    let all = runs(scene, &ways, across, apart);
    let longest = all.iter().map(length).fold(0.0, f64::max).max(1.0);
    let side = Side {
        scene,
        tags: tags(scene.plan),
        scale: (across - LEFT - 6.0) / longest,
        across,
        apart,
    };
    let mut blocks: Vec<Block> = all.iter().map(|run| panel(&side, run)).collect();
    if let Some(first) = blocks.first_mut() {
        let said = Block::note(SAID, across);
        *first = said.above(std::mem::take(first), 3.0);
    }
    let paper = Paper {
        id: "water-profile",
        title: "Main from the side",
        about: "The main from the side as one walks along it, with the height above the floor at every place and hanger, its low points and its take-offs.",
        width: across,
        height: down,
    };
    paper.laid(blocks)
}

/// How long a run is, in mm of the shop.
pub(super) fn length(run: &Run<'_>) -> f64 {
    match (run.places.first(), run.places.last()) {
        (Some(first), Some(last)) => (last.along - first.along).mm(),
        _ => 0.0,
    }
}

/// All ways, those with more places than a panel holds in several pieces.
fn runs<'a>(scene: &Scene<'_>, ways: &'a [Vec<Place>], across: f64, apart: f64) -> Vec<Run<'a>> {
    let hangers = hangers(&scene.plan.network, scene.library);
    let mut on: BTreeMap<_, Vec<(usize, Length, Length)>> = BTreeMap::new();
    for (number, hanger) in (1..).zip(&hangers) {
        let one = (number, hanger.beyond, hanger.height);
        on.entry(hanger.on).or_default().push(one);
    }
    let mut most = 2;
    let mut reach = LEFT + 2.0 * apart;
    while reach + apart < across {
        reach += apart;
        most += 1;
    }
    let mut runs = Vec::new();
    for way in ways {
        let pieces = (way.len().saturating_sub(1)).div_ceil(most - 1).max(1);
        let each = (way.len().saturating_sub(1)).div_ceil(pieces).max(1);
        let mut from = 0;
        while from + 1 < way.len() {
            let to = (from + each).min(way.len() - 1);
            let places = &way[from..=to];
            let mut hung = Vec::new();
            for pair in places.windows(2) {
                let level = scene.plan.network.node(pair[0].at).at.up;
                let of = pair[1].by.and_then(|by| on.get(&by));
                for (number, beyond, height) in of.into_iter().flatten() {
                    let upright = pair[1].along == pair[0].along && pair[1].height != level;
                    let along = match upright {
                        true => pair[0].along,
                        false => pair[0].along + *beyond,
                    };
                    hung.push((*number, along, *height));
                }
            }
            hung.sort_unstable();
            runs.push(Run {
                places,
                hangers: hung,
                number: runs.len() + 1,
                goes_on: pieces > 1,
            });
            from = to;
        }
    }
    runs
}

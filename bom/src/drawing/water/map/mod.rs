//! The water map: which way the main falls, where its water ends, what stands and
//! what freezes.

mod drains;
mod patterns;
mod standing;

use crate::drawing::page::{Block, Paper};
use crate::drawing::shape::{At, Fill, Shape, Stroke};
use crate::drawing::sketch::{Sketch, Spot};
use crate::drawing::{Scene, Sheet, TextSize};
use crate::network::{NodeId, Owner};
use crate::water::{EndKind, Stop, faults, freezes, round, volume};

pub(super) fn sheets(scene: &Scene<'_>) -> Vec<Sheet> {
    let plan = scene.plan;
    let place = |node: NodeId| plan.network.place(node);
    let faults = faults(&plan.water, &place, plan.summary.units);
    let cold = freezes(plan, &place);
    let below = |across: f64, down: f64| {
        let mut blocks = vec![Block::note(&words(scene), across)];
        let heading = "Water: what to change";
        blocks.extend(Block::warnings(heading, &faults, across, down));
        let heading = "Freezes when its room is coldest";
        blocks.extend(Block::warnings(heading, &cold, across, down));
        blocks
    };
    let paper = Paper {
        id: "water",
        title: "Water map",
        about: &format!(
            "The main from above with the way it falls, its {} drains, and what stands or freezes: {}.",
            plan.network.drains.len(),
            match faults.len() {
                0 => "everything drains".to_owned(),
                1 => "one thing has to be changed".to_owned(),
                count => format!("{count} things have to be changed"),
            }
        ),
        width: scene.field.width,
        height: scene.field.height,
    };
    Sketch::sheets(
        scene,
        &paper,
        &|across, down| map(scene, across, down),
        &below,
    )
}

fn map(scene: &Scene<'_>, across: f64, down: f64) -> Vec<Block> {
    let plan = scene.plan;
    let mut map = Map {
        scene,
        sketch: Sketch::new(plan, across, down),
        round: round(&plan.network, scene.library, &plan.water),
    };
    map.standing();
    map.sketch.take_offs();
    map.drains();
    map.hatch();
    map.troubles();
    map.tanks();
    map.sketch.falls();
    map.sketch.numbers();
    map.sketch.finished(across)
}

/// What is said below the map.
fn words(scene: &Scene<'_>) -> String {
    let summary = &scene.plan.summary;
    let fall = match summary.fall.as_str() {
        "level" => "The main is level".to_owned(),
        fall => format!("The main falls {fall}"),
    };
    let days = match &scene.plan.amounts {
        Some(amounts) => format!(
            " A mean day brings {} of water, of which {} stay in the tank.",
            volume(amounts.mean.taken_in, summary.units),
            volume(amounts.mean.in_tank, summary.units)
        ),
        None => String::new(),
    };
    format!(
        "{fall}; not to scale in height.{days} Drip legs of drops are drained at their outlets."
    )
}

struct Map<'a> {
    scene: &'a Scene<'a>,
    sketch: Sketch<'a>,
    round: Vec<Stop>,
}

impl Map<'_> {
    /// The place of the main from which something hangs.
    fn on_main(&self, at: NodeId) -> NodeId {
        let network = &self.scene.plan.network;
        match network.node(at).origin.owner {
            Owner::Drain(drain) => network.drains[drain].at,
            Owner::Outlet(outlet) => network.drops[outlet].take_off_at,
            Owner::Supply(_) | Owner::Leg(_) => at,
        }
    }

    /// A black triangle wherever water stands or runs to a tool.
    fn troubles(&mut self) {
        let plan = self.scene.plan;
        let mut seen: Vec<NodeId> = Vec::new();
        for end in &plan.water.ends {
            let words = match end.kind {
                EndKind::Pocket => "POCKET: no drain",
                EndKind::Tool(_) => "WATER TO THE TOOL",
                EndKind::Drain(_) | EndKind::Tank | EndKind::Level => continue,
            };
            let at = self.on_main(end.at);
            self.trouble(at, words, &mut seen);
        }
        for wet in &plan.water.wet {
            let mut drops = plan.network.drops.iter();
            if let Some(drop) = drops.find(|drop| drop.name == wet.outlet) {
                self.trouble(drop.take_off_at, "", &mut seen);
            }
        }
    }

    fn trouble(&mut self, at: NodeId, words: &str, seen: &mut Vec<NodeId>) {
        if seen.contains(&at) {
            return;
        }
        seen.push(at);
        let corners = vec![At::new(0.0, -1.7), At::new(1.9, 1.6), At::new(-1.9, 1.6)];
        let triangle = [Shape::outline(Stroke::NARROW, Fill::Ink, corners)];
        let (x, y) = self.sketch.outwards(at);
        let spot = Spot {
            at: self.sketch.at(at),
            gap: 1.6,
            towards: (-x, -y),
        };
        let here = self.sketch.near(spot, (4.0, 3.6), &triangle);
        self.sketch
            .means("WATER STANDS or comes to a tool", triangle.to_vec());
        if !words.is_empty() {
            let spot = Spot {
                at: here,
                gap: 2.6,
                towards: (-x, -y),
            };
            let id = format!("trouble-{}", at.index());
            self.sketch.label(
                spot,
                &[(words.to_owned(), TextSize::Small, true)],
                (&id, words),
            );
        }
    }
}

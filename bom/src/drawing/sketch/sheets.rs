//! How large a sketch gets on its sheet.

use super::{MARGIN, Sketch, View};
use crate::drawing::page::{Block, Paper};
use crate::drawing::shape::{Area, At};
use crate::drawing::{Field, Scene, Sheet};
use crate::network::Network;

impl Sketch<'_> {
    /// Sheets with a sketch, as large as it gets, and what stands below it: on the same
    /// sheet if that leaves it large enough. `draw` draws it so far across and down.
    pub(in crate::drawing) fn sheets(
        scene: &Scene<'_>,
        paper: &Paper<'_>,
        draw: &dyn Fn(f64, f64) -> Vec<Block>,
        below: &dyn Fn(f64, f64) -> Vec<Block>,
    ) -> Vec<Sheet> {
        /// What stands below is on a sheet of its own where it is higher.
        const MOST: f64 = 80.0;
        /// What a legend may take, tried in turn.
        const LEGENDS: [f64; 6] = [20.0, 26.0, 32.0, 38.0, 44.0, 56.0];
        let field = scene.field;
        let heights = below(field.width, field.height);
        let high = |blocks: &[Block]| blocks.iter().map(|block| block.down + 4.0).sum::<f64>();
        let kept = match high(&heights) {
            all if all <= MOST => all,
            _ => high(&heights[..heights.len().min(1)]),
        };
        // Whether one is higher than the paper, and how many there are.
        let rank = |sheets: &[Sheet], down: f64| {
            let too_high = sheets.iter().any(|sheet| sheet.height > down + 1e-6);
            (too_high, sheets.len())
        };
        let mut best: Option<((bool, usize), Vec<Sheet>)> = None;
        for legend in LEGENDS {
            let (across, down) = Self::room(&scene.plan.network, field, legend + kept);
            let mut blocks = draw(across, down - legend - kept);
            blocks.extend(below(across, down));
            let paper = Paper {
                width: across,
                height: down,
                ..*paper
            };
            let sheets = paper.laid(blocks);
            let rank = rank(&sheets, down);
            // The first of the shortest: its sketch is the largest.
            if best.as_ref().is_none_or(|(best, _)| rank < *best) {
                best = Some((rank, sheets));
            }
            if best.as_ref().is_some_and(|(best, _)| *best == (false, 1)) {
                break;
            }
        }
        best.map(|(_, sheets)| sheets).unwrap_or_default()
    }

    /// The room for it on the sheet on which it gets larger, upright or lying: across
    /// and down, where `below` is kept free below it.
    fn room(network: &Network, field: Field, below: f64) -> (f64, f64) {
        let upright = (field.width, field.height);
        let lying = (field.lying_width, field.lying_height);
        let scale = |(across, down): (f64, f64)| {
            View::of(network, Self::within(across, down - below)).scale
        };
        match scale(lying) > scale(upright) {
            true => lying,
            false => upright,
        }
    }

    pub(super) fn within(across: f64, down: f64) -> Area {
        let (side, end) = MARGIN;
        Area::of(
            At::new(side, end),
            At::new((across - side).max(side + 1.0), (down - end).max(end + 1.0)),
        )
    }
}

//! Dimension lines, and arrows down the fall.

use super::Set;
use super::axes::{across, along, unit};
use super::picture::Picture;
use super::say::Say;
use super::words::beside;
use crate::drawing::{Area, At, Board, Fill, Shape, Stroke, symbol};
use crate::job::Direction;
use crate::network::LinkId;
use std::collections::BTreeMap;

/// A dimension line stands this far from its pipe: it clears what rises from the main.
const DIMENSION: f64 = 10.5;

impl Set<'_> {
    /// Whether any main falls.
    pub(super) fn falls(&self) -> bool {
        let links = self.scene.plan.network.links();
        let mut main = links.filter(|(_, _, _, link)| link.is_main() && link.direction.is_level());
        let up = |place| self.scene.plan.network.node(place).at.up;
        main.any(|(_, from, to, _)| up(from) != up(to))
    }

    /// Arrows down the fall, beside the pipe.
    pub(super) fn fall_arrows(&self, picture: &Picture<'_>, board: &mut Board) -> Vec<Shape> {
        let network = &self.scene.plan.network;
        let Some(sign) = symbol("fall") else {
            return Vec::new();
        };
        let mut shapes = Vec::new();
        for id in picture.stretches.iter().flat_map(|stretch| &stretch.main) {
            let [from, to] = network.ends_of(*id);
            let (high, low) = match network.node(from).at.up.cmp(&network.node(to).at.up) {
                _ if !network.link(*id).direction.is_level() => continue,
                std::cmp::Ordering::Equal => continue,
                std::cmp::Ordering::Greater => (from, to),
                std::cmp::Ordering::Less => (to, from),
            };
            let (Some(a), Some(b)) = (picture.at(high), picture.at(low)) else {
                continue;
            };
            let way = unit((b.x - a.x, b.y - a.y));
            let over = across(way);
            for share in [0.62, 0.38, 0.75, 0.25] {
                let at = a.towards(b, share).by(over.0 * 3.0, over.1 * 3.0);
                let drawn = sign.drawn(at, way, over);
                let areas = drawn.iter().filter_map(Shape::area);
                let Some(area) = areas.reduce(|all, one| all.with(&one)) else {
                    continue;
                };
                let edges = drawn.iter().flat_map(Shape::segments);
                if edges
                    .into_iter()
                    .all(|(from, to)| board.is_clear(from, to, true))
                {
                    board.block(&drawn);
                    board.block_area(area.grown(-0.8));
                    shapes.extend(drawn);
                    break;
                }
            }
        }
        shapes
    }

    /// Dimension lines, centre to centre, where there is room for them; and what has
    /// none.
    pub(super) fn dimensions(
        &self,
        picture: &Picture<'_>,
        board: &mut Board,
    ) -> (Vec<Shape>, BTreeMap<LinkId, String>) {
        let mut shapes = Vec::new();
        let mut without = BTreeMap::new();
        for (id, a, b, words) in self.centres(picture) {
            let mut found = false;
            let way = unit((b.x - a.x, b.y - a.y));
            let sides = if way.0.abs() < 0.1 {
                let over = across(way);
                [(over.0, over.1), (-over.0, -over.1)]
            } else if way.0 * way.1 > 0.0 {
                // Along east or west: to the north, then to the south.
                let (x, y) = along(Direction::North);
                [(x, y), (-x, -y)]
            } else {
                let (x, y) = along(Direction::East);
                [(-x, -y), (x, y)]
            };
            for side in sides {
                let off = |at: At, by: f64| at.by(side.0 * by, side.1 * by);
                let (from, to) = (off(a, DIMENSION), off(b, DIMENSION));
                let lines = [
                    (from, to),
                    (off(a, 1.5), off(a, DIMENSION + 1.2)),
                    (off(b, 1.5), off(b, DIMENSION + 1.2)),
                ];
                let inside = lines.iter().all(|(from, to)| {
                    board.is_free(&Area::of(*from, *from)) && board.is_free(&Area::of(*to, *to))
                });
                if !inside
                    || !lines
                        .iter()
                        .all(|(from, to)| board.is_clear(*from, *to, true))
                {
                    continue;
                }
                let mut drawn: Vec<Shape> = lines
                    .iter()
                    .map(|(from, to)| Shape::line(Stroke::NARROW, vec![*from, *to]))
                    .collect();
                for (end, sign) in [(from, 1.0), (to, -1.0)] {
                    let wing = |over: f64| {
                        end.by(
                            sign * way.0 * 2.0 + over * side.0 * 0.5,
                            sign * way.1 * 2.0 + over * side.1 * 0.5,
                        )
                    };
                    drawn.push(Shape::outline(
                        Stroke::NARROW,
                        Fill::Ink,
                        vec![end, wing(1.0), wing(-1.0)],
                    ));
                }
                let say = Say::small(from.towards(to, 0.5), beside(way), vec![words.clone()], 1.5);
                let mut trial: Vec<Shape> = drawn.clone();
                board.block(&drawn);
                if let Some(text) = say.placed(board) {
                    trial.extend(text);
                    shapes.extend(trial);
                    found = true;
                }
                break;
            }
            if !found {
                without.insert(id, words);
            }
        }
        (shapes, without)
    }
}

//! The numbers of what no row of devices has: each at the place that its reason names.

use super::super::At;
use super::built::{Built, Placed};
use super::ink::{DOWN, Ink, Item, Way};
use crate::Plan;
use crate::network::Spot;
use crate::takeoff::Why;

/// Points a number to every part and piece that has none yet.
pub(super) fn point(ink: &mut Ink, plan: &Plan, built: &Built) {
    let parts = built.parts.iter().map(|part| (Item::Part(part.line), part));
    let on_main = built.on_main.iter();
    let parts = parts.chain(on_main.map(|part| (Item::OnMain(part.line), part)));
    let mut parts: Vec<(Item, &Placed)> = parts.collect();
    // Fittings first: their corners have room on one side only.
    parts.sort_by_key(|(_, part)| part.why != Why::Meets);
    for (item, part) in parts {
        if ink.said.contains(part) {
            continue;
        }
        if let Some((at, way)) = over(ink, plan, built, part) {
            ink.in_row(item, at, way, 6.0, 0.0);
            continue;
        }
        let (at, towards) = stands(ink, plan, built, part);
        ink.callout(item, at, towards);
    }
    for cut in &built.pieces {
        let ends = [cut.piece.from, cut.piece.to].map(|end| ink.place_of(end));
        let at = ends[0].towards(ends[1], 0.5);
        ink.callout(Item::Piece(cut.line, cut.piece.length), at, (0.3, 1.0));
    }
}

/// Where the numbers of the pipe up and over stand: in the corner below both, clear of
/// the main and of the dimension of the down pipe.
fn over(ink: &Ink, plan: &Plan, built: &Built, part: &Placed) -> Option<(At, Way)> {
    let (at, far) = (ink.place_of(part.at), ink.place_of(part.far));
    if part.why != Why::Spans {
        return None;
    }
    match plan.network.node(part.at).origin.spot {
        Spot::UpperElbow => Some((at.towards(far, 0.5), (0.8, 0.6))),
        Spot::DropElbow if part.far != built.root => Some((at.towards(far, 0.66), DOWN)),
        _ => None,
    }
}

/// Where a part is drawn, and where its number would best stand.
fn stands(ink: &Ink, plan: &Plan, built: &Built, part: &Placed) -> (At, (f64, f64)) {
    let at = ink.place_of(part.at);
    let far = ink.place_of(part.far);
    let length = at.distance(far).max(0.1);
    match (part.why, plan.network.node(part.at).origin.spot) {
        (Why::Spans, _) => (at.towards(far, 0.5), (1.0, 0.6)),
        (Why::Meets, _) if part.at == built.root => {
            // On the edge of the main's section, which is round.
            let edge = ink.section * std::f64::consts::FRAC_1_SQRT_2;
            (at.by(edge, edge), (1.0, 1.0))
        }
        (Why::Meets, Spot::UpperElbow) => (at, (-0.8, -1.0)),
        (Why::Meets, Spot::Foot | Spot::LowerFoot) => (at, (-0.8, 1.0)),
        (Why::Meets, _) => (at, (0.8, -1.0)),
        _ => (at.towards(far, (4.6 / length).min(0.5)), (1.0, 0.4)),
    }
}

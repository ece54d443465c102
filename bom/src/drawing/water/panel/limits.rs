//! Heights to which the main is held.

use super::{Run, Side};
use crate::drawing::Dash;
use crate::quantity::Length;

/// The heights that have to be seen: those of the main, of the floor, of eaves and of
/// what must stay clear.
pub(super) fn spans(side: &Side<'_>, run: &Run<'_>) -> Vec<(f64, f64)> {
    let mut spans = vec![(0.0, 0.0)];
    for pair in run.places.windows(2) {
        let (a, b) = (pair[0].height.mm(), pair[1].height.mm());
        match pair[0].along == pair[1].along {
            true => spans.extend([(a, a), (b, b)]),
            false => spans.push((a.min(b), a.max(b))),
        }
    }
    spans.extend(
        limits(side, run)
            .into_iter()
            .map(|limit| (limit.height.mm(), limit.height.mm())),
    );
    spans
}

/// A height to which the main is held.
pub(super) struct Limit {
    pub(super) words: String,
    pub(super) height: Length,
    pub(super) from: Length,
    pub(super) to: Length,
    pub(super) dash: Dash,
}

/// The eaves, and what must stay clear, leg by leg.
pub(super) fn limits(side: &Side<'_>, run: &Run<'_>) -> Vec<Limit> {
    let plan = side.scene.plan;
    let job = &plan.job;
    let mut limits: Vec<Limit> = Vec::new();
    for pair in run.places.windows(2) {
        let Some(leg) = pair[1].by.and_then(|by| plan.network.link(by).leg) else {
            continue;
        };
        if pair[0].along == pair[1].along {
            continue;
        }
        let room = job.room_of(leg).and_then(|room| job.rooms.get(room));
        let eave = room
            .and_then(|room| room.eave.as_ref())
            .map(|eave| (eave.value, "eave", Dash::Dashed));
        let clear = job.legs.get(leg).and_then(|leg| leg.clear.as_ref());
        let clear = clear.map(|clear| (clear.value, "must stay clear:", Dash::Centre));
        for (height, word, dash) in eave.into_iter().chain(clear) {
            let words = format!("{word} {}", height.show(plan.summary.units));
            let (from, to) = (pair[0].along, pair[1].along);
            match limits
                .iter_mut()
                .find(|one| one.words == words && one.to == from)
            {
                Some(one) => one.to = to,
                None => limits.push(Limit {
                    words,
                    height,
                    from,
                    to,
                    dash,
                }),
            }
        }
    }
    limits
}

//! Which typed lengths a reading depends on: each is changed a little, and the walk
//! walked again.

use super::reading::measure;
use super::typed::Typed;
use crate::job::{Job, Spot};
use crate::library::Library;
use crate::network::{Lay, lay};
use crate::quantity::Length;

/// By how much: more than what a ring's closing overlooks.
const STEP: Length = Length::from_64ths(32);

/// A job with each of its lengths changed.
pub(super) struct Probe<'a> {
    job: &'a Job,
    lay: &'a Lay,
    library: &'a Library,
    changed: Vec<(Typed, Job, Lay)>,
}

/// Two ends of a tape, and the room whose walls they are.
pub(super) type Ends<'a> = (&'a Spot, &'a Spot, Option<usize>);

impl<'a> Probe<'a> {
    pub(super) fn of(job: &'a Job, lay_of: &'a Lay, library: &'a Library) -> Self {
        let typed = Typed::all(job).into_iter();
        let changed = typed.filter_map(|one| {
            // A mark moves towards its hook: behind the leg's end there is nothing.
            let first = if matches!(one, Typed::Mark(..)) {
                -STEP
            } else {
                STEP
            };
            let changed = one.changed(job, first).or_else(|| one.changed(job, -first));
            let (other, _) = changed?;
            let walked = lay(&other, library);
            Some((one, other, walked))
        });
        Self {
            job,
            lay: lay_of,
            library,
            changed: changed.collect(),
        }
    }

    /// Every length that there is.
    pub(super) fn all(&self) -> impl Iterator<Item = Typed> {
        self.changed.iter().map(|(one, ..)| *one)
    }

    /// The lengths of which a reading takes up at least one part in `share`.
    pub(super) fn behind(&self, ends: Ends<'_>, share: i64) -> Vec<Typed> {
        let (from, to, room) = ends;
        let Some(usual) = measure(self.job, self.lay, from, to, room) else {
            return Vec::new();
        };
        let changed = self.changed.iter().filter(|(_, job, lay)| {
            let other = measure(job, lay, from, to, room);
            other.is_some_and(|other| (other - usual).abs().times(share) >= STEP)
        });
        changed.map(|(one, ..)| *one).collect()
    }

    /// Whether the walk itself says when this one is wrong, either way.
    pub(super) fn is_held(&self, one: Typed) -> bool {
        let walked = |by: Length| one.changed(self.job, by);
        let mut changed = [STEP, -STEP].into_iter().filter_map(walked);
        changed.any(|(other, _)| !lay(&other, self.library).sound)
    }
}

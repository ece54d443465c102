//! The same job otherwise: without some outlets, with one more, in other pipe. What
//! is priced beside a job is planned from here as the job itself is.

mod more;
mod without;

pub use more::Stretch;

use super::{DropKind, Job, JobOption, Leg, Mark, SizeChoice};
use crate::library::Library;
use crate::network::Network;
use crate::quantity::Length;
use crate::source::Spanned;

impl Job {
    /// The job with the alternates of these names and without all others.
    #[must_use]
    pub fn with_alternates(mut self, taken: &[&str]) -> Self {
        let left = self.alternates.iter();
        let left = left.filter(|one| !taken.contains(&one.name.value.as_str()));
        let outlets: Vec<String> = left.flat_map(|one| one.outlets.clone()).collect();
        if !outlets.is_empty() {
            self.assumptions.push(format!(
                "Outlets of alternates are no part of this: {}.",
                outlets.join(", ")
            ));
        }
        self.without(&outlets.into_iter().collect())
    }

    /// The job as an option has it.
    #[must_use]
    pub fn with_option(self, option: &JobOption, library: &Library) -> Self {
        let mut job = self.without(&option.leave_out.iter().cloned().collect());
        if let Some(system) = option.system {
            job = job.in_system(system, library);
        }
        if let Some(size) = option.size {
            job.main.size = SizeChoice::Given(size.value);
            job.main.size_span = size.span;
        }
        job
    }

    /// The job with the sizes that its network has where it leaves them open, so that
    /// another drop changes none of them.
    #[must_use]
    pub fn sized_as(self, network: &Network) -> Self {
        let legs: Vec<usize> = self.legs.iter().map(|leg| leg.number).collect();
        self.sized_by(&legs, network)
    }

    /// The same by the network of a job that has more legs, which have these numbers.
    pub(crate) fn sized_by(mut self, legs: &[usize], network: &Network) -> Self {
        for leg in &mut self.legs {
            let index = legs.iter().position(|number| *number == leg.number);
            let mut links = network.links().map(|(_, _, _, link)| link);
            let open = leg.size.map_or(self.main.size, |size| size.value) == SizeChoice::Auto;
            if let Some(link) = links.find(|link| open && index.is_some() && link.leg == index) {
                leg.size = Some(Spanned::new(SizeChoice::Given(link.size), leg.span));
            }
        }
        for outlet in &mut self.outlets {
            let mut drops = network.drops.iter();
            let Some(drop) = drops.find(|drop| drop.name == outlet.name.value) else {
                continue;
            };
            let kind = outlet.drop.and_then(|kind| self.drops.get(kind)).cloned();
            if let Some(kind) = kind.filter(|kind| kind.size == SizeChoice::Auto) {
                outlet.drop = Some(self.drops.len());
                self.drops.push(DropKind {
                    size: SizeChoice::Given(drop.size),
                    ..kind
                });
            }
        }
        let widest = network
            .links()
            .filter_map(|(_, _, _, link)| link.leg.map(|_| link.size));
        if let (SizeChoice::Auto, Some(widest)) = (self.main.size, widest.max()) {
            self.main.size = SizeChoice::Given(widest);
        }
        self
    }
}

impl Leg {
    /// How far from the leg's start a mark stands.
    pub(crate) fn place_of(&self, mark: &Mark) -> Length {
        match mark.back {
            true => self.length() - mark.reading.value,
            false => mark.reading.value,
        }
    }
}

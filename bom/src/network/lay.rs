//! Where the walk leads by itself: before the main falls and anything hangs on it.

use super::route::{self, Draft, Route};
use super::walls::{self, Walls};
use super::{Point, build, connection};
use crate::finding::{Finding, stops};
use crate::job::Job;
use crate::library::Library;
use std::collections::BTreeMap;

/// Where the legs and their marks are.
#[derive(Debug, Clone)]
pub struct Lay {
    /// Where each name stands: supplies, marks and ends of legs.
    pub places: BTreeMap<String, Point>,
    /// The same names in walking order.
    pub order: Vec<String>,
    /// The places of each leg from its start to its end; none if it is not walked.
    pub legs: Vec<Vec<Point>>,
    /// The rooms that have a size, with their places.
    pub walls: Vec<Walls>,
    /// Whether the walk closes, and its lengths agree.
    pub sound: bool,
}

/// Walks the legs of a job, as far as they can be walked.
#[must_use]
pub fn lay(job: &Job, library: &Library) -> Lay {
    let mut findings: Vec<Finding> = Vec::new();
    let mut draft = Draft::default();
    let starts = connection::add_all(job, library, &mut draft);
    let route = route::walk(job, draft, &starts, &mut findings);
    build::lengths_fit(job, &mut findings);
    let mut lay = Lay::of(job, &route);
    lay.sound = !stops(&findings);
    lay
}

impl Lay {
    pub(super) fn of(job: &Job, route: &Route) -> Self {
        let draft = &route.draft;
        let mut legs = vec![Vec::new(); job.legs.len()];
        for edge in draft.raw_edges() {
            let Some(leg) = edge.weight.leg.and_then(|leg| legs.get_mut(leg)) else {
                continue;
            };
            if leg.is_empty() {
                leg.push(draft[edge.source()].at);
            }
            leg.push(draft[edge.target()].at);
        }
        let places = route.places.iter();
        let mut order: Vec<&String> = route.places.keys().collect();
        order.sort_by_key(|name| route.places[*name].node);
        Self {
            order: order.into_iter().cloned().collect(),
            places: places
                .map(|(name, place)| (name.clone(), draft[place.node].at))
                .collect(),
            walls: walls::walls(job, &legs),
            legs,
            sound: true,
        }
    }
}

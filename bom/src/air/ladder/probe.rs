//! The same pipework asked again, with more air drawn somewhere: how much more
//! it carries.

use super::cases::{Case, draws};
use super::piping::{PIPE_TEMPERATURE, Piping, Wear};
use super::steps::{Sides, way};
use super::{Fast, Ladders, ToolAir, tool_air};
use crate::air::Site;
use crate::air::demand::{Demand, free_air, mass};
use crate::air::energy::growth;
use crate::job::Job;
use crate::library::Library;
use crate::network::{LinkId, Network};
use crate::quantity::{AirFlow, Pressure, Speed};

/// The pipework, to be asked.
pub(in crate::air) struct Probe<'a> {
    piping: Piping<'a>,
    job: &'a Job,
    demand: &'a Demand,
    at_tank: f64,
}

/// So little air, l/s, that it changes nothing: it only shows the way.
const WHIFF: f64 = 0.01;

impl<'a> Probe<'a> {
    pub(in crate::air) fn of(
        job: &'a Job,
        network: &'a Network,
        library: &'a Library,
        demand: &'a Demand,
        wear: Wear,
    ) -> Self {
        let piping = Piping::of(job, network, library, wear);
        Self {
            at_tank: piping.absolute(job.cut_in()),
            piping,
            job,
            demand,
        }
    }

    /// What a tool gets in the case that is worst for it, with so much more air
    /// drawn at the foot of an outlet.
    pub(in crate::air) fn tool(
        &self,
        air: &ToolAir,
        cases: &[Case],
        outlet: usize,
        more: AirFlow,
    ) -> Option<ToolAir> {
        let case = cases.get(air.case)?;
        let drawn = self.drawn(case, outlet, more);
        let flowing = self.piping.solve(self.at_tank, &drawn, air.shut);
        let sides = Sides::of(&self.piping, self.job, self.demand);
        let number = air.case;
        Some(tool_air(&sides, &flowing, case, number, air.shut, air.tool))
    }

    /// How much more air can be drawn at the foot of an outlet before a pipe on
    /// its way runs faster than its limit, all of it by the way that most of the
    /// air comes. The pipes are those that `of` takes.
    pub(in crate::air) fn until_fast(
        &self,
        ladders: &Ladders,
        outlet: usize,
        limit: Speed,
        of: impl Fn(LinkId) -> bool,
    ) -> Option<AirFlow> {
        let average = Case {
            name: String::new(),
            running: Vec::new(),
        };
        let whiff = AirFlow::from_litres_per_second(WHIFF);
        let drawn = self.drawn(&average, outlet, whiff);
        let flowing = self.piping.solve(self.at_tank, &drawn, None).ok()?;
        let pipes = way(&self.piping, &flowing, outlet);
        let pipes = pipes.into_iter().filter(|(link, ..)| of(*link));
        let more = pipes.filter_map(|(link, _, to)| {
            let fast = ladders.fastest.iter().find(|fast| fast.link == link);
            let here = flowing.pressures[to.index()];
            self.room(link, fast, self.piping.gauge(here?), limit)
        });
        let more = more.min_by(f64::total_cmp);
        more.map(AirFlow::from_litres_per_second)
    }

    fn room(&self, link: LinkId, fast: Option<&Fast>, here: Pressure, limit: Speed) -> Option<f64> {
        self.piping.network.link(link).pipe?;
        let now = free_air(fast.map_or(0.0, |fast| fast.kg_per_s));
        // Free air is that of sea level, so the gauge must read from there.
        let absolute = self.piping.absolute(fast.map_or(here, |fast| fast.left));
        let gauge = Pressure::from_kpa((absolute - Site::SEA_LEVEL.atmosphere) / 1e3);
        let bore = self.piping.bore(link);
        growth(
            now,
            bore,
            limit.metres_per_second(),
            &Site::SEA_LEVEL,
            gauge,
            PIPE_TEMPERATURE,
        )
    }

    fn drawn(&self, case: &Case, outlet: usize, more: AirFlow) -> Vec<f64> {
        let mut drawn = draws(self.demand, case, self.piping.network.drops.len());
        if let Some(at) = drawn.get_mut(outlet) {
            *at += mass(more);
        }
        drawn
    }
}

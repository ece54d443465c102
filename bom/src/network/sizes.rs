//! Sizes: as given, or read from the published chart where the job says auto.

use super::Link;
use super::route::{Draft, DraftNode, Route};
use crate::finding::Finding;
use crate::job::{DropKind, Job, SizeChoice, TakeOff};
use crate::library::Library;
use crate::quantity::{Length, Size};
use crate::source::Span;
use petgraph::graph::{NodeIndex, UnGraph};

/// The sizes that `auto` stands for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Auto {
    main: Option<Size>,
    drop: Option<Size>,
}

/// Chooses the sizes, says how, and refuses those that the system lacks.
pub(super) fn choose(
    job: &Job,
    library: &Library,
    route: &Route,
    start: NodeIndex,
    assumptions: &mut Vec<String>,
    findings: &mut Vec<Finding>,
) -> Auto {
    let system = &library.systems()[job.system];
    let mut refuse_unmade = |size: SizeChoice, span: Span| {
        let SizeChoice::Given(size) = size else {
            return;
        };
        if system.row(size).is_none() {
            let sizes: Vec<String> = system.sizes().map(|row| row.size.to_string()).collect();
            findings.push(Finding::error(
                "size-not-made",
                span,
                format!("{} is not made in {size}", system.name),
                format!("its sizes are {}", sizes.join(", ")),
            ));
        }
    };
    refuse_unmade(job.main.size, job.main.size_span);
    for size in job.legs.iter().filter_map(|leg| leg.size) {
        refuse_unmade(size.value, size.span);
    }
    for drop in &job.drops {
        refuse_unmade(drop.size, drop.size_span);
    }
    for drain in &job.drains {
        if let Some(size) = drain.size {
            refuse_unmade(SizeChoice::Given(size), drain.name.span);
        }
    }
    refuse_unmade(SizeChoice::Given(job.supply.port), job.supply.name.span);

    let main_auto = route
        .draft
        .edge_weights()
        .any(|link| link.size == SizeChoice::Auto);
    let drop_auto = job.drops.iter().any(|drop| drop.size == SizeChoice::Auto);
    let mut auto = Auto {
        main: None,
        drop: None,
    };
    if !main_auto && !drop_auto {
        return auto;
    }
    let Some(flow) = job.supply.free_air else {
        findings.push(Finding::error(
            "auto-without-air",
            job.supply.name.span,
            "a size is left to be chosen, and nothing says how much air the compressor delivers",
            "add `free_air` to the supply, or write the sizes",
        ));
        return auto;
    };
    let farthest = farthest_outlet(job, route, start);
    if main_auto {
        auto.main = library.chart_size(flow, farthest);
        assumptions.push(format!(
            "The size of the main, where the job leaves it open, comes from a published size chart (US Army TM 55-1930-209-14P-7, Table 1) at the whole {} and {} to the farthest outlet; pressure losses are not worked out.",
            flow.show(job.units),
            farthest.show_total(job.units),
        ));
    }
    if drop_auto {
        auto.drop = library.chart_size(flow, Length::from_feet(25));
        assumptions.push(format!(
            "The size of drops, where the job leaves it open, comes from the same chart at the whole {} and 25 ft, and is never larger than the main at their place.",
            flow.show(job.units),
        ));
    }
    if (main_auto && auto.main.is_none()) || (drop_auto && auto.drop.is_none()) {
        findings.push(Finding::error(
            "auto-beyond-chart",
            job.main.size_span,
            format!(
                "the size chart ends at 100 cfm and 300 ft, and this job has {} and {}",
                flow.show(job.units),
                farthest.show_total(job.units)
            ),
            "write the sizes instead of `auto`",
        ));
    }
    auto
}

impl Auto {
    /// The draft with every size in place.
    pub(super) fn settle(self, draft: &Draft) -> UnGraph<DraftNode, Link> {
        draft.map(
            |_, node| *node,
            |_, link| Link {
                pipe: link.pipe,
                size: self.of(link.size, self.main),
                direction: link.direction,
                main: link.pipe.is_some(),
            },
        )
    }

    /// The size of a drop that leaves a main of `main`.
    pub(super) fn drop_size(self, drop: &DropKind, main: Size) -> Size {
        match drop.size {
            SizeChoice::Given(size) => size,
            SizeChoice::Auto => self.of(SizeChoice::Auto, self.drop).min(main),
        }
    }

    fn of(self, choice: SizeChoice, auto: Option<Size>) -> Size {
        match choice {
            SizeChoice::Given(size) => size,
            // Without a chart size there is a finding, and nothing is counted.
            SizeChoice::Auto => auto.unwrap_or(Size::Nominal(8)),
        }
    }
}

/// The pipe from the tank to the farthest outlet, the shortest way round.
fn farthest_outlet(job: &Job, route: &Route, start: NodeIndex) -> Length {
    let distances = petgraph::algo::dijkstra(&route.draft, start, None, |edge| {
        edge.weight().pipe.unwrap_or_default()
    });
    job.outlets
        .iter()
        .filter_map(|outlet| {
            let place = route.places.get(&outlet.name.value)?;
            let drop = &job.drops[outlet.drop?];
            let main = *distances.get(&place.node)?;
            let down = route.draft[place.node].at.up - outlet.height.value;
            let over = match drop.take_off {
                TakeOff::Top => drop.rise + drop.rise + drop.reach,
                TakeOff::Side => drop.reach,
                TakeOff::Bottom => Length::ZERO,
            };
            Some(main + over + down)
        })
        .max()
        .unwrap_or_default()
}

//! Sizes: as given, or read from the published chart where the job says auto.

use super::Link;
use super::route::{Draft, DraftLink, DraftNode, Route};
use crate::air::Stream;
use crate::air::sizes::Sizes;
use crate::finding::Finding;
use crate::job::{DropKind, Job, SizeChoice, TakeOff};
use crate::library::{Library, MORE_LOSS};
use crate::quantity::{Length, Size};
use crate::source::Span;
use crate::system::System;
use petgraph::graph::{NodeIndex, UnGraph};

/// The system whose pipe the size chart is of: the first that ships.
const CHART: usize = 0;

/// Where the sizes come from that the job leaves open.
#[derive(Debug, Clone, Copy)]
pub enum Open<'a> {
    /// The published chart.
    Chart,
    /// Any that are made: they are still to be chosen.
    Any,
    /// These.
    Chosen(&'a Sizes),
}

/// The sizes that `auto` stands for: those chosen, or else as the chart names
/// them.
#[derive(Debug, Clone, Copy)]
pub(super) struct Auto<'a> {
    chosen: Option<&'a Sizes>,
    main: Option<Size>,
    drop: Option<Size>,
    stream: Option<Stream>,
}

/// Chooses the sizes, says how, and refuses those that the system lacks.
pub(super) fn choose<'a>(
    job: &Job,
    library: &Library,
    route: &Route,
    starts: &[NodeIndex],
    from: Open<'a>,
    assumptions: &mut Vec<String>,
    findings: &mut Vec<Finding>,
) -> Auto<'a> {
    let mut refuse_unmade = |system: usize, size: SizeChoice, span: Span| {
        if let SizeChoice::Given(size) = size {
            findings.extend(unmade(&library.systems()[system], size, span));
        }
    };
    refuse_unmade(job.system, job.main.size, job.main.size_span);
    for leg in &job.legs {
        let system = leg.system.map_or(job.system, |system| system.value);
        match (leg.size, leg.system) {
            (Some(size), _) => refuse_unmade(system, size.value, size.span),
            (None, Some(system)) => refuse_unmade(system.value, job.main.size, system.span),
            (None, None) => {}
        }
    }
    for supply in &job.supplies {
        refuse_unmade(
            library.hardware(job.system),
            SizeChoice::Given(supply.port),
            supply.name.span,
        );
    }

    let main_auto = route
        .draft
        .edge_weights()
        .any(|link| link.size == SizeChoice::Auto);
    let drop_auto = job.drops.iter().any(|drop| drop.size == SizeChoice::Auto);
    let mut auto = Auto {
        chosen: None,
        main: None,
        drop: None,
        stream: job.stream(),
    };
    match from {
        Open::Chosen(sizes) => {
            assumptions.extend(sizes.words.iter().cloned());
            auto.chosen = Some(sizes);
            return auto;
        }
        Open::Any => return auto,
        Open::Chart if !main_auto && !drop_auto => return auto,
        Open::Chart => {}
    }
    let Some(flow) = job.free_air() else {
        let silent = job.supplies.iter().find(|supply| supply.free_air.is_none());
        findings.push(Finding::error(
            "auto-without-air",
            silent.unwrap_or(&job.supplies[0]).name.span,
            "a size is left to be chosen, and nothing says how much air the compressor delivers",
            "add `free_air` to the supply, or write the sizes",
        ));
        return auto;
    };
    let farthest = starts
        .iter()
        .map(|start| farthest_outlet(job, route, *start))
        .max()
        .unwrap_or_default();
    if main_auto {
        auto.main = library.chart_size(flow, farthest);
        assumptions.push(format!(
            "The size of the main, where the job leaves it open, comes from a published size chart (US Army TM 55-1930-209-14P-7, Table 1) at the whole {} and {} to the farthest outlet; pressure losses are not worked out.",
            flow.show(job.units),
            farthest.show_total(job.units),
        ));
    }
    if drop_auto {
        let shortest = Length::from_feet(25);
        auto.drop = library.chart_size(flow, shortest);
        assumptions.push(format!(
            "The size of drops, where the job leaves it open, comes from the same chart at the whole {} and {}, and is never larger than the main at their place.",
            flow.show(job.units),
            shortest.show_total(job.units),
        ));
    }
    if job.supplies.len() > 1 {
        assumptions.push(
            "Between several compressors the chart is read as if each of them gave all the air: what one tool needs decides no size there.".to_owned(),
        );
    }
    let others = std::iter::once(job.system)
        .chain(
            job.legs
                .iter()
                .filter_map(|leg| leg.system)
                .map(|system| system.value),
        )
        .any(|system| system != CHART);
    if others {
        assumptions.push(format!(
            "The chart is of Schedule 40 steel pipe: in other systems the size is the one that loses at most {:.0} % more pressure at that air.",
            (MORE_LOSS - 1.0) * 100.0
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

/// Says that a system has no pipe of a size.
pub(super) fn unmade(system: &System, size: Size, span: Span) -> Option<Finding> {
    if system.row(size).is_some() {
        return None;
    }
    let sizes: Vec<String> = system.sizes().map(|row| row.size.to_string()).collect();
    Some(Finding::error(
        "size-not-made",
        span,
        format!("{} is not made in {size}", system.name),
        format!("its sizes are {}", sizes.join(", ")),
    ))
}

impl Auto<'_> {
    /// The draft with every size in place.
    pub(super) fn settle(self, draft: &Draft, library: &Library) -> UnGraph<DraftNode, Link> {
        draft.map(
            |_, node| *node,
            |_, link| Link {
                pipe: link.pipe,
                size: self.leg_size(link, library),
                system: link.system,
                direction: link.direction,
                leg: link.leg,
            },
        )
    }

    fn leg_size(self, link: &DraftLink, library: &Library) -> Size {
        let chosen = link
            .leg
            .and_then(|leg| self.chosen?.legs.get(&leg).copied())
            .filter(|_| link.size == SizeChoice::Auto);
        chosen.unwrap_or_else(|| self.of(link.size, self.main, library, link.system))
    }

    /// The size of the drop of an outlet that leaves a main of `main`.
    pub(super) fn drop_size(
        self,
        outlet: usize,
        drop: &DropKind,
        main: Size,
        library: &Library,
        system: usize,
    ) -> Size {
        let chosen = || self.chosen?.drops.get(&outlet).copied();
        match drop.size {
            SizeChoice::Given(size) => size,
            SizeChoice::Auto => chosen().unwrap_or_else(|| {
                let size = self.of(drop.size, self.drop, library, system);
                size.min(main)
            }),
        }
    }

    fn of(self, choice: SizeChoice, auto: Option<Size>, library: &Library, system: usize) -> Size {
        match choice {
            SizeChoice::Given(size) => size,
            // Without a chart size there is a finding, and nothing is counted.
            SizeChoice::Auto => library.carrying(
                system,
                CHART,
                auto.unwrap_or(Size::Nominal(8)),
                self.stream.as_ref(),
            ),
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

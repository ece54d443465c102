//! The whole system with its tanks, left to itself: the test that an owner can repeat with
//! a gauge and a clock. Source of the test: NAVFAC MO-209, chapter 5.

use super::remarks;
use super::say::{Sum, lasted};
use crate::air::energy::leak_test;
use crate::air::receiver::pumped;
use crate::handover::sheet::{Blank, Part};
use crate::handover::upkeep::holes::plant;
use crate::handover::{Context, falls_in, pascal, record};
use crate::quantity::{AirFlow, Volume};

/// Shares of what the compressors deliver, for the table.
const SHARES: [f64; 3] = [0.01, 0.05, 0.10];

/// More should not leak: the figure of the sheet's own source.
const AIMED: f64 = 0.10;
/// A correction below this is none.
const ALIKE: f64 = 1.000_001;

/// A fall of the whole system, worked out.
#[derive(Debug, Clone)]
pub struct BleedDown {
    /// What was read.
    pub read: record::BleedDown,
    /// Tanks and pipe; none if the job does not state every tank.
    pub litres: Option<f64>,
    /// The leak on the way down, on average.
    pub leak: Option<AirFlow>,
    /// The leak at the first pressure; none where the fall is too deep for its correction.
    pub at_first: Option<AirFlow>,
    /// The leak as a part of what the compressors deliver.
    pub share: Option<f64>,
    /// What it takes in a year under pressure, kWh.
    pub energy: Option<f64>,
    /// What that costs.
    pub cost: Option<f64>,
}

/// The leak of so many litres on average, and at the first pressure where the correction
/// reaches.
#[must_use]
pub fn bled(
    litres: f64,
    read: &record::BleedDown,
    atmosphere: f64,
) -> (Option<AirFlow>, Option<AirFlow>) {
    let (from, to) = (pascal(read.from), pascal(read.to));
    let at = |seconds, gauge| leak_test::Reading { seconds, gauge };
    let first = leak_test::bleed_down(litres, at(0.0, from), at(read.seconds, to), atmosphere);
    let mean = pumped(litres, to, from, read.seconds, atmosphere);
    let flow = AirFlow::from_litres_per_second;
    (mean.map(flow), first.map(flow))
}

/// What tanks and pipe hold together.
pub(super) fn holds(context: &Context<'_>) -> Option<f64> {
    context.figures.tank.map(|tank| tank + context.figures.pipe)
}

/// What all compressors deliver, if every plate is known.
fn delivers(context: &Context<'_>) -> Option<AirFlow> {
    let supplies = &context.plan.job.supplies;
    let each = supplies.iter().map(|supply| supply.free_air);
    let each: Option<Vec<f64>> = each
        .map(|flow| flow.map(AirFlow::litres_per_second))
        .collect();
    each.map(|each| AirFlow::from_litres_per_second(each.iter().sum()))
}

impl BleedDown {
    pub(super) fn of(context: &Context<'_>, read: &record::BleedDown) -> Self {
        let litres = holds(context);
        let (leak, at_first) = litres.map_or((None, None), |litres| {
            bled(litres, read, context.atmosphere())
        });
        let share = leak.zip(delivers(context));
        let share = share.map(|(leak, all)| leak.litres_per_second() / all.litres_per_second());
        let energy = leak.and_then(|leak| {
            let stops = context.plan.job.cut_out().unwrap_or(read.from);
            plant(stops, &context.plan.job.site()).of_leak(leak.litres_per_second())
        });
        let price = context.asked.energy_price;
        Self {
            read: read.clone(),
            litres,
            leak,
            at_first,
            share,
            energy,
            cost: energy.zip(price).map(|(energy, price)| energy * price),
        }
    }

    fn parts(&self, sum: &Sum) -> Vec<Part> {
        let read = &self.read;
        let leak = self.leak.map_or_else(String::new, |leak| sum.flow(leak));
        let percent = |share: f64| format!("{:.1} %", share * 100.0);
        let mut parts = vec![Part::Blanks(vec![vec![
            Blank::filled("Gauge from", &sum.pressure(read.from)),
            Blank::filled("Gauge to", &sum.pressure(read.to)),
            Blank::filled("Time", &lasted(read.seconds)),
            Blank::filled("Leak", &leak),
            Blank::filled(
                "Of what is delivered",
                &self.share.map_or_else(String::new, percent),
            ),
        ]])];
        let Some((litres, leak)) = self.litres.zip(self.leak) else {
            parts.push(Part::note(
                "Not worked out: the job does not state every `tank`.",
            ));
            return parts;
        };
        let mut sums = vec![format!(
            "Leak: holds x fall / air outside / time = {} x ({} - {}) / {} / {} = {}",
            sum.volume(litres),
            sum.gauge(read.from),
            sum.gauge(read.to),
            sum.outside(),
            sum.time(read.seconds),
            sum.flow(leak)
        )];
        let more = |first: &AirFlow| first.litres_per_second() > leak.litres_per_second() * ALIKE;
        sums.extend(self.at_first.filter(more).map(|first| {
            format!(
                "At {}, where it began, it is more by what a public page on the test gives for such a fall (1.00 up to 10 psi, 1.12 at 20 psi, 1.25 at 50 psi): {}",
                sum.pressure(read.from),
                sum.flow(first)
            )
        }));
        parts.push(Part::Points(sums));
        let share = self.share.map_or_else(
            || "; what part of the delivered air that is, is not known, as the job does not state every `free_air`".to_owned(),
            |share| format!(", {} of what the compressor delivers by its plate", percent(share)),
        );
        let year = self.energy.map_or_else(String::new, |energy| {
            let cost = self.cost.map_or_else(
                || "; the cost wants your price of a kWh: --energy-price".to_owned(),
                |cost| format!(", cost {cost:.0}"),
            );
            format!(
                " A year under pressure: {energy:.0} kWh{cost} (reckoned as on the upkeep card)."
            )
        });
        let next = if self.share.is_some_and(|share| share > AIMED) {
            " That is more than what is aimed at. Next: read each part by itself, the tank shut off."
        } else {
            ""
        };
        parts.push(Part::Caution(format!(
            "Leaks {}{share}.{year}{next}",
            sum.flow(leak)
        )));
        parts.extend(remarks(&read.remarks));
        parts
    }
}

/// The form, its table, and what was read.
pub(in crate::handover) fn parts(context: &Context<'_>) -> Vec<Part> {
    let sum = Sum::of(context);
    let mut parts = vec![
        Part::heading("The whole system with its tank"),
        Part::note(
            "What the owner can do again every year. The shop stands: no tool runs, every drain is shut, every valve is open. Let the compressor fill the tank until it stops, switch it off, and take the time in which the gauge falls to where it would start again. Everything up to the couplers leaks into this figure, hoses that hang on them too.",
        ),
        Part::note(
            "Leak: (tank + pipe) x (gauge from - gauge to) / air outside / time, in free air, the mean on the way down. Of plants that nobody looks after 20 to 30 % of what is delivered leaks; 5 to 10 % is what is aimed at (US DOE, Compressed Air Tip Sheet 3, 2004).",
        ),
    ];
    parts.push(table(context, &sum));
    let worked = &context.worked;
    if worked.bleed_down.is_empty() {
        parts.push(Part::blanks([&[
            "Gauge from",
            "Gauge to",
            "Time",
            "Leak",
            "Of what is delivered",
        ]]));
    }
    for read in &worked.bleed_down {
        parts.extend(read.parts(&sum));
    }
    parts.extend(
        worked
            .line
            .as_ref()
            .map(|line| Part::Note(line.words(&sum))),
    );
    parts
}

/// How fast leaks show between the compressor's own marks.
fn table(context: &Context<'_>, sum: &Sum) -> Part {
    let job = &context.plan.job;
    let pressures = job.cut_out().zip(job.stated_cut_in());
    let known = holds(context).zip(delivers(context)).zip(pressures);
    let Some(((litres, all), (stops, starts))) = known else {
        return Part::note(
            "How fast a leak shows is not worked out: the job does not state every `tank` and `free_air`, and `cut_in` and `cut_out`.",
        );
    };
    let units = context.plan.summary.units;
    let rows = SHARES.iter().map(|share| {
        let flow = all.litres_per_second() * share;
        let fall = pascal(stops) - pascal(starts);
        let seconds = falls_in(litres, fall, flow, context.atmosphere()).unwrap_or_default();
        vec![
            format!("{:.0} %", share * 100.0),
            sum.flow(AirFlow::from_litres_per_second(flow)),
            stops.show(units),
            starts.show(units),
            lasted(seconds),
        ]
    });
    let head = format!(
        "With {} and the pipe, in",
        Volume::from_litres(litres - context.figures.pipe).show(units)
    );
    Part::table(
        &[
            ("Of what is delivered", true),
            ("Leaks", true),
            ("Falls from", true),
            ("To", true),
            (&head, true),
        ],
        rows.collect(),
    )
}

//! The card by the compressor.

use super::{Context, Part, pascal};
use crate::air::energy::{Compression, OVERALL_EFFICIENCY, Plant};
use crate::air::leak::Hole;
use crate::quantity::{AirFlow, Length, Pressure, Temperature, Units};
use crate::water::{Day, Drained, Stop};

/// Holes of the table: in inches, in 64ths of one, and in millimetres.
const HOLES: [(&str, i64, &str); 4] = [
    ("1/64 in", 1, "0.4 mm"),
    ("1/32 in", 2, "0.8 mm"),
    ("1/16 in", 4, "1.6 mm"),
    ("1/8 in", 8, "3.2 mm"),
];
/// Air leaves a leak over a sharp edge. Common handbook figure.
const SHARP: f64 = 0.61;
/// A line under pressure the whole year.
const YEAR: f64 = 8_760.0;

pub(super) fn parts(context: &Context<'_>) -> Vec<Part> {
    let mut parts = vec![Part::heading("Every day, in this order")];
    parts.push(drains(context));
    parts.push(Part::heading("Every week or month"));
    parts.push(Part::Points(duties(context)));
    parts.push(Part::heading("What a hole costs"));
    parts.extend(holes(context));
    parts.push(Part::heading("To work on an outlet"));
    parts.push(shut(context));
    parts.push(Part::note("Let the air out behind the valve before anything is opened, and tag the valve. These are reminders, not a record; the relief valve and the tank have duties by law that a card does not replace."));
    parts
}

/// More stops than this are told in groups, so that the card stays on a page.
const MOST_STOPS: usize = 12;

fn drains(context: &Context<'_>) -> Part {
    let amounts = context.plan.amounts.as_ref();
    let hottest = amounts.and_then(|amounts| amounts.hottest.as_ref());
    let rows = groups(&context.round).into_iter().map(|stops| {
        let litres = |day: Option<&Day>| {
            let litres: Option<f64> =
                day.and_then(|day| stops.iter().map(|stop| day.at_stop(stop)).sum());
            litres.map_or_else(|| "-".to_owned(), |litres| context.volume(litres))
        };
        let automatic = stops.first().is_some_and(|stop| stop.automatic);
        let mut row = vec![
            named(context, stops),
            if automatic {
                "by itself: see that it does"
            } else {
                "open, then shut"
            }
            .to_owned(),
            litres(amounts.map(|amounts| &amounts.mean)),
        ];
        row.extend(hottest.map(|hottest| litres(Some(hottest))));
        row
    });
    let rows = rows.collect();
    let mut columns = vec![("Where", false), ("Do", false), ("Water, mean day", true)];
    columns.extend(hottest.map(|_| ("Hottest day", true)));
    Part::table(&columns, rows)
}

/// The stops one by one, or where there are many, drip legs one after the other together.
fn groups(round: &[Stop]) -> Vec<&[Stop]> {
    let is_drop = |stop: &Stop| matches!(stop.what, Drained::Drop(_));
    let together = |one: &Stop, next: &Stop| {
        round.len() > MOST_STOPS && is_drop(one) && is_drop(next) && one.automatic == next.automatic
    };
    round.chunk_by(together).collect()
}

fn named(context: &Context<'_>, stops: &[Stop]) -> String {
    let plan = context.plan;
    let drop = |drop: usize| {
        let name = &plan.network.drops[drop].name;
        (context.tags.outlet(name), name)
    };
    match stops {
        [one] => match one.what {
            Drained::Tank(supply) => format!("tank {}", plan.network.supplies[supply].0),
            Drained::Main(drain) => {
                let drain = &plan.network.drains[drain];
                let tag = context.tags.drain_at(drain.at).unwrap_or_default();
                format!("{tag} {}", drain.name)
            }
            Drained::Drop(at) => {
                let (number, name) = drop(at);
                format!("drip leg of {number} {name}")
            }
        },
        several => {
            let numbers = several.iter().filter_map(|stop| match stop.what {
                Drained::Drop(at) => Some(drop(at).0.to_string()),
                Drained::Tank(_) | Drained::Main(_) => None,
            });
            let numbers: Vec<String> = numbers.collect();
            format!("drip legs of {}", numbers.join(", "))
        }
    }
}

fn duties(context: &Context<'_>) -> Vec<String> {
    let devices = context.library.devices();
    let kinds = context
        .plan
        .job
        .drops
        .iter()
        .flat_map(|drop| drop.sides.iter().flatten());
    let hung: Vec<&str> = kinds
        .map(|used| devices[used.value.device].name.as_str())
        .collect();
    let has = |name: &str| hung.contains(&name);
    let mut duties = Vec::new();
    if has("filter") {
        duties.push("Filters: empty the bowls; a new element where the gauge behind falls by more than 5 psi (35 kPa) under flow against the one before (common practice, no source)".to_owned());
    }
    if has("lubricator") {
        duties.push(
            "Lubricator: fill with airline oil, and see that it drips while the tool runs"
                .to_owned(),
        );
    }
    duties.push("Walk round in the quiet with everything off: what hisses is soaped and mended; couplers and hoses first".to_owned());
    duties.push("Relief valve and gauge of the tank: looked at as the maker and the local code say; never shut off, never set higher".to_owned());
    duties.push("Intake filter, oil and belt of the compressor: as its maker says".to_owned());
    duties
}

/// What a leak takes in a year is reckoned by.
pub(super) fn plant(context: &Context<'_>, stops: Pressure) -> Plant {
    Plant {
        compression: Compression::OneStage,
        efficiency: OVERALL_EFFICIENCY,
        discharge: pascal(stops),
        atmosphere: context.atmosphere(),
        worked: YEAR,
        under_pressure: YEAR,
    }
}

fn holes(context: &Context<'_>) -> Vec<Part> {
    let Some(stops) = context.plan.job.conditions().cut_out else {
        return vec![Part::note("Not worked out: the job states no `cut_out`.")];
    };
    let (units, site) = (context.plan.summary.units, context.plan.job.site());
    let plant = plant(context, stops);
    let rows = HOLES.iter().map(|(inches, sixty_fourths, millimetres)| {
        let diameter = Length::from_64ths(*sixty_fourths);
        let hole = Hole {
            diameter: diameter.mm() / 1_000.0,
            discharge: SHARP,
        };
        let inside = pascal(stops) + site.atmosphere;
        let mass = hole.flow(inside, site.atmosphere, Temperature::from_celsius(20));
        let flow = crate::air::demand::free_air(mass);
        let energy = plant.of_leak(flow.litres_per_second());
        let cost = energy
            .zip(context.asked.energy_price)
            .map(|(energy, price)| format!("{:.0}", energy * price));
        vec![
            match units {
                Units::Feet => *inches,
                Units::Metric => *millimetres,
            }
            .to_owned(),
            AirFlow::show(flow, units),
            energy.map_or_else(String::new, |energy| format!("{energy:.0} kWh")),
            cost.unwrap_or_else(|| "-".to_owned()),
        ]
    });
    let rows: Vec<Vec<String>> = rows.collect();
    let words = format!(
        "At {}, the line under pressure all year, over a sharp edge (0.61), one stage, {:.0} % overall (common handbook figures).{}",
        context.shown(stops),
        OVERALL_EFFICIENCY * 100.0,
        if context.asked.energy_price.is_none() {
            " The cost wants your price of a kWh: --energy-price."
        } else {
            " The cost is in the currency of your price of a kWh."
        }
    );
    vec![
        Part::table(
            &[
                ("Hole", true),
                ("Lets out", true),
                ("Energy a year", true),
                ("Cost a year", true),
            ],
            rows,
        ),
        Part::Note(words),
    ]
}

/// What to shut for outlets that have the same valves, and what goes without air then.
fn shut(context: &Context<'_>) -> Part {
    let devices = context.library.devices();
    let mut rows: Vec<(bool, usize, Vec<String>)> = Vec::new();
    for (number, name) in context.outlets() {
        let mut outlets = context.plan.job.outlets.iter();
        let outlet = outlets.find(|outlet| outlet.name.value == name);
        let kind = outlet.and_then(|outlet| outlet.drop);
        let own = kind.is_some_and(|kind| {
            let mut sides = context.plan.job.drops[kind].sides.iter();
            sides.all(|side| {
                let first = side.first();
                first.is_some_and(|used| devices[used.value.device].name == "valve")
            })
        });
        let mut parts = context.sections.iter();
        let part = parts.position(|part| part.outlets.contains(&number));
        let part = part.unwrap_or(context.sections.len());
        let told = format!("{number} {name}");
        match rows.iter_mut().find(|row| (row.0, row.1) == (own, part)) {
            Some(row) => row.2.push(told),
            None => rows.push((own, part, vec![told])),
        }
    }
    let rows = rows.into_iter().map(|(own, part, outlets)| {
        let part = context.sections.get(part);
        let valves = part.map_or_else(String::new, |part| part.valves.join(", "));
        let numbers = part.map_or_else(Vec::new, |part| {
            part.outlets.iter().map(usize::to_string).collect()
        });
        vec![
            outlets.join(", "),
            if own {
                "its own valve"
            } else {
                "no valve of its own"
            }
            .to_owned(),
            if valves.is_empty() {
                "the compressor".to_owned()
            } else {
                valves
            },
            numbers.join(", "),
        ]
    });
    Part::table(
        &[
            ("Outlet", false),
            ("For its devices shut", false),
            ("For its pipe shut", false),
            ("Without air then", false),
        ],
        rows.collect(),
    )
}

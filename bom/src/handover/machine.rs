//! What the machine gives: how long it pumps, and what it delivers by what was read.

use super::{Context, Part, pascal};
use crate::air::receiver::pumped;
use crate::quantity::{AirFlow, Time};

pub(super) fn parts(context: &Context<'_>) -> Vec<Part> {
    let mut parts = vec![Part::note(
        "No tool runs and every drain is shut. Let the tank down to nothing, start the machine, and stop the time between two marks of the gauge. A hot tank reads high: the machine seems to give more than it does.",
    )];
    let jobs = &context.plan.job.supplies;
    let read = &context.worked.machines;
    parts.extend(context.other_layout());
    for (at, supply) in jobs.iter().enumerate() {
        parts.push(Part::heading(&supply.name.value));
        parts.extend(machine(context, supply));
        let of_it = read.iter().filter(|one| one.read.supply == at);
        parts.extend(of_it.flat_map(|one| one.parts(context)));
    }
    if (0..jobs.len()).any(|at| read.iter().all(|one| one.read.supply != at)) {
        parts.push(Part::blanks([
            &["Gauge from", "Gauge to", "Seconds"],
            &[
                "With: the tank alone, or with the pipe",
                "It delivers",
                "Its plate says",
            ],
        ]));
    }
    parts.push(Part::Blanks(vec![
        context.signed("Read by", |people| &people.tested_by),
    ]));
    parts.push(Part::note(
        "It delivers: what it fills x (gauge to - gauge from) / air outside / time, in free air. 80 gal from 0 to 125 psi in 420 s are 13.0 cfm.",
    ));
    parts
}

fn machine(context: &Context<'_>, supply: &crate::job::Supply) -> Vec<Part> {
    let (Some(tank), Some(free_air), Some(stops)) = (supply.tank, supply.free_air, supply.cut_out)
    else {
        return vec![Part::note(
            "How long it pumps is not worked out: the job states no `tank`, `free_air` or `cut_out` for it.",
        )];
    };
    let atmosphere = context.atmosphere();
    let starts = supply.cut_in;
    let from_nothing = [(String::from("nothing"), 0.0)];
    let from_start = starts.map(|starts| (context.shown(starts), pascal(starts)));
    let alone = context.plan.job.supplies.len() == 1;
    let rows = from_nothing
        .into_iter()
        .chain(from_start)
        .map(|(from, gauge)| {
            let time = |litres: f64| {
                // What fills it in a second takes so many seconds.
                let all = pumped(litres, gauge, pascal(stops), 1.0, atmosphere).unwrap_or_default();
                Time::from_seconds(all / free_air.litres_per_second()).show()
            };
            let both = if alone {
                time(tank.litres() + context.figures.pipe)
            } else {
                String::new()
            };
            vec![from, context.shown(stops), time(tank.litres()), both]
        });
    let rows: Vec<Vec<String>> = rows.collect();
    vec![
        Part::note(format!(
            "By its plate it gives {} of free air, into a tank of {}{}.",
            AirFlow::show(free_air, context.plan.summary.units),
            tank.show(context.plan.summary.units),
            if alone {
                format!(
                    ", and the pipe holds {} more",
                    context.volume(context.figures.pipe)
                )
            } else {
                String::new()
            }
        )),
        Part::table(
            &[
                ("From", true),
                ("To", true),
                ("The tank alone takes", true),
                ("With the pipe", true),
            ],
            rows,
        ),
    ]
}

//! What the machine gives: how long it pumps, and what it delivers by what was read.

use super::sheet::Blank;
use super::{Context, Part, pascal};
use crate::air::receiver::pumped;
use crate::quantity::{AirFlow, LITRES_PER_GAL, Pressure, Time, Units, Volume};

pub(super) fn parts(context: &Context<'_>) -> Vec<Part> {
    let mut parts = vec![Part::note(
        "No tool runs and every drain is shut. Let the tank down to nothing, start the machine, and stop the time between two marks of the gauge. A hot tank reads high: the machine seems to give more than it does.",
    )];
    let jobs = &context.plan.job.supplies;
    let read = &context.worked.machines;
    if jobs.len() > 1 {
        parts.push(Part::note(
            "One machine after the other: the others stand, and their valves are shut.",
        ));
    }
    parts.extend(context.other_layout());
    for (at, supply) in jobs.iter().enumerate() {
        parts.push(Part::heading(&supply.name.value));
        parts.extend(machine(context, supply));
        let mut of_it = read.iter().filter(|one| one.read.supply == at).peekable();
        if of_it.peek().is_none() {
            parts.push(to_read(context, supply));
        }
        parts.extend(of_it.flat_map(|one| one.parts(context)));
    }
    parts.push(Part::Blanks(vec![
        context.signed("Read by", |people| &people.tested_by),
    ]));
    parts.push(Part::Note(format!(
        "It delivers: what it fills x (gauge to - gauge from) / air outside / time, in free air. {}",
        example(context)
    )));
    parts
}

/// The blanks of a machine that was not read.
fn to_read(context: &Context<'_>, supply: &crate::job::Supply) -> Part {
    let plate = supply
        .free_air
        .map(|free_air| free_air.show(context.plan.summary.units));
    let empty = |labels: &[&str]| -> Vec<Blank> {
        labels.iter().map(|label| Blank::empty(label)).collect()
    };
    let mut delivers = empty(&["With: the tank alone, or with the pipe", "It delivers"]);
    delivers.push(Blank::filled("Its plate says", &plate.unwrap_or_default()));
    Part::Blanks(vec![
        empty(&["Gauge from", "Gauge to", "Seconds"]),
        delivers,
    ])
}

fn machine(context: &Context<'_>, supply: &crate::job::Supply) -> Vec<Part> {
    let (Some(tank), Some(free_air), Some(stops)) = (supply.tank, supply.free_air, supply.cut_out)
    else {
        return vec![missing(supply)];
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
            let both = alone.then(|| time(tank.litres() + context.figures.pipe));
            let row = vec![from, context.shown(stops), time(tank.litres())];
            row.into_iter().chain(both).collect()
        });
    let rows: Vec<Vec<String>> = rows.collect();
    let columns = [
        ("From", true),
        ("To", true),
        ("The tank alone takes", true),
        ("With the pipe", true),
    ];
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
        Part::table(&columns[..if alone { 4 } else { 3 }], rows),
    ]
}

/// The sum once with figures, in the job's units and at its height.
fn example(context: &Context<'_>) -> String {
    const SECONDS: f64 = 420.0;
    let units = context.plan.summary.units;
    let (tank, to) = match units {
        Units::Feet => (
            Volume::from_litres(80.0 * LITRES_PER_GAL),
            Pressure::from_psi(125.0),
        ),
        Units::Metric => (Volume::from_litres(300.0), Pressure::from_kpa(800.0)),
    };
    let flow = pumped(
        tank.litres(),
        0.0,
        pascal(to),
        SECONDS,
        context.atmosphere(),
    );
    format!(
        "{} from nothing to {} in {} are {}.",
        tank.show(units),
        context.shown(to),
        Time::from_seconds(SECONDS).show(),
        AirFlow::from_litres_per_second(flow.unwrap_or_default()).show(units)
    )
}

/// A hole is loud, and says how it is mended.
fn missing(supply: &crate::job::Supply) -> Part {
    let keys = [
        ("tank", supply.tank.is_none()),
        ("free_air", supply.free_air.is_none()),
        ("cut_out", supply.cut_out.is_none()),
    ];
    let keys = keys.iter().filter(|(_, lacks)| *lacks);
    let keys: Vec<String> = keys.map(|(key, _)| format!("`{key}`")).collect();
    Part::Caution(format!(
        "How long it pumps is not worked out: the job does not say {}. Read it off the plates of machine and tank, and state it under [supply.{}] (line {}).",
        keys.join(", "),
        supply.name.value,
        supply.line
    ))
}

#[cfg(test)]
mod tests {
    use crate::handover::tests::{context_of, planned, text_of};

    const MILLRACE: &str = include_str!("../../../catalogs-demo/millrace.toml");

    fn sheet(job: &str) -> String {
        let (plan, library) = planned(job);
        text_of(&super::parts(&context_of(&plan, &library)))
    }

    // V dP / (Pa t), a public formula for receivers: 80 gal are 10.694 ft3; up to 175 psi at
    // 24 cfm they take 10.694 x 175 / 14.696 / 24 min = 318.4 s, from 140 psi 63.7 s. In
    // 420 s up to 125 psi 12.99 cfm go into them.
    #[test]
    fn a_tank_is_pumped_up_as_the_sum_by_hand_says() {
        let said = sheet(MILLRACE);
        assert!(said.contains("nothing | 175 psi | 5 min 18 s |"), "{said}");
        assert!(said.contains("140 psi | 175 psi | 1 min 04 s |"), "{said}");
        assert!(said.contains("80 gal from nothing to 125 psi in 7 min are 13 cfm."));
    }

    // At 1500 m (83.45 kPa outside) the same rise is 1 / 0.8345 times the free air of there.
    #[test]
    fn up_a_mountain_a_tank_takes_more_of_the_thin_air() {
        let high = format!("[site]\naltitude = \"1500m\"\n{MILLRACE}");
        let said = sheet(&high);
        assert!(said.contains("nothing | 175 psi | 6 min 22 s |"), "{said}");
        assert!(said.contains("in 7 min are 15.6 cfm."), "{said}");
    }

    #[test]
    fn what_a_machine_lacks_is_named_with_its_line() {
        let bare: String = MILLRACE
            .lines()
            .filter(|line| !line.starts_with("tank") && !line.starts_with("free_air"))
            .map(|line| format!("{line}\n"))
            .collect();
        let said = sheet(&bare);
        assert!(said.contains("does not say `tank`, `free_air`."), "{said}");
        assert!(said.contains("under [supply.compressor] (line "), "{said}");
    }
}

use super::{Line, Topic, Usual};
use crate::interview::answers::{Answers, Plate};
use crate::quantity::{AirFlow, Pressure, Units, Volume};

pub(super) const TOPIC: Topic = Topic {
    name: "plate",
    help: "No pipe gives more air than the compressor does. Best is the free air that it delivers \
           (not its displacement), the pressure at which it starts and stops, and the size of its \
           tank. Power does for now: 3 cfm are taken for a horsepower.",
    names: None,
    next: |answers, _| {
        answers.plate.is_none().then(|| {
            let like = match answers.in_units() {
                Units::Feet => "24 cfm, 140-175 psi, 80 gal; or 5 hp, 150 psi, 60 gal",
                Units::Metric => "11 l/s, 8-10 bar, 300 l; or 4 kW, 10 bar, 200 l",
            };
            Line::whole(
                "What does the plate on the compressor say: air or power, pressure, tank?",
                like,
                Usual::shown("none", "not known").confirming(
                    "what the plate of the compressor says: delivered air, pressures, tank",
                ),
            )
        })
    },
    take: |answers, _, line, _| {
        let mut plate = Plate::default();
        if line == "none" {
            answers.plate = Some(plate);
            return Ok(());
        }
        let figures = figures(line)?;
        for figure in &figures {
            read(figure, &mut plate)?;
        }
        order(&mut plate)?;
        confirm(&plate, answers);
        answers.plate = Some(plate);
        Ok(())
    },
};

/// What one horsepower delivers at a tool's pressure, cfm: 3 for small machines, 4 for
/// large ones. Common practice, no source.
const CFM_OF_HORSEPOWER: f64 = 3.0;
/// Horsepower in a kilowatt: of the metric and the mechanical one the larger.
const HORSEPOWER_OF_KW: f64 = 1.341;

/// Takes a plate apart into figures with their unit: commas are optional.
fn figures(line: &str) -> Result<Vec<String>, String> {
    let plain = line.replace([',', ';'], " ").replace(" to ", "-");
    let mut figures: Vec<String> = Vec::new();
    let mut open: Option<String> = None;
    for word in plain.split_whitespace() {
        let is_figure = word.starts_with(|first: char| first.is_ascii_digit());
        let has_unit = word.chars().any(char::is_alphabetic);
        match (is_figure, has_unit, open.take()) {
            (true, _, Some(lone)) => return Err(lacks_unit(&lone)),
            (true, true, None) => figures.push(word.to_owned()),
            (true, false, None) => open = Some(word.to_owned()),
            (false, _, Some(lone)) => figures.push(format!("{lone} {word}")),
            // A word that says what a figure is: `tank`, `@`.
            (false, _, None) => {}
        }
    }
    match open {
        Some(lone) => Err(lacks_unit(&lone)),
        None if figures.is_empty() => Err(format!(
            "`{line}`: figures with their units are wanted, like 24 cfm, 175 psi, 80 gal."
        )),
        None => Ok(figures),
    }
}

fn lacks_unit(figure: &str) -> String {
    format!("{figure} of what? Put its unit behind it: cfm, hp, psi, gal; l/s, kW, bar, l.")
}

fn read(figure: &str, plate: &mut Plate) -> Result<(), String> {
    let figure = figure.to_lowercase();
    if let Some(power) = power(&figure) {
        plate.power = plate.free_air.is_none().then_some(power);
        plate.free_air = plate
            .free_air
            .or(Some(AirFlow::from_cfm(power * CFM_OF_HORSEPOWER)));
        return Ok(());
    }
    let unit = figure.trim_start_matches(|one: char| !one.is_alphabetic());
    if let Some((low, high)) = figure.split_once(['-', '/']).filter(|_| is_pressure(unit)) {
        let low = Pressure::parse(&format!("{low} {unit}")).map_err(|error| error.to_string())?;
        let high = Pressure::parse(high).map_err(|error| error.to_string())?;
        plate.cut_in = Some(low);
        plate.cut_out = Some(high);
        return Ok(());
    }
    if is_pressure(unit) {
        let pressure = Pressure::parse(&figure).map_err(|error| error.to_string())?;
        plate.cut_in = plate.cut_out.or(plate.cut_in);
        plate.cut_out = Some(pressure);
        return Ok(());
    }
    let spelt = figure
        .replace("gallons", "gal")
        .replace("litres", "l")
        .replace("liters", "l");
    if let Ok(volume) = Volume::parse(&spelt) {
        plate.tank = Some(volume);
        return Ok(());
    }
    let spelt = figure.replace("scfm", "cfm");
    match AirFlow::parse(&spelt) {
        // What is stated goes before what the power gives.
        Ok(flow) => {
            plate.free_air = Some(flow);
            plate.power = None;
            Ok(())
        }
        Err(_) => Err(format!(
            "`{figure}` is no air, power, pressure or tank: cfm, hp, psi, gal; l/s, kW, bar, l."
        )),
    }
}

/// Horsepower of `5 hp` or `4 kw`.
fn power(figure: &str) -> Option<f64> {
    let (number, times) = match (figure.strip_suffix("hp"), figure.strip_suffix("kw")) {
        (Some(number), _) => (number, 1.0),
        (_, Some(number)) => (number, HORSEPOWER_OF_KW),
        (None, None) => return None,
    };
    let number: f64 = number.trim().parse().ok()?;
    (0.1..=1_000.0).contains(&number).then_some(number * times)
}

fn is_pressure(unit: &str) -> bool {
    ["psi", "psig", "bar", "mpa", "kpa"].contains(&unit)
}

fn order(plate: &mut Plate) -> Result<(), String> {
    if let (Some(low), Some(high)) = (plate.cut_in, plate.cut_out) {
        let (low, high) = match low > high {
            true => (high, low),
            false => (low, high),
        };
        if low == high {
            return Err(
                "It starts at a lower pressure than it stops at: give two, or one.".to_owned(),
            );
        }
        plate.cut_in = Some(low);
        plate.cut_out = Some(high);
    }
    Ok(())
}

fn confirm(plate: &Plate, answers: &mut Answers) {
    let units = answers.in_units();
    if let (Some(_), Some(air)) = (plate.power, plate.free_air) {
        answers.confirm.push(format!(
            "the air that the compressor delivers: {} is {CFM_OF_HORSEPOWER} cfm a horsepower \
             (common practice, no source)",
            air.show(units)
        ));
    }
    let lacks: Vec<&str> = [
        (plate.free_air.is_none(), "delivered air"),
        (plate.cut_out.is_none(), "pressures"),
        (
            plate.cut_out.is_some() && plate.cut_in.is_none(),
            "the pressure at which it starts",
        ),
        (plate.tank.is_none(), "the size of the tank"),
    ]
    .into_iter()
    .filter_map(|(lacks, what)| lacks.then_some(what))
    .collect();
    if !lacks.is_empty() {
        answers
            .confirm
            .push(format!("of the compressor: {}", lacks.join(", ")));
    }
}

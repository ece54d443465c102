//! `[supply.NAME]`: the compressor and what connects it to the pipe.

use super::device::devices;
use super::{HEIGHTS, air_temperature, bounded, length_within};
use crate::air::moisture::saturation;
use crate::finding::Finding;
use crate::job::fields::{Entry, Fields, read_quantity};
use crate::job::read::Reader;
use crate::job::state;
use crate::job::unmeasured;
use crate::job::{Supply, USUAL_HUMIDITY, USUAL_INTAKE};
use crate::library::refused::Limits;
use crate::library::{Gender, Station};
use crate::quantity::{AirFlow, Pressure, QuantityError, Size, Temperature, Volume};
use crate::source::Spanned;
use std::ops::RangeInclusive;

pub(in crate::job) fn supply((name, value): Entry<'_>, r: &mut Reader<'_>) -> Option<Supply> {
    const KNOWN: [&str; 13] = [
        "free_air",
        "cut_in",
        "cut_out",
        "relief",
        "discharge",
        "intake",
        "humidity",
        "running",
        "tank",
        "port",
        "height",
        "connect",
        "state",
    ];
    let title = format!("[supply.{}]", name.value);
    let fields = Fields::of(title, value, &KNOWN, &mut r.findings)?;
    fields.require(
        &[("port", "\"1in female\""), ("height", "\"3-6\"")],
        &mut r.findings,
    );
    let units = r.units;
    let free_air = fields.quantity("free_air", AirFlow::parse, &mut r.findings);
    let discharge = fields.quantity("discharge", discharge, &mut r.findings);
    let intake = fields.quantity("intake", air_temperature, &mut r.findings);
    let humidity = fields.quantity("humidity", humidity, &mut r.findings);
    intake_holds_air(intake, humidity, r);
    let running = fields.quantity("running", hours, &mut r.findings);
    let tank = fields.quantity("tank", Volume::parse, &mut r.findings);
    let mut pressure = |key| fields.quantity(key, Pressure::parse, &mut r.findings);
    let (cut_in, cut_out, relief) = (pressure("cut_in"), pressure("cut_out"), pressure("relief"));
    let higher = |one: Option<Pressure>, other: Option<Spanned<Pressure>>| {
        let both = one.into_iter().chain(other.map(|pressure| pressure.value));
        both.max_by(|a, b| a.kpa().total_cmp(&b.kpa()))
    };
    r.limits = Limits {
        relief: higher(r.limits.relief, relief),
        cut_out: higher(r.limits.cut_out, cut_out),
        units,
    };
    in_order(("cut_in", cut_in), ("cut_out", cut_out), r);
    in_order(("cut_out", cut_out), ("relief", relief), r);
    let state = state::read(&fields, &state::STANDS, r);
    let port = port(&fields, r);
    let height = |text: &str| length_within(text, units, &HEIGHTS, "height of a port");
    let height = fields
        .text_or_bare_number("height", &mut r.findings)
        .and_then(|text| r.taped(text, unmeasured::height(units, unmeasured::PORT), height));
    let items = fields.list("connect", &mut r.findings);
    let connect = devices("connect", &items, Station::Supply, r);
    let (port, port_gender) = port?;
    Some(Supply {
        state,
        line: r.line(name.span),
        name,
        free_air: free_air.map(|flow| flow.value),
        cut_in: cut_in.map(|pressure| pressure.value),
        cut_out: cut_out.map(|pressure| pressure.value),
        relief: relief.map(|pressure| pressure.value),
        discharge: discharge.map(|temperature| temperature.value),
        intake: intake.map(|temperature| temperature.value),
        humidity: humidity.map(|humidity| humidity.value),
        running: running.map(|hours| hours.value),
        tank: tank.map(|volume| volume.value),
        port,
        port_gender,
        height: height?,
        connect,
    })
}

/// As hot as air leaves a tank: between a yard in winter and what no seal stands.
const DISCHARGES: RangeInclusive<Temperature> =
    Temperature::from_celsius(-50)..=Temperature::from_celsius(250);

/// Reads the temperature of the air where it leaves the tank.
fn discharge(text: &str) -> Result<Temperature, QuantityError> {
    let temperature = Temperature::parse(text)?;
    if DISCHARGES.contains(&temperature) {
        return Ok(temperature);
    }
    Err(QuantityError::new(
        format!("no air leaves a tank at `{}`", text.trim()),
        "check the figure and its unit: from -50 C to 250 C, or -58 F to 482 F",
    ))
}

/// Reads `60 %`: relative humidity, as a part of one.
fn humidity(text: &str) -> Result<f64, QuantityError> {
    bounded(text, "%", 100.0, "humidity", "\"60 %\"").map(|percent| percent / 100.0)
}

/// Reads `8 h`: hours of a day.
fn hours(text: &str) -> Result<f64, QuantityError> {
    bounded(text, "h", 24.0, "time of running", "\"8 h\"")
}

/// Vapour cannot press harder than the whole air does.
fn intake_holds_air(
    intake: Option<Spanned<Temperature>>,
    humidity: Option<Spanned<f64>>,
    r: &mut Reader<'_>,
) {
    let Some(span) = intake.map_or(humidity.map(|one| one.span), |one| Some(one.span)) else {
        return;
    };
    let temperature = intake.map_or(USUAL_INTAKE, |intake| intake.value);
    let humidity = humidity.map_or(USUAL_HUMIDITY, |humidity| humidity.value);
    let vapour = humidity * saturation(temperature.kelvin());
    if vapour >= r.site.atmosphere {
        r.findings.push(Finding::error(
            "intake-without-air",
            span,
            format!(
                "at {} and {:.0} % humidity the vapour alone would press {:.0} kPa, and the air outside presses {:.0} kPa",
                temperature.show(r.units),
                humidity * 100.0,
                vapour / 1_000.0,
                r.site.atmosphere / 1_000.0
            ),
            "check `intake`, the air as the compressor takes it in, and `humidity`",
        ));
    }
}

fn in_order(
    (low_name, low): (&str, Option<Spanned<Pressure>>),
    (high_name, high): (&str, Option<Spanned<Pressure>>),
    r: &mut Reader<'_>,
) {
    let (Some(low), Some(high)) = (low, high) else {
        return;
    };
    if low.value >= high.value {
        r.findings.push(
            Finding::error(
                "pressures-out-of-order",
                low.span,
                format!(
                    "`{low_name}` is {} and `{high_name}` is {}: it must be lower",
                    low.value.show(r.units),
                    high.value.show(r.units)
                ),
                "read both from the compressor: cut-in, then cut-out, then the relief valve",
            )
            .related(high.span, format!("`{high_name}`")),
        );
    }
}

fn port(fields: &Fields<'_>, r: &mut Reader<'_>) -> Option<(Size, Gender)> {
    let text = fields.text("port", &mut r.findings)?;
    let (size, gender) = match text.value.trim().rsplit_once(' ') {
        Some((size, "female")) => (size, Gender::Female),
        Some((size, "male")) => (size, Gender::Male),
        _ => {
            r.assumptions.push(format!(
                "The tank's port of {} is taken as a female thread.",
                text.value
            ));
            (text.value, Gender::Female)
        }
    };
    let size = read_quantity(Spanned::new(size, text.span), Size::parse, &mut r.findings)?;
    Some((size.value, gender))
}

//! `[supply.NAME]`: the compressor and what connects it to the pipe.

use super::device::devices;
use crate::finding::Finding;
use crate::job::Supply;
use crate::job::fields::{Entry, Fields, read_quantity};
use crate::job::read::Reader;
use crate::library::refused::Limits;
use crate::library::{Gender, Station};
use crate::quantity::{AirFlow, Length, Pressure, QuantityError, Size, Temperature, Volume};
use crate::source::Spanned;

pub(in crate::job) fn supply((name, value): Entry<'_>, r: &mut Reader<'_>) -> Option<Supply> {
    const KNOWN: [&str; 12] = [
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
    ];
    let title = format!("[supply.{}]", name.value);
    let fields = Fields::of(title, value, &KNOWN, &mut r.findings)?;
    fields.require(
        &[("port", "\"1in female\""), ("height", "\"3-6\"")],
        &mut r.findings,
    );
    let units = r.units;
    let free_air = fields.quantity("free_air", AirFlow::parse, &mut r.findings);
    let discharge = fields.quantity("discharge", Temperature::parse, &mut r.findings);
    let intake = fields.quantity("intake", Temperature::parse, &mut r.findings);
    let humidity = fields.quantity("humidity", humidity, &mut r.findings);
    let running = fields.quantity("running", hours, &mut r.findings);
    let tank = fields.quantity("tank", Volume::parse, &mut r.findings);
    let mut pressure = |key| fields.quantity(key, Pressure::parse, &mut r.findings);
    let (cut_in, cut_out, relief) = (pressure("cut_in"), pressure("cut_out"), pressure("relief"));
    r.limits = Limits {
        relief: relief.map(|pressure| pressure.value),
        cut_out: cut_out.map(|pressure| pressure.value),
        units,
    };
    in_order(("cut_in", cut_in), ("cut_out", cut_out), r);
    in_order(("cut_out", cut_out), ("relief", relief), r);
    let port = port(&fields, r);
    let height = fields.quantity("height", |text| Length::parse(text, units), &mut r.findings);
    let items = fields.list("connect", &mut r.findings);
    let connect = devices("connect", &items, Station::Supply, r);
    let (port, port_gender) = port?;
    Some(Supply {
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

/// Reads `60 %`: relative humidity, as a part of one.
fn humidity(text: &str) -> Result<f64, QuantityError> {
    bounded(text, "%", 100.0, "humidity", "\"60 %\"").map(|percent| percent / 100.0)
}

/// Reads `8 h`: hours of a day.
fn hours(text: &str) -> Result<f64, QuantityError> {
    bounded(text, "h", 24.0, "time of running", "\"8 h\"")
}

fn bounded(
    text: &str,
    unit: &str,
    most: f64,
    what: &str,
    example: &str,
) -> Result<f64, QuantityError> {
    let number = text
        .trim()
        .strip_suffix(unit)
        .and_then(|number| number.trim().parse::<f64>().ok());
    number
        .filter(|number| (0.0..=most).contains(number))
        .ok_or_else(|| {
            QuantityError::new(
                format!("`{}` is no {what} from 0 to {most} {unit}", text.trim()),
                format!("write it like {example}"),
            )
        })
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

//! One file for each kind of table in the job file.

mod accept;
mod as_built;
mod check;
mod device;
mod drain;
mod drop;
mod leg;
mod main;
mod obstacle;
mod offer;
mod outlet;
mod plug;
mod room;
mod shop;
mod site;
mod supply;
mod together;
mod tool;
mod valve;

pub(super) use accept::accepted;
pub(super) use as_built::as_built;
pub(super) use check::{Known, check};
pub(super) use drain::main_drain;
pub(super) use drop::drop_kind;
pub(super) use leg::leg;
pub(super) use main::main;
pub(super) use obstacle::obstacle;
pub(super) use offer::{alternate, choosable, each_once, option};
pub(super) use outlet::outlet;
pub(super) use plug::plug;
pub(super) use room::room;
pub(super) use shop::{nobody_holds, people};
pub(super) use site::site;
pub(super) use supply::supply;
pub(super) use together::together;
pub(crate) use tool::share;
pub(super) use valve::line_valve;

use crate::air::moisture::{COLDEST, HOTTEST};
use crate::quantity::{Length, QuantityError, Temperature, Units};
use std::ops::RangeInclusive;

/// Where the job says nothing of a drip leg.
const USUAL_DRIP_LEG: Length = Length::from_64ths(8 * 64);

/// From a stub between two fittings to the longest reel.
const HOSE_LENGTHS: RangeInclusive<Length> = Length::from_64ths(64)..=Length::from_feet(1_000);
/// No shop's roof is higher; a figure beyond it is a typing accident.
const HEIGHTS: RangeInclusive<Length> = Length::ZERO..=Length::from_feet(200);
/// Rise and reach of a drop, and what hangs below it: no longer than the reach of a
/// ladder on either side.
const OFFSETS: RangeInclusive<Length> = Length::ZERO..=Length::from_feet(30);

/// Reads a length that has a range.
fn length_within(
    text: &str,
    units: Units,
    range: &RangeInclusive<Length>,
    what: &str,
) -> Result<Length, QuantityError> {
    let length = Length::parse(text, units)?;
    if range.contains(&length) {
        return Ok(length);
    }
    Err(QuantityError::new(
        format!(
            "`{}` is no {what} from {} to {}",
            text.trim(),
            range.start().show(units),
            range.end().show(units)
        ),
        "check the figure and its unit",
    ))
}

/// The temperature of air outside a pipe: within what is known of its vapour.
fn air_temperature(text: &str) -> Result<Temperature, QuantityError> {
    let temperature = Temperature::parse(text)?;
    if (COLDEST..=HOTTEST).contains(&temperature.kelvin()) {
        return Ok(temperature);
    }
    Err(QuantityError::new(
        format!("no air outside is at `{}`", text.trim()),
        "check the figure and its unit",
    ))
}

/// Reads a number with its one unit, from 0 to the most that there is.
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

//! Work on what stands: tie-ins, and what is taken out. What the rates have no hours for
//! stays open.

use super::{LabourLine, amount, hours};
use crate::rates::Rates;
use bom::quantity::Length;
use bom::takeoff::{Group, Takeoff};
use rust_decimal::Decimal;

pub(super) struct Old {
    pub(super) line: LabourLine,
    pub(super) rate: Option<Decimal>,
}

pub(super) fn work(takeoff: &Takeoff, rates: &Rates) -> Vec<Old> {
    let disposal = unpriced_disposal(takeoff, rates);
    let rates = &rates.hours;
    let out = &takeoff.taken_out;
    let length: Length = out.pipe.iter().map(|pipe| pipe.end_to_end).sum();
    let feet = length.stretches_of(Length::from_feet(1));
    let supports = out
        .lines
        .iter()
        .filter(|line| line.group == Group::Supports);
    let supports = supports.map(|line| line.quantity).sum();
    let joints = out.joints.iter().map(|joints| joints.count).sum();
    let a_foot = rates
        .remove_10ft
        .map(|ten| (ten * Decimal::new(1, 1)).normalize());
    let all = [
        (
            "Tie into pipe that stands: shut off, let the air out, cut in",
            takeoff.tie_ins,
            "tie-in",
            "tie_in",
            rates.tie_in,
        ),
        ("Take out pipe", feet, "ft", "remove_10ft", a_foot),
        (
            "Take down hangers and brackets",
            supports,
            "support",
            "remove_support",
            rates.remove_support,
        ),
        (
            "Undo joints of what is taken out",
            joints,
            "joint",
            "remove_joint",
            rates.remove_joint,
        ),
    ];
    let wanted = all.into_iter().filter(|(_, count, ..)| *count > 0);
    wanted
        .map(|(text, count, unit, key, rate)| Old {
            line: LabourLine {
                text: text.to_owned(),
                count,
                unit,
                hours: rate.map(|rate| hours(count, rate)),
                basis: match rate {
                    Some(rate) => format!("{} at {rate} hours", amount(count, unit)),
                    None => format!("the rates have no hours for it; add `{key}` under [hours]"),
                },
            },
            rate,
        })
        .chain(disposal)
        .collect()
}

/// What is paid by mass and has no price, told as work that is open.
fn unpriced_disposal(takeoff: &Takeoff, rates: &Rates) -> Option<Old> {
    let pounds = takeoff.taken_out.pounds();
    (pounds > 0 && rates.disposal_lb.is_none()).then(|| Old {
        line: LabourLine {
            text: "Dispose of old pipe".to_owned(),
            count: pounds,
            unit: "lb",
            hours: None,
            basis: "the rates have no price for it; add `disposal_lb`, the price of a pound"
                .to_owned(),
        },
        rate: None,
    })
}

//! Hours of work, each with its basis in the take-off. A size for which the
//! rates have no hours is left open and never guessed from its neighbours.

use crate::rates::{self, Hours};
use bom::quantity::Length;
use bom::system::Joint;
use bom::takeoff::{Group, Takeoff};
use rust_decimal::Decimal;

/// One kind of work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LabourLine {
    /// The work in words: `Make up joints 3/4in`.
    pub text: String,
    /// How much of it there is: `57`.
    pub count: u64,
    /// Of what: `joint`, `ft`.
    pub unit: &'static str,
    /// The hours; none if the rates have none for this size.
    pub hours: Option<Decimal>,
    /// What the hours stand on, in words.
    pub basis: String,
}

impl LabourLine {
    /// `1 drop`, `57 joints`, `40 ft`.
    #[must_use]
    pub fn amount(&self) -> String {
        amount(self.count, self.unit)
    }
}

fn amount(count: u64, unit: &str) -> String {
    let plural = if count == 1 || unit == "ft" { "" } else { "s" };
    format!("{count} {unit}{plural}")
}

/// Groups whose parts are set one by one, beyond their joints.
const DEVICES: [Group; 4] = [
    Group::Valves,
    Group::Supply,
    Group::Treatment,
    Group::Outlets,
];
/// Handed over, not fitted.
const LOOSE: &str = "coupler-plug";

/// All work of a job, without what there is none of.
#[must_use]
pub fn labour(takeoff: &Takeoff, hours: &Hours) -> Vec<LabourLine> {
    let count = |wanted: &dyn Fn(Group) -> bool| -> u64 {
        takeoff
            .lines
            .iter()
            .filter(|line| wanted(line.group) && line.key.part != LOOSE)
            .map(|line| line.quantity)
            .fold(0, u64::saturating_add)
    };
    let supports = count(&|group| group == Group::Supports);
    let devices = count(&|group| DEVICES.contains(&group));

    let mut lines = Vec::new();
    let only_threads = takeoff
        .joints
        .iter()
        .all(|joint| joint.joint == Joint::Threaded);
    for joint in &takeoff.joints {
        let words = if only_threads {
            "Make up joints"
        } else {
            make(joint.joint)
        };
        let text = format!("{words} {}", joint.size);
        let table = rates::joint_table(joint.joint);
        let rate = hours.of_joint(&joint.system, joint.joint, joint.size);
        lines.push(line(text, joint.count, "joint", table, rate));
    }
    for pipe in &takeoff.pipe {
        let text = format!("Hang pipe {}", pipe.size);
        let feet = pipe.end_to_end.stretches_of(Length::from_feet(1));
        let rate = hours.of_pipe_10ft(&pipe.key.system, pipe.size);
        let rate = rate.map(|for_ten| (for_ten * Decimal::new(1, 1)).normalize());
        lines.push(line(text, feet, "ft", "pipe_10ft", rate));
    }
    for (text, count, unit, rate) in [
        (
            "Set hangers and brackets",
            supports,
            "support",
            hours.support,
        ),
        ("Set valves and devices", devices, "device", hours.device),
        ("Build drops", takeoff.drops, "drop", hours.drop),
        ("Build drains", takeoff.drains, "drain", hours.drain),
        ("Mobilise and clear up", 1, "job", hours.mobilisation),
        ("Pressure test", 1, "job", hours.pressure_test),
    ] {
        lines.push(line(text.to_owned(), count, unit, "", Some(rate)));
    }
    lines.retain(|line| line.count > 0 && line.hours != Some(Decimal::ZERO));
    lines
}

/// The work of a joint where a job has several methods.
const fn make(joint: Joint) -> &'static str {
    match joint {
        Joint::Threaded => "Make up threaded joints",
        Joint::Soldered => "Solder joints",
        Joint::Brazed => "Braze joints",
        Joint::Pressed => "Press joints",
        Joint::PushFit => "Make push-fit joints",
    }
}

/// The reader of the rates keeps them under a million, so the product of one
/// and a count is in reach. `table` is where the rates file would have it.
fn line(
    text: String,
    count: u64,
    unit: &'static str,
    table: &str,
    rate: Option<Decimal>,
) -> LabourLine {
    LabourLine {
        text,
        count,
        unit,
        hours: rate.map(|rate| (Decimal::from(count) * rate).normalize()),
        basis: match rate {
            Some(rate) => format!("{} at {rate} hours", amount(count, unit)),
            None => format!("the rates have no hours for it; add the size under [hours.{table}]"),
        },
    }
}

//! Hours of work, each with its basis in the take-off. A size for which the
//! rates have no hours is left open and never guessed from its neighbours.

mod adders;
mod old;

use crate::rates::{self, Crew, Rates};
use bom::quantity::{Length, Units};
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
    let plural = match count == 1 || unit == "ft" || unit == "lb" {
        true => "",
        false => "s",
    };
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

/// A kind of work, and how much of it is higher than the adder for height begins.
struct Work {
    line: LabourLine,
    rate: Option<Decimal>,
    high: u64,
}

impl Work {
    fn high_hours(&self) -> Decimal {
        hours(self.high, self.rate.unwrap_or_default())
    }
}

/// Up to the next half of a day.
#[must_use]
pub fn days_on_site(hours: Decimal, crew: Crew) -> Decimal {
    let halves = hours / (Decimal::from(crew.people) * crew.day_hours) * Decimal::TWO;
    (halves.ceil() / Decimal::TWO).normalize()
}

/// All work of a job, without what there is none of, and then what makes it take
/// longer. Drops and drains are built low down, and count as such.
#[must_use]
pub fn labour(takeoff: &Takeoff, units: Units, rates: &Rates) -> Vec<LabourLine> {
    let work = work(takeoff, rates);
    let adders = adders::lines(&work, &rates.adders, units);
    let work = work.into_iter().map(|work| work.line);
    let mut lines: Vec<LabourLine> = work.chain(adders).collect();
    lines.retain(|line| line.count > 0 && line.hours != Some(Decimal::ZERO));
    lines
}

fn work(takeoff: &Takeoff, rates: &Rates) -> Vec<Work> {
    let hours = &rates.hours;
    let above = rates.adders.height.map(|adder| takeoff.above(adder.above));
    let above = above.as_ref();
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
    let high_devices = above.map_or(0, |above| {
        let lines = takeoff.lines.iter().zip(&above.lines);
        lines
            .filter(|(line, _)| DEVICES.contains(&line.group) && line.key.part != LOOSE)
            .map(|(_, high)| *high)
            .fold(0, u64::saturating_add)
    });

    let mut work = Vec::new();
    let mut add = |line: LabourLine, rate, high| work.push(Work { line, rate, high });
    let only_threads = takeoff
        .joints
        .iter()
        .all(|joint| joint.joint == Joint::Threaded);
    for (at, joint) in takeoff.joints.iter().enumerate() {
        let words = if only_threads {
            "Make up joints"
        } else {
            make(joint.joint)
        };
        let text = format!("{words} {}", joint.size);
        let table = rates::joint_table(joint.joint);
        let rate = hours.of_joint(&joint.system, joint.joint, joint.size);
        let high = above.map_or(0, |above| above.joints[at]);
        add(line(text, joint.count, "joint", table, rate), rate, high);
    }
    for (at, pipe) in takeoff.pipe.iter().enumerate() {
        let text = format!("Hang pipe {}", pipe.size);
        let feet = |length: Length| length.stretches_of(Length::from_feet(1));
        let rate = hours.of_pipe_10ft(&pipe.key.system, pipe.size);
        let rate = rate.map(|for_ten| (for_ten * Decimal::new(1, 1)).normalize());
        let high = above.map_or(0, |above| feet(above.pipe[at]));
        let line = line(text, feet(pipe.end_to_end), "ft", "pipe_10ft", rate);
        add(line, rate, high);
    }
    for old in old::work(takeoff, rates) {
        add(old.line, old.rate, 0);
    }
    let job = u64::from(takeoff.is_work());
    let high_supports = above.map_or(0, |above| above.supports);
    for (text, count, unit, rate, high) in [
        (
            "Set hangers and brackets",
            supports,
            "support",
            hours.support,
            high_supports,
        ),
        (
            "Set valves and devices",
            devices,
            "device",
            hours.device,
            high_devices,
        ),
        ("Build drops", takeoff.drops, "drop", hours.drop, 0),
        ("Build drains", takeoff.drains, "drain", hours.drain, 0),
        ("Mobilise and clear up", job, "job", hours.mobilisation, 0),
        ("Pressure test", job, "job", hours.pressure_test, 0),
    ] {
        let line = line(text.to_owned(), count, unit, "", Some(rate));
        add(line, Some(rate), high);
    }
    work
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
/// and a count is in reach.
fn hours(count: u64, rate: Decimal) -> Decimal {
    (Decimal::from(count) * rate).normalize()
}

/// `table` is where the rates file would have the rate.
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
        hours: rate.map(|rate| hours(count, rate)),
        basis: match rate {
            Some(rate) => format!("{} at {rate} hours", amount(count, unit)),
            None => format!("the rates have no hours for it; add the size under [hours.{table}]"),
        },
    }
}

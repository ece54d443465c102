//! What makes work take longer: height, a crowded shop, a small job.

use super::{LabourLine, Work, amount};
use crate::rates::Adders;
use bom::quantity::Units;
use rust_decimal::Decimal;

/// The lines behind the work itself. None of them is taken on another.
pub(super) fn lines(work: &[Work], adders: &Adders, units: Units) -> Vec<LabourLine> {
    let hours: Decimal = work.iter().filter_map(|work| work.line.hours).sum();
    let mut lines = Vec::new();
    if let Some(adder) = adders.height {
        let high = || work.iter().filter(|work| work.high > 0);
        let hours: Decimal = high().map(Work::high_hours).sum();
        let height = adder.above.show(units);
        let what: Vec<String> = high()
            .map(|work| amount(work.high, work.line.unit))
            .collect();
        lines.push(line(
            format!("Work above {height}"),
            percent_of(hours, adder.percent),
            format!(
                "{} % of {hours} hours on {} above {height}",
                adder.percent,
                what.join(", ")
            ),
        ));
    }
    lines.push(line(
        "Working between machines and stock".to_owned(),
        percent_of(hours, adders.congestion),
        format!("{} % of {hours} hours", adders.congestion),
    ));
    let all: Decimal = hours + lines.iter().filter_map(|line| line.hours).sum::<Decimal>();
    let rated = work.iter().all(|work| work.line.hours.is_some());
    let works = work.iter().any(|work| work.line.count > 0);
    if works && rated && all < adders.least_hours {
        lines.push(line(
            "Small job".to_owned(),
            adders.least_hours - all,
            format!("no job takes fewer than {} hours", adders.least_hours),
        ));
    }
    lines
}

/// Up to the next hundredth of an hour.
fn percent_of(hours: Decimal, percent: Decimal) -> Decimal {
    // Hours times a percentage, in hundredths.
    (hours * percent).ceil() * Decimal::new(1, 2)
}

fn line(text: String, hours: Decimal, basis: String) -> LabourLine {
    LabourLine {
        text,
        count: 1,
        unit: "job",
        hours: Some(hours.normalize()),
        basis,
    }
}

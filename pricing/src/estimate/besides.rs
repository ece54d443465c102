//! What a job costs beside its materials: hired tools, work, and the rest.

use super::{ALLOWANCE, COSTS, EstimateLine, EstimateSection, HIRE, LABOUR, Price, section};
use crate::labour::LabourLine;
use crate::money::{Money, MoneyError};
use crate::rates::{AllowanceOf, Basis, Cost, Hire, Per, Rates};
use bom::quantity::Units;
use bom::system::Joint;
use bom::takeoff::{JointCount, Takeoff};
use rust_decimal::Decimal;

pub(super) fn hire(takeoff: &Takeoff, rates: &Rates) -> Result<EstimateSection, MoneyError> {
    let hired = needed(takeoff, rates).map(|hire| hire_line(hire, rates));
    section(HIRE, hired.collect::<Result<_, _>>()?, rates)
}

pub(super) fn labour(work: &[LabourLine], rates: &Rates) -> Result<EstimateSection, MoneyError> {
    let lines = work.iter().map(|line| labour_line(line, rates));
    section(LABOUR, lines.collect::<Result<_, _>>()?, rates)
}

/// What is put on the cost of all else for lengths that are not confirmed.
pub(super) fn allowance(cost: Money, rates: &Rates) -> Result<EstimateSection, MoneyError> {
    let mut lines = Vec::new();
    if let Some(allowance) = &rates.allowance {
        let (sum, origin) = match allowance.of {
            AllowanceOf::Cost(percent) => (
                cost.scaled(percent, Decimal::ONE_HUNDRED)?,
                format!("{percent} % of the cost of all else"),
            ),
            AllowanceOf::Sum(sum) => (sum, "the rates, once a job".to_owned()),
        };
        lines.push(EstimateLine {
            text: allowance.text.clone(),
            quantity: Decimal::ONE,
            unit: "job".to_owned(),
            origin,
            cost: Some(Price::new(sum, Decimal::ONE)?),
            price: Some(Price::new(rates.selling(sum)?, Decimal::ONE)?),
            taxed: allowance.taxed,
        });
    }
    section(ALLOWANCE, lines, rates)
}

/// Travel and the like.
pub(super) struct Costs {
    pub(super) section: EstimateSection,
    /// What the lines that are taxed like materials cost and sell for.
    pub(super) taxed: [Money; 2],
    /// Costs that do not arise on this job, and why.
    pub(super) notes: Vec<String>,
}

/// What costs arise, with how many days on site, if those are known.
pub(super) fn costs(
    takeoff: &Takeoff,
    units: Units,
    days: Option<Decimal>,
    materials: Money,
    rates: &Rates,
) -> Result<Costs, MoneyError> {
    let mut lines = Vec::new();
    let mut taxed = [Money::zero(rates.currency); 2];
    let mut notes = Vec::new();
    lines.extend(disposal(takeoff, rates)?);
    let arising = rates.costs.iter().filter(|_| takeoff.is_work());
    for cost in arising {
        if let Some(height) = cost.above.filter(|height| !takeoff.reaches_above(*height)) {
            let height = height.show(units);
            notes.push(format!("{}: none, no pipe is above {height}.", cost.text));
            continue;
        }
        let line = cost_line(cost, days, materials, rates)?;
        if cost.taxed {
            for (sum, side) in taxed.iter_mut().zip([line.cost, line.price]) {
                if let Some(price) = side {
                    *sum = sum.plus(price.amount)?;
                }
            }
        }
        lines.push(line);
    }
    Ok(Costs {
        section: section(COSTS, lines, rates)?,
        taxed,
        notes,
    })
}

/// Getting rid of old pipe, by its mass. Where the rates have no price for it, the hole is
/// told with the work.
fn disposal(takeoff: &Takeoff, rates: &Rates) -> Result<Option<EstimateLine>, MoneyError> {
    let pounds = takeoff.taken_out.pounds();
    let Some(each) = rates.disposal_lb.filter(|_| pounds > 0) else {
        return Ok(None);
    };
    let quantity = Decimal::from(pounds);
    Ok(Some(EstimateLine {
        text: "Disposal of old pipe".to_owned(),
        quantity,
        unit: "lb".to_owned(),
        origin: "the mass of the pipe taken out, without its fittings".to_owned(),
        cost: Some(Price::new(each, quantity)?),
        price: Some(Price::new(rates.selling(each)?, quantity)?),
        taxed: false,
    }))
}

fn cost_line(
    cost: &Cost,
    days: Option<Decimal>,
    materials: Money,
    rates: &Rates,
) -> Result<EstimateLine, MoneyError> {
    let (price, quantity, unit, origin) = match &cost.basis {
        Basis::OfMaterials(percent) => (
            materials.scaled(*percent, Decimal::ONE_HUNDRED)?,
            Some(Decimal::ONE),
            "job".to_owned(),
            format!("{percent} % of the materials"),
        ),
        Basis::Each {
            price,
            quantity,
            unit,
            per,
        } => {
            let (times, origin) = times(*per, days, rates);
            let quantity = times.and_then(|times| quantity.checked_mul(times));
            let quantity = quantity.map(|quantity| quantity.normalize());
            (*price, quantity, unit.clone(), origin)
        }
    };
    let price_of = |unit| {
        quantity
            .map(|quantity| Price::new(unit, quantity))
            .transpose()
    };
    Ok(EstimateLine {
        text: cost.text.clone(),
        cost: price_of(price)?,
        price: price_of(rates.selling(price)?)?,
        quantity: quantity.unwrap_or(Decimal::ONE),
        unit,
        origin,
        taxed: cost.taxed,
    })
}

/// How many times a cost arises, and why; none while the days are not known.
fn times(per: Per, days: Option<Decimal>, rates: &Rates) -> (Option<Decimal>, String) {
    let people = rates.crew.map_or(1, |crew| crew.people);
    let begun = days.map(|days| days.ceil());
    match (per, begun) {
        (Per::Job, _) => (Some(Decimal::ONE), "once a job".to_owned()),
        (Per::Day, Some(begun)) => (Some(begun), format!("{} begun on site", count(begun))),
        (Per::PersonDay, Some(begun)) => (
            begun.checked_mul(Decimal::from(people)),
            format!("{} begun on site, {people} each day", count(begun)),
        ),
        (_, None) => (None, "the days are open while hours are missing".to_owned()),
    }
}

fn count(days: Decimal) -> String {
    match days == Decimal::ONE {
        true => "1 day".to_owned(),
        false => format!("{days} days"),
    }
}

/// The tools to hire: those for the joints of each system that the job has pipe
/// of. Threads of devices are made up with a wrench, and ready-threaded pipe needs
/// no machine.
fn needed<'a>(takeoff: &'a Takeoff, rates: &'a Rates) -> impl Iterator<Item = &'a Hire> {
    let hires = |made: &JointCount| {
        let mut pipe = takeoff.pipe.iter();
        pipe.any(|line| {
            line.key.system == made.system
                && (made.joint != Joint::Threaded || !line.pieces.is_empty())
        })
    };
    let made: Vec<Joint> = takeoff
        .joints
        .iter()
        .filter(|joint| joint.count > 0 && hires(joint))
        .map(|joint| joint.joint)
        .collect();
    rates
        .hire
        .iter()
        .filter(move |hire| hire.joints.iter().any(|joint| made.contains(joint)))
}

fn hire_line(hire: &Hire, rates: &Rates) -> Result<EstimateLine, MoneyError> {
    let once = Decimal::ONE;
    Ok(EstimateLine {
        text: format!("Hire of {}", hire.tool),
        quantity: once,
        unit: "job".to_owned(),
        origin: "the rates, once a job".to_owned(),
        cost: Some(Price::new(hire.price, once)?),
        price: Some(Price::new(rates.selling(hire.price)?, once)?),
        taxed: true,
    })
}

fn labour_line(line: &LabourLine, rates: &Rates) -> Result<EstimateLine, MoneyError> {
    let wage = rates.wage.unwrap_or_else(|| Money::zero(rates.currency));
    let (quantity, unit, cost, price) = match line.hours {
        Some(hours) => (
            hours,
            "hour",
            Some(Price::new(wage, hours)?),
            Some(Price::new(rates.selling(wage)?, hours)?),
        ),
        None => (Decimal::from(line.count), line.unit, None, None),
    };
    Ok(EstimateLine {
        text: line.text.clone(),
        quantity,
        unit: unit.to_owned(),
        origin: line.basis.clone(),
        cost,
        price,
        taxed: false,
    })
}

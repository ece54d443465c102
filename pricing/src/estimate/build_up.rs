//! From the costs to the price: overhead, contingency, margin, rounding.

use super::{Estimate, Materials, besides};
use crate::labour;
use crate::money::{Money, MoneyError};
use crate::rates::{Rates, Rounding};
use bom::quantity::Units;
use bom::takeoff::Takeoff;
use rust_decimal::Decimal;

/// One step of the way from the costs to the price.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// What it is: `Overhead, 12 % of the cost`.
    pub text: String,
    /// What it adds, or the sum of all before it.
    pub amount: Money,
    /// Whether it is such a sum.
    pub is_sum: bool,
    /// What it is reckoned from.
    pub of: StepOf,
}

/// What a step is reckoned from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum StepOf {
    /// The costs of these sections, by their places in [`Estimate::sections`].
    Sections(Vec<usize>),
    /// So many percent of the first sum.
    Percent(Decimal),
    /// What all sections sell for, less all steps before this one.
    Sales,
    /// Nothing else on the paper.
    Itself,
    /// The steps before it.
    Steps,
}

/// Everything but the materials, and then the price.
pub(crate) fn estimate(
    materials: Materials,
    takeoff: &Takeoff,
    units: Units,
    rates: &Rates,
) -> Result<Estimate, MoneyError> {
    let currency = rates.currency;
    let sum = |sums: &[Money]| Money::sum(currency, sums.iter().copied());
    let Materials {
        mut sections,
        purchases,
        buying,
        missing,
    } = materials;
    let bought = buying.sentences();
    let materials = Money::sum(currency, sections.iter().map(|section| section.cost))?;
    let materials_price = Money::sum(currency, sections.iter().map(|section| section.price))?;
    let hire = besides::hire(takeoff, rates)?;
    let work = labour::labour(takeoff, units, rates);
    let hours: Decimal = work.iter().filter_map(|line| line.hours).sum();
    let hours = hours.normalize();
    let unrated: Vec<_> = work.iter().filter(|line| line.hours.is_none()).collect();
    let days = rates.crew.filter(|_| unrated.is_empty());
    let days = days.map(|crew| labour::days_on_site(hours, crew));
    let labour = besides::labour(&work, rates)?;
    let costs = besides::costs(takeoff, units, days, materials, rates)?;
    let [taxed_costs, taxed_price] = costs.taxed;

    let all_else = sum(&[materials, hire.cost, costs.section.cost, labour.cost])?;
    let allowance = besides::allowance(all_else, rates)?;
    let cost = all_else.plus(allowance.cost)?;
    let overhead = cost.scaled(rates.overhead, Decimal::ONE_HUNDRED)?;
    let contingency = cost.scaled(rates.contingency, Decimal::ONE_HUNDRED)?;
    let full_cost = sum(&[cost, overhead, contingency])?;
    let lines = sum(&[
        materials_price,
        hire.price,
        costs.section.price,
        labour.price,
        allowance.price,
    ])?;
    let taxed = rates.allowance.as_ref().filter(|one| one.taxed);
    let taxed_allowance = taxed.map_or(Money::zero(currency), |_| allowance.price);
    let (price, rounding) = match rates.rounding {
        Rounding::Lines => (lines, None),
        Rounding::Total(units) => {
            let price = lines.to_nearest(units)?;
            (price, Some(price.minus(lines)?))
        }
    };
    let profit = price.minus(full_cost)?;
    let mut estimate = Estimate {
        unrated: unrated.into_iter().cloned().collect(),
        purchases,
        buying,
        missing,
        hours,
        days,
        materials,
        hire: hire.cost,
        costs: costs.section.cost,
        taxed_costs,
        labour: labour.cost,
        allowance: allowance.cost,
        overhead,
        contingency,
        profit,
        goods: sum(&[materials_price, hire.price, taxed_price, taxed_allowance])?,
        rounding,
        price,
        margin_percent: profit.percent_of(price)?,
        markup_percent: profit.percent_of(full_cost)?,
        steps: Vec::new(),
        warnings: Vec::new(),
        notes: {
            let mut notes = notes(days, costs.notes, rates);
            notes.extend(bought);
            notes
        },
        sections: {
            sections.extend([hire, costs.section, labour, allowance]);
            sections.retain(|section| !section.lines.is_empty());
            sections
        },
    };
    estimate.steps = steps(&estimate, [cost, full_cost, lines], rates)?;
    if estimate.is_complete() {
        estimate.warnings = under_floor(&estimate, full_cost, rates)?;
    }
    Ok(estimate)
}

fn steps(
    estimate: &Estimate,
    [cost, full_cost, lines]: [Money; 3],
    rates: &Rates,
) -> Result<Vec<Step>, MoneyError> {
    let part = |text: String, amount, of| Step {
        text,
        amount,
        is_sum: false,
        of,
    };
    let sections = |wanted: &dyn Fn(&str) -> bool| {
        let sections = estimate.sections.iter().enumerate();
        let wanted = sections.filter(|(_, section)| wanted(section.title));
        StepOf::Sections(wanted.map(|(at, _)| at).collect())
    };
    let sum = |text: &str, amount| Step {
        text: text.to_owned(),
        amount,
        is_sum: true,
        of: StepOf::Steps,
    };
    let hours = match rates.is_owner() {
        true => format!("Labour, {} hours of your own", estimate.hours),
        false => format!("Labour, {} hours", estimate.hours),
    };
    let mut steps = vec![part(
        "Materials".to_owned(),
        estimate.materials,
        sections(&super::is_material),
    )];
    for (text, amount) in [(super::HIRE, estimate.hire), (super::COSTS, estimate.costs)] {
        if !amount.amount().is_zero() {
            let of = sections(&|title| title == text);
            steps.push(part(text.to_owned(), amount, of));
        }
    }
    let of = sections(&|title| title == super::LABOUR);
    steps.push(part(hours, estimate.labour, of));
    if !estimate.allowance.amount().is_zero() {
        let of = sections(&|title| title == super::ALLOWANCE);
        steps.push(part(super::ALLOWANCE.to_owned(), estimate.allowance, of));
    }
    steps.push(sum("Cost", cost));
    let of_cost = |what, percent| format!("{what}, {percent} % of the cost");
    if !rates.is_owner() {
        steps.push(part(
            of_cost("Overhead", rates.overhead),
            estimate.overhead,
            StepOf::Percent(rates.overhead),
        ));
    }
    if !rates.contingency.is_zero() {
        let text = of_cost("Contingency", rates.contingency);
        let of = StepOf::Percent(rates.contingency);
        steps.push(part(text, estimate.contingency, of));
    }
    if !rates.is_owner() {
        steps.push(sum("Cost with all that it bears", full_cost));
    }
    // An owner's lines still round on their own, and the cent shows.
    let profit = lines.minus(full_cost)?;
    if !rates.is_owner() {
        steps.push(part("Profit".to_owned(), profit, StepOf::Sales));
    } else if !profit.amount().is_zero() {
        steps.push(part(
            "Lines rounded one by one".to_owned(),
            profit,
            StepOf::Sales,
        ));
    }
    if let Some(rounding) = estimate.rounding {
        steps.push(part("Rounding".to_owned(), rounding, StepOf::Itself));
    }
    let text = match estimate.is_complete() {
        true => "Price before tax",
        false => "Priced so far, before tax",
    };
    steps.push(sum(text, estimate.price));
    let provisional = rates.provisional.iter().filter(|one| one.in_total);
    let mut with = estimate.price;
    for one in provisional {
        with = with.plus(one.price)?;
        let text = format!("Provisional: {}", one.text);
        steps.push(part(text, one.price, StepOf::Itself));
    }
    if rates.provisional.iter().any(|one| one.in_total) {
        steps.push(sum("With provisional sums, before tax", with));
    }
    Ok(steps)
}

/// How days and other costs were reckoned.
fn notes(days: Option<Decimal>, costs: Vec<String>, rates: &Rates) -> Vec<String> {
    let on_site = rates.crew.zip(days).map(|(crew, days)| {
        let people = match crew.people {
            1 => "1 person".to_owned(),
            people => format!("{people} people"),
        };
        format!(
            "Days on site: {days}, for {people} of {} hours a day, up to the next half day.",
            crew.day_hours
        )
    });
    on_site.into_iter().chain(costs).collect()
}

/// Where the price is under its floor, with what it would take.
fn under_floor(
    estimate: &Estimate,
    full_cost: Money,
    rates: &Rates,
) -> Result<Vec<String>, MoneyError> {
    let mut warnings = Vec::new();
    let price = estimate.price;
    let mut hold = |floor: Money, why: String| -> Result<(), MoneyError> {
        let lacking = floor.minus(price)?;
        if lacking.amount() > Decimal::ZERO {
            warnings.push(format!(
                "The price before tax, {}, is {} under the floor of {}: {why}.",
                price.show(),
                lacking.show(),
                floor.show()
            ));
        }
        Ok(())
    };
    if rates.is_owner() {
        return Ok(warnings);
    }
    if let Some(margin) = rates.floor.margin {
        let floor = full_cost.scaled(Decimal::ONE_HUNDRED, Decimal::ONE_HUNDRED - margin)?;
        hold(floor, format!("a margin of {margin} %"))?;
    }
    if let Some(least) = rates.floor.price {
        hold(least, "the least price of a job".to_owned())?;
    }
    Ok(warnings)
}

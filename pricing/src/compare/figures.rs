use super::{Figures, Layout, Mass, PriceAge, movers};
use crate::estimate::{ALLOWANCE, COSTS, Estimate, HIRE, LABOUR, is_material};
use crate::matching::{Purchase, sources};
use crate::money::{Money, MoneyError};
use crate::quote::Quote;
use crate::rates::Rates;
use bom::quantity::Length;
use bom::system::Joint;
use bom::takeoff::{Group, Takeoff};
use jiff::civil::Date;

/// The figures of one option, which is not compared with the others yet.
pub(super) fn figures(
    layout: &Layout<'_>,
    estimate: &Estimate,
    quote: &Quote,
    rates: &Rates,
) -> Result<Figures, MoneyError> {
    let takeoff = layout.takeoff;
    let sum = |wanted: &dyn Fn(&str) -> bool| {
        let sections = quote.sections.iter();
        let wanted = sections.filter(|section| wanted(&section.title));
        Money::sum(rates.currency, wanted.map(|section| section.subtotal))
    };
    let materials = sum(&is_material)?;
    let costs = sum(&|title| [COSTS, ALLOWANCE].contains(&title))?;
    let provisional = quote.provisional.iter().filter(|one| one.in_total);
    let costs = provisional
        .map(|one| one.price)
        .try_fold(costs, Money::plus)?;
    let hire = sum(&|title| title == HIRE)?;
    let labour = sum(&|title| title == LABOUR)?;
    let priced = quote.missing.is_empty();
    let rated = quote.unrated.is_empty();
    let complete = priced && rated;
    let labour_hours = rated.then_some(estimate.hours);
    let sums = [hire, costs, quote.tax.amount];
    let other = Money::sum(rates.currency, sums.into_iter().chain(quote.rounding))?;
    Ok(Figures {
        main_sizes: layout.summary.main_sizes.clone(),
        materials: priced.then_some(materials),
        hire,
        costs: complete.then_some(costs),
        rounding: quote.rounding.filter(|_| complete),
        labour_hours,
        labour: rated.then_some(labour),
        tax: complete.then(|| quote.tax.clone()),
        other: complete.then_some(other),
        total: quote.total,
        difference: None,
        days: estimate.days,
        mass: mass(takeoff),
        supports: count(takeoff, Group::Supports),
        joints: joints(takeoff),
        fittings: count(takeoff, Group::Fittings),
        pieces: takeoff.pipe.iter().map(|pipe| pipe.pieces.len()).sum(),
        facts: layout.facts,
        cautions: takeoff.cautions.clone(),
        missing: quote.missing.clone(),
        unrated: quote.unrated.clone(),
        oldest: oldest(&estimate.purchases, quote.date),
        undated: sources::undated(&estimate.purchases),
        movers: match quote.total {
            Some(total) => movers::movers(layout, estimate, total, rates)?,
            None => Vec::new(),
        },
    })
}

fn mass(takeoff: &Takeoff) -> Mass {
    let one = |length: Length, per_foot: f64| length.feet() * per_foot;
    let pipe = takeoff.pipe.iter();
    Mass(
        pipe.map(|pipe| one(pipe.end_to_end, pipe.mass_lb_per_ft))
            .sum(),
    )
}

fn count(takeoff: &Takeoff, group: Group) -> u64 {
    let lines = takeoff.lines.iter().filter(|line| line.group == group);
    lines.map(|line| line.quantity).fold(0, u64::saturating_add)
}

fn joints(takeoff: &Takeoff) -> Vec<(Joint, u64)> {
    let count = |method: Joint| -> u64 {
        let joints = takeoff.joints.iter().filter(|joint| joint.joint == method);
        joints.map(|joint| joint.count).fold(0, u64::saturating_add)
    };
    let counts = Joint::ALL.map(|method| (method, count(method)));
    counts.into_iter().filter(|(_, count)| *count > 0).collect()
}

fn oldest(purchases: &[Purchase], today: Date) -> Option<PriceAge> {
    let date = purchases.iter().filter_map(|one| one.priced_on).min()?;
    Some(PriceAge {
        date,
        days: date.duration_until(today).as_hours() / 24,
    })
}

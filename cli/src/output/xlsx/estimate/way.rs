//! The way from the costs to the total, with a formula for each step.

use super::Places;
use crate::output::xlsx::formula::{self, Factor, cell};
use crate::output::xlsx::notes::AMOUNT;
use crate::output::xlsx::sheet::{Cell, Look, Sheet};
use pricing::estimate::{EstimateSheet, Step, StepOf};
use pricing::rates::TaxOn;
use std::io;

/// Writes the steps, tax and total, and the margin.
pub(super) fn write(
    sheet: &mut Sheet,
    estimate: &EstimateSheet,
    places: &Places,
) -> io::Result<()> {
    sheet.skip();
    let first = sheet.next();
    let mut sums: Vec<u32> = Vec::new();
    let mut profit = None;
    let mut price = None;
    for step in &estimate.estimate.steps {
        let at = sheet.next();
        let label = match at == first {
            true => Cell::text("Cost to price"),
            false => Cell::Blank,
        };
        // Each sum begins with the one before it.
        let since = (*sums.last().unwrap_or(&first), at - 1);
        let amount = self::step(step, sums.first().copied(), since, places);
        let look = match step.is_sum {
            true => Look::Sum,
            false => Look::Plain,
        };
        sheet.row(look, [label, Cell::text(&step.text), amount])?;
        if step.is_sum {
            sums.push(at);
            if profit.is_some() && price.is_none() {
                price = Some(at);
            }
        }
        if step.of == StepOf::Sales {
            profit = Some((since.0, at));
        }
    }
    let before_tax = sheet.next() - 1;
    total(sheet, estimate, places, &cell(AMOUNT, before_tax))?;
    // Provisional sums stand below the price, and earn nothing.
    if let Some(((full, from), price)) = profit.zip(price) {
        margins(sheet, estimate, full, from, price)?;
    }
    Ok(())
}

fn step(step: &Step, cost: Option<u32>, (first, last): (u32, u32), places: &Places) -> Cell {
    match &step.of {
        StepOf::Sections(sections) => {
            let costs = sections.iter().filter_map(|at| places.costs.get(*at));
            formula::sum(&costs.cloned().collect::<Vec<_>>(), step.amount)
        }
        StepOf::Percent(percent) => match cost {
            Some(cost) => {
                let percent = percent.to_string();
                let factor = Factor {
                    printed: &percent,
                    cell: &percent,
                };
                formula::product(&factor, &cell(AMOUNT, cost), true, step.amount)
            }
            None => Cell::Money(step.amount),
        },
        StepOf::Sales => {
            let (first, last) = (cell(AMOUNT, first), cell(AMOUNT, last));
            let sales = places.prices.join("+");
            formula::rounded(&format!("{sales}-SUM({first}:{last})"), 0, step.amount)
        }
        StepOf::Itself => Cell::Money(step.amount),
        StepOf::Steps => formula::down(AMOUNT, first, last, step.amount),
    }
}

/// Tax and total.
fn total(
    sheet: &mut Sheet,
    estimate: &EstimateSheet,
    places: &Places,
    price: &str,
) -> io::Result<()> {
    let tax = &estimate.tax;
    let base = match tax.on {
        TaxOn::All => price.to_owned(),
        TaxOn::Materials if tax.base == estimate.estimate.goods => places.taxed.join("+"),
        // Taxed provisional sums are on no line of the other sheet.
        TaxOn::Materials => String::new(),
        TaxOn::None => String::new(),
    };
    let percent = tax.percent.to_string();
    let factor = Factor {
        printed: &percent,
        cell: &percent,
    };
    let amount = match base.as_str() {
        "" => Cell::Money(tax.amount),
        base => formula::product(&factor, &format!("({base})"), true, tax.amount),
    };
    let mut made_of = vec![price.to_owned()];
    if tax.on != TaxOn::None {
        let words = format!("{}, {percent} %", tax.label);
        let at = sheet.row(Look::Plain, [Cell::Blank, Cell::text(words), amount])?;
        made_of.push(cell(AMOUNT, at));
    }
    let total = match estimate.total {
        Some(total) => formula::sum(&made_of, total),
        None => Cell::text("incomplete"),
    };
    let words = format!("Total {}", tax.amount.currency().code());
    sheet.row(Look::Sum, [Cell::Blank, Cell::text(words), total])?;
    Ok(())
}

/// The profit, with what was rounded after it, both ways.
fn margins(
    sheet: &mut Sheet,
    estimate: &EstimateSheet,
    full: u32,
    from: u32,
    price: u32,
) -> io::Result<()> {
    let model = &estimate.estimate;
    let (Some(margin), Some(markup)) = (model.margin_percent, model.markup_percent) else {
        return Ok(());
    };
    if estimate.owner {
        return Ok(());
    }
    let profit = format!("SUM({}:{})", cell(AMOUNT, from), cell(AMOUNT, price - 1));
    sheet.skip();
    for (words, whole, percent) in [
        ("Margin, % of the price", price, margin),
        ("Markup, % on the cost with all that it bears", full, markup),
    ] {
        let formula = format!("ROUND({profit}/{}*100,4)", cell(AMOUNT, whole));
        let result = Box::new(Cell::Number(percent.to_string()));
        let cells = [
            Cell::Blank,
            Cell::text(words),
            Cell::Formula(formula, result),
        ];
        sheet.row(Look::Plain, cells)?;
    }
    Ok(())
}

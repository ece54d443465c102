use super::{missing_prices, number, print};
use crate::output::words;
use pricing::estimate::{EstimateLine, EstimateSheet, Price};
use serde_json::{Value, json};
use std::io::{self, Write};

/// The contractor's estimate.
///
/// # Errors
/// What the writer says.
pub fn estimate(sheet: &EstimateSheet, out: &mut dyn Write) -> io::Result<()> {
    let estimate = &sheet.estimate;
    let sections: Vec<Value> = estimate
        .sections
        .iter()
        .map(|section| {
            let lines: Vec<Value> = section.lines.iter().map(line).collect();
            json!({
                "title": section.title,
                "lines": lines,
                "cost": section.cost.plain(),
                "price": section.price.plain(),
            })
        })
        .collect();
    let steps: Vec<Value> = estimate
        .steps
        .iter()
        .map(|step| {
            json!({
                "text": step.text,
                "amount": step.amount.plain(),
                "is_sum": step.is_sum,
            })
        })
        .collect();
    let payment: Vec<Value> = sheet
        .payment
        .iter()
        .map(|step| json!({ "when": step.when, "amount": step.amount.plain() }))
        .collect();
    let heading = &sheet.heading;
    print(
        &json!({
            "internal": words::INTERNAL,
            "title": heading.title,
            "customer": sheet.customer,
            "revision": heading.revision,
            "fingerprint": heading.fingerprint,
            "date": heading.date.to_string(),
            "currency": estimate.price.currency().code(),
            "owner": sheet.owner,
            "sections": sections,
            "steps": steps,
            "hours": number(estimate.hours.to_string()),
            "days_on_site": estimate.days.map(|days| number(days.to_string())),
            "profit": estimate.profit.plain(),
            "margin_percent": estimate.margin_percent.map(|percent| percent.to_string()),
            "markup_percent": estimate.markup_percent.map(|percent| percent.to_string()),
            "price": estimate.price.plain(),
            "tax": sheet.tax.amount.plain(),
            "tax_basis": {
                "label": sheet.tax.label,
                "percent": sheet.tax.percent.to_string(),
                "base": sheet.tax.base.plain(),
            },
            "total": sheet.total.map(|total| total.plain()),
            "payment": payment,
            "warnings": estimate.warnings,
            "notes": estimate.notes,
            "missing": missing_prices(&estimate.missing),
            "unrated": sheet.unrated,
            "assumptions": sheet.assumptions,
            "notices": sheet.notices,
        }),
        out,
    )
}

fn line(line: &EstimateLine) -> Value {
    let side = |side: Option<Price>| {
        side.map(|side| json!({ "unit": side.unit.plain(), "amount": side.amount.plain() }))
    };
    json!({
        "text": line.text,
        "quantity": line.quantity.to_string(),
        "unit": line.unit,
        "cost": side(line.cost),
        "price": side(line.price),
        "origin": line.origin,
    })
}

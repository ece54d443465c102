use super::{missing_prices, number, print};
use crate::output::words::change as words;
use pricing::change::{Both, Change, Fate, Item, Line, Side, Step, Worst};
use pricing::money::Money;
use serde_json::{Value, json};
use std::io::{self, Write};

/// The change order.
///
/// # Errors
/// What the writer says.
pub fn change(change: &Change, out: &mut dyn Write) -> io::Result<()> {
    let items: Vec<Value> = change.items.iter().map(item).collect();
    let parts: Vec<Value> = change
        .parts
        .iter()
        .map(|part| {
            let lines: Vec<Value> = part.lines.iter().map(line).collect();
            json!({
                "kind": words::key(part.kind),
                "lines": lines,
                "change": part.change.map(|sum| sum.plain()),
            })
        })
        .collect();
    let texts = |both: &Both<String>| json!({ "old": both.old, "new": both.new });
    let sums = |step: Step<Money>| {
        json!({
            "old": step.old.plain(),
            "new": step.new.plain(),
            "change": step.change.plain(),
        })
    };
    let totals = change.totals.as_ref();
    let hours = change.hours.map(figures);
    let days = change.days.map(figures);
    let (missing, unrated) = (&change.missing, &change.unrated);
    print(
        &json!({
            "title": change.title,
            "company": { "name": change.company.name, "lines": change.company.lines },
            "customer": change.customer,
            "reason": change.reason,
            "date": change.date.to_string(),
            "valid_until": change.valid_until.to_string(),
            "revision": texts(&change.revision),
            "fingerprint": texts(&change.fingerprint),
            "currency": change.currency.code(),
            "nothing_changes": change.is_empty() && totals.is_some(),
            "layout": items,
            "parts": parts,
            "before_tax": totals.map(|totals| sums(totals.before_tax)),
            "tax": totals.map(|totals| sums(totals.tax)),
            "total": totals.map(|totals| sums(totals.total)),
            "hours": hours,
            "days_on_site": days,
            "worst_outlet": {
                "old": change.worst.old.as_ref().map(worst),
                "new": change.worst.new.as_ref().map(worst),
            },
            "new_findings": change.findings,
            "warnings": change.warnings,
            "notes": change.notes,
            "notices": change.notices,
            "missing": {
                "old": missing_prices(&missing.old),
                "new": missing_prices(&missing.new),
            },
            "unrated": { "old": unrated.old, "new": unrated.new },
        }),
        out,
    )
}

fn figures<T: ToString>(step: Step<T>) -> Value {
    let figure = |figure: T| number(figure.to_string());
    json!({
        "old": figure(step.old),
        "new": figure(step.new),
        "change": figure(step.change),
    })
}

fn item(item: &Item) -> Value {
    let facts: Vec<Value> = item
        .facts
        .iter()
        .map(|fact| json!({ "what": fact.label, "old": fact.old, "new": fact.new }))
        .collect();
    json!({
        "kind": item.kind.word(),
        "name": item.name,
        "fate": match item.fate {
            Fate::Added => "added",
            Fate::Removed => "removed",
            Fate::Changed => "changed",
        },
        "old_name": item.was,
        "moved": item.moved,
        "facts": facts,
    })
}

fn line(line: &Line) -> Value {
    let side = |side: &Option<Side>| {
        let side = side.as_ref();
        side.map(|side| {
            json!({
                "quantity": side.quantity.to_string(),
                "unit_price": side.unit_price.map(|price| price.plain()),
                "amount": side.amount.map(|amount| amount.plain()),
            })
        })
    };
    json!({
        "section": line.section,
        "text": line.text,
        "unit": line.unit,
        "old": side(&line.old),
        "new": side(&line.new),
        "more": line.more.to_string(),
        "change": line.change.map(|sum| sum.plain()),
    })
}

fn worst(worst: &Worst) -> Value {
    let kpa = worst.gets.map(|gets| number(format!("{:.1}", gets.kpa())));
    json!({ "outlet": worst.outlet, "tool": worst.tool, "gets_kpa": kpa })
}

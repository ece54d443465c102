use super::{missing_prices, print};
use pricing::money::Money;
use pricing::quote::{Quote, ShownSection};
use serde_json::{Value, json};
use std::io::{self, Write};

/// The quote, with no more of its prices than its level shows.
///
/// # Errors
/// What the writer says.
pub fn quote(quote: &Quote, out: &mut dyn Write) -> io::Result<()> {
    let prices = quote.prices();
    let sections: Vec<Value> = prices.sections.iter().map(section).collect();
    let outlets: Vec<Value> = quote
        .outlets
        .iter()
        .map(|outlet| {
            json!({
                "number": outlet.number,
                "name": outlet.name,
                "height": outlet.height,
                "drop": outlet.drop,
                "sides": outlet.sides,
                "drain": outlet.drain,
            })
        })
        .collect();
    let payment: Vec<Value> = quote
        .payment
        .iter()
        .map(|step| json!({ "when": step.when, "amount": step.amount.plain() }))
        .collect();
    let provisional: Vec<Value> = quote
        .provisional
        .iter()
        .map(|one| {
            json!({
                "text": one.text,
                "amount": one.price.plain(),
                "in_total": one.in_total,
            })
        })
        .collect();
    let terms: Vec<Value> = quote
        .terms
        .iter()
        .map(|term| json!({ "matter": term.label, "text": term.text }))
        .collect();
    let tax = prices.tax.as_ref();
    print(
        &json!({
            "company": { "name": quote.company.name, "lines": quote.company.lines },
            "customer": quote.customer,
            "title": quote.title,
            "revision": quote.revision,
            "fingerprint": quote.fingerprint,
            "date": quote.date.to_string(),
            "valid_until": quote.valid_until.to_string(),
            "currency": quote.subtotal.currency().code(),
            "level": quote.level.word(),
            "scope": quote.scope,
            "outlets": outlets,
            "sections": sections,
            "provisional": provisional,
            "rounding": plain(prices.rounding),
            "subtotal": plain(prices.subtotal),
            "tax": plain(tax.map(|tax| tax.amount)),
            "tax_basis": {
                "label": quote.tax.label,
                "percent": quote.tax.percent.to_string(),
                "base": plain(tax.map(|tax| tax.base)),
            },
            "total": plain(quote.total),
            "missing": missing_prices(&quote.missing),
            "unrated": quote.unrated,
            "payment": payment,
            "options": options(quote),
            "alternates": alternates(quote),
            "one_more_drop": added(quote),
            "terms": terms,
            "assumptions": quote.assumptions,
            "exclusions": quote.exclusions,
            "cautions": quote.cautions,
            "notices": quote.notices,
        }),
        out,
    )
}

fn plain(money: Option<Money>) -> Option<String> {
    money.map(|money| money.plain())
}

fn section(section: &ShownSection) -> Value {
    let lines: Vec<Value> = section
        .lines
        .iter()
        .map(|line| {
            json!({
                "text": line.text,
                "quantity": line.quantity.map(|quantity| quantity.to_string()),
                "unit": line.unit,
                "unit_price": plain(line.unit_price),
                "amount": plain(line.amount),
            })
        })
        .collect();
    json!({
        "title": section.title,
        "lines": lines,
        "subtotal": plain(section.subtotal),
    })
}

fn options(quote: &Quote) -> Option<Value> {
    let options = quote.options.as_ref()?;
    let listed: Vec<Value> = options
        .options
        .iter()
        .map(|option| {
            json!({
                "name": option.name,
                "described": option.described,
                "pipe": option.pipe,
                "left_out": option.left_out,
                "cautions": option.cautions,
                "total": plain(option.total.as_ref().ok().copied()),
                "reason": option.total.as_ref().err(),
                "difference": plain(option.difference),
                "days": option.days.map(|days| days.to_string()),
            })
        })
        .collect();
    Some(json!({ "scope": options.scope, "options": listed }))
}

fn alternates(quote: &Quote) -> Vec<Value> {
    let alternates = quote.alternates.iter().map(|one| {
        json!({
            "name": one.name,
            "text": one.text,
            "outlets": one.outlets,
            "adds": plain(one.price.as_ref().ok().copied()),
            "reason": one.price.as_ref().err(),
        })
    });
    alternates.collect()
}

fn added(quote: &Quote) -> Option<Value> {
    let added = quote.added.as_ref()?;
    let drops: Vec<Value> = added
        .drops
        .iter()
        .map(|drop| {
            json!({
                "drop": drop.kind,
                "text": drop.text,
                "adds": plain(drop.price.as_ref().ok().copied()),
                "reason": drop.price.as_ref().err(),
            })
        })
        .collect();
    Some(json!({ "drops": drops, "basis": added.basis }))
}

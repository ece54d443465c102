//! For programs: money as decimal strings, lengths in millimetres with at
//! most three decimals.

mod air;
mod catalog;
mod change;
mod crew;
mod estimate;
mod quote;
mod readback;
mod schema;
mod systems;
mod water;

pub use air::air;
pub use catalog::catalog;
pub use change::change;
pub use crew::crew;
pub use estimate::estimate;
pub use quote::quote;
pub use readback::readback;
pub use schema::schema;
pub use systems::{refused, system, systems};
pub use water::water;

use bom::finding::{Finding, Severity};
use bom::network::NodeId;
use bom::practice::REMINDERS;
use bom::quantity::{Length, Pressure};
use bom::rating::{Zone, Zones};
use bom::source::Source;
use bom::summary::Summary;
use bom::takeoff::{Because, Takeoff};
use pricing::compare::{Comparison, Figures};
use pricing::cut_sheet::{Bound, CutSheet};
use pricing::quote::MissingPrice;
use pricing::shop::{By, ShoppingList};
use serde_json::{Number, Value, json};
use std::collections::BTreeMap;
use std::io::{self, Write};

/// What was found in a job.
///
/// # Errors
/// What the writer says.
pub fn findings(
    findings: &[Finding],
    zones: Option<&Zones>,
    source: &Source,
    out: &mut dyn Write,
) -> io::Result<()> {
    let findings: Vec<Value> = findings.iter().map(|one| found(one, source)).collect();
    let assumptions = zones.map(|zones| zones.assumptions.clone());
    let zones = zones.map(|zones| zones.zones.iter().map(zone).collect::<Vec<Value>>());
    print(
        &json!({
            "findings": findings,
            "reminders": REMINDERS,
            "zones": zones,
            "rating_assumptions": assumptions,
        }),
        out,
    )
}

/// A finding with its place in a text.
fn found(finding: &Finding, source: &Source) -> Value {
    let place = finding.place();
    json!({
        "rule": finding.rule,
        "severity": match finding.severity {
            Severity::Note => "note",
            Severity::Warning => "warning",
            Severity::Error | Severity::Unreadable => "error",
        },
        "where": source.text().get(place.start..place.end).and_then(|text| text.lines().next()),
        "line": source.line(place.start),
        "column": source.column(place.start),
        "message": finding.message,
        "help": finding.help,
        "accepted": finding.accepted.is_some(),
        "reason": finding.accepted,
    })
}

fn zone(zone: &Zone) -> Value {
    let kpa = |psi: f64| number(format!("{:.1}", Pressure::from_psi(psi).kpa()));
    let items: Vec<Value> = zone
        .items
        .iter()
        .map(|item| {
            let shown: Vec<Value> = item
                .shown
                .iter()
                .map(|shown| json!({ "words": shown.words, "rated_kpa": kpa(shown.psi), "source": shown.source }))
                .collect();
            json!({
                "part": item.what,
                "words": item.words,
                "where": item.place_words,
                "temperature_c": number(format!("{:.1}", item.temperature.celsius())),
                "rated_kpa": item.psi.map(kpa),
                "margin_kpa": item.margin_psi.map(kpa),
                "source": item.source,
                "not_used": shown,
            })
        })
        .collect();
    json!({
        "name": zone.name,
        "limit_kpa": zone.limit_psi.map(kpa),
        "limit": zone.limit_words,
        "items": items,
    })
}

/// The count. `reason` and `place` put reasons and places into words.
///
/// # Errors
/// What the writer says.
pub fn parts(
    summary: &Summary,
    takeoff: &Takeoff,
    reason: &dyn Fn(Because) -> String,
    place: &dyn Fn(NodeId) -> String,
    out: &mut dyn Write,
) -> io::Result<()> {
    let lines: Vec<Value> = takeoff
        .lines
        .iter()
        .map(|line| {
            json!({
                "part": line.key.part,
                "system": line.key.system,
                "size": line.key.size.to_string(),
                "quantity": line.quantity,
                "unit": line.unit,
                "words": line.words,
                "because": line.because.iter().copied().map(reason).collect::<Vec<_>>(),
            })
        })
        .collect();
    let pipe: Vec<Value> = takeoff
        .pipe
        .iter()
        .map(|line| {
            let pieces: Vec<Value> = line
                .pieces
                .iter()
                .map(|piece| {
                    json!({
                        "label": piece.label(),
                        "length_mm": millimetres(piece.length),
                        "from": place(piece.from),
                        "to": place(piece.to),
                    })
                })
                .collect();
            json!({
                "system": line.key.system,
                "size": line.size.to_string(),
                "centre_to_centre_mm": millimetres(line.centre_to_centre),
                "length_mm": millimetres(line.end_to_end),
                "pieces": pieces,
            })
        })
        .collect();
    let mut by_size: BTreeMap<String, u64> = BTreeMap::new();
    for joints in &takeoff.joints {
        *by_size.entry(joints.size.to_string()).or_default() += joints.count;
    }
    let made: Vec<Value> = takeoff
        .joints
        .iter()
        .map(|joints| {
            json!({
                "system": joints.system,
                "method": joints.joint.word(),
                "size": joints.size.to_string(),
                "quantity": joints.count,
            })
        })
        .collect();
    let proofs: Vec<Value> = takeoff
        .proofs
        .iter()
        .map(|proof| json!({ "claim": proof.claim, "figures": proof.figures }))
        .collect();
    let job = json!({
        "title": summary.title,
        "customer": summary.customer,
        "revision": summary.revision,
    });
    let valves: Vec<Value> = summary
        .valves
        .iter()
        .map(|valve| {
            json!({
                "name": valve.name,
                "size": valve.size.to_string(),
                "height_mm": millimetres(valve.height),
            })
        })
        .collect();
    print(
        &json!({
            "job": job,
            "lines": lines,
            "pipe": pipe,
            "joints": by_size,
            "joints_made": made,
            "drops": takeoff.drops,
            "drains": takeoff.drains,
            "line_valves": valves,
            "assumptions": takeoff.assumptions,
            "cautions": takeoff.cautions,
            "proofs": proofs,
        }),
        out,
    )
}

/// The shopping list.
///
/// # Errors
/// What the writer says.
pub fn shop(shop: &ShoppingList, out: &mut dyn Write) -> io::Result<()> {
    let groups: Vec<Value> = shop
        .groups
        .iter()
        .map(|group| {
            let lines: Vec<Value> = group
                .lines
                .iter()
                .map(|line| {
                    json!({
                        "part": line.key.part,
                        "system": line.key.system,
                        "size": line.key.size.to_string(),
                        "words": line.words,
                        "quantity": line.quantity.to_string(),
                        "unit": line.unit,
                        "used": line.used,
                        "spare": line.spare.count,
                        "returnable": line.spare.returnable,
                        "left_over": line.surplus.to_string(),
                        "unit_price": line.unit_price.map(|price| price.plain()),
                        "amount": line.amount.map(|amount| amount.plain()),
                        "running_total": line.running.map(|sum| sum.plain()),
                        "supplier": line.supplier,
                        "code": line.code,
                        "aisle": line.aisle,
                    })
                })
                .collect();
            json!({
                "title": group.title,
                "lines": lines,
                "subtotal": group.subtotal.plain(),
            })
        })
        .collect();
    let orders: Vec<Value> = shop
        .orders
        .iter()
        .map(|order| {
            json!({
                "supplier": order.supplier,
                "lines": order.lines,
                "goods": order.goods.plain(),
                "delivery": order.delivery.plain(),
                "made_up": order.made_up.plain(),
                "total": order.total.plain(),
            })
        })
        .collect();
    let alone: Vec<Value> = shop
        .alone
        .iter()
        .map(|alone| {
            json!({
                "supplier": alone.supplier,
                "lacks": alone.lacks,
                "total": alone.total.map(|total| total.plain()),
            })
        })
        .collect();
    let heads_up: Vec<Value> = shop
        .heads_up
        .iter()
        .map(|fact| json!({ "label": fact.label, "text": fact.text }))
        .collect();
    print(
        &json!({
            "title": shop.title,
            "revision": shop.revision,
            "fingerprint": shop.fingerprint,
            "date": shop.date.to_string(),
            "currency": shop.currency.code(),
            "by": match shop.by {
                By::Aisle => "aisle",
                By::Supplier => "supplier",
            },
            "groups": groups,
            "priced": shop.priced.plain(),
            "without_spares": shop.without_spares.map(|sum| sum.plain()),
            "spares": shop.spares.map(|sum| sum.plain()),
            "total": shop.total.map(|total| total.plain()),
            "missing": missing_prices(&shop.missing),
            "orders": orders,
            "alone": alone,
            "heads_up": heads_up,
            "also": shop.also,
            "assumptions": shop.assumptions,
            "cautions": shop.cautions,
            "notices": shop.notices,
        }),
        out,
    )
}

fn missing_prices(missing: &[MissingPrice]) -> Vec<Value> {
    missing
        .iter()
        .map(|missing| {
            json!({
                "part": missing.key.part,
                "system": missing.key.system,
                "size": missing.key.size.to_string(),
                "quantity": missing.quantity.to_string(),
                "unit": missing.unit,
                "reason": missing.reason,
                "row": missing.row,
            })
        })
        .collect()
}

/// The comparison.
///
/// # Errors
/// What the writer says.
pub fn compare(comparison: &Comparison, out: &mut dyn Write) -> io::Result<()> {
    let options: Vec<Value> = comparison
        .options
        .iter()
        .map(|option| {
            let mut value = match &option.figures {
                Ok(figures) => figures_of(figures),
                Err(reason) => json!({ "total": null, "reason": reason }),
            };
            value["system"] = option.system.as_str().into();
            value["title"] = option.title.as_str().into();
            value
        })
        .collect();
    let break_even: Vec<Value> = comparison
        .break_even
        .iter()
        .map(|pair| {
            json!({
                "a": pair.a,
                "b": pair.b,
                "wage": pair.wage.plain(),
                "cheaper_below": pair.cheaper_below,
                "cheaper_above": pair.cheaper_above,
            })
        })
        .collect();
    print(
        &json!({
            "title": comparison.title,
            "revision": comparison.revision,
            "fingerprint": comparison.fingerprint,
            "date": comparison.date.to_string(),
            "currency": comparison.currency.code(),
            "scope": comparison.scope,
            "options": options,
            "break_even_wage": break_even,
            "assumptions": comparison.assumptions,
            "cautions": comparison.cautions,
            "notices": comparison.notices,
        }),
        out,
    )
}

fn figures_of(one: &Figures) -> Value {
    let joints: serde_json::Map<String, Value> = one
        .joints
        .iter()
        .map(|(joint, count)| (joint.word().to_owned(), (*count).into()))
        .collect();
    let movers: Vec<Value> = one
        .movers
        .iter()
        .map(|mover| {
            json!({
                "text": mover.text,
                "up": mover.up.plain(),
                "down": mover.down.plain(),
            })
        })
        .collect();
    json!({
        "main_sizes": one.main_sizes.iter().map(ToString::to_string).collect::<Vec<_>>(),
        "materials": one.materials.map(|sum| sum.plain()),
        "hire": one.hire.plain(),
        "other_costs": one.costs.map(|sum| sum.plain()),
        "rounding": one.rounding.map(|sum| sum.plain()),
        "labour_hours": one.labour_hours.map(|hours| number(hours.to_string())),
        "labour": one.labour.map(|sum| sum.plain()),
        "tax": one.tax.as_ref().map(|tax| tax.amount.plain()),
        "total": one.total.map(|total| total.plain()),
        "difference": one.difference.map(|sum| sum.plain()),
        "days_on_site": one.days.map(|days| number(days.to_string())),
        "mass_kg": number(format!("{:.1}", one.mass.kg())),
        "supports": one.supports,
        "joints": joints,
        "fittings": one.fittings,
        "pieces": one.pieces,
        "growth_mm": one.facts.growth.map(millimetres),
        "worst_outlet_kpa": one.facts.worst_outlet_kpa.map(|lost| number(format!("{lost:.2}"))),
        "oldest_price": one.oldest.map(|oldest| json!({
            "date": oldest.date.to_string(),
            "days": oldest.days,
        })),
        "undated_prices": one.undated,
        "movers": movers,
        "cautions": one.cautions,
        "missing": missing_prices(&one.missing),
        "unrated": one.unrated,
        "reason": null,
    })
}

/// The cut plan.
///
/// # Errors
/// What the writer says.
pub fn cut(sheet: &CutSheet, out: &mut dyn Write) -> io::Result<()> {
    let straights: Vec<Value> = sheet
        .straights
        .iter()
        .map(|straight| {
            let pieces: Vec<Value> = straight.pieces.iter().copied().map(millimetres).collect();
            json!({
                "number": straight.number,
                "system": straight.system,
                "size": straight.size,
                "from": straight.from,
                "to": straight.to,
                "pieces_mm": pieces,
                "union": straight.union,
            })
        })
        .collect();
    let mut sticks = Vec::new();
    let mut sizes = Vec::new();
    let mut bound_sticks = Some(0);
    for section in &sheet.sections {
        for stick in &section.sticks {
            let labels: Vec<&str> = stick
                .pieces
                .iter()
                .map(|piece| piece.label.as_str())
                .collect();
            let pieces: Vec<Value> = stick
                .pieces
                .iter()
                .map(|piece| millimetres(piece.length))
                .collect();
            sticks.push(json!({
                "system": section.system,
                "size": section.size,
                "stock_mm": millimetres(stick.stock),
                "offcut": stick.offcut,
                "pieces_mm": pieces,
                "labels": labels,
                "waste_mm": millimetres(stick.waste),
            }));
        }
        let (bound, bound_cost) = match section.bound {
            Bound::Sticks(bound) => (Some(bound), None),
            Bound::Cost(bound) => (None, Some(bound.plain())),
        };
        bound_sticks = bound_sticks.zip(bound).map(|(sum, bound)| sum + bound);
        sizes.push(json!({
            "system": section.system,
            "size": section.size,
            "kerf_mm": millimetres(section.kerf),
            "sticks": section.bought,
            "cost": section.cost.map(|cost| cost.plain()),
            "currency": section.cost.map(|cost| cost.currency().code().to_owned()),
            "bound_sticks": bound,
            "bound_cost": bound_cost,
            "proven": section.proven,
        }));
    }
    // One figure where all systems are cut alike.
    let mut kerfs: Vec<Length> = sheet.sections.iter().map(|section| section.kerf).collect();
    kerfs.dedup();
    let kerf = match kerfs[..] {
        [kerf] => millimetres(kerf),
        _ => Value::Null,
    };
    print(
        &json!({
            "kerf_mm": kerf,
            "straights": straights,
            "sticks": sticks,
            "sizes": sizes,
            "bound_sticks": bound_sticks,
            "proven": sheet.sections.iter().all(|section| section.proven),
        }),
        out,
    )
}

/// An exact decimal as a JSON number.
fn millimetres(length: Length) -> Value {
    number(length.to_mm_text())
}

fn number(text: String) -> Value {
    serde_json::from_str::<Number>(&text).map_or(Value::String(text), Value::Number)
}

fn print(value: &Value, out: &mut dyn Write) -> io::Result<()> {
    serde_json::to_writer_pretty(&mut *out, value)?;
    writeln!(out)
}

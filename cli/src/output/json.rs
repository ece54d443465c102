//! What other programs read. Money is a decimal string, lengths are
//! millimetres with at most three decimals.

use bom::quantity::Length;
use bom::takeoff::{Because, PartKey, Takeoff};
use pricing::money::Money;
use pricing::quote::Quote;
use serde_json::{Map, Value, json};
use std::io::{self, Write};

/// Writes the quote.
///
/// # Errors
/// Those of `out`.
pub fn quote(quote: &Quote, out: &mut dyn Write) -> io::Result<()> {
    let currency = quote.subtotal.currency();
    let sections: Vec<_> = quote
        .sections
        .iter()
        .map(|section| {
            let lines: Vec<_> = section
                .lines
                .iter()
                .map(|line| {
                    json!({
                        "text": line.text,
                        "quantity": number(&line.quantity.to_string()),
                        "unit": line.unit,
                        "unit_price": line.unit_price.as_ref().map(Money::plain),
                        "amount": line.amount.as_ref().map(Money::plain),
                    })
                })
                .collect();
            json!({
                "title": section.title,
                "lines": lines,
                "subtotal": section.subtotal.plain(),
            })
        })
        .collect();
    let missing: Vec<_> = quote
        .missing
        .iter()
        .map(|part| {
            with_key(
                &part.key,
                json!({
                    "words": part.words,
                    "quantity": number(&part.quantity.to_string()),
                    "unit": part.unit,
                    "reason": part.reason,
                    "row": part.row,
                }),
            )
        })
        .collect();
    let outlets: Vec<_> = quote
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
    let payment: Vec<_> = quote
        .payment
        .iter()
        .map(|step| json!({ "when": step.when, "amount": step.amount.plain() }))
        .collect();
    let value = json!({
        "company": { "name": quote.company.name, "lines": quote.company.lines },
        "customer": quote.customer,
        "title": quote.title,
        "revision": quote.revision,
        "fingerprint": quote.fingerprint,
        "date": quote.date.to_string(),
        "valid_until": quote.valid_until.to_string(),
        "scope": quote.scope,
        "outlets": outlets,
        "sections": sections,
        "currency": currency.code(),
        "subtotal": quote.subtotal.plain(),
        "tax": quote.tax.amount.plain(),
        "tax_label": quote.tax.label,
        "tax_percent": quote.tax.percent.to_string(),
        "tax_base": quote.tax.base.plain(),
        "total": quote.total.as_ref().map(Money::plain),
        "missing": missing,
        "payment": payment,
        "assumptions": quote.assumptions,
        "exclusions": quote.exclusions,
        "cautions": quote.cautions,
        "notices": quote.notices,
    });
    written(&value, out)
}

/// Writes the parts of a job with their reasons and the pieces of pipe with
/// their ends.
///
/// # Errors
/// Those of `out`.
pub fn parts(
    job: &str,
    takeoff: &Takeoff,
    why: &dyn Fn(Because) -> String,
    ends: &dyn Fn(u32) -> (String, String),
    out: &mut dyn Write,
) -> io::Result<()> {
    let lines: Vec<_> = takeoff
        .lines
        .iter()
        .map(|line| {
            let because: Vec<_> = line.because.iter().map(|because| why(*because)).collect();
            with_key(
                &line.key,
                json!({
                    "words": line.words,
                    "quantity": line.quantity,
                    "unit": line.unit,
                    "because": because,
                }),
            )
        })
        .collect();
    let pipe: Vec<_> = takeoff
        .pipe
        .iter()
        .map(|pipe| {
            let pieces: Vec<_> = pipe
                .pieces
                .iter()
                .map(|piece| {
                    let (from, to) = ends(piece.run);
                    json!({ "length_mm": mm(piece.length), "from": from, "to": to })
                })
                .collect();
            json!({
                "system": pipe.key.system,
                "size": pipe.size.to_string(),
                "words": pipe.words,
                "length_mm": mm(pipe.end_to_end),
                "centre_to_centre_mm": mm(pipe.centre_to_centre),
                "pieces": pieces,
            })
        })
        .collect();
    let joints: Map<_, _> = takeoff
        .joints
        .iter()
        .map(|joint| (joint.size.to_string(), Value::from(joint.count)))
        .collect();
    let value = json!({
        "job": job,
        "system": takeoff.system_title,
        "lines": lines,
        "pipe": pipe,
        "joints": joints,
        "drops": takeoff.drops,
        "drains": takeoff.drains,
        "assumptions": takeoff.assumptions,
    });
    written(&value, out)
}

/// Adds the catalog row that a part asks for.
fn with_key(key: &PartKey, mut value: Value) -> Value {
    value["part"] = Value::from(key.part.clone());
    value["system"] = Value::from(key.system.clone());
    value["size"] = Value::from(key.size.to_string());
    value
}

fn mm(length: Length) -> Value {
    number(&length.to_mm_text())
}

/// A printed decimal as a number, whole where it is whole.
fn number(text: &str) -> Value {
    serde_json::from_str(text).unwrap_or_else(|_| Value::from(text))
}

fn written(value: &Value, out: &mut dyn Write) -> io::Result<()> {
    serde_json::to_writer_pretty(&mut *out, value)?;
    writeln!(out)
}

#[cfg(test)]
mod tests {
    use super::{parts, quote};
    use crate::output::fixture;
    use serde_json::{Value, json};

    fn read(write: impl FnOnce(&mut Vec<u8>)) -> Value {
        let mut bytes = Vec::new();
        write(&mut bytes);
        serde_json::from_slice(&bytes).unwrap()
    }

    #[test]
    fn the_quote_has_its_shape() {
        let value = read(|out| quote(&fixture::short(), out).unwrap());
        assert_eq!(
            value["sections"],
            json!([{
                "title": "Fittings",
                "lines": [
                    { "text": "Black iron elbow 90, 1in", "quantity": 6, "unit": "each",
                      "unit_price": "3.85", "amount": "23.10" },
                    { "text": "Black iron elbow 90, 3/4in", "quantity": 12, "unit": "each",
                      "unit_price": "2.35", "amount": "28.20" },
                ],
                "subtotal": "51.30",
            }])
        );
        assert_eq!(value["subtotal"], "51.30");
        assert_eq!(value["tax"], "170.01");
        assert_eq!(value["total"], "221.31");
        assert_eq!(value["currency"], "USD");
        assert_eq!(value["date"], "2026-10-01");
        assert_eq!(value["missing"], json!([]));
    }

    #[test]
    fn a_missing_price_leaves_no_total() {
        let value = read(|out| quote(&fixture::incomplete(), out).unwrap());
        assert_eq!(value["total"], Value::Null);
        assert_eq!(
            value["missing"][0],
            json!({
                "part": "cross", "system": "black-iron", "size": "3/4in",
                "words": "black iron cross", "quantity": 4, "unit": "each",
                "reason": "the catalog has crosses of 1in only",
                "row": "cross,black-iron,3/4in,black iron cross,each,1,,USD,,,,",
            })
        );
        assert_eq!(value["sections"][1]["lines"][5]["amount"], Value::Null);
    }

    #[test]
    fn the_parts_have_their_shape() {
        let ends = |run| (format!("place {run}"), "entry".to_owned());
        let value = read(|out| {
            parts(
                "Millrace",
                &fixture::takeoff(),
                &|_| String::new(),
                &ends,
                out,
            )
            .unwrap();
        });
        assert_eq!(value["job"], "Millrace");
        assert_eq!(
            value["lines"][1],
            json!({
                "part": "elbow-90", "system": "black-iron", "size": "3/4in",
                "words": "black iron elbow 90", "quantity": 12, "unit": "each", "because": [],
            })
        );
        assert_eq!(
            value["pipe"],
            json!([{
                "system": "black-iron", "size": "1in", "words": "black iron pipe",
                "length_mm": 3810.397, "centre_to_centre_mm": 3900,
                "pieces": [
                    { "length_mm": 2500, "from": "place 0", "to": "entry" },
                    { "length_mm": 1310.481, "from": "place 1", "to": "entry" },
                ],
            }])
        );
        assert_eq!(value["joints"], json!({ "1in": 57, "3/4in": 103 }));
    }
}

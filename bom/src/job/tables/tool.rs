//! `tools` of an outlet: what hangs on it.

use crate::finding::Finding;
use crate::job::fields::Fields;
use crate::job::read::Reader;
use crate::job::{DropKind, Hose, Tool};
use crate::quantity::{AirFlow, Length, Pressure, QuantityError, Units};
use crate::source::Spanned;
use toml::de::DeValue;

/// The tools that can be read.
pub(super) fn tools(fields: &Fields<'_>, kind: Option<&DropKind>, r: &mut Reader<'_>) -> Vec<Tool> {
    fields
        .list("tools", &mut r.findings)
        .into_iter()
        .filter_map(|item| tool(item, kind, r))
        .collect()
}

fn tool(
    value: &toml::Spanned<DeValue<'_>>,
    kind: Option<&DropKind>,
    r: &mut Reader<'_>,
) -> Option<Tool> {
    const KNOWN: [&str; 7] = ["tool", "air", "pressure", "share", "hose", "side", "note"];
    let fields = Fields::of("a tool", value, &KNOWN, &mut r.findings)?;
    let units = r.units;
    let name = fields.text("tool", &mut r.findings);
    let air = fields.quantity("air", AirFlow::parse, &mut r.findings);
    if fields.value("tool").is_none() && fields.value("air").is_none() {
        r.findings.push(Finding::unreadable(
            "tool-says-nothing",
            fields.span,
            "neither `tool` nor `air` says what hangs here",
            "write { tool = \"sander\" } or { air = \"14 cfm\" }",
        ));
        return None;
    }
    Some(Tool {
        span: fields.span,
        name: name.map(Reader::owned),
        air,
        pressure: fields.quantity("pressure", Pressure::parse, &mut r.findings),
        share: fields.quantity("share", share, &mut r.findings),
        hose: fields.quantity("hose", |text| hose(text, units), &mut r.findings),
        side: side(&fields, kind, r),
        note: fields.text("note", &mut r.findings).map(Reader::owned),
    })
}

/// Reads `0.6` or `60 %`.
fn share(text: &str) -> Result<f64, QuantityError> {
    let text = text.trim();
    let (number, whole) = match text.strip_suffix('%') {
        Some(number) => (number, 100.0),
        None => (text, 1.0),
    };
    number
        .trim()
        .parse::<f64>()
        .ok()
        .map(|number| number / whole)
        .filter(|share| (0.0..=1.0).contains(share))
        .ok_or_else(|| {
            QuantityError::new(
                format!("`{text}` is no share of the time"),
                "write a number from 0 to 1, like 0.6: the share of the time in which it runs",
            )
        })
}

/// Reads `25ft x 3/8in`: a length and a bore.
fn hose(text: &str, units: Units) -> Result<Hose, QuantityError> {
    let (length, bore) = text.split_once(['x', 'X', '×']).ok_or_else(|| {
        QuantityError::new(
            format!("`{}` is not a length and a bore", text.trim()),
            "write it like \"25ft x 3/8in\" or \"8m x 10mm\"",
        )
    })?;
    Ok(Hose {
        length: Length::parse(length, units)?,
        bore: Length::parse(bore, units)?,
    })
}

/// The side that a tool hangs on: one that its kind of drop has.
fn side(
    fields: &Fields<'_>,
    kind: Option<&DropKind>,
    r: &mut Reader<'_>,
) -> Option<Spanned<usize>> {
    let value = fields.value("side")?;
    let span = value.span().into();
    let DeValue::Integer(number) = value.get_ref() else {
        r.findings.push(Finding::unreadable(
            "wrong-type",
            span,
            "`side` must be the number of a side",
            "write side = 1 or side = 2, without quotes",
        ));
        return None;
    };
    let sides = kind.map_or(2, |kind| kind.sides.len());
    match number.as_str().parse::<usize>() {
        Ok(side) if (1..=sides).contains(&side) => Some(Spanned::new(side, span)),
        _ => {
            r.findings.push(Finding::error(
                "side-not-there",
                span,
                format!("there is no side {}: the drop has {sides}", number.as_str()),
                "count the lists under `sides` of the drop, from 1",
            ));
            None
        }
    }
}

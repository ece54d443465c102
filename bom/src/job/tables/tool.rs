//! `tools` of an outlet: what hangs on it.

use super::{HOSE_LENGTHS, length_within};
use crate::finding::Finding;
use crate::job::fields::{Fields, unknown_name};
use crate::job::read::Reader;
use crate::job::{DropKind, Hose, Tool};
use crate::library::Library;
use crate::quantity::{AirFlow, Length, Pressure, QuantityError, Units};
use crate::source::Spanned;
use std::ops::RangeInclusive;
use toml::de::DeValue;

/// From the whip of an airbrush to the widest air hose.
const BORES: RangeInclusive<Length> = Length::from_64ths(4)..=Length::from_64ths(6 * 64);

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
    const KNOWN: [&str; 8] = [
        "tool", "air", "average", "pressure", "share", "hose", "side", "note",
    ];
    let fields = Fields::of("a tool", value, &KNOWN, &mut r.findings)?;
    let units = r.units;
    let name = fields.text("tool", &mut r.findings);
    let air = fields.quantity("air", AirFlow::parse, &mut r.findings);
    let average = fields.quantity("average", AirFlow::parse, &mut r.findings);
    let share = fields.quantity("share", share, &mut r.findings);
    let flow_said = ["air", "average"]
        .into_iter()
        .any(|key| fields.value(key).is_some());
    if fields.value("tool").is_none() && !flow_said {
        r.findings.push(Finding::unreadable(
            "tool-says-nothing",
            fields.span,
            "neither `tool` nor `air` says what hangs here",
            "write { tool = \"sander\" } or { air = \"14 cfm\" }",
        ));
        return None;
    }
    one_kind_of_flow(air, average, share, r);
    let kind_of_tool = name.and_then(|name| {
        let known = r.library.tool_called(name.value);
        if known.is_none() && !flow_said {
            r.findings.push(unknown_tool(name, r.library));
        }
        known
    });
    Some(Tool {
        span: fields.span,
        name: name.map(Reader::owned),
        kind: kind_of_tool,
        air,
        average,
        pressure: fields.quantity("pressure", Pressure::parse, &mut r.findings),
        share,
        hose: fields.quantity("hose", |text| Hose::parse(text, units), &mut r.findings),
        side: side(&fields, kind, r),
        note: fields.text("note", &mut r.findings).map(Reader::owned),
    })
}

/// A tool that is in no list, and of which the job does not say what it takes.
fn unknown_tool(name: Spanned<&str>, library: &Library) -> Finding {
    let kinds = library.tools().iter();
    let short = kinds.clone().flat_map(|kind| &kind.also);
    let known = kinds.map(|kind| &kind.name).chain(short);
    let known: Vec<&str> = known.map(String::as_str).collect();
    let mut finding = unknown_name("tool", name.value, name.span, &known);
    finding.help.push_str(
        "\nor say what it takes while it runs, beside any name: \
         air = \"14 cfm\", pressure = \"90 psi\", share = 0.3",
    );
    finding
}

/// A share of time applies to what a tool takes while it runs, and to nothing
/// else.
fn one_kind_of_flow(
    air: Option<Spanned<AirFlow>>,
    average: Option<Spanned<AirFlow>>,
    share: Option<Spanned<f64>>,
    r: &mut Reader<'_>,
) {
    let Some(average) = average else { return };
    if let Some(share) = share {
        r.findings.push(
            Finding::error(
                "average-with-share",
                average.span,
                "an average has its share of time in it already: with `share` it would be taken off twice",
                "leave `share` out, or write what the tool takes while it runs as `air`",
            )
            .related(share.span, "the share"),
        );
    }
    if let Some(air) = air.filter(|air| air.value < average.value) {
        r.findings.push(
            Finding::error(
                "average-above-air",
                average.span,
                format!(
                    "the average is {}, and while it runs the tool takes {}: an average cannot be more",
                    average.value.show(r.units),
                    air.value.show(r.units)
                ),
                "`air` is what it takes while the trigger is down, `average` what it takes over the day",
            )
            .related(air.span, "while it runs"),
        );
    }
}

/// Reads `0.6` or `60 %`.
pub(crate) fn share(text: &str) -> Result<f64, QuantityError> {
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

impl Hose {
    /// Reads `25ft x 3/8in`: a length and a bore.
    pub(crate) fn parse(text: &str, units: Units) -> Result<Self, QuantityError> {
        let (length, bore) = text.split_once(['x', 'X', '×']).ok_or_else(|| {
            QuantityError::new(
                format!("`{}` is not a length and a bore", text.trim()),
                "write it like \"25ft x 3/8in\" or \"8m x 10mm\"",
            )
        })?;
        Ok(Self {
            length: length_within(length, units, &HOSE_LENGTHS, "length of hose")?,
            bore: length_within(bore, units, &BORES, "bore of hose")?,
        })
    }
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

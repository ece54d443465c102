//! `[drop.NAME]`: a kind of drop.

use super::device::{device_named, devices, is_made_in, plain, usual_size};
use super::main::size_choice;
use super::{OFFSETS, USUAL_DRIP_LEG, length_within};
use crate::finding::Finding;
use crate::job::fields::{Entry, Fields, one_of, read_quantity};
use crate::job::read::Reader;
use crate::job::state;
use crate::job::{DeviceUse, DropKind, Foot, LegEnd, SizeChoice, TakeOff};
use crate::library::Station;
use crate::quantity::{Length, Size};
use crate::source::{Span, Spanned};
use toml::de::DeValue;

/// Where the job says nothing of a rise or a reach.
const USUAL_OFFSET: Length = Length::from_64ths(6 * 64);

pub(in crate::job) fn drop_kind((name, value): Entry<'_>, r: &mut Reader<'_>) -> Option<DropKind> {
    const KNOWN: [&str; 9] = [
        "take_off", "size", "rise", "reach", "foot", "sides", "drip_leg", "drain", "state",
    ];
    let title = format!("[drop.{}]", name.value);
    let fields = Fields::of(title, value, &KNOWN, &mut r.findings)?;
    fields.require(
        &[("foot", "\"tee\""), ("sides", "[[\"valve\", \"coupler\"]]")],
        &mut r.findings,
    );
    let take_off = match fields.text("take_off", &mut r.findings) {
        Some(text) => {
            let words = [
                ("top", TakeOff::Top),
                ("side", TakeOff::Side),
                ("bottom", TakeOff::Bottom),
            ];
            one_of("take-off", text, &words, &mut r.findings)?.value
        }
        None => TakeOff::Top,
    };
    let size = size_choice(&fields, "size", r);
    let state = state::read(&fields, &state::ANY, r);
    let units = r.units;
    let mut offset = |key, what| {
        let read = |text: &str| length_within(text, units, &OFFSETS, what);
        fields.quantity(key, read, &mut r.findings)
    };
    let (rise, reach) = (offset("rise", "rise"), offset("reach", "reach"));
    let drip_leg = offset("drip_leg", "drip leg");
    let foot = fields.text("foot", &mut r.findings).and_then(|text| {
        let words = [
            ("cross", Foot::Cross),
            ("tee", Foot::Tee),
            ("elbow", Foot::Elbow),
        ];
        one_of("foot", text, &words, &mut r.findings)
    });
    let sides = sides(&fields, r);
    let drain = drain(&fields, r);
    let foot = foot?;
    sides_fit_foot(&fields, &name.value, foot, &sides, r);
    if foot.value == Foot::Elbow
        && let Some(span) = drip_leg
            .map(|length| length.span)
            .or(drain.and_then(|(end, span)| span.filter(|_| end != LegEnd::Cap)))
    {
        r.findings.push(
            Finding::error(
                "elbow-foot-with-drain",
                span,
                "a foot that is an elbow has no drip leg to drain",
                "take foot = \"tee\", or leave out `drip_leg` and `drain`",
            )
            .related(foot.span, "the foot"),
        );
    }
    if foot.value != Foot::Elbow && drip_leg.is_none() {
        r.assumptions.push(format!(
            "Drops of the kind {} get a drip leg of {} (common practice, no source).",
            name.value,
            USUAL_DRIP_LEG.show(units)
        ));
    }
    Some(DropKind {
        take_off,
        size: size.map_or(SizeChoice::Auto, |size| size.value),
        size_span: size.map_or(name.span, |size| size.span),
        rise: rise.map_or(USUAL_OFFSET, |length| length.value),
        reach: reach.map_or(USUAL_OFFSET, |length| length.value),
        foot: foot.value,
        sides,
        drip_leg: drip_leg.map_or(USUAL_DRIP_LEG, |length| length.value),
        drain: drain?.0,
        state,
        name,
    })
}

fn sides(fields: &Fields<'_>, r: &mut Reader<'_>) -> Vec<Vec<Spanned<DeviceUse>>> {
    let mut sides = Vec::new();
    for side in fields.list("sides", &mut r.findings) {
        let DeValue::Array(items) = side.get_ref() else {
            r.findings.push(Finding::unreadable(
                "wrong-type",
                side.span().into(),
                "each side is a list of devices",
                "write sides = [[\"valve\", \"coupler\"]], with a list for each side",
            ));
            continue;
        };
        let items: Vec<_> = items.iter().collect();
        let devices = devices("sides", &items, Station::Side, r);
        if devices.len() == items.len() {
            ends_openly(&devices, side.span().into(), r);
        }
        sides.push(devices);
    }
    sides
}

/// A side must end in what air leaves by, and nothing can stand behind that.
fn ends_openly(devices: &[Spanned<DeviceUse>], side: Span, r: &mut Reader<'_>) {
    let library = r.library;
    let is_open = |used: &Spanned<DeviceUse>| library.devices()[used.value.device].outlet.is_none();
    if let Some(used) = devices.iter().rev().skip(1).find(|used| is_open(used)) {
        r.findings.push(Finding::error(
            "device-behind-outlet",
            used.span,
            "nothing can stand behind this device: air leaves by it",
            "put it last on its side",
        ));
    }
    if !devices.last().is_some_and(is_open) {
        r.findings.push(Finding::error(
            "side-without-outlet",
            devices.last().map_or(side, |used| used.span),
            "this side ends in nothing that a hose can be put on",
            "end it with \"coupler\"",
        ));
    }
}

fn sides_fit_foot(
    fields: &Fields<'_>,
    drop: &str,
    foot: Spanned<Foot>,
    sides: &[Vec<Spanned<DeviceUse>>],
    r: &mut Reader<'_>,
) {
    let (name, wanted) = match foot.value {
        Foot::Cross => ("cross", 2),
        Foot::Tee => ("tee", 1),
        Foot::Elbow => ("elbow", 1),
    };
    let Some(value) = fields.value("sides") else {
        return;
    };
    if matches!(value.get_ref(), DeValue::Array(_)) && sides.len() != wanted {
        let wanted = if wanted == 1 { "one side" } else { "two sides" };
        r.findings.push(
            Finding::error(
                "sides-do-not-fit-foot",
                value.span().into(),
                format!(
                    "a foot that is a {name} has {wanted}, and `{drop}` gives {}",
                    sides.len()
                ),
                "a cross has two sides, a tee and an elbow have one",
            )
            .related(foot.span, "the foot"),
        );
    }
}

fn drain(fields: &Fields<'_>, r: &mut Reader<'_>) -> Option<(LegEnd, Option<Span>)> {
    let usual = |r: &Reader<'_>| device_named("drain-valve", r);
    let Some(text) = fields.text("drain", &mut r.findings) else {
        if fields.value("drain").is_some() {
            return None;
        }
        let device = usual(r)?;
        usual_size(device, r);
        return Some((LegEnd::Drain(plain(device)), None));
    };
    let (word, size) = match text.value.trim().split_once(' ') {
        Some((word, size)) => (word, Some(size)),
        None => (text.value.trim(), None),
    };
    let kinds = [
        ("valve", Some("drain-valve")),
        ("automatic", Some("automatic-drain")),
        ("none", None),
    ];
    let kind = one_of(
        "drain",
        Spanned::new(word, text.span),
        &kinds,
        &mut r.findings,
    )?;
    let Some(device) = kind.value else {
        return Some((LegEnd::Cap, Some(text.span)));
    };
    let device = device_named(device, r)?;
    let size = match size {
        Some(size) => {
            let size = read_quantity(Spanned::new(size, text.span), Size::parse, &mut r.findings)?;
            is_made_in(device, size, r);
            Some(size.value)
        }
        None => {
            usual_size(device, r);
            None
        }
    };
    let used = DeviceUse {
        device,
        size,
        length: None,
        set: None,
    };
    Some((LegEnd::Drain(used), Some(text.span)))
}

//! One function for each kind of table in the job file.

use super::fields::{Entry, Fields, one_of, read_quantity, text_of, unknown_name};
use super::read::Reader;
use super::{
    DeviceUse, Direction, DropKind, Foot, Leg, LegEnd, Main, MainDrain, Mark, Outlet, Room,
    SizeChoice, Straight, Supply, TakeOff, Threading, Unions, Wall,
};
use crate::finding::Finding;
use crate::library::{Gender, Station};
use crate::quantity::{AirFlow, Fall, Length, Pressure, QuantityError, Size, Volume};
use crate::source::{Span, Spanned};
use toml::de::DeValue;

/// Where the job says nothing of a rise or a reach.
const USUAL_OFFSET: Length = Length::from_64ths(6 * 64);
/// Where the job says nothing of a drip leg.
const USUAL_DRIP_LEG: Length = Length::from_64ths(8 * 64);

pub(super) fn room((name, value): Entry<'_>, r: &mut Reader<'_>) -> Option<Room> {
    let title = format!("[room.{}]", name.value);
    let fields = Fields::of(title, value, &["size", "eave"], &mut r.findings)?;
    fields.require(&[("size", "\"48-0 x 32-0\"")], &mut r.findings);
    let units = r.units;
    let eave = fields.quantity("eave", |text| Length::parse(text, units), &mut r.findings);
    let size = fields.quantity(
        "size",
        |text| {
            let (a, b) = text.split_once(['x', 'X', '×']).ok_or_else(|| {
                QuantityError::new(
                    format!("`{text}` is not a room's size"),
                    "write east-west x north-south, like \"48-0 x 32-0\"",
                )
            })?;
            Ok((Length::parse(a, units)?, Length::parse(b, units)?))
        },
        &mut r.findings,
    )?;
    Some(Room {
        name,
        east_west: size.value.0,
        north_south: size.value.1,
        eave,
    })
}

pub(super) fn supply((name, value): Entry<'_>, r: &mut Reader<'_>) -> Option<Supply> {
    const KNOWN: [&str; 8] = [
        "free_air", "cut_in", "cut_out", "relief", "tank", "port", "height", "connect",
    ];
    let title = format!("[supply.{}]", name.value);
    let fields = Fields::of(title, value, &KNOWN, &mut r.findings)?;
    fields.require(
        &[("port", "\"1in female\""), ("height", "\"3-6\"")],
        &mut r.findings,
    );
    let units = r.units;
    let free_air = fields.quantity("free_air", AirFlow::parse, &mut r.findings);
    let tank = fields.quantity("tank", Volume::parse, &mut r.findings);
    let mut pressure = |key| fields.quantity(key, Pressure::parse, &mut r.findings);
    let (cut_in, cut_out, relief) = (pressure("cut_in"), pressure("cut_out"), pressure("relief"));
    in_order(("cut_in", cut_in), ("cut_out", cut_out), r);
    in_order(("cut_out", cut_out), ("relief", relief), r);
    let port = port(&fields, r);
    let height = fields.quantity("height", |text| Length::parse(text, units), &mut r.findings);
    let items = fields.list("connect", &mut r.findings);
    let connect = devices("connect", &items, Station::Supply, r);
    let (port, port_gender) = port?;
    Some(Supply {
        line: r.line(name.span),
        name,
        free_air: free_air.map(|flow| flow.value),
        cut_in: cut_in.map(|pressure| pressure.value),
        cut_out: cut_out.map(|pressure| pressure.value),
        relief: relief.map(|pressure| pressure.value),
        tank: tank.map(|volume| volume.value),
        port,
        port_gender,
        height: height?,
        connect,
    })
}

fn in_order(
    (low_name, low): (&str, Option<Spanned<Pressure>>),
    (high_name, high): (&str, Option<Spanned<Pressure>>),
    r: &mut Reader<'_>,
) {
    let (Some(low), Some(high)) = (low, high) else {
        return;
    };
    if low.value >= high.value {
        r.findings.push(
            Finding::error(
                "pressures-out-of-order",
                low.span,
                format!(
                    "`{low_name}` is {} and `{high_name}` is {}: it must be lower",
                    low.value.show(r.units),
                    high.value.show(r.units)
                ),
                "read both from the compressor: cut-in, then cut-out, then the relief valve",
            )
            .related(high.span, format!("`{high_name}`")),
        );
    }
}

fn port(fields: &Fields<'_>, r: &mut Reader<'_>) -> Option<(Size, Gender)> {
    let text = fields.text("port", &mut r.findings)?;
    let (size, gender) = match text.value.trim().rsplit_once(' ') {
        Some((size, "female")) => (size, Gender::Female),
        Some((size, "male")) => (size, Gender::Male),
        _ => {
            r.assumptions.push(format!(
                "The tank's port of {} is taken as a female thread.",
                text.value
            ));
            (text.value, Gender::Female)
        }
    };
    let size = read_quantity(Spanned::new(size, text.span), Size::parse, &mut r.findings)?;
    Some((size.value, gender))
}

pub(super) fn main(
    value: &toml::Spanned<DeValue<'_>>,
    r: &mut Reader<'_>,
) -> Option<(Main, usize)> {
    const KNOWN: [&str; 6] = ["system", "size", "height", "fall", "unions", "threading"];
    let fields = Fields::of("[main]", value, &KNOWN, &mut r.findings)?;
    fields.require(
        &[
            ("system", "\"black-iron\""),
            ("size", "\"auto\""),
            ("height", "\"11-0\""),
        ],
        &mut r.findings,
    );
    let units = r.units;
    let system = system(&fields, r);
    let size = size_choice(&fields, "size", r);
    let height = fields.quantity("height", |text| Length::parse(text, units), &mut r.findings);
    let fall_text = fields.text("fall", &mut r.findings);
    let fall = match fall_text {
        Some(text) => read_quantity(text, Fall::parse, &mut r.findings)?,
        None => {
            if fields.value("fall").is_none() {
                r.assumptions
                    .push("No fall is stated: the main is taken as level.".to_owned());
            }
            Spanned::new(Fall::LEVEL, fields.span)
        }
    };
    let unions = match fields.text("unions", &mut r.findings) {
        Some(text) => {
            let words = [
                ("none", Unions::None),
                ("loops", Unions::Loops),
                ("service", Unions::Service),
            ];
            one_of("policy for unions", text, &words, &mut r.findings)?.value
        }
        None => Unions::default(),
    };
    let threading = match fields.text("threading", &mut r.findings) {
        Some(text) => {
            let words = [("cut", Threading::Cut), ("bought", Threading::Bought)];
            one_of("kind of threading", text, &words, &mut r.findings)?.value
        }
        None => Threading::default(),
    };
    let size = size?;
    let main = Main {
        threading,
        unions,
        size: size.value,
        size_span: size.span,
        height: height?,
        fall,
        fall_text: fall_text
            .map_or("level", |text| text.value)
            .trim()
            .to_owned(),
    };
    Some((main, system?))
}

fn system(fields: &Fields<'_>, r: &mut Reader<'_>) -> Option<usize> {
    let text = fields.text("system", &mut r.findings)?;
    let name = text.value.trim();
    let systems = r.library.systems();
    if let Some(index) = systems.iter().position(|system| system.name == name) {
        return Some(index);
    }
    let known: Vec<&str> = systems.iter().map(|system| system.name.as_str()).collect();
    let refused = r.library.refused().iter().find(|refused| {
        name.to_lowercase()
            .split(['-', ' ', '_'])
            .any(|word| word == refused.name)
    });
    r.findings.push(match refused {
        Some(refused) => Finding::error(
            "plastic-not-for-air",
            text.span,
            format!("`{name}` is refused: {}", refused.reason),
            format!(
                "use pipe made for compressed air ({}); see {}",
                known.join(", "),
                refused.source
            ),
        ),
        None => unknown_name("pipe system", name, text.span, &known),
    });
    None
}

fn size_choice(fields: &Fields<'_>, key: &str, r: &mut Reader<'_>) -> Option<Spanned<SizeChoice>> {
    fields.quantity(
        key,
        |text| match text.trim() {
            "auto" => Ok(SizeChoice::Auto),
            other => Size::parse(other).map(SizeChoice::Given),
        },
        &mut r.findings,
    )
}

pub(super) fn leg(
    number: usize,
    value: &toml::Spanned<DeValue<'_>>,
    r: &mut Reader<'_>,
) -> Option<Leg> {
    const KNOWN: [&str; 8] = ["from", "go", "to", "along", "room", "size", "marks", "left"];
    let fields = Fields::of("[[leg]]", value, &KNOWN, &mut r.findings)?;
    fields.require(&[("go", "\"north 16-0\"")], &mut r.findings);
    let units = r.units;
    let along = fields.text("along", &mut r.findings).and_then(|text| {
        let walls = [
            ("north wall", Wall::North),
            ("south wall", Wall::South),
            ("east wall", Wall::East),
            ("west wall", Wall::West),
        ];
        one_of("wall", text, &walls, &mut r.findings)
    });
    let room = fields.text("room", &mut r.findings).map(Reader::owned);
    let from = fields.text("from", &mut r.findings).map(Reader::owned);
    let to = fields.text("to", &mut r.findings).map(Reader::owned);
    let size = size_choice(&fields, "size", r);
    let left = fields.quantity("left", |text| Length::parse(text, units), &mut r.findings);
    let steps = fields.one_or_list("go");
    let straights: Vec<_> = steps
        .iter()
        .filter_map(|step| {
            let text = text_of("go", step, &mut r.findings)?;
            straight(text, r)
        })
        .collect();
    let marks = fields
        .entries("marks", &mut r.findings)
        .into_iter()
        .filter_map(|entry| mark(entry, r))
        .collect();
    // A leg with a straight that could not be read has no trustworthy length.
    if straights.len() < steps.len() || straights.is_empty() {
        if steps.is_empty() && fields.value("go").is_some() {
            r.findings.push(Finding::unreadable(
                "empty-leg",
                fields.span,
                "the leg goes nowhere: `go` is empty",
                "write the way, like go = \"north 16-0\"",
            ));
        }
        return None;
    }
    Some(Leg {
        number,
        line: r.line(fields.span),
        span: fields.span,
        from,
        to,
        along,
        room,
        size,
        straights,
        marks,
        left,
    })
}

fn straight(text: Spanned<&str>, r: &mut Reader<'_>) -> Option<Spanned<Straight>> {
    let written = text.value.trim();
    let Some((word, length)) = written.split_once(char::is_whitespace) else {
        r.findings.push(Finding::unreadable(
            "straight",
            text.span,
            format!("`{written}` is not a direction and a length"),
            "write it like \"north 16-0\" or \"up 2m\"",
        ));
        return None;
    };
    let direction = one_of(
        "direction",
        Spanned::new(word, text.span),
        &Direction::WORDS,
        &mut r.findings,
    );
    let units = r.units;
    let length = read_quantity(
        Spanned::new(length, text.span),
        |text| match Length::parse(text, units)? {
            Length::ZERO => Err(QuantityError::new(
                "a straight of no length",
                "leave it out, or give its length",
            )),
            length => Ok(length),
        },
        &mut r.findings,
    );
    Some(Spanned::new(
        Straight {
            direction: direction?.value,
            length: length?.value,
        },
        text.span,
    ))
}

fn mark((name, value): Entry<'_>, r: &mut Reader<'_>) -> Option<Mark> {
    let text = match value.get_ref() {
        DeValue::Integer(number) => Spanned::new(number.as_str(), value.span().into()),
        DeValue::Float(number) => Spanned::new(number.as_str(), value.span().into()),
        _ => text_of(&name.value, value, &mut r.findings)?,
    };
    let (reading, back) = match text.value.trim().strip_suffix("back") {
        Some(reading) => (reading, true),
        None => (text.value, false),
    };
    let units = r.units;
    let reading = read_quantity(
        Spanned::new(reading, text.span),
        |text| Length::parse(text, units),
        &mut r.findings,
    )?;
    Some(Mark {
        name,
        reading,
        back,
    })
}

pub(super) fn main_drain((name, value): Entry<'_>, r: &mut Reader<'_>) -> Option<MainDrain> {
    const KNOWN: [&str; 4] = ["valve", "kind", "size", "drip_leg"];
    let title = format!("[drain.{}]", name.value);
    let fields = Fields::of(title, value, &KNOWN, &mut r.findings)?;
    let valve_size = fields.quantity("valve", Size::parse, &mut r.findings);
    let size = fields.quantity("size", Size::parse, &mut r.findings);
    let units = r.units;
    let drip_leg = fields.quantity(
        "drip_leg",
        |text| Length::parse(text, units),
        &mut r.findings,
    );
    let low_point = match fields.text("kind", &mut r.findings) {
        Some(text) => {
            let kinds = [("low-point", true), ("drip-leg", false)];
            one_of("kind of drain", text, &kinds, &mut r.findings)?.value
        }
        None => true,
    };
    let drip_leg = drip_leg.map_or_else(
        || {
            r.assumptions.push(format!(
                "The drain at {} gets a drip leg of 8 in (common practice, no source).",
                name.value
            ));
            USUAL_DRIP_LEG
        },
        |length| length.value,
    );
    let device = device_named("drain-valve", r)?;
    match valve_size {
        Some(size) => is_made_in(device, size, r),
        None => usual_size(device, r),
    }
    Some(MainDrain {
        line: r.line(name.span),
        name,
        valve: DeviceUse {
            device,
            size: valve_size.map(|size| size.value),
            length: None,
        },
        drip_leg,
        size: size.map(|size| size.value),
        low_point,
    })
}

pub(super) fn drop_kind((name, value): Entry<'_>, r: &mut Reader<'_>) -> Option<DropKind> {
    const KNOWN: [&str; 8] = [
        "take_off", "size", "rise", "reach", "foot", "sides", "drip_leg", "drain",
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
    let units = r.units;
    let mut length = |key| fields.quantity(key, |text| Length::parse(text, units), &mut r.findings);
    let (rise, reach, drip_leg) = (length("rise"), length("reach"), length("drip_leg"));
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
            "Drops of the kind {} get a drip leg of 8 in (common practice, no source).",
            name.value
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
    };
    Some((LegEnd::Drain(used), Some(text.span)))
}

const fn plain(device: usize) -> DeviceUse {
    DeviceUse {
        device,
        size: None,
        length: None,
    }
}

fn device_named(name: &str, r: &Reader<'_>) -> Option<usize> {
    r.library
        .devices()
        .iter()
        .position(|device| device.name == name)
}

fn devices(
    key: &str,
    items: &[&toml::Spanned<DeValue<'_>>],
    station: Station,
    r: &mut Reader<'_>,
) -> Vec<Spanned<DeviceUse>> {
    items
        .iter()
        .filter_map(|item| {
            let text = text_of(key, item, &mut r.findings)?;
            device_use(text, station, r)
        })
        .collect()
}

/// Reads `valve`, `filter 1/2in`, `hose 24in` or `hose 3/4in x 24in`.
fn device_use(
    text: Spanned<&str>,
    station: Station,
    r: &mut Reader<'_>,
) -> Option<Spanned<DeviceUse>> {
    let written = text.value.trim();
    let (word, rest) = written.split_once(' ').unwrap_or((written, ""));
    let rest = rest.trim();
    let library = r.library;
    let Some(index) = library
        .devices()
        .iter()
        .position(|device| device.name == word && device.may_stand(station))
    else {
        let names: Vec<&str> = library
            .devices()
            .iter()
            .filter(|device| device.may_stand(station))
            .map(|device| device.name.as_str())
            .collect();
        r.findings.push(unknown_name(
            "device that stands here called",
            word,
            text.span,
            &names,
        ));
        return None;
    };
    let device = &library.devices()[index];
    let (size, length) = match (device.has_length, rest.split_once('x')) {
        (true, Some((size, length))) => (size.trim(), length.trim()),
        (true, None) => ("", rest),
        (false, _) => (rest, ""),
    };
    if device.has_length && length.is_empty() {
        r.findings.push(Finding::unreadable(
            "hose-without-length",
            text.span,
            format!("the `{word}` has no length"),
            format!("write it like \"{word} 24in\""),
        ));
        return None;
    }
    let mut used = plain(index);
    if !size.is_empty() {
        let size = read_quantity(Spanned::new(size, text.span), Size::parse, &mut r.findings)?;
        is_made_in(index, size, r);
        used.size = Some(size.value);
    } else {
        usual_size(index, r);
    }
    if !length.is_empty() {
        let units = r.units;
        let parse = |text: &str| Length::parse(text, units);
        let length = read_quantity(Spanned::new(length, text.span), parse, &mut r.findings)?;
        used.length = Some(length.value);
    }
    Some(Spanned::new(used, text.span))
}

/// Says which size a device has where the job says none.
fn usual_size(device: usize, r: &mut Reader<'_>) {
    let device = &r.library.devices()[device];
    if let Some(size) = device.default_size {
        r.assumptions.push(format!(
            "{}s whose size the job leaves open are {size}, or the line's size where that is smaller (common practice, no source).",
            capital(&device.name.replace('-', " "))
        ));
    }
}

/// The same words with a capital letter.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

fn is_made_in(device: usize, size: Spanned<Size>, r: &mut Reader<'_>) {
    let device = &r.library.devices()[device];
    if !device.sizes.contains(&size.value) {
        let sizes: Vec<String> = device.sizes.iter().map(ToString::to_string).collect();
        r.findings.push(Finding::error(
            "size-not-made",
            size.span,
            format!("a {} is not made in {}", device.name, size.value),
            format!("it is made in {}", sizes.join(", ")),
        ));
    }
}

/// `declared` are the kinds of drops that the file defines, `read` those that
/// could be read: an outlet of a broken kind has no drop, and no finding.
pub(super) fn outlet(
    (name, value): Entry<'_>,
    declared: &[&str],
    read: &[DropKind],
    r: &mut Reader<'_>,
) -> Option<Outlet> {
    let title = format!("[outlet.{}]", name.value);
    let fields = Fields::of(title, value, &["drop", "height"], &mut r.findings)?;
    fields.require(&[("drop", "\"…\""), ("height", "\"4-0\"")], &mut r.findings);
    let units = r.units;
    let height = fields.quantity("height", |text| Length::parse(text, units), &mut r.findings);
    let drop = fields.text("drop", &mut r.findings).and_then(|text| {
        if !declared.contains(&text.value) {
            r.findings.push(unknown_name(
                "kind of drop",
                text.value,
                text.span,
                declared,
            ));
        }
        read.iter().position(|drop| drop.name.value == text.value)
    });
    Some(Outlet {
        line: r.line(name.span),
        name,
        drop,
        height: height?,
    })
}

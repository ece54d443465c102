//! `[main]`: defaults for every leg.

use super::{HEIGHTS, bounded, length_within};
use crate::finding::Finding;
use crate::job::fields::{Fields, one_of, read_quantity, unknown_name};
use crate::job::read::Reader;
use crate::job::unmeasured;
use crate::job::{Main, SizeChoice, Threading, Unions, UnlikeMetals};
use crate::quantity::{Fall, Size, Speed};
use crate::source::Spanned;
use toml::de::DeValue;

pub(in crate::job) fn main(
    value: &toml::Spanned<DeValue<'_>>,
    r: &mut Reader<'_>,
) -> Option<(Main, usize)> {
    const KNOWN: [&str; 11] = [
        "system",
        "size",
        "height",
        "fall",
        "unions",
        "threading",
        "unlike_metals",
        "alloy",
        "speed",
        "drop_speed",
        "heat_loss",
    ];
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
    let height = |text: &str| length_within(text, units, &HEIGHTS, "height of a main");
    let height = fields
        .text_or_bare_number("height", &mut r.findings)
        .and_then(|text| r.taped(text, unmeasured::height(units, unmeasured::MAIN), height));
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
    let unlike = match fields.text("unlike_metals", &mut r.findings) {
        Some(text) => {
            let words = [
                ("insulating-union", UnlikeMetals::InsulatingUnion),
                ("brass", UnlikeMetals::Brass),
                ("bare", UnlikeMetals::Bare),
            ];
            one_of("way with unlike metals", text, &words, &mut r.findings)?.value
        }
        None => UnlikeMetals::default(),
    };
    let alloy = fields.text("alloy", &mut r.findings).map(Reader::owned);
    let speed = fields.quantity("speed", Speed::parse, &mut r.findings);
    let drop_speed = fields.quantity("drop_speed", Speed::parse, &mut r.findings);
    let heat_loss = fields.quantity(
        "heat_loss",
        |text| bounded(text, "W/m2K", 100.0, "loss of heat", "\"10 W/m2K\""),
        &mut r.findings,
    );
    let size = size?;
    let main = Main {
        speed: speed.map(|speed| speed.value),
        drop_speed: drop_speed.map(|speed| speed.value),
        unlike,
        alloy,
        heat_loss: heat_loss.map(|loss| loss.value),
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
    system_named(text, r)
}

/// The system that carries this name, for a main or a leg.
pub(super) fn system_named(text: Spanned<&str>, r: &mut Reader<'_>) -> Option<usize> {
    let name = text.value.trim();
    let systems = r.library.systems();
    let known: Vec<&str> = systems
        .iter()
        .filter(|system| system.carries_main)
        .map(|system| system.name.as_str())
        .collect();
    if let Some(index) = systems.iter().position(|system| system.name == name) {
        if systems[index].carries_main {
            return Some(index);
        }
        r.findings.push(Finding::error(
            "not-for-mains",
            text.span,
            format!("`{name}` is nipples and bushings between threads, and no pipe for a main"),
            format!("the systems are {}", known.join(", ")),
        ));
        return None;
    }
    r.findings.push(match r.library.refused_for(name) {
        Some(refused) => refused.finding(text, r.limits),
        None => unknown_name("pipe system", name, text.span, &known),
    });
    None
}

pub(super) fn size_choice(
    fields: &Fields<'_>,
    key: &str,
    r: &mut Reader<'_>,
) -> Option<Spanned<SizeChoice>> {
    fields.quantity(
        key,
        |text| match text.trim() {
            "auto" => Ok(SizeChoice::Auto),
            other => Size::parse(other).map(SizeChoice::Given),
        },
        &mut r.findings,
    )
}

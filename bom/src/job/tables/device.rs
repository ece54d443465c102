//! Devices as jobs write them: `valve`, `filter 1/2in`, `hose 24in`,
//! `regulator set 90 psi`.

use super::{HOSE_LENGTHS, length_within};
use crate::finding::Finding;
use crate::job::DeviceUse;
use crate::job::fields::{read_quantity, text_of, unknown_name};
use crate::job::read::Reader;
use crate::library::{Device, Station};
use crate::quantity::{Pressure, Size};
use crate::source::{Span, Spanned};
use toml::de::DeValue;

/// The device that can be set to a pressure.
pub(super) const REGULATOR: &str = "regulator";

/// Something is set to a pressure that has nothing to be set.
pub(super) fn set_without_regulator(span: Span, what: &str) -> Finding {
    Finding::error(
        "set-without-regulator",
        span,
        format!("{what} cannot be set to a pressure"),
        "put a regulator on the side, or leave `set` out",
    )
}

pub(super) const fn plain(device: usize) -> DeviceUse {
    DeviceUse {
        device,
        size: None,
        length: None,
        set: None,
    }
}

pub(super) fn device_named(name: &str, r: &Reader<'_>) -> Option<usize> {
    r.library
        .devices()
        .iter()
        .position(|device| device.name == name)
}

pub(super) fn devices(
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

/// The device of a name that may stand somewhere, or which ones may.
pub(super) fn standing(
    word: &str,
    span: Span,
    station: Station,
    r: &mut Reader<'_>,
) -> Option<usize> {
    let devices = r.library.devices();
    let stands = |device: &&Device| device.may_stand(station);
    let index = devices
        .iter()
        .position(|device| device.name == word && stands(&device));
    if index.is_none() {
        let names: Vec<&str> = devices
            .iter()
            .filter(stands)
            .map(|device| device.name.as_str())
            .collect();
        let what = "device that stands here called";
        r.findings.push(unknown_name(what, word, span, &names));
    }
    index
}

/// Reads `valve`, `filter 1/2in`, `hose 24in`, `hose 3/4in x 24in` or
/// `regulator 1/2in set 90 psi`.
fn device_use(
    text: Spanned<&str>,
    station: Station,
    r: &mut Reader<'_>,
) -> Option<Spanned<DeviceUse>> {
    let written = text.value.trim();
    let (word, rest) = written.split_once(' ').unwrap_or((written, ""));
    let (rest, set) = match rest.split_once("set ") {
        Some((rest, set)) => (rest.trim(), Some(Spanned::new(set, text.span))),
        None => (rest.trim(), None),
    };
    let index = standing(word, text.span, station, r)?;
    let device = &r.library.devices()[index];
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
    if let Some(set) = set {
        if word != REGULATOR {
            r.findings
                .push(set_without_regulator(text.span, &format!("a `{word}`")));
            return None;
        }
        used.set = Some(read_quantity(set, Pressure::parse, &mut r.findings)?.value);
    }
    if !size.is_empty() {
        let size = read_quantity(Spanned::new(size, text.span), Size::parse, &mut r.findings)?;
        is_made_in(index, size, r);
        used.size = Some(size.value);
    } else {
        usual_size(index, r);
    }
    if !length.is_empty() {
        let units = r.units;
        let parse =
            |text: &str| length_within(text, units, &HOSE_LENGTHS, &format!("length of a {word}"));
        let length = read_quantity(Spanned::new(length, text.span), parse, &mut r.findings)?;
        used.length = Some(length.value);
    }
    Some(Spanned::new(used, text.span))
}

/// Says which size a device has where the job says none.
pub(super) fn usual_size(device: usize, r: &mut Reader<'_>) {
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

pub(super) fn is_made_in(device: usize, size: Spanned<Size>, r: &mut Reader<'_>) {
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

//! The legs, and what stands in the main.

use super::Style;
use crate::job::OUTDOORS;
use crate::survey::table::{Table, key, list, quoted};
use crate::survey::{Drain, Leg, Survey, Valve};

pub(super) fn leg(leg: &Leg, survey: &Survey, style: &Style) -> String {
    let words = [leg.name.as_deref(), leg.remark.as_deref()];
    let words: Vec<&str> = words.into_iter().flatten().collect();
    let mut table = Table::new("[[leg]]", &words.join(": "));
    let mut rooms = survey
        .rooms
        .iter()
        .filter(|room| room.size.is_some() || room.name == OUTDOORS);
    let room = match &leg.room {
        Some(name) => rooms.find(|room| room.name == *name),
        None => rooms.next(),
    };
    table.maybe("from", leg.from.as_ref(), "");
    table.maybe("to", leg.to.as_ref(), "");
    // A room without a size is not in the file, and no leg follows its walls.
    if let Some(room) = room {
        table.maybe("room", leg.room.as_ref(), "");
        if room.name != OUTDOORS {
            table.maybe("along", leg.along.as_ref(), "");
        }
    }
    table.maybe("size", leg.size.as_ref(), "");
    table.maybe("fall", leg.fall.as_ref(), "");
    let go: Vec<String> = leg
        .go
        .iter()
        .map(|(way, length)| format!("{} {length}", way.word()))
        .collect();
    let lengths = || leg.go.iter().map(|(_, length)| length);
    let ask = open(lengths(), style);
    match &go[..] {
        [one] => table.text("go", one, ask),
        several => table.raw("go", list(several), ask),
    }
    if !leg.marks.is_empty() {
        let marks: Vec<String> = leg
            .marks
            .iter()
            .map(|mark| {
                let back = if mark.from_end { " back" } else { "" };
                format!(
                    "{} = {}",
                    key(&mark.name),
                    quoted(&format!("{}{back}", mark.reading))
                )
            })
            .collect();
        let readings = leg.marks.iter().map(|mark| &mark.reading);
        table.raw(
            "marks",
            format!("{{ {} }}", marks.join(", ")),
            open(readings, style),
        );
    }
    table.maybe("left", leg.left.as_ref(), "from the last mark to the end");
    table.to_text()
}

/// What to say where some of these lengths are not measured.
fn open<'a>(mut lengths: impl Iterator<Item = &'a String>, style: &Style) -> &'static str {
    match lengths.any(|length| length.trim().starts_with(['?', '~'])) {
        true => style.length(
            "to measure: write it like \"12-6\" in place of ? or ~",
            "to measure: write it like \"3810mm\" in place of ? or ~",
        ),
        false => "",
    }
}

pub(super) fn drain(drain: &Drain, style: &Style) -> String {
    let remark = match drain.falls_on {
        true => "a drip leg: the pipe falls on past it",
        false => "a low point: the main falls to it from both sides",
    };
    let mut table = Table::new(format!("[drain.{}]", key(&drain.name)), remark);
    table.text("valve", drain.valve.as_deref().unwrap_or("1/2in"), "");
    if drain.falls_on {
        table.text("kind", "drip-leg", "");
    }
    let below = "from the main's centre down to its valve";
    table.text("drip_leg", style.length("8in", "200mm"), below);
    table.to_text()
}

pub(super) fn valve(valve: &Valve) -> String {
    let header = format!("[valve.{}]", key(&valve.name));
    let mut table = Table::new(header, "shuts off what lies behind it");
    table.text("kind", valve.kind.as_deref().unwrap_or("valve"), "");
    table.maybe("size", valve.size.as_ref(), "");
    table.to_text()
}

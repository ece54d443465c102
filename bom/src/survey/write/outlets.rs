//! The kinds of drops, and the outlets.

use super::Style;
use crate::survey::table::{Table, key, list, quoted};
use crate::survey::{DropKind, Outlet, Survey, Tool, usual_drop};

/// The kinds of drops that the file needs: those of the survey, and usual ones that it names.
pub(super) fn kinds(survey: &Survey) -> Vec<DropKind> {
    let mut kinds = survey.drops.clone();
    for outlet in &survey.outlets {
        let name = outlet.kind();
        if !kinds.iter().any(|kind| kind.name == name) {
            kinds.extend(usual_drop(name));
        }
    }
    kinds
}

pub(super) fn drop_kind(kind: &DropKind, style: &Style) -> String {
    let header = format!("[drop.{}]", key(&kind.name));
    let mut table = Table::new(header, kind.remark.as_deref().unwrap_or_default());
    let take_off = kind.take_off.as_deref().unwrap_or("top");
    table.text(
        "take_off",
        take_off,
        "from the main's top, so that its water stays in it; or side, bottom",
    );
    table.text("size", kind.size.as_deref().unwrap_or("auto"), "");
    let offset = style.length("6in", "150mm");
    if take_off == "top" {
        table.text("rise", offset, "how far it goes up from the main's centre");
    }
    if take_off != "bottom" {
        table.text("reach", offset, "how far it stands over from the main");
    }
    let needed = if kind.sides.len() > 1 { "cross" } else { "tee" };
    let foot = kind.foot.as_deref().unwrap_or(needed);
    table.text(
        "foot",
        foot,
        "tee: one side and a drip leg; cross: two sides; elbow: no drip leg",
    );
    let sides: Vec<String> = kind.sides.iter().map(list).collect();
    table.raw("sides", format!("[{}]", sides.join(", ")), "");
    if foot != "elbow" {
        let drip_leg = kind
            .drip_leg
            .as_deref()
            .unwrap_or(style.length("8in", "200mm"));
        table.text(
            "drip_leg",
            drip_leg,
            "from the foot's centre down to its drain",
        );
        let drain = kind.drain.as_deref().unwrap_or("valve");
        table.text("drain", drain, "valve, automatic or none");
    }
    table.to_text()
}

pub(super) fn outlet(outlet: &Outlet, style: &Style) -> String {
    let header = format!("[outlet.{}]", key(&outlet.name));
    let mut table = Table::new(header, outlet.remark.as_deref().unwrap_or_default());
    table.text("drop", outlet.kind(), "");
    let height = outlet.height.as_deref().unwrap_or("?");
    let ask = match height.trim() {
        "?" => style.measure(height, "the outlet above the floor"),
        _ => String::new(),
    };
    table.text("height", height, &ask);
    if outlet.paint {
        table.text("quality", "paint", "");
    }
    match &outlet.tools[..] {
        [] => {
            let example = "[{ tool = \"blow gun\" }]".to_owned();
            table.example(
                "tools",
                example,
                "what hangs here: without it nobody knows how much air it takes",
            );
        }
        [one] => table.raw("tools", format!("[{}]", tool(one)), ""),
        several => {
            let lines: Vec<String> = several
                .iter()
                .map(|one| format!("  {},\n", tool(one)))
                .collect();
            table.raw("tools", format!("[\n{}]", lines.concat()), "");
        }
    }
    table.to_text()
}

fn tool(tool: &Tool) -> String {
    let pairs = [
        ("tool", &tool.tool),
        ("air", &tool.air),
        ("pressure", &tool.pressure),
        ("share", &tool.share),
        ("hose", &tool.hose),
        ("note", &tool.note),
    ];
    let said = pairs
        .into_iter()
        .filter_map(|(key, value)| Some((key, value.as_ref()?)));
    let said: Vec<String> = said
        .map(|(key, value)| format!("{key} = {}", quoted(value)))
        .collect();
    format!("{{ {} }}", said.join(", "))
}

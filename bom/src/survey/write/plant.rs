//! The compressor, and what holds for the whole main.

use super::Style;
use crate::survey::table::{Table, key, list};
use crate::survey::{Main, Supply};

pub(super) fn supply(supply: &Supply, style: &Style) -> String {
    let header = format!("[supply.{}]", key(&supply.name));
    let mut table = Table::new(header, supply.remark.as_deref().unwrap_or_default());
    let plate = "from the compressor's plate: ";
    let metric = |feet, metric| style.length(feet, metric);
    for (name, value, example, what) in [
        (
            "free_air",
            &supply.free_air,
            metric("24 cfm", "11 l/s"),
            "free air delivered, not displacement",
        ),
        (
            "cut_in",
            &supply.cut_in,
            metric("140 psi", "9.5 bar"),
            "where it starts",
        ),
        (
            "cut_out",
            &supply.cut_out,
            metric("175 psi", "12 bar"),
            "where it stops",
        ),
        (
            "relief",
            &supply.relief,
            metric("200 psi", "14 bar"),
            "setting of the relief valve",
        ),
        (
            "tank",
            &supply.tank,
            metric("80 gal", "300 l"),
            "what the tank holds",
        ),
    ] {
        table.known_or(name, value.as_ref(), example, &format!("{plate}{what}"));
    }
    match &supply.port {
        Some(port) => table.text("port", port, ""),
        None => table.text("port", "1in female", "a stand-in: look at the tank's port"),
    }
    let height = supply.height.as_deref().unwrap_or("?");
    table.text(
        "height",
        height,
        &style.measure(height, "the port above the floor"),
    );
    let usual = || {
        vec![
            "valve".to_owned(),
            format!("hose {}", style.length("24in", "600mm")),
        ]
    };
    let connect = supply.connect.clone().unwrap_or_else(usual);
    table.raw(
        "connect",
        list(&connect),
        "from the tank to the pipe, in this order",
    );
    table.to_text()
}

pub(super) fn main(main: &Main, style: &Style) -> String {
    let mut table = Table::new("[main]", "what holds for every leg");
    let system = main.system.as_deref().unwrap_or("black-iron");
    table.text("system", system, "`dripleg systems` lists them");
    let size = main.size.as_deref().unwrap_or("auto");
    let chosen = if size == "auto" {
        "chosen by the air; or a size like \"1in\""
    } else {
        ""
    };
    table.text("size", size, chosen);
    let height = main.height.as_deref().unwrap_or("?");
    table.text(
        "height",
        height,
        &style.measure(height, "pipe centre above the floor, where the main starts"),
    );
    let fall = main
        .fall
        .as_deref()
        .unwrap_or(style.length("1/8in per ft", "1 %"));
    table.text(
        "fall",
        fall,
        "away from the compressor, to the low points; or \"level\"",
    );
    table.maybe(
        "stand_off",
        main.stand_off.as_ref(),
        "from the wall to the pipe's centre",
    );
    let unions = main.unions.as_deref().unwrap_or("loops");
    table.text(
        "unions",
        unions,
        "\"none\", \"loops\" (rings and hoses) or \"service\"",
    );
    table.maybe(
        "threading",
        main.threading.as_ref(),
        "\"bought\": of ready-threaded lengths; \"cut\": threaded to measure",
    );
    table.to_text()
}

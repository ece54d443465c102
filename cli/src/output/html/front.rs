//! What is built, in a few facts.

use super::Report;
use super::pieces::{Section, bare_list};
use crate::output::words;
use bom::takeoff::Takeoff;
use maud::html;
use pricing::offer;

pub(super) fn job(report: &Report<'_>) -> Option<Section> {
    let (summary, takeoff) = (&report.plan.summary, report.takeoff);
    let mut facts = vec![
        ("Pipe", takeoff.system_title.clone()),
        ("Main", summary.main_length.show_total(summary.units)),
        ("Outlets", summary.outlets.len().to_string()),
    ];
    if !takeoff.builds_nothing() {
        facts.extend([
            ("Drains", takeoff.drains.to_string()),
            ("Pieces to cut", pieces(takeoff).to_string()),
            ("Joints", joints(takeoff).to_string()),
        ]);
    }
    let zones = &report.plan.zones;
    let weakest = zones.zones.iter();
    let weakest: Vec<String> = weakest
        .filter_map(|zone| words::weakest(zone, zones.units))
        .collect();
    Some(Section {
        id: "job",
        title: "The job",
        body: html! {
            dl.facts {
                @for (label, fact) in facts { div { dt { (label) } dd { (fact) } } }
            }
            (bare_list(&offer::scope(summary)))
            p { (words::joints(&takeoff.joints)) }
            @if !summary.supply.is_empty() {
                h3 { "Compressor and tank, as the job says" }
                p { (words::system::sentence(&summary.supply.join("; "))) }
            }
            h3 { "What the pipe carries" }
            @for text in weakest { p { (text) } }
        },
    })
}

fn pieces(takeoff: &Takeoff) -> usize {
    takeoff.pipe.iter().map(|line| line.pieces.len()).sum()
}

fn joints(takeoff: &Takeoff) -> u64 {
    takeoff.joints.iter().map(|joints| joints.count).sum()
}

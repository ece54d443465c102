//! What every part may carry, against what it can see.

use super::{Column, list, paragraph, table};
use crate::output::words;
use bom::rating::{Zone, Zones};
use std::io::{self, Write};

/// The weakest part of each zone.
///
/// # Errors
/// What the writer says.
pub fn weakest(zones: &Zones, width: usize, out: &mut dyn Write) -> io::Result<()> {
    for zone in &zones.zones {
        if let Some(text) = words::weakest(zone, zones.units) {
            writeln!(out)?;
            paragraph(out, width, &text)?;
        }
    }
    list(out, width, "Taken for the ratings", &zones.assumptions)
}

/// Every part of each zone, weakest first, and where the figures come from.
///
/// # Errors
/// What the writer says.
pub fn ratings(zones: &Zones, width: usize, out: &mut dyn Write) -> io::Result<()> {
    for zone in &zones.zones {
        writeln!(out, "\nRatings {}: {}", zone.name, zone.limit_words)?;
        let columns = [
            Column::Words,
            Column::Figures,
            Column::Figures,
            Column::Words,
        ];
        let heads = ["part", "carries", "at", "hottest place"];
        let rows = zone.items.iter().map(|item| {
            vec![
                item.what.clone(),
                words::carries(item.psi, zones.units),
                item.temperature.show(zones.units),
                item.place_words.clone(),
            ]
        });
        table(out, width, &columns, &heads, rows)?;
        list(out, width, "Sources", &sources(zone))?;
        let views = words::other_views(zone, zones.units);
        list(out, width, "Other published views, not used", &views)?;
    }
    Ok(())
}

/// Each source once, with the parts that stand on it.
fn sources(zone: &Zone) -> Vec<String> {
    let mut sources: Vec<(String, Vec<&str>)> = Vec::new();
    for item in &zone.items {
        let source = if item.words.is_empty() {
            item.source.clone()
        } else {
            format!("{}: {}", item.words, item.source)
        };
        match sources.iter_mut().find(|(known, _)| *known == source) {
            Some((_, parts)) => parts.push(&item.what),
            None => sources.push((source, vec![&item.what])),
        }
    }
    sources
        .into_iter()
        .map(|(source, parts)| format!("{}. For {}.", source, parts.join(", ")))
        .collect()
}

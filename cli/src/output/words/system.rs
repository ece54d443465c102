//! What is said of a pipe system.

use bom::quantity::{Length, Pressure, Size, Temperature, Units};
use bom::rating::Rating;
use bom::system::System;
use std::collections::BTreeSet;

/// The units of a system's own figures: millimetres where its sizes are
/// outside diameters.
pub(in crate::output) fn own_units(system: &System) -> Units {
    match system.sizes().next().map(|row| row.size) {
        Some(Size::Outside(_)) => Units::Metric,
        _ => Units::Feet,
    }
}

/// A dimension as a bare figure, inches to 1/10000 or millimetres to 1/1000;
/// nothing for none.
pub(in crate::output) fn dimension(length: Length, units: Units) -> String {
    match units {
        _ if length == Length::ZERO => String::new(),
        Units::Feet => {
            let text = format!("{:.4}", length.feet() * 12.0);
            text.trim_end_matches('0').trim_end_matches('.').to_owned()
        }
        Units::Metric => length.to_mm_text(),
    }
}

/// `1/4in to 4in`.
pub(in crate::output) fn size_range(system: &System) -> String {
    let mut sizes = system.sizes().map(|row| row.size.to_string());
    match (sizes.next(), sizes.last()) {
        (Some(first), Some(last)) => format!("{first} to {last}"),
        (Some(only), None) => only,
        (None, _) => String::new(),
    }
}

/// The length of a stick.
pub(in crate::output) fn stick(system: &System) -> String {
    system.stick.show_total(own_units(system))
}

/// Sizes as a list.
pub(in crate::output) fn sizes(sizes: &[Size]) -> String {
    let sizes: Vec<String> = sizes.iter().map(Size::to_string).collect();
    sizes.join(", ")
}

/// What a system is, in a line.
pub(in crate::output) fn facts(system: &System) -> String {
    let use_of_it = if system.carries_main {
        String::new()
    } else {
        "; for nipples and bushings, not for a main".to_owned()
    };
    format!(
        "{}: {}, {}, {}, in sticks of {}{use_of_it}",
        system.name,
        system.metal.word(),
        system.joint.word(),
        size_range(system),
        stick(system)
    )
}

/// What stands in no table of a system.
pub(in crate::output) fn notes(system: &System) -> Vec<String> {
    let units = own_units(system);
    let mut notes = Vec::new();
    if let Some(alloy) = &system.alloy {
        notes.push(format!("joints of {alloy} where a job says no other alloy"));
    }
    if let Some(threads) = &system.threads {
        notes.push(format!(
            "threads of devices are joined with {threads}; adapters are of {}",
            system.adapter_metal.word()
        ));
    }
    for used in &system.consumables {
        notes.push(format!(
            "{} is counted in packs of {} {}",
            used.part, used.pack, used.measure
        ));
    }
    if system.comes_apart {
        notes.push("joints open by hand: no unions are counted".to_owned());
    }
    let lacks: Vec<&str> = system.lacks().collect();
    if !lacks.is_empty() {
        notes.push(format!("not made: {}", lacks.join(", ")));
    }
    let lengths = |lengths: &[Length]| -> String {
        let lengths = lengths.iter().map(|length| length.show(units));
        lengths.collect::<Vec<_>>().join(", ")
    };
    if !system.nipples.is_empty() {
        notes.push(format!("nipples: close, {}", lengths(&system.nipples)));
    }
    if !system.ready.is_empty() {
        notes.push(format!("ready-threaded pipe: {}", lengths(&system.ready)));
    }
    notes.push(match system.kerf {
        Length::ZERO => "cutting takes nothing".to_owned(),
        kerf => format!("a cut takes {}", kerf.show(units)),
    });
    notes.push(format!(
        "uprights are held every {}; one shorter than {} hangs on the level pipe",
        system.upright_spacing.show_total(units),
        system.upright_free.show_total(units)
    ));
    notes.push(format!(
        "roughness of the bore {} mm",
        system.roughness_mm.value
    ));
    notes.push(growth(system, units));
    notes
}

/// How far warmth moves a length that people can picture.
fn growth(system: &System, units: Units) -> String {
    let per_f = system.growth_per_million_per_f.value / 1e6;
    match units {
        Units::Feet => format!(
            "100 ft grow by {:.2} in when 100 F warmer",
            per_f * 100.0 * 1200.0
        ),
        Units::Metric => format!(
            "30 m grow by {:.0} mm when 50 C warmer",
            per_f * 90.0 * 30_000.0
        ),
    }
}

/// Who says what, with rows of one source together:
/// `pipe 1/4in to 4in: ASME B36.10M …`.
pub(in crate::output) fn sources(system: &System) -> Vec<String> {
    let rows = system.sources();
    rows.chunk_by(|a, b| a.table == b.table && a.source == b.source)
        .filter_map(|alike| {
            let (first, last) = (alike.first()?, alike.last()?);
            let table = first.table.replace('_', " ");
            let rows = match (Size::parse(&first.row), Size::parse(&last.row)) {
                (Ok(first), Ok(last)) if first != last => format!(" {first} to {last}"),
                _ => {
                    let mut names: Vec<&str> = alike.iter().map(|row| row.row.as_str()).collect();
                    names.dedup();
                    format!(" {}", names.join(", "))
                }
            };
            Some(format!(
                "{}: {}",
                format!("{table}{rows}").trim_end(),
                first.source
            ))
        })
        .collect()
}

/// The text with a capital and a full stop.
pub(in crate::output) fn sentence(text: &str) -> String {
    capital(text) + "."
}

/// The same text with a capital at its head.
pub(in crate::output) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().into_iter().flat_map(char::to_uppercase);
    first.chain(letters).collect()
}

/// A rating as a table: its heading, its heads and its rows.
pub(in crate::output) type RatingTable = (String, Vec<String>, Vec<Vec<String>>);

/// What each rating lets each size carry, by temperature. Rows of the data
/// with the same words make one table.
pub(in crate::output) fn ratings(system: &System) -> Vec<RatingTable> {
    let units = own_units(system);
    system
        .ratings
        .chunk_by(|a, b| a.words == b.words && a.shown == b.shown)
        .filter_map(|alike| {
            let heading = rating_heading(alike.first()?, units);
            let (heads, rows) = by_size_and_temperature(alike, system, units);
            Some((heading, heads, rows))
        })
        .collect()
}

fn rating_heading(rating: &Rating, units: Units) -> String {
    let unit = match units {
        Units::Feet => "psi",
        Units::Metric => "bar",
    };
    let mut heading = format!("Rating in {unit}: {}", rating.words);
    if rating.shown {
        heading.push_str(" (another published view, not used)");
    }
    heading
}

fn by_size_and_temperature(
    ratings: &[Rating],
    system: &System,
    units: Units,
) -> (Vec<String>, Vec<Vec<String>>) {
    let carried: Vec<(Size, Vec<(Temperature, String)>)> = system
        .sizes()
        .map(|row| {
            let steps = ratings.iter().flat_map(|one| one.by_temperature(row));
            let steps = steps.map(|(up_to, psi)| (up_to, rated_figure(psi, units)));
            (row.size, steps.collect())
        })
        .filter(|(_, steps): &(Size, Vec<_>)| !steps.is_empty())
        .collect();
    let column = |up_to: &Temperature| -> Vec<&str> {
        let cells = carried.iter().map(|(_, steps)| {
            let step = steps.iter().find(|(limit, _)| limit == up_to);
            step.map_or("", |(_, figure)| figure.as_str())
        });
        cells.collect()
    };
    let steps = carried.iter().flat_map(|(_, steps)| steps);
    let temperatures: BTreeSet<Temperature> = steps.map(|(up_to, _)| *up_to).collect();
    let temperatures: Vec<Temperature> = temperatures.into_iter().collect();
    // A temperature at which nothing changes needs no column.
    let columns: Vec<(&Temperature, Vec<&str>)> = temperatures
        .iter()
        .map(|up_to| (up_to, column(up_to)))
        .collect();
    let columns: Vec<&(&Temperature, Vec<&str>)> = columns
        .chunk_by(|a, b| a.1 == b.1)
        .filter_map(<[_]>::last)
        .collect();

    let heads = columns
        .iter()
        .map(|(up_to, _)| format!("to {}", up_to.show(units)));
    let heads = std::iter::once("Size".to_owned()).chain(heads).collect();
    let rows: Vec<(Size, Vec<String>)> = carried
        .iter()
        .enumerate()
        .map(|(at, (size, _))| {
            let cells = columns.iter().map(|(_, column)| column[at].to_owned());
            (*size, cells.collect())
        })
        .collect();
    let rows = rows
        .chunk_by(|a, b| a.1 == b.1)
        .filter_map(|alike| {
            let ((first, cells), (last, _)) = (alike.first()?, alike.last()?);
            let sizes = if first == last {
                first.to_string()
            } else {
                format!("{first} to {last}")
            };
            Some(
                std::iter::once(sizes)
                    .chain(cells.iter().cloned())
                    .collect(),
            )
        })
        .collect();
    (heads, rows)
}

/// A rating as a bare figure, never rounded up: whole psi or tenths of a bar.
fn rated_figure(psi: f64, units: Units) -> String {
    match units {
        Units::Feet => format!("{:.0}", psi.floor()),
        Units::Metric => {
            // 13 bar comes back from 188.5 psi a hair below its figure.
            let bar = Pressure::from_psi(psi).kpa() / 100.0;
            format!("{:.1}", ((bar + 0.005) * 10.0).floor() / 10.0)
        }
    }
}

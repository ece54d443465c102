//! The drawings, each on its own sheet.

use super::Report;
use super::pieces::Section;
use crate::output::svg;
use bom::drawing::{Field, Sheet};
use maud::{PreEscaped, html};

pub(super) fn section(report: &Report<'_>) -> Option<Section> {
    let drawings = report.drawings;
    (!drawings.is_empty()).then(|| Section {
        id: "drawings",
        title: "Drawings",
        body: html! {
            @for sheet in drawings {
                figure id={ "drawing-" (sheet.id) } class=[lies(sheet).then_some("lying")] {
                    figcaption { (sheet.title) }
                    // A wide drawing is moved under a narrow screen, by hand or by keys.
                    div.sheet tabindex="0" role="region" aria-label={ "Drawing: " (sheet.title) } {
                        (PreEscaped(svg::inline(sheet)))
                    }
                }
            }
        },
    })
}

/// Whether a drawing is wider than paper that stands.
fn lies(sheet: &Sheet) -> bool {
    sheet.width > Field::COMMON.width
}

/// The anchor of an outlet where a drawing shows it, the first that does.
pub(super) fn of_outlet(report: &Report<'_>, number: usize) -> Option<String> {
    let id = format!("outlet-{number}");
    let shows = |sheet: &&Sheet| {
        let mut marks = sheet.marks.iter();
        marks.any(|mark| mark.id.as_ref() == Some(&id))
    };
    let sheet = report.drawings.iter().find(shows)?;
    Some(format!("{}-{id}", sheet.id))
}

//! The drawings, each on its own sheet.

use super::Report;
use super::pieces::Section;
use maud::{PreEscaped, html};

/// A drawing.
#[derive(Debug, Clone)]
pub struct Drawing {
    /// Its anchor: `plan`.
    pub id: String,
    /// What it shows.
    pub title: String,
    /// It, as an SVG element that names nothing outside itself.
    pub svg: String,
}

impl Drawing {
    /// Whether something in it has this anchor.
    pub(super) fn has(&self, id: &str) -> bool {
        self.svg.contains(&format!("id=\"{id}\""))
    }
}

pub(super) fn section(report: &Report<'_>) -> Option<Section> {
    let drawings = &report.drawings;
    (!drawings.is_empty()).then(|| Section {
        id: "drawings",
        title: "Drawings",
        body: html! {
            @for drawing in drawings {
                figure id=(format!("drawing-{}", drawing.id)) {
                    figcaption { (drawing.title) }
                    // A wide drawing is moved under a narrow screen, by hand or by keys.
                    div.sheet tabindex="0" role="region" aria-label=(drawing.title) {
                        (PreEscaped(&drawing.svg))
                    }
                }
            }
        },
    })
}

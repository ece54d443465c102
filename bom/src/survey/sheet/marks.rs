//! What stands along a leg: outlets, drains, valves, and places that branches leave from.

use super::columns::{Column, plain};
use super::kind::Mark;
use super::walk::{Row, Walk};
use crate::finding::Finding;
use crate::survey::{self, usual_drop};

/// What the remark of a drain says that is no low point.
const DRIP_LEG: &str = "drip leg";

impl Walk<'_> {
    pub(super) fn mark(&mut self, row: &Row<'_>, mark: Mark, at: usize) {
        let name = self.named(row);
        let from_end = self.far_end(row);
        let reading = self.needed(row);
        let (Some(name), Some(from_end), Some(reading)) = (name, from_end, reading) else {
            return;
        };
        if let Some(first) = self.names.known(&name.text) {
            let message = format!(
                "row {}: `{}` stands twice",
                self.source.line(name.span.start),
                name.text
            );
            let help = "give each thing along the main a name of its own";
            let finding = Finding::unreadable("sheet-name-twice", name.span, message, help);
            self.findings.push(finding.related(first, "the first"));
            return;
        }
        let remark = self.text(row, Column::Remark);
        let said = remark.as_deref().map(plain).unwrap_or_default();
        let name = self.names.place(&name.text, name.span);
        match mark {
            Mark::Drop => {
                let kind = usual_drop(&said.replace(' ', "-")).map(|kind| kind.name);
                self.survey.outlets.push(survey::Outlet {
                    name: name.clone(),
                    paint: kind.as_deref() == Some(survey::PAINT),
                    remark: remark.filter(|_| kind.is_none()),
                    drop: kind,
                    ..survey::Outlet::default()
                });
            }
            Mark::Drain => self.survey.drains.push(survey::Drain {
                name: name.clone(),
                falls_on: said == DRIP_LEG,
                ..survey::Drain::default()
            }),
            Mark::Valve => self.survey.valves.push(survey::Valve {
                name: name.clone(),
                ..survey::Valve::default()
            }),
            Mark::Place => {}
        }
        self.legs[at].leg.marks.push(survey::Mark {
            name,
            reading: reading.text,
            from_end,
        });
    }

    /// Whether a reading is taken from the far end.
    fn far_end(&mut self, row: &Row<'_>) -> Option<bool> {
        let Some(cell) = self.cell(row, Column::ReadFrom) else {
            return Some(false);
        };
        match &*plain(&cell.text) {
            "hook" => Some(false),
            "end" => Some(true),
            _ => {
                self.unknown(
                    "place to read from",
                    cell,
                    Column::ReadFrom,
                    &["hook", "end"],
                );
                None
            }
        }
    }
}

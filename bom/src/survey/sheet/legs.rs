//! Legs: where they start, which way they go, and what is left of them.

use super::columns::{Column, plain};
use super::kind::Kind;
use super::length::Reading;
use super::walk::{Row, Walk};
use crate::job::Direction;
use crate::source::Span;
use crate::survey;

/// A leg as far as it has been read.
#[derive(Debug)]
pub(super) struct Leg {
    pub(super) leg: survey::Leg,
    /// Its first row.
    pub(super) span: Span,
    /// The readings of its straights.
    pub(super) straights: Vec<(Direction, Reading)>,
    /// Its number among all that were named.
    pub(super) number: usize,
    /// Whether a straight of it could not be read.
    pub(super) broken: bool,
    /// Whether a straight of it has a name, so that nothing may follow.
    ended: bool,
}

/// The remarks of a leg that follows a wall.
const WALLS: [&str; 4] = ["north wall", "south wall", "east wall", "west wall"];

impl Walk<'_> {
    /// The leg of a row: the one that it names, else that of the row above.
    pub(super) fn leg(&mut self, row: &Row<'_>) -> Option<usize> {
        if let Some(name) = self.text(row, Column::Leg) {
            let known = |leg: &Leg| leg.leg.name.as_deref().map(plain) == Some(plain(&name));
            let found = self.legs.iter().rposition(known);
            self.at = Some(found.unwrap_or(self.legs.len()));
            if found.is_none() {
                self.legs.push(Leg {
                    leg: survey::Leg {
                        name: Some(name),
                        ..survey::Leg::default()
                    },
                    span: row.span,
                    number: self.legs.len(),
                    straights: Vec::new(),
                    broken: false,
                    ended: false,
                });
            }
        }
        if self.at.is_none() && row.kind != Kind::Start {
            self.wrong(
                "sheet-row-without-leg",
                row.span,
                "no leg is named here or above",
                "give each leg a name under `leg`, like `north`; the rows below may leave it out",
            );
        }
        self.at
    }

    pub(super) fn straight(&mut self, row: &Row<'_>, at: usize) {
        let (way, reading) = (self.way(row), self.needed(row));
        let (Some(way), Some(reading)) = (way, reading) else {
            self.legs[at].broken = true;
            return;
        };
        if self.legs[at].ended {
            self.wrong(
                "sheet-leg-goes-on",
                row.span,
                "the leg goes on behind an end that has a name",
                "give the way from there a leg of its own, or take the name off the row before",
            );
            return;
        }
        if at + 1 < self.legs.len()
            && self.legs[at + 1..]
                .iter()
                .any(|leg| !leg.straights.is_empty())
        {
            self.wrong(
                "sheet-leg-goes-on",
                row.span,
                "a leg of this name stands further up, and other legs are between",
                "give this leg a name of its own, or put its rows together",
            );
            return;
        }
        let remark = self.text(row, Column::Remark);
        let end = self.cell(row, Column::Name);
        let end = end.map(|cell| self.names.place(&cell.text, cell.span));
        let leg = &mut self.legs[at];
        leg.ended = end.is_some();
        leg.leg.to = end;
        leg.leg.go.push((way, reading.text.clone()));
        leg.straights.push((way, reading));
        let wall = remark
            .as_deref()
            .map(plain)
            .filter(|words| WALLS.contains(&&**words));
        match wall {
            Some(wall) => leg.leg.along = Some(wall),
            None => join(&mut leg.leg.remark, remark),
        }
    }

    pub(super) fn from(&mut self, row: &Row<'_>, at: usize) {
        let Some(cell) = self.named(row) else { return };
        self.legs[at].leg.from = Some(cell.text.clone());
        self.names.wanted(&cell.text, cell.span, at);
        let remark = self.text(row, Column::Remark);
        join(&mut self.legs[at].leg.remark, remark);
    }

    pub(super) fn left(&mut self, row: &Row<'_>, at: usize) {
        // A printed row that nobody filled in.
        let Some(reading) = &row.length else { return };
        if self.legs[at].leg.left.is_some() {
            self.wrong(
                "sheet-left-twice",
                row.span,
                "the leg has two readings of what is left",
                "keep the one from its last mark to its end",
            );
        }
        self.legs[at].leg.left = Some(reading.text.clone());
    }
}

/// Adds a remark behind those that stand there.
fn join(remarks: &mut Option<String>, more: Option<String>) {
    let Some(more) = more else { return };
    match remarks {
        Some(remarks) => {
            remarks.push_str("; ");
            remarks.push_str(&more);
        }
        None => *remarks = Some(more),
    }
}

//! One sheet: drawing, labels, and what stands beside them.

use super::Set;
use super::frame::{frame, squeezed};
use super::furniture::{ROSE, corner, key, rose};
use super::marks;
use super::paper::Paper;
use super::picture::Picture;
use super::words::Without;
use crate::drawing::{
    Area, At, Board, Column, Layer, Mark, Shape, Sheet, Text, TextSize, legend, shorten, table,
};
use crate::network::LinkId;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

/// Kept free round the drawn pipe, across and down: labels stand there.
const AROUND: (f64, f64) = (20.0, 9.0);

/// So much may stand in a table instead, where less could be drawn.
const FEW: usize = 2;

/// How wide the cells of that table are at most.
const CELLS: [f64; 3] = [38.0, 46.0, 74.0];

/// What has no room on a drawing: what it is, its value, where.
pub(super) type Row = [String; 3];

/// A sheet, and whether all of it has found room.
pub(super) struct Drawn {
    pub(super) sheet: Sheet,
    /// What has none.
    pub(super) left: Vec<Row>,
    /// Whether all that must stand on the drawing itself does, and most of the rest.
    pub(super) complete: bool,
}

/// A sheet under way.
#[derive(Clone)]
struct Draft {
    field: Area,
    board: Board,
    marks: Vec<Mark>,
    left: Vec<Row>,
    complete: bool,
    crowded: bool,
}

impl Set<'_> {
    /// Draws some stretches on an upright or a lying sheet; none if they are too large
    /// for it, unless there is no less to draw. `sheet_of` says on which sheet a stretch
    /// is.
    pub(super) fn draw(
        &self,
        range: &Range<usize>,
        lying: bool,
        sheet_of: &dyn Fn(usize) -> String,
    ) -> Option<Drawn> {
        let stretches = &self.stretches[range.clone()];
        let paper = self.paper(range, lying)?;
        let room = (
            paper.size.0 - 2.0 * AROUND.0,
            paper.legend_top - 3.0 - 2.0 * AROUND.1,
        );
        let fitting = frame(self, stretches, room);
        let complete = fitting.is_some();
        let squeezed = || (range.len() == 1).then(|| squeezed(self, stretches, room));
        let frame = fitting.or_else(squeezed)?;
        let middle = At::new(paper.size.0 / 2.0, (paper.legend_top - 3.0) / 2.0);
        let picture = Picture::new(self, stretches, frame, middle);
        let field = Area::of(At::default(), At::new(paper.size.0, paper.legend_top - 2.0));
        let field = field.grown(-0.6);
        let mut draft = Draft {
            field,
            board: Board::new(field),
            marks: Vec::new(),
            left: Vec::new(),
            complete,
            crowded: false,
        };
        draft.signs(&picture);
        draft.beside(self, range);
        let falls = self.fall_arrows(&picture, &mut draft.board);
        draft.marks.push(Mark::new(Layer::Flow, falls));
        // Dimension lines stand back behind the labels of the pieces.
        let mut plain = draft.clone();
        let (dimensions, centres) = self.dimensions(&picture, &mut draft.board);
        draft.marks.push(Mark::new(Layer::Dimension, dimensions));
        draft.say(self, &picture, sheet_of, centres);
        if !draft.left.is_empty() {
            let centres = self.centres(&picture).into_iter();
            let centres = centres.map(|(link, _, _, words)| (link, words));
            plain.say(self, &picture, sheet_of, centres.collect());
            if plain.left.len() < draft.left.len() {
                draft = plain;
            }
        }
        draft.table();
        Some(draft.finished(&paper))
    }
}

impl Draft {
    fn put(&mut self, mark: Mark) {
        self.board.block(&mark.shapes);
        self.marks.push(mark);
    }

    /// Pipe, fittings, devices.
    fn signs(&mut self, picture: &Picture<'_>) {
        let mut used = BTreeSet::new();
        self.put(Mark::new(Layer::Pipe, picture.pipe()));
        for mark in picture.parts(&mut used) {
            self.put(mark);
        }
        for shapes in picture.between(&mut used) {
            self.put(Mark::new(Layer::Part, shapes));
        }
        for onwards in picture.onwards() {
            let shapes = marks::match_mark(onwards.at, onwards.way);
            self.put(Mark::new(Layer::Part, shapes));
        }
    }

    /// The rose and the key, in corners that the drawing leaves free.
    fn beside(&mut self, set: &Set<'_>, range: &Range<usize>) {
        match corner(&self.board, &self.field, ROSE) {
            Some(area) => self.put(rose(area.middle())),
            None => self.complete = false,
        }
        if range.len() == set.stretches.len() {
            return;
        }
        let (mark, wide, down) = key(set, range);
        match corner(&self.board, &self.field, (wide + 2.0, down + 2.0)) {
            Some(area) => {
                self.board.block_area(area);
                self.marks.push(mark.moved(area.left + 1.0, area.top + 1.0));
            }
            None => self.complete = false,
        }
    }

    /// Writes all that is said; what has no room is left.
    fn say(
        &mut self,
        set: &Set<'_>,
        picture: &Picture<'_>,
        sheet_of: &dyn Fn(usize) -> String,
        centres: BTreeMap<LinkId, String>,
    ) {
        for one in set.said(picture, sheet_of, centres) {
            match one.say.placed(&mut self.board) {
                Some(shapes) => self.marks.push(match one.link {
                    Some((id, title)) => Mark::named(Layer::Label, &id, &title, shapes),
                    None => Mark::new(Layer::Label, shapes),
                }),
                None => match one.without {
                    Without::Rows(rows) => self.left.extend(rows),
                    Without::Never(row) => {
                        self.left.push(row);
                        self.complete = false;
                    }
                },
            }
        }
    }

    /// A table of what is left, if there is room for it.
    fn table(&mut self) {
        if self.left.is_empty() {
            return;
        }
        self.crowded = self.left.len() > FEW;
        let (mark, wide, down) = table_of(&self.left, At::default());
        if let Some(area) = corner(&self.board, &self.field, (wide + 2.0, down + 2.0)) {
            self.marks.push(mark.moved(area.left + 1.0, area.top + 1.0));
            self.left.clear();
        }
    }

    fn finished(mut self, paper: &Paper) -> Drawn {
        let (mark, _) = legend(&paper.entries, At::new(0.0, paper.legend_top), paper.size.0);
        self.marks.push(mark);
        let notes = paper.notes.iter().zip(0_u8..).map(|(line, number)| {
            let down = f64::from(number) * TextSize::Small.leading();
            let at = At::new(0.0, paper.notes_top + 2.6 + down);
            Shape::Text(Text::new(at, TextSize::Small, &**line))
        });
        self.marks.push(Mark::new(Layer::Note, notes.collect()));
        self.marks
            .retain(|mark| !mark.shapes.is_empty() || mark.id.is_some());
        let sheet = Sheet {
            id: String::new(),
            title: String::new(),
            about: String::new(),
            width: paper.size.0,
            height: paper.size.1,
            marks: self.marks,
        };
        Drawn {
            sheet: sheet.layered(),
            left: self.left,
            complete: self.complete && !self.crowded,
        }
    }
}

/// A table of what has no room on a drawing.
pub(super) fn table_of(rows: &[Row], at: At) -> (Mark, f64, f64) {
    let columns = ["no room for", "it is", "from and to"].map(Column::words);
    let rows: Vec<Vec<String>> = rows
        .iter()
        .map(|row| {
            let cells = row.iter().zip(CELLS);
            let cells = cells.map(|(cell, wide)| shorten(cell, TextSize::Small, false, wide));
            cells.collect()
        })
        .collect();
    table(&columns, &rows, at)
}

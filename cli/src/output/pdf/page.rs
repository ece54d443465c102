//! A pile of sheets and a cursor that goes down them: page breaks, and what stays
//! together.

use super::Paper;
use super::fonts::{Fonts, Style};
use super::ink::hundredth;
use super::leaf::Leaf;
use super::outline::Bookmark;
use printpdf::{Mm, Op, Pt};
use std::collections::BTreeSet;

/// From the paper's edge to the text, left and right.
const SIDE: f32 = 54.0;
/// From the upper edge to the first line under the running head.
pub(super) const TOP: f32 = 72.0;
/// From the lower edge to the last line above the foot.
const BOTTOM: f32 = 62.0;
/// What a bookmark shows above its heading.
const ABOVE: f32 = 10.0;
/// From the left margin to the text beside side headings.
pub(super) const SIDE_HEADING: f32 = 104.0;

/// One sheet, with a size of its own.
#[derive(Debug)]
pub(super) struct Sheet {
    /// Width and height in points.
    pub(super) size: (f32, f32),
    pub(super) ops: Vec<Op>,
}

impl Sheet {
    pub(super) fn new((width, height): (f32, f32)) -> Self {
        Self {
            size: (Pt::from(Mm(width)).0, Pt::from(Mm(height)).0),
            ops: Vec::new(),
        }
    }
}

/// The sheets. Distances down are measured from the upper edge of the paper.
#[derive(Debug)]
pub(super) struct Sheets<'a> {
    pub(super) fonts: &'a Fonts,
    paper: Paper,
    /// How much larger than usual everything is drawn; margins are as wide as ever.
    pub(super) larger: f32,
    /// There is always one.
    pub(super) sheets: Vec<Sheet>,
    /// How far down the next thing goes.
    pub(super) down: f32,
    /// Where an open frame began on this sheet.
    pub(super) frame: Option<f32>,
    pub(super) outline: Vec<Bookmark>,
    pub(super) lacking: BTreeSet<char>,
}

/// How far everything was drawn.
pub(super) struct Mark {
    sheets: usize,
    ops: usize,
    down: f32,
    frame: Option<f32>,
    outline: usize,
}

impl<'a> Sheets<'a> {
    pub(super) fn new(fonts: &'a Fonts, paper: Paper) -> Self {
        Self {
            fonts,
            paper,
            larger: 1.0,
            sheets: vec![Sheet::new(paper.millimetres())],
            down: TOP,
            frame: None,
            outline: Vec::new(),
            lacking: BTreeSet::new(),
        }
    }

    /// Width and height of this sheet.
    pub(super) fn size(&self) -> (f32, f32) {
        let (width, height) = self.sheets.last().map_or((0.0, 0.0), |sheet| sheet.size);
        (width / self.larger, height / self.larger)
    }

    pub(super) const fn left(&self) -> f32 {
        SIDE / self.larger
    }

    pub(super) fn right(&self) -> f32 {
        self.size().0 - self.left()
    }

    /// Where text beside side headings begins.
    pub(super) const fn inner(&self) -> f32 {
        self.left() + SIDE_HEADING
    }

    pub(super) const fn down(&self) -> f32 {
        self.down
    }

    /// Where the foot of this sheet begins.
    pub(super) fn foot(&self) -> f32 {
        self.size().1 - BOTTOM / self.larger
    }

    /// What is left of this sheet.
    pub(super) fn room(&self) -> f32 {
        self.foot() - self.down
    }

    /// What a fresh sheet holds.
    pub(super) fn whole(&self) -> f32 {
        let height = Sheet::new(self.paper.millimetres()).size.1;
        (height - BOTTOM - TOP) / self.larger
    }

    pub(super) fn at_top(&self) -> bool {
        self.down <= TOP / self.larger
    }

    /// Goes down, but leaves no gap at the head of a sheet.
    pub(super) fn gap(&mut self, by: f32) {
        if !self.at_top() {
            self.down += by;
        }
    }

    /// Goes down.
    pub(super) fn advance(&mut self, by: f32) {
        self.down += by;
    }

    /// Goes to a place on this sheet.
    pub(super) const fn go_to(&mut self, down: f32) {
        self.down = down;
    }

    /// Takes a new sheet unless this one has `height` left. Says whether it
    /// did.
    pub(super) fn need(&mut self, height: f32) -> bool {
        let breaks = self.room() < height && !self.at_top();
        if breaks {
            self.break_sheet();
        }
        breaks
    }

    fn break_sheet(&mut self) {
        let framed = self.frame.is_some();
        self.close_frame();
        self.sheets.push(Sheet::new(self.paper.millimetres()));
        self.down = TOP / self.larger;
        if framed {
            self.open_frame();
        }
    }

    /// Draws what stays on one sheet if a sheet holds it: where it would break, it
    /// begins on the next one.
    pub(super) fn together(&mut self, draw: impl Fn(&mut Self)) {
        let begun = self.mark();
        let fresh = self.at_top();
        draw(self);
        if fresh || self.sheets.len() == begun.sheets {
            return;
        }
        self.back_to(&begun);
        self.break_sheet();
        draw(self);
        if self.sheets.len() > begun.sheets + 1 {
            // No sheet holds it, so none is left half empty for it.
            self.back_to(&begun);
            draw(self);
        }
    }

    /// Draws the first, or the second where the first would break.
    pub(super) fn either(&mut self, first: impl Fn(&mut Self), second: impl Fn(&mut Self)) {
        let begun = self.mark();
        first(self);
        if self.sheets.len() > begun.sheets {
            self.back_to(&begun);
            second(self);
        }
    }

    /// Whether a sheet has been begun since.
    pub(super) const fn is_past(&self, mark: &Mark) -> bool {
        self.sheets.len() > mark.sheets
    }

    pub(super) fn mark(&self) -> Mark {
        Mark {
            sheets: self.sheets.len(),
            ops: self.sheets.last().map_or(0, |sheet| sheet.ops.len()),
            down: self.down,
            frame: self.frame,
            outline: self.outline.len(),
        }
    }

    pub(super) fn back_to(&mut self, mark: &Mark) {
        self.sheets.truncate(mark.sheets);
        if let Some(sheet) = self.sheets.last_mut() {
            sheet.ops.truncate(mark.ops);
        }
        self.down = mark.down;
        self.frame = mark.frame;
        self.outline.truncate(mark.outline);
    }

    /// Takes up a sheet that was drawn elsewhere; what follows begins a new one.
    pub(super) fn leaf(&mut self, leaf: &Leaf) {
        if self.sheets.last().is_some_and(|sheet| sheet.ops.is_empty()) {
            self.sheets.pop();
        }
        self.sheets.push(Sheet {
            size: leaf.size,
            ops: leaf.ops.clone(),
        });
        self.down = TOP;
        self.bookmark(0, &leaf.title);
        self.lacking.extend(&leaf.lacking);
        self.down = self.foot();
    }

    /// Names what begins at the cursor in the file's outline.
    pub(super) fn bookmark(&mut self, level: usize, title: &str) {
        self.outline.push(Bookmark {
            level,
            title: title.to_owned(),
            sheet: self.sheets.len() - 1,
            up: hundredth((self.size().1 - self.down) * self.larger + ABOVE),
        });
    }

    /// Wrapped text from `x` to the right margin, over page breaks if need be.
    /// Neither a first nor a last line stands alone.
    pub(super) fn paragraph(&mut self, style: Style, x: f32, text: &str) {
        let lines = self.fonts.wrap(style, text, self.right() - x);
        let last = lines.len().saturating_sub(1);
        for (at, line) in lines.iter().enumerate() {
            let pair = at != last && (at == 0 || at + 1 == last);
            self.need(if pair { 2.0 } else { 1.0 } * style.leading);
            self.text(style, x, line);
            self.advance(style.leading);
        }
    }

    /// What was drawn on the last sheet.
    pub(super) fn take_ops(&mut self) -> Vec<Op> {
        self.sheets.pop().map_or_else(Vec::new, |sheet| sheet.ops)
    }
}

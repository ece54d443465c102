//! A pile of sheets and a cursor that goes down them: page breaks, and what
//! stands at the head and foot of every sheet.

use super::Paper;
use super::fonts::{Face, Fonts, SMALL, Style};
use printpdf::{Mm, Op, PdfPage, Pt};
use std::collections::BTreeSet;

/// From the paper's edge to the text, left and right.
const SIDE: f32 = 54.0;
/// From the upper edge to the first line under the running head.
const TOP: f32 = 72.0;
/// From the lower edge to the last line above the foot.
const BOTTOM: f32 = 62.0;
/// The one weight of rules.
const RULE: f32 = 0.5;
/// From the left margin to the text beside side headings.
pub(super) const SIDE_HEADING: f32 = 104.0;

/// What stands at the head and foot of every sheet.
#[derive(Debug)]
pub(super) struct Running {
    /// At the head, left; shortened where it does not fit.
    pub(super) title: String,
    /// At the head, right.
    pub(super) marks: String,
    /// At the foot, left.
    pub(super) foot: String,
    /// In the middle of the foot.
    pub(super) warning: Option<&'static str>,
}

/// The sheets. Distances down are measured from the upper edge of the paper.
#[derive(Debug)]
pub(super) struct Sheets<'a> {
    pub(super) fonts: &'a Fonts,
    paper: Paper,
    width: f32,
    pub(super) height: f32,
    pub(super) sheets: Vec<Vec<Op>>,
    /// How far down the next thing goes.
    pub(super) down: f32,
    /// Where an open frame began on this sheet.
    pub(super) frame: Option<f32>,
    pub(super) lacking: BTreeSet<char>,
}

impl<'a> Sheets<'a> {
    pub(super) fn new(fonts: &'a Fonts, paper: Paper) -> Self {
        let (width, height) = paper.millimetres();
        Self {
            fonts,
            paper,
            width: Pt::from(Mm(width)).0,
            height: Pt::from(Mm(height)).0,
            sheets: vec![Vec::new()],
            down: TOP,
            frame: None,
            lacking: BTreeSet::new(),
        }
    }

    pub(super) const fn left(&self) -> f32 {
        SIDE
    }

    pub(super) fn right(&self) -> f32 {
        self.width - SIDE
    }

    /// Where text beside side headings begins.
    pub(super) const fn inner(&self) -> f32 {
        SIDE + SIDE_HEADING
    }

    pub(super) const fn down(&self) -> f32 {
        self.down
    }

    /// What is left of this sheet.
    pub(super) fn room(&self) -> f32 {
        self.height - BOTTOM - self.down
    }

    /// What a fresh sheet holds.
    pub(super) fn whole(&self) -> f32 {
        self.height - BOTTOM - TOP
    }

    pub(super) fn at_top(&self) -> bool {
        self.down <= TOP
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
        self.sheets.push(Vec::new());
        self.down = TOP;
        if framed {
            self.open_frame();
        }
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

    /// The finished pages, and the characters that were printed as `?`.
    pub(super) fn finish(mut self, running: &Running) -> (Vec<PdfPage>, BTreeSet<char>) {
        let count = self.sheets.len();
        let bodies = std::mem::take(&mut self.sheets);
        let (width, height) = self.paper.millimetres();
        let mut pages = Vec::with_capacity(count);
        for (at, body) in bodies.into_iter().enumerate() {
            self.sheets = vec![vec![Op::SetOutlineThickness { pt: Pt(RULE) }]];
            self.head_and_foot(running, &format!("Page {} of {count}", at + 1));
            let mut ops = self.sheets.pop().unwrap_or_default();
            ops.extend(body);
            pages.push(PdfPage::new(Mm(width), Mm(height), ops));
        }
        (pages, self.lacking)
    }

    fn head_and_foot(&mut self, running: &Running, number: &str) {
        let (left, right) = (self.left(), self.right());
        let width = right - left;
        let fonts = self.fonts;
        let line = |text: &str, share| fonts.shorten(SMALL, text, width * share);

        self.down = TOP - 36.0;
        // The marks are never cut: the title takes the room that they leave.
        let room = width - fonts.width(SMALL, &running.marks) - 14.0;
        self.text(SMALL, left, &fonts.shorten(SMALL, &running.title, room));
        self.text_to(SMALL, right, &running.marks);
        self.down = TOP - 22.0;
        self.rule(left, right);

        self.down = self.height - BOTTOM + 14.0;
        self.rule(left, right);
        self.down += 4.0;
        self.text(SMALL, left, &line(&running.foot, 0.3));
        if let Some(warning) = running.warning {
            let strong = Style {
                face: Face::Bold,
                ..SMALL
            };
            let half = fonts.width(strong, warning) / 2.0;
            self.text(strong, (left + right) / 2.0 - half, warning);
        }
        self.text_to(SMALL, right, number);
    }
}

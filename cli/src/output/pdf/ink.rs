//! What is drawn on a sheet: text, bars, rules and frames.

use super::fonts::{Face, Style};
use super::page::Sheets;
use printpdf::{Color, Greyscale, Line, LinePoint, Op, PaintMode, Point, Pt, Rect, TextItem};

impl Sheets<'_> {
    /// One line of text whose top is at the cursor. Does not move the cursor.
    pub(super) fn text(&mut self, style: Style, x: f32, text: &str) {
        self.text_in(style, x, text, 0.0);
    }

    /// The same, ending at `x`.
    pub(super) fn text_to(&mut self, style: Style, x: f32, text: &str) {
        let width = self.fonts.width(style, text);
        self.text(style, x - width, text);
    }

    /// White text on a black bar as wide as the page's text, at the cursor.
    pub(super) fn banner(&mut self, style: Style, text: &str) {
        let height = style.leading + 9.0;
        let bar = Rect {
            x: Pt(self.left()),
            y: self.up(self.down + height),
            width: Pt(self.right() - self.left()),
            height: Pt(height),
            mode: Some(PaintMode::Fill),
            winding_order: None,
        };
        self.push(Op::DrawRectangle { rectangle: bar });
        self.down += 4.5;
        let x = self.left() + 10.0;
        self.text_in(style, x, text, 1.0);
        self.down += style.leading + 4.5;
    }

    fn text_in(&mut self, style: Style, x: f32, text: &str, grey: f32) {
        // Puts the capitals in the middle of the line's height; they are
        // 0.73 of the size high in both faces.
        let baseline = self.down + (style.leading + 0.73 * style.size) / 2.0;
        let shown = self.shown(style.face, text);
        if shown.trim().is_empty() {
            return;
        }
        let pos = Point {
            x: Pt(hundredth(x)),
            y: self.up(baseline),
        };
        let colour = |percent| Op::SetFillColor {
            col: Color::Greyscale(Greyscale {
                percent,
                icc_profile: None,
            }),
        };
        if grey > 0.0 {
            self.push(colour(grey));
        }
        self.push(Op::StartTextSection);
        self.push(Op::SetFont {
            font: style.face.handle(),
            size: Pt(style.size),
        });
        self.push(Op::SetTextCursor { pos });
        self.push(Op::ShowText {
            items: vec![TextItem::Text(shown)],
        });
        self.push(Op::EndTextSection);
        if grey > 0.0 {
            self.push(colour(0.0));
        }
    }

    /// What is drawn of a text; remembers what the face lacks.
    pub(super) fn shown(&mut self, face: Face, text: &str) -> String {
        let mut shown = String::with_capacity(text.len());
        for character in text.chars() {
            if let Some(drawn) = self.fonts.shown(face, character) {
                if drawn != character {
                    self.lacking.insert(character);
                }
                shown.push(drawn);
            }
        }
        shown
    }

    /// An upright line from here, `height` down.
    pub(super) fn upright(&mut self, x: f32, height: f32) {
        self.line((x, self.down), (x, self.down + height));
    }

    /// Slanting lines that fill a bar of `height` from here.
    pub(super) fn hatch(&mut self, from: f32, to: f32, height: f32) {
        const STEP: f32 = 5.0;
        let top = self.down;
        let mut x = from + STEP;
        while x < to + height {
            // Each runs down to the left and is cut off at the bar's sides.
            let begins = (x - to).max(0.0);
            let ends = height.min(x - from);
            if begins < ends {
                self.line((x - begins, top + begins), (x - ends, top + ends));
            }
            x += STEP;
        }
    }

    /// A level rule at the cursor.
    pub(super) fn rule(&mut self, from: f32, to: f32) {
        self.line((from, self.down), (to, self.down));
    }

    /// A small square to tick, whose top is at the cursor.
    pub(super) fn tick_box(&mut self, x: f32, side: f32) {
        let (right, top, bottom) = (x + side, self.down, self.down + side);
        self.line((x, top), (right, top));
        self.line((right, top), (right, bottom));
        self.line((right, bottom), (x, bottom));
        self.line((x, bottom), (x, top));
    }

    fn line(&mut self, from: (f32, f32), to: (f32, f32)) {
        let point = |(x, down)| LinePoint {
            p: Point {
                x: Pt(hundredth(x)),
                y: self.up(down),
            },
            bezier: false,
        };
        let line = Line {
            points: vec![point(from), point(to)],
            is_closed: false,
        };
        self.push(Op::DrawLine { line });
    }

    /// Begins a frame as wide as the page's text; it goes on over page breaks.
    pub(super) const fn open_frame(&mut self) {
        self.frame = Some(self.down);
    }

    /// Draws the frame down to the cursor.
    pub(super) fn close_frame(&mut self) {
        let Some(top) = self.frame.take() else { return };
        let (left, right, down) = (self.left(), self.right(), self.down);
        self.line((left, top), (right, top));
        self.line((left, down), (right, down));
        self.line((left, top), (left, down));
        self.line((right, top), (right, down));
    }

    /// Anything else that is drawn, in the file's own measure.
    pub(super) fn push(&mut self, op: Op) {
        if let Some(sheet) = self.sheets.last_mut() {
            sheet.ops.push(op);
        }
    }

    /// The height of a place above the lower edge, as the file counts it.
    fn up(&self, down: f32) -> Pt {
        Pt(hundredth(self.size().1 - down))
    }
}

/// Rounded to a hundredth of a point, so that the file stays short.
pub(super) fn hundredth(points: f32) -> f32 {
    (points * 100.0).round() / 100.0
}

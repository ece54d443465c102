//! What stands at the head and foot of every sheet.

use super::fonts::{Face, SMALL, Style};
use super::outline::Bookmark;
use super::page::{Sheet, Sheets, TOP};
use printpdf::{Op, PdfPage, Pt};
use std::collections::BTreeSet;

/// The one weight of rules.
const RULE: f32 = 0.5;

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

/// Sheets with everything on them.
#[derive(Debug)]
pub(super) struct Finished {
    pub(super) pages: Vec<PdfPage>,
    pub(super) outline: Vec<Bookmark>,
    pub(super) lacking: BTreeSet<char>,
}

impl Sheets<'_> {
    /// The finished pages, the outline, and the characters that were printed as `?`.
    pub(super) fn finish(mut self, running: &Running) -> Finished {
        let bodies = std::mem::take(&mut self.sheets);
        let count = bodies.len();
        let mut pages = Vec::with_capacity(count);
        for (at, body) in bodies.into_iter().enumerate() {
            let (width, height) = body.size;
            self.sheets = vec![Sheet {
                size: body.size,
                ops: vec![Op::SetOutlineThickness { pt: Pt(RULE) }],
            }];
            self.head(running);
            let mut ops = self.take_ops();
            ops.extend(body.ops);
            self.sheets = vec![Sheet {
                size: body.size,
                ops,
            }];
            self.feet(running, &format!("Page {} of {count}", at + 1));
            pages.push(PdfPage::new(
                Pt(width).into(),
                Pt(height).into(),
                self.take_ops(),
            ));
        }
        Finished {
            pages,
            outline: self.outline,
            lacking: self.lacking,
        }
    }

    fn head(&mut self, running: &Running) {
        let (left, right) = (self.left(), self.right());
        self.down = TOP - 36.0;
        // The marks are never cut: the title takes the room that they leave.
        let room = right - left - self.fonts.width(SMALL, &running.marks) - 14.0;
        self.text(
            SMALL,
            left,
            &self.fonts.shorten(SMALL, &running.title, room),
        );
        self.text_to(SMALL, right, &running.marks);
        self.down = TOP - 22.0;
        self.rule(left, right);
    }

    fn feet(&mut self, running: &Running, number: &str) {
        let (left, right) = (self.left(), self.right());
        self.down = self.foot() + 14.0;
        // A drawing may have changed how lines are drawn.
        self.push(Op::SetOutlineThickness { pt: Pt(RULE) });
        self.rule(left, right);
        self.down += 4.0;
        let foot = self
            .fonts
            .shorten(SMALL, &running.foot, 0.3 * (right - left));
        self.text(SMALL, left, &foot);
        if let Some(warning) = running.warning {
            let strong = Style {
                face: Face::Bold,
                ..SMALL
            };
            let half = self.fonts.width(strong, warning) / 2.0;
            self.text(strong, f32::midpoint(left, right) - half, warning);
        }
        self.text_to(SMALL, right, number);
    }
}

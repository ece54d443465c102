//! A whole sheet of its own size that is drawn by itself: a plan, an isometric.

use super::fonts::Fonts;
use super::page::{Sheet, Sheets};
use printpdf::Op;
use std::collections::BTreeSet;

/// A drawn sheet. A paper takes it up with its own running head and foot, and counts it
/// with its pages.
#[derive(Debug, Clone)]
pub struct Leaf {
    /// Its name in the file's outline.
    pub(super) title: String,
    /// Width and height in points.
    pub(super) size: (f32, f32),
    pub(super) ops: Vec<Op>,
    pub(super) lacking: BTreeSet<char>,
}

impl Leaf {
    /// A sheet of so many millimetres. What may be drawn on lies between `left` and
    /// `right`, and from `down`, where the cursor stands, to `foot`.
    pub(super) fn drawn(
        fonts: &Fonts,
        title: &str,
        millimetres: (f32, f32),
        draw: impl FnOnce(&mut Sheets),
    ) -> Self {
        let mut sheets = Sheets::new(fonts, super::Paper::A4);
        sheets.sheets = vec![Sheet::new(millimetres)];
        draw(&mut sheets);
        Self {
            title: title.to_owned(),
            size: sheets.size(),
            ops: sheets.take_ops(),
            lacking: sheets.lacking,
        }
    }
}

//! What of a table stays on one sheet.

use super::columns::{GUTTER, Place, edges};
use super::fonts::{BODY, Fonts, SMALL, STRONG};
use super::page::Sheets;
use super::table::{LINE_PAD, PAD, Row, TITLE_GAP, Table, sum_style};

impl Table<'_> {
    /// What of it must stand on the sheet on which it begins.
    pub(super) fn beginning(&self, sheets: &Sheets, left: f32, right: f32) -> f32 {
        let places = self.places(sheets.fonts, left, right);
        self.head_height() + self.block(sheets, &places, 0).1
    }

    /// The rows from here that stay on one sheet, and how tall they are: fewer where no
    /// sheet holds them.
    pub(super) fn block(&self, sheets: &Sheets, places: &[Place], start: usize) -> (usize, f32) {
        let glued = (start..self.rows.len()).take_while(|at| self.is_glued(*at));
        let most = self.most(sheets);
        let mut height = 0.0;
        let mut end = start;
        for row in self.rows.iter().skip(start).take(glued.count() + 1) {
            let row = self.height(sheets.fonts, places, row);
            if end > start && height + row > most {
                break;
            }
            height += row;
            end += 1;
        }
        (end, height)
    }

    /// What a sheet holds under the heads and the title of a section that goes on.
    pub(super) fn most(&self, sheets: &Sheets) -> f32 {
        sheets.whole() - self.head_height() - STRONG.leading - 2.0 * LINE_PAD
    }

    /// Whether a row stays on one sheet with the next: a title with its first lines, a
    /// sum with the lines above it, and of lines neither the first nor the last alone.
    fn is_glued(&self, at: usize) -> bool {
        let is_line = |at: usize| matches!(self.rows.get(at), Some(Row::Line(_)));
        let Some(next) = self.rows.get(at + 1) else {
            return false;
        };
        match (&self.rows[at], next) {
            (Row::Title(_) | Row::Gap, _) | (_, Row::Sum(..) | Row::Gap | Row::Total(..)) => true,
            (Row::Line(_), Row::Line(_)) => at == 0 || !is_line(at - 1) || !is_line(at + 2),
            (Row::Line(_) | Row::Sum(..) | Row::Total(..), _) => false,
        }
    }

    pub(super) fn headed(&self) -> bool {
        self.columns.iter().any(|(head, _)| !head.is_empty())
    }

    pub(super) fn head_height(&self) -> f32 {
        if self.headed() {
            SMALL.leading + 2.0 * PAD
        } else {
            0.0
        }
    }

    fn height(&self, fonts: &Fonts, places: &[Place], row: &Row) -> f32 {
        let (left, right) = edges(places);
        match row {
            Row::Title(words) => {
                TITLE_GAP + 2.0 * LINE_PAD + fonts.height(STRONG, words, right - left)
            }
            Row::Line(cells) => cells
                .iter()
                .zip(places)
                .map(|(cell, place)| 2.0 * self.pad() + fonts.height(BODY, cell, place.width))
                .fold(BODY.leading, f32::max),
            Row::Gap => TITLE_GAP,
            Row::Sum(words, figure) | Row::Total(words, figure) => {
                let style = sum_style(row);
                let width = right - left - fonts.width(style, figure) - GUTTER;
                3.0 * PAD + fonts.height(style, words, width)
            }
        }
    }
}

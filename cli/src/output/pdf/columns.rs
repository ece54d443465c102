//! How wide the columns of a table are.

use super::fonts::{BODY, Fonts, SMALL};
use super::table::{Align, Row, Table};

/// Between two columns.
pub(super) const GUTTER: f32 = 14.0;

/// Where one column stands.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    pub(super) left: f32,
    pub(super) width: f32,
    /// Room right of the decimal point.
    pub(super) decimals: f32,
}

impl Table<'_> {
    /// Gives each column the width of its widest cell. Where that is too much
    /// in all, figures keep theirs (up to a share) and words are wrapped.
    pub(super) fn places(&self, fonts: &Fonts, left: f32, right: f32) -> Vec<Place> {
        let mut places: Vec<Place> = self
            .columns
            .iter()
            .enumerate()
            .map(|(at, (head, align))| self.natural(fonts, at, head, *align))
            .collect();
        let gutters: f32 = places.iter().skip(1).map(|_| GUTTER).sum();
        let room = right - left - gutters;
        let mut wants: Vec<_> = places.iter().map(|place| place.width).collect();
        let share = room / 4.0;
        for (want, (_, align)) in wants.iter_mut().zip(self.columns) {
            if *align != Align::Left {
                *want = want.min(share);
            }
        }
        let figures: f32 = wants
            .iter()
            .zip(self.columns)
            .filter(|(_, (_, align))| *align != Align::Left)
            .map(|(want, _)| want)
            .sum();
        let words: Vec<_> = wants
            .iter()
            .zip(self.columns)
            .filter(|(_, (_, align))| *align == Align::Left)
            .map(|(want, _)| *want)
            .collect();
        let level = level(&words, room - figures);
        let taken: f32 = figures + words.iter().map(|want| want.min(level)).sum::<f32>();
        let mut spare = (room - taken).max(0.0);
        let mut next = left;
        for ((place, want), (_, align)) in places.iter_mut().zip(wants).zip(self.columns) {
            place.width = want;
            if *align == Align::Left {
                // What is left over goes to the first column of words.
                place.width = want.min(level) + std::mem::take(&mut spare);
            }
            place.left = next;
            next += place.width + GUTTER;
        }
        places
    }

    fn natural(&self, fonts: &Fonts, at: usize, head: &str, align: Align) -> Place {
        let mut width = 0.0_f32;
        let mut decimals = 0.0_f32;
        for row in &self.rows {
            if let Row::Line(cells) = row {
                for text in cells
                    .get(at)
                    .map(String::as_str)
                    .unwrap_or_default()
                    .lines()
                {
                    if align == Align::Point {
                        let (whole, fraction) = at_point(text);
                        width = width.max(fonts.width(BODY, whole));
                        decimals = decimals.max(fonts.width(BODY, fraction));
                    } else {
                        width = width.max(fonts.width(BODY, text));
                    }
                }
            }
        }
        Place {
            left: 0.0,
            width: (width + decimals).max(fonts.width(SMALL, head)),
            decimals,
        }
    }
}

/// The width at which columns of words are cut off so that they fit: the
/// narrow ones keep their width, the wide ones share the rest evenly.
fn level(wants: &[f32], room: f32) -> f32 {
    let mut sorted = wants.to_vec();
    sorted.sort_by(f32::total_cmp);
    let mut left = room.max(0.0);
    let mut sharing: f32 = sorted.iter().map(|_| 1.0).sum();
    for want in sorted {
        if want * sharing > left {
            return left / sharing;
        }
        left -= want;
        sharing -= 1.0;
    }
    f32::INFINITY
}

/// A figure cut before its decimal point.
pub(super) fn at_point(figure: &str) -> (&str, &str) {
    figure.split_at(figure.find('.').unwrap_or(figure.len()))
}

/// The left edge of the first column and the right edge of the last.
pub(super) fn edges(places: &[Place]) -> (f32, f32) {
    let left = places.first().map_or(0.0, |place| place.left);
    let right = places.last().map_or(0.0, |place| place.left + place.width);
    (left, right)
}

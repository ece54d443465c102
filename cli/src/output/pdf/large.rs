//! A page in larger type, for what hangs on a wall.

use super::page::Sheets;
use printpdf::{CurTransMat, Op};

/// How much larger, the most first; a little smaller before a second page is begun.
const LARGER: [f32; 13] = [
    1.5, 1.45, 1.4, 1.35, 1.3, 1.25, 1.2, 1.15, 1.1, 1.05, 1.0, 0.95, 0.9,
];

impl Sheets<'_> {
    /// Draws on a fresh sheet in the largest type in which one sheet holds all of it, and
    /// in the usual type where none does.
    pub(super) fn largest(&mut self, draw: impl Fn(&mut Self)) {
        for by in LARGER {
            let begun = self.mark();
            self.enlarge(by);
            draw(self);
            let fits = !self.is_past(&begun);
            if fits {
                self.push(Op::RestoreGraphicsState);
                self.down *= by;
            } else {
                self.back_to(&begun);
            }
            self.larger = 1.0;
            if fits {
                return;
            }
        }
        draw(self);
    }

    fn enlarge(&mut self, by: f32) {
        self.push(Op::SaveGraphicsState);
        self.push(Op::SetTransformationMatrix {
            matrix: CurTransMat::Scale(by, by),
        });
        self.down /= by;
        self.larger = by;
    }
}

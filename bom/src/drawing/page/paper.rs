//! Sheets that are filled with blocks.

use super::{Block, joined, moved};
use crate::drawing::{At, Entry, Mark, Sheet, legend};

/// Between two blocks.
const GAP: f64 = 4.0;
/// Ends the legend of every drawing.
const SIGNS: &str = "Signs in the manner of ISO 14617, ISO 1219 and ISO 6412.";

/// What all sheets of a drawing have in common.
#[derive(Clone, Copy)]
pub(in crate::drawing) struct Paper<'a> {
    /// The name in links of the first; the others have their number behind it.
    pub(in crate::drawing) id: &'a str,
    /// The title.
    pub(in crate::drawing) title: &'a str,
    /// What they show.
    pub(in crate::drawing) about: &'a str,
    /// Across.
    pub(in crate::drawing) width: f64,
    /// Down at most.
    pub(in crate::drawing) height: f64,
}

impl Paper<'_> {
    /// The blocks beside each other where they fit and below each other, on as many
    /// sheets as they take, each with the legend of its signs at its foot.
    pub(in crate::drawing) fn laid(&self, blocks: Vec<Block>) -> Vec<Sheet> {
        let mut pages: Vec<Page> = Vec::new();
        for block in blocks {
            let fits = pages.last_mut().map(|page| page.begin(&block, self));
            if fits != Some(true) {
                pages.push(Page::default());
            }
            if let Some(page) = pages.last_mut() {
                page.take(block);
            }
        }
        let several = pages.len() > 1;
        let sheets = pages.into_iter().zip(1_usize..);
        let sheets = sheets.map(|(page, number)| {
            let (marks, height) = page.finished(self.width);
            Sheet {
                id: match number {
                    1 => self.id.to_owned(),
                    number => format!("{}-{number}", self.id),
                },
                title: match several {
                    true => format!("{}, sheet {number}", self.title),
                    false => self.title.to_owned(),
                },
                about: self.about.to_owned(),
                width: self.width,
                height,
                marks,
            }
        });
        sheets.map(Sheet::layered).collect()
    }
}

/// A sheet that is being filled, row after row.
#[derive(Default)]
struct Page {
    marks: Vec<Mark>,
    signs: Vec<Entry>,
    /// Where its last row begins, and how far that reaches to the right and down.
    top: f64,
    right: f64,
    bottom: f64,
}

impl Page {
    /// Begins a new row where the last has no room for a block; whether the sheet has.
    fn begin(&mut self, block: &Block, paper: &Paper<'_>) -> bool {
        if self.right > 0.0 && self.right + 2.0 * GAP + block.across > paper.width + 1e-6 {
            (self.top, self.right) = (self.bottom + GAP, 0.0);
        }
        let signs = joined(self.signs.clone(), block.signs.clone());
        let foot = foot(&signs, paper.width).map_or(0.0, |foot| foot.down + GAP);
        self.bottom.max(self.top + block.down) + foot <= paper.height + 1e-6
    }

    fn take(&mut self, block: Block) {
        let left = match self.right > 0.0 {
            true => self.right + 2.0 * GAP,
            false => 0.0,
        };
        self.bottom = self.bottom.max(self.top + block.down);
        self.right = left + block.across;
        self.signs = joined(std::mem::take(&mut self.signs), block.signs);
        self.marks.extend(moved(block.marks, left, self.top));
    }

    fn finished(mut self, across: f64) -> (Vec<Mark>, f64) {
        let mut down = self.bottom.max(1.0);
        if let Some(foot) = foot(&self.signs, across) {
            self.marks.extend(moved(foot.marks, 0.0, down + GAP));
            down += GAP + foot.down;
        }
        (self.marks, down)
    }
}

/// The legend of a sheet; none where nothing is drawn.
fn foot(signs: &[Entry], across: f64) -> Option<Block> {
    if signs.is_empty() {
        return None;
    }
    let (mark, down) = legend(signs, At::default(), across);
    let legend = Block {
        marks: vec![mark],
        signs: Vec::new(),
        across,
        down,
    };
    Some(legend.above(Block::note(SIGNS, across), 1.0))
}

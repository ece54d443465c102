//! Where the columns of the list stand, and what of a line wraps in them.

use super::{COUNT, ITEM};
use crate::output::pdf::fonts::{Fonts, SMALL};
use crate::output::pdf::notes::NOTE;
use crate::output::words;
use pricing::shop::{ShopLine, ShoppingList};

/// The side of a box.
pub(super) const BOX: f32 = 8.0;
/// From the left margin to the right edge of the quantities, at least.
const QUANTITY: f32 = 30.0;
/// Between two columns.
pub(super) const GAP: f32 = 8.0;
/// Between the words and the order number.
const ORDER_GAP: f32 = 6.0;
/// The least that the words take of what they share with where they go.
const LEAST: f32 = 0.4;
/// And the most.
const MOST_WORDS: f32 = 0.7;
/// Lines of type in a cell; only an absurd text has more.
const MOST: usize = 12;

/// Where the columns stand.
pub(super) struct Columns {
    pub(super) quantity: f32,
    pub(super) words: f32,
    pub(super) words_end: f32,
    pub(super) used: f32,
    pub(super) used_end: f32,
    /// Right edges of unit price, amount and running total.
    pub(super) figures: [f32; 3],
}

impl Columns {
    pub(super) fn of(fonts: &Fonts, shop: &ShoppingList, left: f32, right: f32) -> Self {
        let lines = || shop.groups.iter().flat_map(|group| &group.lines);
        let widest =
            |start: f32, cell: &dyn Fn(&ShopLine) -> f32| lines().map(cell).fold(start, f32::max);
        let head = |text| fonts.width(SMALL, text);
        let quantity = left
            + widest(QUANTITY, &|line| {
                BOX + 4.0 + fonts.width(COUNT, &line.quantity.to_string())
            });
        let mut edge = right;
        let figures = [2, 1, 0].map(|at| {
            let here = edge;
            let width = widest(head(HEADS[at]), &|line| {
                fonts.width(ITEM, &figures(line)[at])
            });
            edge -= width + GAP;
            here
        });
        let words = quantity + 6.0;
        let room = edge - words - GAP;
        let columns = |width: f32| Self {
            quantity,
            words,
            words_end: words + width,
            used: words + width + GAP,
            used_end: edge,
            figures: [figures[2], figures[1], figures[0]],
        };
        let tall = |width: &f32| {
            let columns = columns(*width);
            let cells = lines().map(|line| Cells::of(fonts, &columns, line));
            cells.map(|cells| cells.height).sum::<f32>()
        };
        // The words get what makes the list shortest, the most of it if equal.
        let mut widths: Vec<f32> = lines()
            .flat_map(|line| {
                let words = fonts.width(ITEM, &words::on_shelf(line));
                let order = fonts.width(NOTE, &words::order(line));
                [words, words + ORDER_GAP + order]
            })
            .map(|width| width.clamp(LEAST * room, MOST_WORDS * room))
            .collect();
        widths.sort_by(|a, b| b.total_cmp(a));
        widths.dedup();
        let best = widths
            .into_iter()
            .min_by(|a, b| tall(a).total_cmp(&tall(b)));
        columns(best.unwrap_or(LEAST * room))
    }
}

/// What of a line may take several lines of type.
pub(super) struct Cells {
    pub(super) words: Vec<String>,
    pub(super) order: String,
    /// Whether the order number stands beside the last of the words, not under
    /// it.
    pub(super) beside: bool,
    pub(super) used: Vec<String>,
    pub(super) height: f32,
}

impl Cells {
    pub(super) fn of(fonts: &Fonts, columns: &Columns, line: &ShopLine) -> Self {
        let room = columns.words_end - columns.words;
        let words = fonts.wrap_within(ITEM, &words::on_shelf(line), room, MOST);
        let order = fonts.shorten(NOTE, &words::order(line), room);
        let last = words.last().map_or(0.0, |last| fonts.width(ITEM, last));
        // A text as wide as the column must fit in spite of rounding.
        let beside =
            order.is_empty() || last + ORDER_GAP + fonts.width(NOTE, &order) <= room + 0.01;
        // A count stays with its word.
        let used = words::where_used(line)
            .replace(" each", "\u{a0}each")
            .replace(" spare", "\u{a0}spare");
        let used = fonts.wrap_within(NOTE, &used, columns.used_end - columns.used, MOST);
        let tall = |lines: &[String], leading: f32| lines.iter().map(|_| leading).sum::<f32>();
        let under = if beside { 0.0 } else { NOTE.leading };
        let height = (tall(&words, ITEM.leading) + under)
            .max(tall(&used, NOTE.leading))
            .max(ITEM.leading);
        Self {
            words,
            order,
            beside,
            used,
            height,
        }
    }
}

pub(super) const HEADS: [&str; 3] = ["Each", "Amount", "Running"];

pub(super) fn figures(line: &ShopLine) -> [String; 3] {
    [
        words::price(line.unit_price),
        words::price(line.amount),
        line.running.map_or_else(String::new, |sum| sum.show()),
    ]
}

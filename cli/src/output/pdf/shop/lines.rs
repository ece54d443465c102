//! The lines by group, each with its box.

use super::{COUNT, ITEM};
use crate::output::pdf::fonts::{Fonts, LARGE, SMALL};
use crate::output::pdf::notes::NOTE;
use crate::output::pdf::page::Sheets;
use crate::output::words;
use pricing::shop::{ShopGroup, ShopLine, ShoppingList};

/// The side of a box.
const BOX: f32 = 8.0;
/// From the left margin to the right edge of the quantities, at least.
const QUANTITY: f32 = 30.0;
/// Between two columns.
const GAP: f32 = 8.0;
/// Between the words and the order number.
const ORDER_GAP: f32 = 6.0;
/// Above and below a line.
const PAD: f32 = 0.7;
/// Above the heading of a group.
const GROUP_GAP: f32 = 2.8;
/// The least that the words take of what they share with where they go.
const LEAST: f32 = 0.4;
/// And the most.
const MOST_WORDS: f32 = 0.7;
/// Lines of type in a cell; only an absurd text has more.
const MOST: usize = 12;

/// Where the columns stand.
struct Columns {
    quantity: f32,
    words: f32,
    words_end: f32,
    used: f32,
    used_end: f32,
    /// Right edges of unit price, amount and running total.
    figures: [f32; 3],
}

impl Columns {
    fn of(fonts: &Fonts, shop: &ShoppingList, left: f32, right: f32) -> Self {
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
struct Cells {
    words: Vec<String>,
    order: String,
    /// Whether the order number stands beside the last of the words, not under
    /// it.
    beside: bool,
    used: Vec<String>,
    height: f32,
}

impl Cells {
    fn of(fonts: &Fonts, columns: &Columns, line: &ShopLine) -> Self {
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

const HEADS: [&str; 3] = ["Each", "Amount", "Running"];

fn figures(line: &ShopLine) -> [String; 3] {
    [
        words::price(line.unit_price),
        words::price(line.amount),
        line.running.map_or_else(String::new, |sum| sum.show()),
    ]
}

pub(super) fn draw(sheets: &mut Sheets, shop: &ShoppingList) {
    let (left, right) = (sheets.left(), sheets.right());
    let columns = Columns::of(sheets.fonts, shop, left, right);
    heads(sheets, &columns);
    let entries = shop.groups.iter();
    let entries =
        entries.flat_map(|group| group.lines.iter().enumerate().map(move |one| (group, one)));
    let entries: Vec<_> = entries.collect();
    // The sums go with the last two lines.
    let (before, last) = entries.split_at(entries.len().saturating_sub(2));
    for (group, (at, line)) in before {
        entry(sheets, &columns, group, *at, line);
    }
    sheets.together(|sheets| {
        for (group, (at, line)) in last {
            entry(sheets, &columns, group, *at, line);
        }
        sums(sheets, shop);
    });
}

fn heads(sheets: &mut Sheets, columns: &Columns) {
    let (left, right) = (sheets.left(), sheets.right());
    sheets.text_to(SMALL, columns.quantity, "Buy");
    sheets.text(SMALL, columns.words, "What the label says, order no.");
    sheets.text(SMALL, columns.used, "Where it goes");
    for (edge, head) in columns.figures.into_iter().zip(HEADS) {
        sheets.text_to(SMALL, edge, head);
    }
    sheets.advance(SMALL.leading + 1.0);
    sheets.rule(left, right);
}

/// A line, with the heading of its group where it is the first of it or of its sheet.
fn entry(sheets: &mut Sheets, columns: &Columns, group: &ShopGroup, at: usize, line: &ShopLine) {
    let cells = Cells::of(sheets.fonts, columns, line);
    let first = at == 0;
    let above = if first {
        GROUP_GAP + COUNT.leading
    } else {
        0.0
    };
    let broke = sheets.need(above + cells.height + 2.0 * PAD) || sheets.at_top();
    if broke {
        heads(sheets, columns);
    }
    if broke || first {
        sheets.advance(GROUP_GAP);
        if first {
            sheets.bookmark(0, &group.title);
        }
        let more = if first { "" } else { " (continued)" };
        heading(sheets, columns, group, more);
    }
    self::line(sheets, columns, line, &cells);
}

fn heading(sheets: &mut Sheets, columns: &Columns, group: &ShopGroup, more: &str) {
    let (left, edge) = (sheets.left(), columns.figures[1]);
    let subtotal = group.subtotal.show();
    let figure = format!("{} {subtotal}", words::group_sum(group));
    let room = edge - left - sheets.fonts.width(SMALL, &figure) - GAP;
    let title = sheets
        .fonts
        .shorten(COUNT, &format!("{}{more}", group.title), room);
    sheets.text(COUNT, left, &title);
    sheets.text_to(SMALL, edge, &figure);
    sheets.advance(COUNT.leading);
}

fn line(sheets: &mut Sheets, columns: &Columns, line: &ShopLine, cells: &Cells) {
    let left = sheets.left();
    sheets.advance(PAD);
    let top = sheets.down();
    sheets.go_to(top + (ITEM.leading - BOX) / 2.0);
    sheets.tick_box(left, BOX);
    sheets.go_to(top);
    sheets.text_to(COUNT, columns.quantity, &line.quantity.to_string());
    for text in &cells.words {
        sheets.text(ITEM, columns.words, text);
        sheets.advance(ITEM.leading);
    }
    // Small type stands level with the larger beside it.
    let level = (ITEM.leading - NOTE.leading) / 2.0;
    if cells.beside && !cells.words.is_empty() {
        sheets.advance(level - ITEM.leading);
    }
    sheets.text_to(NOTE, columns.words_end, &cells.order);
    sheets.go_to(if cells.used.len() == 1 {
        top + level
    } else {
        top
    });
    for text in &cells.used {
        sheets.text(NOTE, columns.used, text);
        sheets.advance(NOTE.leading);
    }
    sheets.go_to(top);
    for (edge, figure) in columns.figures.into_iter().zip(figures(line)) {
        sheets.text_to(ITEM, edge, &figure);
    }
    sheets.go_to(top + cells.height + PAD);
}

/// The sums beside each other, the total under the running totals.
fn sums(sheets: &mut Sheets, shop: &ShoppingList) {
    let (left, right) = (sheets.left(), sheets.right());
    let [(bare, bare_sum), (total, total_sum)] = words::shop_sums(shop);
    sheets.need(7.0 + LARGE.leading);
    sheets.advance(5.0);
    sheets.rule(left, right);
    sheets.advance(2.0);
    let fonts = sheets.fonts;
    let level = (LARGE.leading - ITEM.leading) / 2.0;
    sheets.advance(level);
    sheets.text(ITEM, left, &bare);
    sheets.text(ITEM, left + fonts.width(ITEM, &bare) + GAP, &bare_sum);
    sheets.advance(-level);
    let edge = right - fonts.width(LARGE, &total_sum) - GAP;
    sheets.text_to(LARGE, edge, &total);
    sheets.text_to(LARGE, right, &total_sum);
    sheets.advance(LARGE.leading);
}

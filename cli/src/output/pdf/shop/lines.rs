//! The lines by group, each with its box.

use super::{COUNT, ITEM, NOTE};
use crate::output::pdf::fonts::{Fonts, LARGE, SMALL};
use crate::output::pdf::page::Sheets;
use crate::output::words;
use pricing::shop::{ShopGroup, ShopLine, ShoppingList};

/// The side of a box.
const BOX: f32 = 8.0;
/// From the left margin to the right edge of the quantities, at least.
const QUANTITY: f32 = 30.0;
/// Between two columns.
const GAP: f32 = 8.0;
/// Above and below a line.
const PAD: f32 = 1.1;
/// Above the heading of a group.
const GROUP_GAP: f32 = 2.8;
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
        let wanted = widest(0.0, &|line| fonts.width(ITEM, &words::on_shelf(line)));
        let words_end = words + wanted.min(0.7 * room);
        Self {
            quantity,
            words,
            words_end,
            used: words_end + GAP,
            used_end: edge,
            figures: [figures[2], figures[1], figures[0]],
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

/// Where a line goes, its spares, and how to order it.
fn note(line: &ShopLine) -> String {
    // A count stays with its word, and the order number on one line of type.
    let used = words::where_used(line)
        .replace(" each", "\u{a0}each")
        .replace(" spare", "\u{a0}spare");
    match words::order(line).replace(' ', "\u{a0}").as_str() {
        "" => used,
        order => format!("{used} ({order})"),
    }
}

pub(super) fn draw(sheets: &mut Sheets, shop: &ShoppingList) {
    let (left, right) = (sheets.left(), sheets.right());
    let columns = Columns::of(sheets.fonts, shop, left, right);
    heads(sheets, &columns);
    for group in &shop.groups {
        self::group(sheets, &columns, group);
    }
    sums(sheets, shop);
}

fn heads(sheets: &mut Sheets, columns: &Columns) {
    let (left, right) = (sheets.left(), sheets.right());
    sheets.text_to(SMALL, columns.quantity, "Buy");
    sheets.text(SMALL, columns.words, "What the label says");
    sheets.text(SMALL, columns.used, "Where it goes, order no.");
    for (edge, head) in columns.figures.into_iter().zip(HEADS) {
        sheets.text_to(SMALL, edge, head);
    }
    sheets.advance(SMALL.leading + 1.0);
    sheets.rule(left, right);
}

fn group(sheets: &mut Sheets, columns: &Columns, group: &ShopGroup) {
    // A heading stays with its first line.
    if sheets.need(3.0 * COUNT.leading + 8.0) {
        heads(sheets, columns);
    }
    sheets.advance(GROUP_GAP);
    heading(sheets, columns, group, "");
    for line in &group.lines {
        let words = sheets.fonts.wrap_within(
            ITEM,
            &words::on_shelf(line),
            columns.words_end - columns.words,
            MOST,
        );
        let used =
            sheets
                .fonts
                .wrap_within(NOTE, &note(line), columns.used_end - columns.used, MOST);
        let tall = |lines: &[String], leading: f32| lines.iter().map(|_| leading).sum::<f32>();
        let height = tall(&words, ITEM.leading)
            .max(tall(&used, NOTE.leading))
            .max(ITEM.leading);
        if sheets.need(height + 2.0 * PAD) {
            heads(sheets, columns);
            sheets.advance(GROUP_GAP);
            heading(sheets, columns, group, " (continued)");
        }
        self::line(sheets, columns, line, &words, &used, height);
    }
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

fn line(
    sheets: &mut Sheets,
    columns: &Columns,
    line: &ShopLine,
    words: &[String],
    used: &[String],
    height: f32,
) {
    let left = sheets.left();
    sheets.advance(PAD);
    let top = sheets.down();
    sheets.go_to(top + (ITEM.leading - BOX) / 2.0);
    sheets.tick_box(left, BOX);
    sheets.go_to(top);
    sheets.text_to(COUNT, columns.quantity, &line.quantity.to_string());
    for (edge, figure) in columns.figures.into_iter().zip(figures(line)) {
        sheets.text_to(ITEM, edge, &figure);
    }
    for text in words {
        sheets.text(ITEM, columns.words, text);
        sheets.advance(ITEM.leading);
    }
    // A single note stands level with the words beside it.
    let first = if used.len() == 1 {
        (ITEM.leading - NOTE.leading) / 2.0
    } else {
        0.0
    };
    sheets.go_to(top + first);
    for text in used {
        sheets.text(NOTE, columns.used, text);
        sheets.advance(NOTE.leading);
    }
    sheets.go_to(top + height + PAD);
}

fn sums(sheets: &mut Sheets, shop: &ShoppingList) {
    let (left, right) = (sheets.left(), sheets.right());
    sheets.need(8.0 + ITEM.leading + LARGE.leading);
    sheets.advance(5.0);
    sheets.rule(left, right);
    sheets.advance(2.0);
    let sums = words::shop_sums(shop);
    let last = sums.len().saturating_sub(1);
    for (at, (words, figure)) in sums.iter().enumerate() {
        let style = if at == last { LARGE } else { ITEM };
        sheets.text(style, left, words);
        sheets.text_to(style, right, figure);
        sheets.advance(style.leading);
    }
}

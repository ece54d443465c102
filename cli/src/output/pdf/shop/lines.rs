//! The lines by group, each with its box.

use super::columns::{BOX, Cells, Columns, GAP, HEADS, figures};
use super::{COUNT, ITEM};
use crate::output::pdf::fonts::{LARGE, SMALL};
use crate::output::pdf::notes::NOTE;
use crate::output::pdf::page::Sheets;
use crate::output::words;
use pricing::shop::{ShopGroup, ShopLine, ShoppingList};

/// Above and below a line.
const PAD: f32 = 0.7;
/// Above the heading of a group.
const GROUP_GAP: f32 = 2.8;

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

//! What stands around the lines: missing prices, what to know, what else to
//! think of.

use super::ITEM;
use crate::output::pdf::fonts::{LARGE, STRONG};
use crate::output::pdf::notes::{Note, columns, run_on};
use crate::output::pdf::page::Sheets;
use crate::output::words;
use pricing::shop::ShoppingList;

/// The loud hole: every part that has no price.
pub(super) fn missing(sheets: &mut Sheets, shop: &ShoppingList) {
    if shop.missing.is_empty() {
        return;
    }
    sheets.gap(6.0);
    let left = sheets.left() + 10.0;
    sheets.open_frame();
    sheets.banner(LARGE, words::OPEN);
    sheets.advance(4.0);
    for part in &shop.missing {
        let words = format!("{} {} {}", part.quantity, part.words, part.key.size);
        sheets.paragraph(STRONG, left, words.trim());
        sheets.paragraph(ITEM, left, &part.reason);
    }
    sheets.advance(4.0);
    sheets.close_frame();
    sheets.gap(8.0);
}

/// The notes in two columns under the list.
pub(super) fn draw(sheets: &mut Sheets, shop: &ShoppingList) {
    sheets.gap(5.0);
    columns(sheets, &before(shop), &also(shop));
}

fn before(shop: &ShoppingList) -> Vec<Note> {
    let facts = shop.heads_up.iter();
    std::iter::once(Note::Head("Before you drive"))
        .chain(facts.map(|fact| Note::Fact(fact.label.to_owned(), fact.text.clone())))
        .chain(run_on("Cautions", &shop.cautions))
        .chain(run_on("Assumptions", &shop.assumptions))
        .collect()
}

fn also(shop: &ShoppingList) -> Vec<Note> {
    let head = (!shop.also.is_empty()).then_some(Note::Head(words::ALSO));
    head.into_iter()
        .chain(shop.also.iter().cloned().map(Note::Item))
        .chain(run_on("Notices", &shop.notices))
        .collect()
}

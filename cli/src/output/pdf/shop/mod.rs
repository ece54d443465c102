//! The shopping list on paper: type that reads in the hand, a box to tick for
//! each line, and a small job on one sheet.

mod columns;
mod lines;
mod notes;

use super::Paper;
use super::fonts::{Face, Style};
use super::imprint::Imprint;
use crate::output::words;
use pricing::shop::ShoppingList;
use std::collections::BTreeSet;
use std::io::{self, Write};

/// What is bought.
const ITEM: Style = Style {
    face: Face::Regular,
    size: 9.0,
    leading: 11.5,
};
/// How many, and headings.
const COUNT: Style = Style {
    face: Face::Bold,
    ..ITEM
};

/// Writes the shopping list as PDF and gives back the characters that the
/// fonts lack, which are printed as `?`.
///
/// # Errors
/// Those of `out`.
pub fn shop(shop: &ShoppingList, paper: Paper, out: &mut dyn Write) -> io::Result<BTreeSet<char>> {
    let imprint = Imprint {
        kind: "Shopping list",
        title: &shop.title,
        revision: &shop.revision,
        fingerprint: &shop.fingerprint,
        date: shop.date,
        author: "",
        foot: "",
        warning: shop.total.is_none().then_some(words::OPEN),
    };
    imprint.write(paper, out, |sheets| {
        sheets.advance(-16.0);
        imprint.name(sheets);
        sheets.advance(3.0);
        notes::missing(sheets, shop);
        lines::draw(sheets, shop);
        notes::draw(sheets, shop);
    })
}

#[cfg(test)]
mod tests;

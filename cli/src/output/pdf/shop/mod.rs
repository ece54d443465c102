//! The shopping list on paper: type that reads in the hand, a box to tick for
//! each line, and a small job on one sheet.

mod lines;
mod notes;

use super::Paper;
use super::file::{self, About};
use super::fonts::{Face, Fonts, LARGE, Style, TITLE};
use super::page::{Running, Sheets};
use super::words::{joined, marks};
use crate::output::words;
use pricing::shop::ShoppingList;
use printpdf::PdfPage;
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
    let fonts = Fonts::load()?;
    let (pages, lacking) = pages(shop, paper, &fonts);
    let about = About {
        title: &title(shop),
        author: "",
        date: shop.date,
    };
    file::write(pages, fonts.into_map(), &about, out)?;
    Ok(lacking)
}

fn pages(shop: &ShoppingList, paper: Paper, fonts: &Fonts) -> (Vec<PdfPage>, BTreeSet<char>) {
    let mut sheets = Sheets::new(fonts, paper);
    sheets.advance(-16.0);
    name(&mut sheets, shop);
    notes::missing(&mut sheets, shop);
    lines::draw(&mut sheets, shop);
    notes::draw(&mut sheets, shop);
    sheets.finish(&Running {
        title: title(shop),
        marks: marks(fonts, &shop.revision, &shop.fingerprint, shop.date),
        foot: String::new(),
        warning: shop.total.is_none().then_some(words::OPEN),
    })
}

fn title(shop: &ShoppingList) -> String {
    joined(&["Shopping list", shop.title.trim()], ": ")
}

fn name(sheets: &mut Sheets, shop: &ShoppingList) {
    let left = sheets.left();
    sheets.text(TITLE, left, "Shopping list");
    // The smaller title stands on the same line of type.
    sheets.advance(6.2);
    let x = left + sheets.fonts.width(TITLE, "Shopping list") + 14.0;
    sheets.paragraph(LARGE, x, &shop.title);
    sheets.advance(3.0);
}

#[cfg(test)]
mod tests;

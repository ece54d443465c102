//! Lists beside their headings, and how a paper ends.

use super::blocks::block;
use super::fonts::{BODY, SMALL, STRONG};
use super::page::{SIDE_HEADING, Sheets};

/// Items of a list that is not parted to go with the end of the paper.
const SHORT: usize = 4;

/// A heading and what stands beside it, item by item.
pub(super) struct List<'a> {
    pub(super) label: &'a str,
    pub(super) items: &'a [String],
    /// Whether the items are counted; otherwise each has a dash.
    pub(super) counted: bool,
}

/// A list with dashes.
pub(super) fn list(sheets: &mut Sheets, label: &str, items: &[String]) {
    let list = List {
        label,
        items,
        counted: false,
    };
    list.draw(sheets);
}

/// Lists, and what ends the paper: it takes the end of the last list to its sheet, so
/// that it is never alone there.
pub(super) fn closing(sheets: &mut Sheets, lists: &[(&str, &[String])], end: impl Fn(&mut Sheets)) {
    let lists = lists.iter().filter(|(_, items)| !items.is_empty());
    let lists: Vec<List> = lists
        .map(|(label, items)| List {
            label,
            items,
            counted: false,
        })
        .collect();
    let Some((last, before)) = lists.split_last() else {
        sheets.together(end);
        return;
    };
    for list in before {
        list.draw(sheets);
    }
    // A short list goes as a whole.
    let kept = match last.items.len() {
        short @ ..=SHORT => short,
        _ => 2,
    };
    let begun = last.items.len() - kept;
    last.items_from(sheets, 0, begun);
    sheets.together(|sheets| {
        last.items_from(sheets, begun, last.items.len());
        end(sheets);
    });
}

impl List<'_> {
    pub(super) fn draw(&self, sheets: &mut Sheets) {
        let count = self.items.len();
        // The last item is not alone on the next sheet.
        let pair = count.saturating_sub(2);
        self.items_from(sheets, 0, pair);
        sheets.together(|sheets| self.items_from(sheets, pair, count));
    }

    fn items_from(&self, sheets: &mut Sheets, from: usize, to: usize) {
        for at in from..to {
            // An item stays with its mark, and whole where a sheet holds it.
            sheets.together(|sheets| self.item(sheets, at));
        }
    }

    fn item(&self, sheets: &mut Sheets, at: usize) {
        let inner = sheets.inner();
        if at == 0 {
            block(sheets, self.label);
        } else if sheets.need(BODY.leading) || sheets.at_top() {
            let left = sheets.left();
            let room = SIDE_HEADING - 8.0;
            for (style, text) in [(STRONG, self.label), (SMALL, "continued")] {
                sheets.text(style, left, &sheets.fonts.shorten(style, text, room));
                sheets.advance(style.leading);
            }
            sheets.advance(-STRONG.leading - SMALL.leading);
        }
        let (mark, step) = match self.counted {
            true => (format!("{}.", at + 1), 14.0),
            false => ("–".to_owned(), 10.0),
        };
        sheets.text(BODY, inner, &mark);
        sheets.paragraph(BODY, inner + step, &self.items[at]);
        sheets.gap(2.0);
    }
}

//! The last page: what was taken as given, and the signatures.

use super::{block, block_of, day, joined, labelled};
use crate::output::pdf::fonts::{BODY, SMALL, STRONG};
use crate::output::pdf::page::Sheets;
use pricing::quote::Quote;

/// Above each rule to write on.
const WRITING: f32 = 22.0;

/// The side of a box to tick.
const BOX: f32 = 8.0;
/// How tall a line with such a box is.
const TICKED: f32 = BODY.leading + 4.0;
/// How tall the two signatures are.
const SIGNATURE: f32 = STRONG.leading + 3.0 * (WRITING + 1.5 + SMALL.leading);

pub(super) fn list(sheets: &mut Sheets, label: &str, items: &[String]) {
    if items.is_empty() {
        return;
    }
    block(sheets, label);
    let inner = sheets.inner();
    let width = sheets.right() - inner - 10.0;
    for item in items {
        // An item stays with its dash, and whole if it is short.
        let height = sheets.fonts.height(BODY, item, width);
        sheets.need(height.min(4.0 * BODY.leading));
        sheets.text(BODY, inner, "–");
        sheets.paragraph(BODY, inner + 10.0, item);
        sheets.gap(2.0);
    }
}

/// Room for both signatures, which stays on one sheet.
pub(super) fn acceptance(sheets: &mut Sheets, quote: &Quote) {
    let (inner, right) = (sheets.inner(), sheets.right());
    let middle = f32::midpoint(inner, right);
    let Some(total) = quote.total else {
        block(sheets, "Acceptance");
        sheets.paragraph(
            BODY,
            inner,
            "This paper is not an offer while a price is missing: there is nothing to sign yet.",
        );
        return;
    };
    let currency = total.currency();
    let total = match quote.options {
        Some(_) => "with the one option that is ticked".to_owned(),
        None => format!("total {} {}", currency.code(), total.show()),
    };
    let what = [
        &format!("Quote of {}", day(quote.date)),
        &labelled("revision", &quote.revision),
        &labelled("fingerprint", &quote.fingerprint),
        &total,
    ];
    let what = format!("{}.", joined(&what.map(String::as_str), ", "));
    let boxes = boxes(quote);
    let height = sheets.fonts.height(BODY, &what, right - inner) + 8.0 + SIGNATURE;
    let taken: f32 = boxes.iter().map(|_| TICKED).sum();
    block_of(sheets, "Acceptance", height + taken);
    sheets.paragraph(BODY, inner, &what);
    for words in &boxes {
        sheets.advance(TICKED - BODY.leading);
        sheets.tick_box(inner, BOX);
        let line = sheets.fonts.shorten(BODY, words, right - inner - 2.0 * BOX);
        sheets.text(BODY, inner + 2.0 * BOX, &line);
        sheets.advance(BODY.leading);
    }
    sheets.gap(8.0);
    let top = sheets.down();
    let customer = if quote.customer.trim().is_empty() {
        "The customer"
    } else {
        &quote.customer
    };
    signature(sheets, inner, middle - 10.0, customer);
    let end = sheets.down();
    sheets.go_to(top);
    signature(sheets, middle + 10.0, right, &quote.company.name);
    sheets.go_to(sheets.down().max(end));
}

/// What the customer ticks: one of the options, and alternates.
fn boxes(quote: &Quote) -> Vec<String> {
    let currency = quote.subtotal.currency();
    let code = currency.code();
    let options = quote.options.iter().flat_map(|options| &options.options);
    let options = options.filter_map(|option| {
        let total = option.total.as_ref().ok()?;
        Some(format!(
            "Option {}: total {code} {}",
            option.name,
            total.show()
        ))
    });
    let alternates = quote.alternates.iter().filter_map(|one| {
        let adds = one.price.as_ref().ok()?;
        Some(format!(
            "Alternate {}: adds {code} {}",
            one.name,
            adds.show()
        ))
    });
    options.chain(alternates).collect()
}

fn signature(sheets: &mut Sheets, left: f32, right: f32, party: &str) {
    let line = sheets.fonts.shorten(STRONG, party, right - left);
    sheets.text(STRONG, left, &line);
    sheets.advance(STRONG.leading);
    for label in ["Name", "Signature", "Date"] {
        sheets.advance(WRITING);
        sheets.rule(left, right);
        sheets.advance(1.5);
        sheets.text(SMALL, left, label);
        sheets.advance(SMALL.leading);
    }
}

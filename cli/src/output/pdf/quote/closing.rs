//! The last page: the signatures.

use crate::output::pdf::blocks::{block, signatures};
use crate::output::pdf::fonts::BODY;
use crate::output::pdf::page::Sheets;
use crate::output::pdf::words::{day, joined, labelled};
use crate::output::words::quote as said;
use pricing::quote::Quote;

/// The side of a box to tick.
const BOX: f32 = 8.0;
/// How tall a line with such a box is.
const TICKED: f32 = BODY.leading + 4.0;

/// Room for both signatures.
pub(super) fn acceptance(sheets: &mut Sheets, quote: &Quote) {
    let (inner, right) = (sheets.inner(), sheets.right());
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
    block(sheets, "Acceptance");
    sheets.paragraph(BODY, inner, &what);
    for (words, sum) in said::choices(quote) {
        let words = format!("{words} {}", sum.show());
        sheets.need(TICKED);
        sheets.advance(TICKED - BODY.leading);
        // In the middle of the line's height.
        let lower = (BODY.leading - BOX) / 2.0;
        sheets.advance(lower);
        sheets.tick_box(inner, BOX);
        sheets.advance(-lower);
        let line = sheets
            .fonts
            .shorten(BODY, &words, right - inner - 2.0 * BOX);
        sheets.text(BODY, inner + 2.0 * BOX, &line);
        sheets.advance(BODY.leading);
    }
    sheets.gap(8.0);
    signatures(sheets, &quote.customer, &quote.company.name);
}

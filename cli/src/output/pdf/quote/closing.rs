//! The last page: the signatures.

use crate::output::pdf::blocks::{SIGNATURE, block, block_of, signatures};
use crate::output::pdf::fonts::BODY;
use crate::output::pdf::page::Sheets;
use crate::output::pdf::words::{day, joined, labelled};
use pricing::quote::Quote;

/// The side of a box to tick.
const BOX: f32 = 8.0;
/// How tall a line with such a box is.
const TICKED: f32 = BODY.leading + 4.0;
/// Room for both signatures, which stays on one sheet.
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
    signatures(sheets, &quote.customer, &quote.company.name);
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

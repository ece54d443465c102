//! The last page: the signatures.

use crate::output::pdf::blocks::{SIGNATURE, block, block_of, signatures};
use crate::output::pdf::fonts::BODY;
use crate::output::pdf::page::Sheets;
use crate::output::pdf::words::{day, joined, labelled};
use pricing::quote::Quote;

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
    let what = [
        &format!("Quote of {}", day(quote.date)),
        &labelled("revision", &quote.revision),
        &labelled("fingerprint", &quote.fingerprint),
        &format!("total {} {}", currency.code(), total.show()),
    ];
    let what = format!("{}.", joined(&what.map(String::as_str), ", "));
    let height = sheets.fonts.height(BODY, &what, right - inner) + 8.0 + SIGNATURE;
    block_of(sheets, "Acceptance", height);
    sheets.paragraph(BODY, inner, &what);
    sheets.gap(8.0);
    signatures(sheets, &quote.customer, &quote.company.name);
}

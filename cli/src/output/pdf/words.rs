//! What every paper says in the same words.

use super::fonts::{Fonts, SMALL};
use super::page::SIDE_HEADING;
use jiff::civil::Date;

/// Revision, fingerprint and date, as they stand at the head of every sheet.
pub(super) fn marks(fonts: &Fonts, revision: &str, fingerprint: &str, date: Date) -> String {
    let revision = fonts.shorten(SMALL, &labelled("Revision", revision), SIDE_HEADING);
    joined(&[&revision, fingerprint, &day(date)], " · ")
}

/// `Revision A`; nothing for an empty text.
pub(super) fn labelled(label: &str, text: &str) -> String {
    match text.trim() {
        "" => String::new(),
        text => format!("{label} {text}"),
    }
}

/// The texts that are not empty.
pub(super) fn joined(texts: &[&str], between: &str) -> String {
    let texts: Vec<_> = texts
        .iter()
        .copied()
        .filter(|text| !text.is_empty())
        .collect();
    texts.join(between)
}

/// A day as people write it: `1 October 2026`.
pub(super) fn day(date: Date) -> String {
    date.strftime("%-d %B %Y").to_string()
}

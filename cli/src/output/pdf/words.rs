//! What every paper says in the same words.

pub(super) use crate::output::words::{day, joined, labelled};

use super::fonts::{Fonts, SMALL};
use super::page::SIDE_HEADING;
use jiff::civil::Date;

/// Revision, fingerprint and date, as they stand at the head of every sheet.
pub(super) fn marks(fonts: &Fonts, revision: &str, fingerprint: &str, date: Date) -> String {
    let revision = fonts.shorten(SMALL, &labelled("Revision", revision), SIDE_HEADING);
    joined(&[&revision, fingerprint, &day(date)], " · ")
}

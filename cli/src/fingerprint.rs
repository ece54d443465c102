//! The short mark by which papers of one state are known.

use bom::source::Source;
use sha2::{Digest, Sha256};

/// Eight digits for the layout (the job and the systems of its own), and eight more for prices and rates where
/// they count: `4F2A-91C0/83BC-11D0`. Line ends do not change it.
pub(crate) fn of(layout: &[&Source], prices: &[&Source]) -> String {
    let layout = digits(layout);
    if prices.is_empty() {
        return layout;
    }
    format!("{layout}/{}", digits(prices))
}

fn digits(sources: &[&Source]) -> String {
    let mut hash = Sha256::new();
    for source in sources {
        let text = source.text().replace("\r\n", "\n");
        hash.update(text.len().to_le_bytes());
        hash.update(text);
    }
    let [a, b, c, d, ..]: [u8; 32] = hash.finalize().into();
    format!("{a:02X}{b:02X}-{c:02X}{d:02X}")
}

/// The SHA-256 of a file, as programs for it print it.
pub(crate) fn checksum(bytes: &[u8]) -> String {
    let digits = Sha256::digest(bytes);
    digits.iter().map(|byte| format!("{byte:02x}")).collect()
}

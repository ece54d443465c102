use bom::quantity::QuantityError;
use std::fmt;

/// A currency by its three letters (ISO 4217).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Currency([u8; 3]);

/// Currencies whose minor unit is not a hundredth (ISO 4217, from memory).
const WITHOUT_MINOR: [&str; 16] = [
    "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "VND", "VUV",
    "XAF", "XOF", "XPF",
];
const THOUSANDTHS: [&str; 7] = ["BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"];

impl Currency {
    /// Reads a code such as `USD`.
    ///
    /// # Errors
    /// Anything but three capital letters.
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        <[u8; 3]>::try_from(text.trim().as_bytes())
            .ok()
            .filter(|code| code.iter().all(u8::is_ascii_uppercase))
            .map(Self)
            .ok_or_else(|| QuantityError {
                message: format!("`{}` is not a currency code", text.trim()),
                help: "write three capital letters, like USD, CAD or EUR".to_owned(),
            })
    }

    /// The code.
    #[must_use]
    pub fn code(&self) -> &str {
        std::str::from_utf8(&self.0).unwrap_or_default()
    }

    /// Decimals of the minor unit.
    #[must_use]
    pub fn decimals(&self) -> u32 {
        let code = self.code();
        if WITHOUT_MINOR.contains(&code) {
            0
        } else if THOUSANDTHS.contains(&code) {
            3
        } else {
            2
        }
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

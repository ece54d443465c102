use super::scan::Scanner;
use super::{Length, QuantityError, Units};

/// The fall of a main: how far it drops for each length of level run, kept as
/// an exact ratio.
#[derive(Debug, Clone, Copy)]
pub struct Fall {
    drop_nm: i64,
    per_nm: i64,
    back: bool,
}

/// However it was written: `1in per 10ft` is `10in per 100ft`.
impl PartialEq for Fall {
    fn eq(&self, other: &Self) -> bool {
        let cross = |one: Self, other: Self| i128::from(one.drop_nm) * i128::from(other.per_nm);
        cross(*self, *other) == cross(*other, *self) && (self.back == other.back || self.is_level())
    }
}

impl Eq for Fall {}

impl Fall {
    /// A level main.
    pub const LEVEL: Self = Self {
        drop_nm: 0,
        per_nm: 1,
        back: false,
    };

    /// Steepest fall that is read: 1 in 10. A pipe steeper than that is not a
    /// fall but an offset.
    const STEEPEST: i64 = 10;

    /// How far a level run of `length` drops.
    #[must_use]
    pub fn over(self, length: Length) -> Length {
        length.scaled(self.drop_nm, self.per_nm)
    }

    /// Whether there is no fall at all.
    #[must_use]
    pub const fn is_level(self) -> bool {
        self.drop_nm == 0
    }

    /// Whether the main falls back towards the supply.
    #[must_use]
    pub const fn is_back(self) -> bool {
        self.back
    }

    /// Reads `1/8in per ft`, `1in per 10ft`, `1 %`, `10mm/m`, each with `back`
    /// behind it for a fall towards the supply; or `level`.
    ///
    /// # Errors
    /// A missing unit, or a fall steeper than 1 in 10.
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        const HOW: &str =
            "write it like \"1/8in per ft\", \"1in per 10ft\", \"1 %\", \"10mm/m\" or \"level\"";
        let trimmed = text.trim();
        if matches!(trimmed, "level" | "none" | "0") {
            return Ok(Self::LEVEL);
        }
        let (body, back) = match trimmed.strip_suffix("back") {
            Some(body) => (body.trim(), true),
            None => (trimmed, false),
        };
        let (drop_nm, per_nm) = if let Some(percent) = body.strip_suffix('%') {
            let mut scan = Scanner::new(percent);
            let number = scan.number()?;
            if !scan.at_end() {
                return Err(QuantityError::new(format!("`{body}` is not a fall"), HOW));
            }
            let scaled = number
                .times_exact(1_000_000)
                .ok_or_else(|| QuantityError::new("the fall has more than six decimals", HOW))?;
            (i64::try_from(scaled).unwrap_or(i64::MAX), 100_000_000)
        } else {
            let (drop, per) = body
                .split_once(" per ")
                .or_else(|| {
                    body.split_once('/')
                        .filter(|(_, per)| !per.starts_with(char::is_numeric))
                })
                .or_else(|| body.rsplit_once('/'))
                .ok_or_else(|| {
                    QuantityError::new(format!("`{body}` does not say per what it falls"), HOW)
                })?;
            let per = per.trim();
            let per = if per.starts_with(|c: char| c.is_ascii_digit()) {
                Length::parse(per, Units::Metric)?
            } else {
                Length::parse(&format!("1{per}"), Units::Metric)?
            };
            (Length::parse(drop, Units::Metric)?.nm(), per.nm())
        };
        if per_nm == 0 || drop_nm.saturating_mul(Self::STEEPEST) > per_nm {
            return Err(QuantityError::new(
                format!("a fall of `{body}` is steeper than 1 in 10"),
                "a main falls about 1/8in per ft (1 %); check the figures",
            ));
        }
        Ok(Self {
            drop_nm,
            per_nm,
            back,
        })
    }
}

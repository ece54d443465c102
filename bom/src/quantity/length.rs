use super::QuantityError;
use super::scan::{Ratio, Scanner};
use std::ops::{Add, AddAssign, Neg, Sub, SubAssign};

/// An exact length: a whole number of nanometres, so that 1/64 in and 1 mm
/// are both exact and no conversion rounds.
///
/// Sums stay inside `i64` for any site: the reader refuses a single length
/// above [`Length::LONGEST`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, serde::Deserialize)]
#[serde(try_from = "String")]
pub struct Length(i64);

/// How plain `"12-6"` reads and how results print.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Units {
    /// Feet and inches; the default.
    #[default]
    Feet,
    /// Metres and millimetres.
    Metric,
}

const NM_PER_INCH: i64 = 25_400_000;
const NM_PER_FOOT: i64 = 12 * NM_PER_INCH;
const NM_PER_MM: i64 = 1_000_000;

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0);
    /// The longest single length that is read: 100 km.
    pub const LONGEST: Self = Self(100_000_000 * NM_PER_MM);

    /// A whole number of nanometres.
    #[must_use]
    pub const fn from_nm(nm: i64) -> Self {
        Self(nm)
    }

    /// A whole number of millimetres.
    #[must_use]
    pub const fn from_mm(mm: i64) -> Self {
        Self(mm * NM_PER_MM)
    }

    /// Whole feet.
    #[must_use]
    pub const fn from_feet(feet: i64) -> Self {
        Self(feet * NM_PER_FOOT)
    }

    /// Sixty-fourths of an inch.
    #[must_use]
    pub const fn from_64ths(count: i64) -> Self {
        Self(count * (NM_PER_INCH / 64))
    }

    /// The length in nanometres.
    #[must_use]
    pub const fn nm(self) -> i64 {
        self.0
    }

    /// The length in millimetres, for tables and ratios; not for adding up.
    #[must_use]
    #[expect(
        clippy::cast_precision_loss,
        reason = "a reading for people and charts"
    )]
    pub fn mm(self) -> f64 {
        self.0 as f64 / NM_PER_MM as f64
    }

    /// The length in feet, for tables and ratios; not for adding up.
    #[must_use]
    #[expect(
        clippy::cast_precision_loss,
        reason = "a reading for people and charts"
    )]
    pub fn feet(self) -> f64 {
        self.0 as f64 / NM_PER_FOOT as f64
    }

    /// Millimetres with at most three decimals, as machines read them.
    #[must_use]
    pub fn to_mm_text(self) -> String {
        let micrometres = div_round(self.0, 1_000);
        let (sign, rest) = (if micrometres < 0 { "-" } else { "" }, micrometres.abs());
        let text = format!("{sign}{}.{:03}", rest / 1_000, rest % 1_000);
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    }

    /// The distance without its sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// `self × count`.
    #[must_use]
    pub const fn times(self, count: i64) -> Self {
        Self(self.0 * count)
    }

    /// How many stretches of at most `step` cover this length: the ceiling of
    /// the quotient, 0 for no length.
    #[must_use]
    pub fn stretches_of(self, step: Self) -> u64 {
        if self.0 <= 0 || step.0 <= 0 {
            return 0;
        }
        u64::try_from((self.0 + step.0 - 1) / step.0).unwrap_or(0)
    }

    /// `self × numerator / denominator`, rounded to the nanometre, half away
    /// from zero.
    #[must_use]
    pub fn scaled(self, numerator: i64, denominator: i64) -> Self {
        let product = i128::from(self.0) * i128::from(numerator);
        let half = i128::from(denominator) / 2;
        let rounded = if product >= 0 {
            (product + half) / i128::from(denominator)
        } else {
            (product - half) / i128::from(denominator)
        };
        Self(i64::try_from(rounded).unwrap_or(i64::MAX))
    }

    /// `self × √2` to the nanometre: how long a 45° run is that covers this much.
    #[must_use]
    pub fn diagonal_whole(self) -> Self {
        self.scaled(1_414_213_562_373_095_049, 1_000_000_000_000_000_000)
    }

    /// `self / √2` to the nanometre: what a 45° run covers along each axis.
    #[must_use]
    pub fn diagonal_part(self) -> Self {
        // 1/√2 to 18 digits; products stay far below 2^127.
        self.scaled(707_106_781_186_547_524, 1_000_000_000_000_000_000)
    }

    /// Reads a length; plain `"12-6"` is allowed only where `units` are feet.
    ///
    /// # Errors
    /// A missing or unknown unit, inches of 12 or more after feet, a negative
    /// length, a decimal comma, a length finer than a nanometre or longer than
    /// [`Length::LONGEST`].
    pub fn parse(text: &str, units: Units) -> Result<Self, QuantityError> {
        let trimmed = text.trim();
        if trimmed.is_empty() {
            return Err(QuantityError::new("the length is empty", HOW));
        }
        if trimmed == "?" || trimmed.starts_with('~') {
            return Err(QuantityError::new(
                format!("`{trimmed}` says that this length is not measured"),
                "write a figure: only heights, the straights of a leg and its marks may be left open or paced",
            ));
        }
        if trimmed.starts_with(['-', '−', '+']) {
            return Err(QuantityError::new(
                format!("a length has no sign, and this one is `{trimmed}`"),
                "give the distance, and turn the direction round instead",
            ));
        }
        let mut scan = Scanner::new(trimmed);
        let nm = read(&mut scan, units)?;
        if !scan.at_end() {
            return Err(QuantityError::new(
                format!("`{}` is left over after the length", scan.rest()),
                HOW,
            ));
        }
        if nm > i128::from(Self::LONGEST.0) {
            return Err(QuantityError::new(
                format!("`{trimmed}` is longer than 100 km"),
                "check the unit",
            ));
        }
        i64::try_from(nm)
            .map(Self)
            .map_err(|_| QuantityError::new("the length is too long", "check the unit"))
    }

    /// The length as the trade writes it: `12'-6 1/2"` to the nearest 1/16 in,
    /// or millimetres to the nearest 1 mm.
    #[must_use]
    pub fn show(self, units: Units) -> String {
        match units {
            Units::Feet => self.show_feet(),
            Units::Metric => format!("{} mm", div_round(self.0, NM_PER_MM)),
        }
    }

    /// A total for a list: feet with one decimal or metres with two.
    #[must_use]
    pub fn show_total(self, units: Units) -> String {
        match units {
            Units::Feet => {
                let tenths = div_round(self.0, NM_PER_FOOT / 10);
                format!("{}.{} ft", tenths / 10, (tenths % 10).abs())
            }
            Units::Metric => {
                let cm = div_round(self.0, 10 * NM_PER_MM);
                format!("{}.{:02} m", cm / 100, (cm % 100).abs())
            }
        }
    }

    fn show_feet(self) -> String {
        let sixteenths = div_round(self.0, NM_PER_INCH / 16);
        let sign = if sixteenths < 0 { "-" } else { "" };
        let rest = sixteenths.abs();
        let (feet, inches, part) = (rest / 192, rest % 192 / 16, rest % 16);
        let inches = match fraction_of_16(part) {
            // Behind feet the nought is written: 3'-0 1/2".
            Some((n, d)) if inches == 0 && feet == 0 => format!("{n}/{d}\""),
            Some((n, d)) => format!("{inches} {n}/{d}\""),
            None => format!("{inches}\""),
        };
        if feet == 0 {
            format!("{sign}{inches}")
        } else {
            format!("{sign}{feet}'-{inches}")
        }
    }
}

const HOW: &str = "write it like \"12-6\", \"12ft 6in\", \"150in\", \"3.81m\" or \"3810mm\"";

fn read(scan: &mut Scanner<'_>, units: Units) -> Result<i128, QuantityError> {
    let start = scan.rest();
    // `12-6 1/2` is twelve, a dash and a fraction: the scanner lets a dash
    // continue a number only where a fraction's line follows directly.
    let first = scan.number()?;
    let before_unit = scan.rest();
    let unit = scan.word();
    match unit {
        "ft" | "foot" | "feet" | "'" | "′" | "’" => {
            let feet = exact(first, NM_PER_FOOT)?;
            let dashed = scan.take('-');
            if !scan.starts_number() {
                return if dashed {
                    Err(QuantityError::new("inches are missing after the dash", HOW))
                } else {
                    Ok(feet)
                };
            }
            Ok(feet + inches_below_12(scan)?)
        }
        "in" | "inch" | "inches" | "\"" | "″" | "”" => exact(first, NM_PER_INCH),
        "mm" => exact(first, NM_PER_MM),
        "cm" => exact(first, 10 * NM_PER_MM),
        "m" => exact(first, 1_000 * NM_PER_MM),
        "" if scan.take('-') => {
            if units == Units::Metric {
                return Err(QuantityError::new(
                    format!("`{start}` is feet-inches, but the job's units are metric"),
                    "write it like \"3.81m\" or \"3810mm\", or name the unit: \"12ft 6in\"",
                ));
            }
            Ok(exact(first, NM_PER_FOOT)? + inches_below_12(scan)?)
        }
        "" => Err(bare_number(before_unit, start, first)),
        other => Err(QuantityError::new(
            format!("`{other}` is not a unit of length"),
            "the units are ft, in, m, cm and mm",
        )),
    }
}

fn inches_below_12(scan: &mut Scanner<'_>) -> Result<i128, QuantityError> {
    if !scan.starts_number() {
        return Err(QuantityError::new("inches are missing after the dash", HOW));
    }
    let inches = scan.number()?;
    let word = scan.word();
    if !matches!(word, "" | "in" | "inch" | "inches" | "\"" | "″" | "”") {
        return Err(QuantityError::new(
            format!("`{word}` stands where inches were expected"),
            HOW,
        ));
    }
    if inches.numerator >= 12 * inches.denominator {
        return Err(QuantityError::new(
            "inches after feet must be less than 12",
            "carry whole feet over, or write all of it in inches",
        ));
    }
    exact(inches, NM_PER_INCH)
}

fn exact(number: Ratio, unit: i64) -> Result<i128, QuantityError> {
    number.times_exact(i128::from(unit)).ok_or_else(|| {
        QuantityError::new(
            "the length is finer than can be kept exactly",
            "inches go down to 1/64 in, millimetres to six decimals",
        )
    })
}

fn bare_number(rest: &str, start: &str, number: Ratio) -> QuantityError {
    let written = &start[..start.len() - rest.len()];
    let readings = match written.split_once('.') {
        Some((feet, inches))
            if inches.parse::<u32>().is_ok_and(|i| i < 12) && !inches.starts_with('0') =>
        {
            let decimal = exact(number, NM_PER_FOOT)
                .ok()
                .and_then(|nm| i64::try_from(nm).ok())
                .map_or_else(String::new, |nm| {
                    format!(", or {written} ft = {}", Length(nm).show(Units::Feet))
                });
            format!("is it {feet} ft {inches} in{decimal}?")
        }
        _ => format!("is it {written} ft, {written} in or {written} mm?"),
    };
    QuantityError::new(format!("a bare number is never a length: {readings}"), HOW)
}

/// Numerator and denominator of a count of sixteenths in lowest terms.
fn fraction_of_16(part: i64) -> Option<(i64, i64)> {
    if part == 0 {
        return None;
    }
    let (mut n, mut d) = (part, 16);
    while n % 2 == 0 {
        n /= 2;
        d /= 2;
    }
    Some((n, d))
}

/// Integer division rounded half away from zero.
fn div_round(value: i64, unit: i64) -> i64 {
    let half = unit / 2;
    if value >= 0 {
        (value + half) / unit
    } else {
        (value - half) / unit
    }
}

/// Data files name their units, so plain feet-inches are not read there.
impl TryFrom<String> for Length {
    type Error = QuantityError;
    fn try_from(text: String) -> Result<Self, QuantityError> {
        Self::parse(&text, Units::Metric)
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

impl std::iter::Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

use super::scan::Scanner;
use super::{Length, QuantityError};
use std::fmt;

/// A pipe size as the trade names it. A name, not a measurement: 3/4 in pipe
/// is 1.050 in outside.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Deserialize)]
#[serde(try_from = "String")]
pub enum Size {
    /// Nominal pipe size (NPS, or nominal copper size) in eighths of an inch.
    Nominal(u16),
    /// Outside diameter in micrometres, as metric tube is named.
    Outside(u32),
}

/// DN numbers and the NPS that they stand for, in eighths (ISO 6708 pairs,
/// ASME B36.10M; from memory).
const DN: [(u16, u16); 12] = [
    (6, 1),
    (8, 2),
    (10, 3),
    (15, 4),
    (20, 6),
    (25, 8),
    (32, 10),
    (40, 12),
    (50, 16),
    (65, 20),
    (80, 24),
    (100, 32),
];

impl Size {
    /// Reads `3/4in`, `1-1/4in`, `1 1/4"`, `DN20` or `25mm`.
    ///
    /// # Errors
    /// A missing unit, a size that is not in eighths of an inch, an unknown DN.
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        const HOW: &str = "write it like \"3/4in\", \"1-1/4in\", \"DN20\" or \"25mm\"";
        let trimmed = text.trim();
        if let Some(number) = trimmed
            .strip_prefix("DN")
            .or_else(|| trimmed.strip_prefix("dn"))
        {
            let dn = number.trim().parse::<u16>().ok();
            return DN
                .iter()
                .find(|(known, _)| Some(*known) == dn)
                .map(|(_, eighths)| Self::Nominal(*eighths))
                .ok_or_else(|| {
                    QuantityError::new(
                        format!("`{trimmed}` is not a DN size"),
                        "the DN sizes are 6 8 10 15 20 25 32 40 50 65 80 and 100",
                    )
                });
        }
        let mut scan = Scanner::new(trimmed);
        let number = scan.number()?;
        let unit = scan.word();
        if !scan.at_end() {
            return Err(QuantityError::new(
                format!("`{}` is left over after the size", scan.rest()),
                HOW,
            ));
        }
        let size = match unit {
            "in" | "inch" | "\"" | "″" | "”" => number
                .times_exact(8)
                .and_then(|eighths| u16::try_from(eighths).ok())
                .map(Self::Nominal),
            "mm" => number
                .times_exact(1_000)
                .and_then(|micrometres| u32::try_from(micrometres).ok())
                .map(Self::Outside),
            "" => {
                return Err(QuantityError::new(
                    format!("the size `{trimmed}` has no unit"),
                    HOW,
                ));
            }
            other => {
                return Err(QuantityError::new(
                    format!("`{other}` is not a unit of pipe size"),
                    HOW,
                ));
            }
        };
        size.filter(|size| !matches!(size, Self::Nominal(0) | Self::Outside(0)))
            .ok_or_else(|| QuantityError::new(format!("there is no pipe of size `{trimmed}`"), HOW))
    }
}

impl TryFrom<String> for Size {
    type Error = QuantityError;
    fn try_from(text: String) -> Result<Self, QuantityError> {
        Self::parse(&text)
    }
}

impl fmt::Display for Size {
    /// The form used in every file: `3/4in`, `1-1/4in`, `25mm`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Nominal(eighths) => {
                let (whole, part) = (eighths / 8, eighths % 8);
                let (n, d) = match part {
                    2 | 6 => (part / 2, 4),
                    4 => (1, 2),
                    _ => (part, 8),
                };
                match (whole, part) {
                    (_, 0) => write!(f, "{whole}in"),
                    (0, _) => write!(f, "{n}/{d}in"),
                    _ => write!(f, "{whole}-{n}/{d}in"),
                }
            }
            Self::Outside(micrometres) if micrometres % 1_000 == 0 => {
                write!(f, "{}mm", micrometres / 1_000)
            }
            Self::Outside(micrometres) => {
                let text = format!("{}.{:03}", micrometres / 1_000, micrometres % 1_000);
                write!(f, "{}mm", text.trim_end_matches('0'))
            }
        }
    }
}

/// The size of a part: up to four port sizes in the trade's order (run x run x
/// branch, larger x smaller), and a length where the part has one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct PartSize {
    ports: [Option<Size>; 4],
    length: Option<Length>,
}

impl PartSize {
    /// A part without a size.
    pub const NONE: Self = Self {
        ports: [None; 4],
        length: None,
    };

    /// A part of one size throughout.
    #[must_use]
    pub const fn one(size: Size) -> Self {
        Self {
            ports: [Some(size), None, None, None],
            length: None,
        }
    }

    /// A part of two sizes, larger first.
    #[must_use]
    pub fn two(a: Size, b: Size) -> Self {
        if a == b {
            return Self::one(a);
        }
        Self {
            ports: [Some(a.max(b)), Some(a.min(b)), None, None],
            length: None,
        }
    }

    /// A part whose two ports differ in kind, in their order: tube x thread,
    /// main x branch.
    #[must_use]
    pub fn pair(first: Size, second: Size) -> Self {
        if first == second {
            return Self::one(first);
        }
        Self {
            ports: [Some(first), Some(second), None, None],
            length: None,
        }
    }

    /// A tee: run x run x branch, the larger run first.
    #[must_use]
    pub fn tee(run_a: Size, run_b: Size, branch: Size) -> Self {
        if run_a == run_b && run_b == branch {
            return Self::one(run_a);
        }
        Self {
            ports: [
                Some(run_a.max(run_b)),
                Some(run_a.min(run_b)),
                Some(branch),
                None,
            ],
            length: None,
        }
    }

    /// The same part with a length.
    #[must_use]
    pub const fn with_length(mut self, length: Length) -> Self {
        self.length = Some(length);
        self
    }

    /// The largest port, by which joints and hours are counted.
    #[must_use]
    pub fn largest(self) -> Option<Size> {
        self.ports.into_iter().flatten().max()
    }

    /// Its ports, one for a part of one size throughout.
    pub fn ports(self) -> impl Iterator<Item = Size> {
        self.ports.into_iter().flatten()
    }

    /// The size of its port of this number, from 0: a part of one size has it
    /// at every port.
    #[must_use]
    pub fn port(self, number: usize) -> Option<Size> {
        match self.ports {
            [Some(only), None, None, None] => Some(only),
            ports => ports.get(number).copied().flatten(),
        }
    }

    /// Whether its ports differ.
    #[must_use]
    pub const fn reduces(self) -> bool {
        self.ports[1].is_some()
    }

    /// As a label on the shelf writes it: `3/4 x 1/2 in`, `1 in x 24 in`.
    #[must_use]
    pub fn shelf(self) -> String {
        let ports: Vec<String> = self
            .ports
            .into_iter()
            .flatten()
            .map(|port| port.to_string())
            .collect();
        let unit = ports.first().map_or("", |port| split_unit(port).1);
        let mut said = if ports.iter().all(|port| split_unit(port).1 == unit) {
            let figures: Vec<&str> = ports.iter().map(|port| split_unit(port).0).collect();
            format!("{} {unit}", figures.join(" x "))
        } else {
            ports.join(" x ")
        };
        if let Some(length) = self.length {
            let code = length_code(length);
            let (figure, unit) = split_unit(&code);
            said = format!("{said} x {figure} {unit}");
        }
        said.trim().to_owned()
    }

    /// Whether one of its ports has this size.
    #[must_use]
    pub fn has_port(self, size: Size) -> bool {
        self.ports.contains(&Some(size))
    }

    /// The length, for parts sold by it (hoses, nipples).
    #[must_use]
    pub const fn length(self) -> Option<Length> {
        self.length
    }

    /// Reads what [`fmt::Display`] writes, in any spacing: `1in x 1in x 3/4in`.
    /// A last term in `in` is a length only if `has_length` says so.
    ///
    /// # Errors
    /// Those of [`Size::parse`] and [`Length::parse`]; more than four terms.
    pub fn parse(text: &str, has_length: bool) -> Result<Self, QuantityError> {
        let mut terms: Vec<&str> = text
            .split(['x', 'X', '×'])
            .map(str::trim)
            .filter(|term| !term.is_empty())
            .collect();
        let mut size = Self::NONE;
        if has_length && terms.len() > 1 {
            let last = terms.pop().unwrap_or_default();
            size.length = Some(Length::parse(last, super::Units::Feet)?);
        }
        if terms.len() > 4 {
            return Err(QuantityError::new(
                "a part has at most four ports",
                "write the sizes as run x run x branch",
            ));
        }
        for (port, term) in size.ports.iter_mut().zip(&terms) {
            *port = Some(Size::parse(term)?);
        }
        if terms.len() > 1
            && terms
                .iter()
                .all(|term| Size::parse(term).ok() == size.ports[0])
        {
            size.ports = [size.ports[0], None, None, None];
        }
        Ok(size)
    }
}

impl fmt::Display for PartSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut first = true;
        for size in self.ports.into_iter().flatten() {
            if !first {
                f.write_str(" x ")?;
            }
            first = false;
            write!(f, "{size}")?;
        }
        if let Some(length) = self.length {
            if !first {
                f.write_str(" x ")?;
            }
            write!(f, "{}", length_code(length))?;
        }
        Ok(())
    }
}

/// A figure and the unit behind it.
fn split_unit(text: &str) -> (&str, &str) {
    text.split_at(text.find(char::is_alphabetic).unwrap_or(text.len()))
}

/// A part's own length: inches where they come out in sixteenths, else
/// millimetres.
fn length_code(length: Length) -> String {
    let sixteenth = Length::from_64ths(4).nm();
    if length.nm() % sixteenth != 0 {
        return format!("{}mm", length.to_mm_text());
    }
    let sixteenths = length.nm() / sixteenth;
    let (whole, mut n, mut d) = (sixteenths / 16, sixteenths % 16, 16);
    if n == 0 {
        return format!("{whole}in");
    }
    while n % 2 == 0 {
        n /= 2;
        d /= 2;
    }
    if whole == 0 {
        format!("{n}/{d}in")
    } else {
        format!("{whole}-{n}/{d}in")
    }
}

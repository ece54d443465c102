use bom::quantity::{Length, Units};

/// What a price is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Unit {
    /// A piece or a roll.
    Each,
    /// A stick of pipe of one length.
    Stick(Length),
    /// Pipe by the foot.
    Foot,
    /// Pipe by the metre.
    Metre,
}

impl Unit {
    /// Reads what pipe is sold by: `21ft`, `6m`, `ft`, `m`; none for anything
    /// else.
    pub(crate) fn of_pipe(text: &str) -> Option<Self> {
        match text {
            "ft" => Some(Self::Foot),
            "m" => Some(Self::Metre),
            _ => Length::parse(text, Units::Metric)
                .ok()
                .filter(|length| *length > Length::ZERO)
                .map(Self::Stick),
        }
    }

    /// As the catalog writes it: `each`, `21ft`, `ft`.
    #[must_use]
    pub fn code(self) -> String {
        match self {
            Self::Each => "each".to_owned(),
            Self::Stick(length) => stick(length, ""),
            Self::Foot => "ft".to_owned(),
            Self::Metre => "m".to_owned(),
        }
    }

    /// As paper writes a pack of it: `pack of 10`, `stick 21 ft`; `each` is
    /// the take-off's word for one.
    #[must_use]
    pub fn words(self, pack: u64, each: &str) -> String {
        match (self, pack) {
            (Self::Each, 1) => each.to_owned(),
            (Self::Each, _) => format!("pack of {pack}"),
            (Self::Stick(length), 1) => format!("stick {}", stick(length, " ")),
            (Self::Stick(length), _) => format!("pack of {pack} sticks {}", stick(length, " ")),
            (Self::Foot | Self::Metre, 1) => self.code(),
            (Self::Foot | Self::Metre, _) => format!("pack of {pack} {}", self.code()),
        }
    }
}

/// A stick's length in whole feet or metres where it comes out so.
fn stick(length: Length, gap: &str) -> String {
    let whole = |unit: Length| (length.nm() % unit.nm() == 0).then(|| length.nm() / unit.nm());
    if let Some(feet) = whole(Length::from_feet(1)) {
        format!("{feet}{gap}ft")
    } else if let Some(metres) = whole(Length::from_mm(1_000)) {
        format!("{metres}{gap}m")
    } else {
        format!("{}{gap}mm", length.to_mm_text())
    }
}

//! How a sheet writes sizes.

/// What a size without a unit is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum SizeUnit {
    Inches,
    Millimetres,
    /// The numbers of ISO 6708: 20 is DN20.
    Nominal,
}

impl SizeUnit {
    pub(super) fn parse(text: &str) -> Option<Self> {
        match text {
            "in" => Some(Self::Inches),
            "mm" => Some(Self::Millimetres),
            "DN" => Some(Self::Nominal),
            _ => None,
        }
    }

    /// The same size with this unit wherever one is left out. A length behind
    /// it, as nipples and hoses have, is in inches or in millimetres.
    pub(crate) fn complete(self, size: &str, has_length: bool) -> String {
        let terms: Vec<&str> = size.split(['x', 'X', '×']).map(str::trim).collect();
        let last = terms.len() - 1;
        let terms: Vec<String> = terms
            .iter()
            .enumerate()
            .map(|(at, term)| {
                let bare = term.chars().next().is_some_and(char::is_numeric)
                    && term.chars().next_back().is_some_and(char::is_numeric);
                let is_length = has_length && at == last && at > 0;
                match self {
                    _ if !bare => (*term).to_owned(),
                    Self::Inches => format!("{term}in"),
                    Self::Nominal if !is_length => format!("DN{term}"),
                    Self::Nominal | Self::Millimetres => format!("{term}mm"),
                }
            })
            .collect();
        terms.join(" x ")
    }
}

#[cfg(test)]
mod tests {
    use super::SizeUnit;

    #[test]
    fn a_bare_size_gets_the_stated_unit() {
        use SizeUnit::{Inches, Millimetres, Nominal};
        for (unit, size, has_length, complete) in [
            (Inches, "3/4", false, "3/4in"),
            (Inches, "3/4\"", false, "3/4\""),
            (Inches, "3/4 X 1/2", false, "3/4in x 1/2in"),
            (Inches, "3/4 x 1/2in", false, "3/4in x 1/2in"),
            (Inches, "1¼", false, "1¼in"),
            (Inches, "DN20", false, "DN20"),
            (Inches, "3/4 x 4-1/2", true, "3/4in x 4-1/2in"),
            (Nominal, "20×15", false, "DN20 x DN15"),
            (Nominal, "20 x 100", true, "DN20 x 100mm"),
            (Millimetres, "25", false, "25mm"),
            (Inches, "", false, ""),
        ] {
            assert_eq!(unit.complete(size, has_length), complete, "{size}");
        }
    }
}

//! How much of its prices a quote shows: one sum, a sum for each section, or every line.
//! Quantities of materials are always shown; those of work and of what else is no
//! material only with their prices, since a sum over its hours is a wage.

use super::{Quote, QuoteLine, Section, Tax};
use crate::estimate::is_material;
use crate::money::Money;
use rust_decimal::Decimal;

/// How much of the prices a quote shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Level {
    /// One sum.
    Sum,
    /// A sum for each section; labour is one of them, as tax on materials alone needs it
    /// stated by itself.
    Sections,
    /// Every line.
    Lines,
}

impl Level {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Sum => "sum",
            Self::Sections => "sections",
            Self::Lines => "lines",
        }
    }
}

/// The prices as they are shown, and nothing that is not.
#[derive(Debug, Clone)]
pub struct Prices {
    /// The sections with what is shown of them.
    pub sections: Vec<ShownSection>,
    /// The rounding; none where it is not shown.
    pub rounding: Option<Money>,
    /// The sum before tax; none where it is not shown.
    pub subtotal: Option<Money>,
    /// The tax. Where tax on materials would say what they come to in one sum, it is
    /// in the total.
    pub tax: Option<Tax>,
}

/// A section as it is shown.
#[derive(Debug, Clone)]
pub struct ShownSection {
    /// Its heading.
    pub title: String,
    /// Its lines; without prices above the level of lines.
    pub lines: Vec<ShownLine>,
    /// Its sum; none where it is not shown.
    pub subtotal: Option<Money>,
    /// Whether something of it has no price.
    pub open: bool,
}

/// A line as it is shown.
#[derive(Debug, Clone)]
pub struct ShownLine {
    /// What it is.
    pub text: String,
    /// How much of it; none where that is not shown.
    pub quantity: Option<Decimal>,
    /// The unit; empty where the quantity is not shown.
    pub unit: String,
    /// The price of one; none where it is not shown, or missing.
    pub unit_price: Option<Money>,
    /// Quantity × price; none where it is not shown, or missing.
    pub amount: Option<Money>,
    /// Whether tax on materials falls on it.
    pub taxed: bool,
}

impl ShownLine {
    /// How much of it in figures; nothing where that is not shown.
    #[must_use]
    pub fn how_much(&self) -> String {
        self.quantity
            .map_or_else(String::new, |quantity| quantity.to_string())
    }
}

impl Quote {
    /// The prices as the quote's level shows them.
    #[must_use]
    pub fn prices(&self) -> Prices {
        let of_lines = self.level >= Level::Sections;
        let base = self.tax.base;
        let tells_nothing = base == self.subtotal || base.amount().is_zero();
        let in_sum = !of_lines && !tells_nothing;
        let sections = self.sections.iter().map(|section| self.shown(section));
        Prices {
            sections: sections.collect(),
            rounding: self.rounding.filter(|_| of_lines),
            subtotal: (!in_sum).then_some(self.subtotal),
            tax: (!in_sum).then(|| self.tax.clone()),
        }
    }

    fn shown(&self, section: &Section) -> ShownSection {
        let material = is_material(&section.title);
        let lines = match self.small_items.filter(|_| material) {
            Some(under) => gathered(section, under),
            None => section.lines.clone(),
        };
        let priced = self.level == Level::Lines;
        let measured = priced || material;
        let line = |line: QuoteLine| ShownLine {
            text: line.text,
            quantity: measured.then_some(line.quantity),
            unit: if measured { line.unit } else { String::new() },
            unit_price: line.unit_price.filter(|_| priced),
            amount: line.amount.filter(|_| priced),
            taxed: line.taxed,
        };
        ShownSection {
            title: section.title.clone(),
            open: section.lines.iter().any(|line| line.amount.is_none()),
            lines: lines.into_iter().map(line).collect(),
            subtotal: (self.level >= Level::Sections).then_some(section.subtotal),
        }
    }
}

/// The lines with those under a price in one, if there are several.
fn gathered(section: &Section, under: Money) -> Vec<QuoteLine> {
    let small = |line: &QuoteLine| {
        let amount = line.amount.map(|amount| amount.amount());
        amount.is_some_and(|amount| amount < under.amount())
    };
    let (few, mut lines): (Vec<QuoteLine>, Vec<QuoteLine>) =
        section.lines.iter().cloned().partition(small);
    let amounts = few.iter().filter_map(|line| line.amount);
    // The section's own sum, of which this is a part, has not too many digits.
    let Ok(sum) = Money::sum(under.currency(), amounts) else {
        return section.lines.clone();
    };
    if few.len() < 2 {
        return section.lines.clone();
    }
    lines.push(QuoteLine {
        text: format!("Small items of {} kinds", few.len()),
        quantity: Decimal::ONE,
        unit: "lot".to_owned(),
        unit_price: Some(sum),
        amount: Some(sum),
        // Only materials are gathered.
        taxed: true,
    });
    lines
}

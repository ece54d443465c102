//! The lines of two quotes side by side. What is bought for the same need at
//! another price stands apart from what the layout changes; where quantity and
//! price both change, what is added goes at the new price, what falls away at the
//! old one, and what stays shows what its price changes.

use super::Quoted;
use super::needs::needs;
use crate::estimate::{ALLOWANCE, COSTS, HIRE, LABOUR};
use crate::money::{Money, MoneyError};
use crate::quote::{Quote, QuoteLine};
use crate::rates::{AllowanceOf, Basis, Rates};
use bom::takeoff::Group;
use rust_decimal::Decimal;
use std::collections::{BTreeMap, BTreeSet};

/// What a line's change is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// More or fewer parts.
    Parts,
    /// More or less work.
    Work,
    /// Hired tools, travel and the like.
    Other,
    /// The same at another price.
    Prices,
    /// Sums in the total that are settled after the work.
    Provisional,
    /// What the rounding of the whole price adds.
    Rounding,
}

impl Kind {
    /// All of them, in the order of the papers.
    pub const ALL: [Self; 6] = [
        Self::Parts,
        Self::Work,
        Self::Other,
        Self::Prices,
        Self::Provisional,
        Self::Rounding,
    ];

    fn of(section: &str) -> Self {
        match section {
            LABOUR => Self::Work,
            HIRE | COSTS | ALLOWANCE => Self::Other,
            _ => Self::Parts,
        }
    }
}

/// One line that differs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// What its change is.
    pub kind: Kind,
    /// The quote's heading.
    pub section: String,
    /// What it is, in shelf words with its size.
    pub text: String,
    /// Of what: `each`, `hour`.
    pub unit: String,
    /// As it was; none if it is new.
    pub old: Option<Side>,
    /// As it is; none if it falls away.
    pub new: Option<Side>,
    /// How much more of it there is; below nought how much less.
    pub more: Decimal,
    /// The new amount less the old one; none while a price or hours are missing.
    pub change: Option<Money>,
}

impl Line {
    /// The same without its sums.
    pub(super) fn without_money(&mut self) {
        self.change = None;
        for side in [&mut self.old, &mut self.new].into_iter().flatten() {
            side.unit_price = None;
            side.amount = None;
        }
    }
}

/// One side of a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Side {
    /// How much of it.
    pub quantity: Decimal,
    /// Price of one; none if it has no price.
    pub unit_price: Option<Money>,
    /// What it comes to; none if it has no price.
    pub amount: Option<Money>,
}

/// What differs, and what is to be said of it.
pub(super) struct Lines {
    pub(super) lines: Vec<Line>,
    pub(super) notes: Vec<String>,
}

pub(super) fn lines(old: &Quoted<'_>, new: &Quoted<'_>) -> Result<Lines, MoneyError> {
    let mut groups: BTreeMap<Key, [Bought; 2]> = BTreeMap::new();
    for (at, side) in [old, new].into_iter().enumerate() {
        for section in &side.quote.sections {
            for line in &section.lines {
                let key = (rank(&section.title), &*section.title, &*line.text);
                let units = &mut groups.entry(key).or_default()[at];
                units.entry(&line.unit).or_default().push(side_of(line));
            }
        }
    }
    let needs = [needs(old.inputs), needs(new.inputs)];
    let mut found = Lines {
        lines: Vec::new(),
        notes: Vec::new(),
    };
    for ((_, section, text), bought) in groups {
        let need = needs
            .each_ref()
            .map(|needs| needs.get(&(section, text.to_owned())));
        let same_need = need[0].is_some() && need[0] == need[1];
        let row = Row {
            section,
            text,
            same_need,
        };
        found.row(&row, bought)?;
    }
    found.percents(old.inputs.rates, new.inputs.rates);
    found.rates(old.inputs.rates, new.inputs.rates);
    found.allowance(new.inputs.rates);
    found.provisional(&old.quote, &new.quote)?;
    found.rounding(&old.quote, &new.quote)?;
    Ok(found)
}

/// Heading and text of a line, in the order of the papers.
type Key<'a> = (usize, &'a str, &'a str);
/// What is bought under one text, by its unit.
type Bought<'a> = BTreeMap<&'a str, Vec<Side>>;

struct Row<'a> {
    section: &'a str,
    text: &'a str,
    same_need: bool,
}

impl Lines {
    fn row(
        &mut self,
        row: &Row<'_>,
        [mut old, mut new]: [Bought<'_>; 2],
    ) -> Result<(), MoneyError> {
        let units: BTreeSet<&str> = old.keys().chain(new.keys()).copied().collect();
        let mut alone = [false; 2];
        for unit in units {
            let mut was = old.remove(unit).unwrap_or_default();
            let mut is = new.remove(unit).unwrap_or_default();
            was.retain(|side| match is.iter().position(|other| other == side) {
                Some(at) => {
                    is.remove(at);
                    false
                }
                None => true,
            });
            for sides in [&mut was, &mut is] {
                sides.sort_by_key(|side| {
                    (side.unit_price.map(|price| price.amount()), side.quantity)
                });
            }
            for at in 0..was.len().max(is.len()) {
                let sides = (was.get(at).cloned(), is.get(at).cloned());
                alone[0] |= sides.1.is_none();
                alone[1] |= sides.0.is_none();
                self.pair(row, unit, sides)?;
            }
        }
        if alone == [true; 2] && !row.same_need {
            self.notes.push(format!(
                "{}: it is bought in other units than before, so that what its quantity and its price change is not told apart.",
                row.text
            ));
        }
        Ok(())
    }

    /// One unit of one line on both sides.
    fn pair(
        &mut self,
        row: &Row<'_>,
        unit: &str,
        sides: (Option<Side>, Option<Side>),
    ) -> Result<(), MoneyError> {
        let kind = Kind::of(row.section);
        let mut push = |kind, old: Option<Side>, new: Option<Side>| -> Result<(), MoneyError> {
            let quantity =
                |side: &Option<Side>| side.as_ref().map_or(Decimal::ZERO, |s| s.quantity);
            self.lines.push(Line {
                kind,
                section: row.section.to_owned(),
                text: row.text.to_owned(),
                unit: unit.to_owned(),
                more: (quantity(&new) - quantity(&old)).normalize(),
                change: difference(old.as_ref(), new.as_ref())?,
                old,
                new,
            });
            Ok(())
        };
        let (Some(old), Some(new)) = sides else {
            let kind = if row.same_need { Kind::Prices } else { kind };
            return push(kind, sides.0, sides.1);
        };
        let prices = old.unit_price.zip(new.unit_price);
        let dearer = prices.filter(|(old, new)| old != new);
        if row.same_need || old.quantity == new.quantity {
            return push(Kind::Prices, Some(old), Some(new));
        }
        let Some((old_price, new_price)) = dearer else {
            return push(kind, Some(old), Some(new));
        };
        if new.quantity > old.quantity {
            let kept = side(old.quantity, new_price)?;
            push(kind, Some(kept.clone()), Some(new))?;
            push(Kind::Prices, Some(old), Some(kept))
        } else {
            let kept = side(new.quantity, old_price)?;
            push(kind, Some(old), Some(kept.clone()))?;
            push(Kind::Prices, Some(kept), Some(new))
        }
    }

    /// A share of the materials is no price of its own: it follows the parts, and
    /// their prices only where no part changes.
    fn percents(&mut self, old: &Rates, new: &Rates) {
        let shares = |rates: &Rates| -> BTreeMap<String, Decimal> {
            let costs = rates.costs.iter().filter_map(|cost| match cost.basis {
                Basis::OfMaterials(percent) => Some((cost.text.clone(), percent)),
                Basis::Each { .. } => None,
            });
            costs.collect()
        };
        let (old, new) = (shares(old), shares(new));
        if !self.lines.iter().any(|line| line.kind == Kind::Parts) {
            return;
        }
        let material = |line: &Line| Kind::of(&line.section) == Kind::Parts;
        let dearer = |line: &Line| line.kind == Kind::Prices && material(line);
        let dearer = self.lines.iter().any(dearer);
        for line in &mut self.lines {
            let (was, is) = (old.get(&line.text), new.get(&line.text));
            if line.section != COSTS || line.kind != Kind::Prices || was.or(is).is_none() {
                continue;
            }
            line.kind = Kind::Other;
            if dearer || was != is {
                self.notes.push(format!(
                    "{}: it is a share of the materials, and follows the changed parts and the changed prices.",
                    line.text
                ));
            }
        }
    }

    /// An allowance that is a share of all else follows it, and is no price of its own.
    fn allowance(&mut self, new: &Rates) {
        let of = new.allowance.as_ref().map(|allowance| &allowance.of);
        let share = matches!(of, Some(AllowanceOf::Cost(_)));
        if !share || self.lines.iter().all(|line| line.kind == Kind::Prices) {
            return;
        }
        for line in &mut self.lines {
            if line.section == ALLOWANCE && line.kind == Kind::Prices {
                line.kind = Kind::Other;
                self.notes.push(format!(
                    "{}: it is a share of the price of all else, and follows it.",
                    line.text
                ));
            }
        }
    }

    /// Other hours for the same work.
    fn rates(&mut self, old: &Rates, new: &Rates) {
        let differ = old.hours != new.hours || old.adders != new.adders;
        if differ && self.lines.iter().any(|line| line.kind == Kind::Work) {
            self.notes.push(
                "The hours for a piece of work differ as well: where there is more or less work, its line follows both.".to_owned(),
            );
        }
    }

    /// Sums that are settled after the work, each by what it is for.
    fn provisional(&mut self, old: &Quote, new: &Quote) -> Result<(), MoneyError> {
        let none = Money::zero(new.subtotal.currency());
        let mut sums: BTreeMap<&str, [Money; 2]> = BTreeMap::new();
        for (at, quote) in [old, new].into_iter().enumerate() {
            for one in quote.provisional.iter().filter(|one| one.in_total) {
                let sum = &mut sums.entry(&one.text).or_insert([none; 2])[at];
                *sum = sum.plus(one.price)?;
            }
        }
        for (text, sums) in sums {
            self.fixed(Kind::Provisional, ["Provisional sums", text], sums)?;
        }
        Ok(())
    }

    fn rounding(&mut self, old: &Quote, new: &Quote) -> Result<(), MoneyError> {
        let none = Money::zero(new.subtotal.currency());
        let sums = [old, new].map(|quote| quote.rounding.unwrap_or(none));
        self.fixed(Kind::Rounding, ["Rounding", "Rounding of the price"], sums)
    }

    /// What has a sum and no price, if it differs.
    fn fixed(
        &mut self,
        kind: Kind,
        [section, text]: [&str; 2],
        [old, new]: [Money; 2],
    ) -> Result<(), MoneyError> {
        if old == new {
            return Ok(());
        }
        let side = |amount| Side {
            quantity: Decimal::ONE,
            unit_price: None,
            amount: Some(amount),
        };
        self.lines.push(Line {
            kind,
            section: section.to_owned(),
            text: text.to_owned(),
            unit: "job".to_owned(),
            old: Some(side(old)),
            new: Some(side(new)),
            more: Decimal::ZERO,
            change: Some(new.minus(old)?),
        });
        Ok(())
    }
}

/// The new amount less the old one; none if one has no price.
fn difference(old: Option<&Side>, new: Option<&Side>) -> Result<Option<Money>, MoneyError> {
    let amount = |side: Option<&Side>| side.map(|side| side.amount);
    match (amount(old), amount(new)) {
        (Some(None), _) | (_, Some(None)) | (None, None) => Ok(None),
        (Some(Some(old)), Some(Some(new))) => new.minus(old).map(Some),
        (None, Some(Some(new))) => Ok(Some(new)),
        (Some(Some(old)), None) => Money::zero(old.currency()).minus(old).map(Some),
    }
}

fn side(quantity: Decimal, unit_price: Money) -> Result<Side, MoneyError> {
    Ok(Side {
        quantity,
        unit_price: Some(unit_price),
        amount: Some(unit_price.times(quantity)?),
    })
}

fn side_of(line: &QuoteLine) -> Side {
    Side {
        quantity: line.quantity,
        unit_price: line.unit_price,
        amount: line.amount,
    }
}

/// Where a heading stands in the quote.
fn rank(section: &str) -> usize {
    let groups = Group::ALL.map(Group::title);
    let titles = groups.into_iter().chain([HIRE, COSTS, LABOUR, ALLOWANCE]);
    titles.take_while(|title| *title != section).count()
}

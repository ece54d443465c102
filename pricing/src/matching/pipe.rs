//! Pipe in sticks, by the foot or by the metre.

use super::bundle::{Bundle, Taken, cover};
use super::sticks::{cheapest, demand, sold_singly, sticks_of, stock};
use crate::catalog::{Offer, Unit};
use crate::money::{Currency, MoneyError};
use bom::cutting::{self, Demand, Stock};
use bom::quantity::Length;
use bom::takeoff::PipeLine;
use rust_decimal::Decimal;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

/// How many sticks of each stock are cut, or why they cannot be.
type Cut = Result<Vec<u64>, String>;

/// The pipe of one size.
#[derive(Debug)]
pub(super) struct Pipe<'a> {
    line: &'a PipeLine,
    demand: Vec<Demand>,
    /// Each plan is made once, however many suppliers are tried.
    plans: RefCell<BTreeMap<Vec<Stock>, Cut>>,
}

impl<'a> Pipe<'a> {
    pub(super) fn new(line: &'a PipeLine) -> Self {
        Self {
            line,
            demand: demand(line),
            plans: RefCell::default(),
        }
    }

    pub(super) fn row_unit(&self) -> String {
        Unit::Stick(self.line.stick).code()
    }

    /// The pieces' whole length, the last foot begun.
    pub(super) fn feet(&self) -> u64 {
        self.line.ordered().stretches_of(Length::from_feet(1))
    }

    /// The same in metres, the last tenth begun.
    pub(super) fn metres(&self) -> Decimal {
        let tenths = self.line.ordered().stretches_of(Length::from_mm(100));
        (Decimal::from(tenths) * Decimal::new(1, 1)).normalize()
    }

    /// Why an offer that has a price does not fit.
    pub(super) fn misfit(&self, offer: &Offer) -> Option<String> {
        match offer.unit {
            Unit::Stick(length) => self.singly(length).err().map(|error| {
                let stick = offer.unit.words(1, "");
                format!("the {stick} on {}: {error}", offer.place)
            }),
            Unit::Each => Some(format!("{} does not say how long the pipe is", offer.place)),
            Unit::Foot | Unit::Metre => None,
        }
    }

    /// The cheapest of cut sticks of mixed lengths, cut sticks of one, and pipe
    /// by length.
    pub(super) fn bundle<'o>(
        &self,
        offers: &[&'o Offer],
        currency: Currency,
    ) -> Result<Option<Bundle<'o>>, MoneyError> {
        let of = |unit: Unit| -> Vec<&Offer> {
            let offers = offers.iter().copied();
            offers.filter(|offer| offer.unit == unit).collect()
        };
        let mut ways = vec![cover(self.feet(), &of(Unit::Foot), currency)?];
        for offer in of(Unit::Metre) {
            ways.push(self.by_metre(offer, currency)?);
        }
        // Those that are sold one by one are cut in the cheapest mix below.
        let bundled = offers.iter().filter(|offer| !sold_singly(offer));
        let bundled: BTreeSet<Unit> = bundled.map(|offer| offer.unit).collect();
        for unit in bundled {
            if let Unit::Stick(length) = unit
                && let Ok(count) = self.singly(length)
            {
                ways.push(cover(count, &of(unit), currency)?);
            }
        }
        ways.push(self.mixed(offers, &of, currency)?);
        let ways = ways.into_iter().flatten();
        Ok(ways.min_by_key(|way| way.cost.amount()))
    }

    fn by_metre<'o>(
        &self,
        offer: &'o Offer,
        currency: Currency,
    ) -> Result<Option<Bundle<'o>>, MoneyError> {
        let metres = self.metres();
        let wanted = match offer.from_quantity {
            0 | 1 => metres,
            from => metres.max(Decimal::from(from)),
        };
        let packs = match offer.pack {
            0 | 1 => wanted,
            pack => (wanted / Decimal::from(pack)).ceil(),
        };
        let Some(taken) = Taken::new(offer, packs) else {
            return Ok(None);
        };
        Bundle::new(vec![taken?], metres, currency).map(Some)
    }

    /// How many sticks of one length the pieces take.
    fn singly(&self, length: Length) -> Result<u64, String> {
        let stock = Stock {
            length,
            cost: 1,
            available: None,
        };
        self.cut(vec![stock]).map(|counts| counts.into_iter().sum())
    }

    /// Sticks of several lengths, mixed by the price of one, and each length
    /// then bought in the packs that are cheapest.
    fn mixed<'o>(
        &self,
        offers: &[&'o Offer],
        of: &dyn Fn(Unit) -> Vec<&'o Offer>,
        currency: Currency,
    ) -> Result<Option<Bundle<'o>>, MoneyError> {
        let singles = cheapest(offers.iter().copied());
        let stocks: Option<Vec<Stock>> = singles
            .iter()
            .map(|(length, offer)| stock(*length, offer.price?))
            .collect();
        let stocks = stocks.filter(|stocks| !stocks.is_empty());
        let Some(Ok(counts)) = stocks.map(|stocks| self.cut(stocks)) else {
            return Ok(None);
        };
        let mut whole = Bundle::new(Vec::new(), Decimal::ZERO, currency)?;
        for (length, count) in singles.keys().zip(counts) {
            if let Some(sticks) = cover(count, &of(Unit::Stick(*length)), currency)? {
                whole = whole.and(sticks)?;
            }
        }
        Ok(Some(whole))
    }

    fn cut(&self, stocks: Vec<Stock>) -> Cut {
        if let Some(known) = self.plans.borrow().get(&stocks) {
            return known.clone();
        }
        let cut = cutting::plan(&self.demand, &stocks, self.line.kerf)
            .map(|plan| (0..stocks.len()).map(|at| sticks_of(&plan, at)).collect())
            .map_err(|error| error.to_string());
        self.plans.borrow_mut().insert(stocks, cut.clone());
        cut
    }
}

//! The contractor's own figures: wage, hours, percentages, terms.

mod costs;
mod offered;
mod price;
mod raw;
mod read;

pub use costs::{Basis, Cost, Per};
pub use offered::{Allowance, AllowanceOf, Provisional};
pub use price::{Floor, Rounding};

use crate::buying::Terms;
use crate::money::{Currency, Money};
use crate::quote::{Company, Term};
use bom::finding::Finding;
use bom::quantity::{Length, Size};
use bom::source::Source;
use bom::system::Joint;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// Everything of `rates.toml`.
#[derive(Debug, Clone)]
pub struct Rates {
    /// What it costs to get rid of a pound of old pipe, if the rates say it.
    pub disposal_lb: Option<Money>,
    /// Whether the figures are an invented sample.
    pub sample: bool,
    /// The block at the head of the quote.
    pub company: Company,
    /// The currency of every price.
    pub currency: Currency,
    /// What an hour of one of the crew costs; none where an owner does the work.
    pub wage: Option<Money>,
    /// Hours of work.
    pub hours: Hours,
    /// What makes work take longer.
    pub adders: Adders,
    /// Who works, for how long a day; none if the file does not say.
    pub crew: Option<Crew>,
    /// Tools that are hired for a job.
    pub hire: Vec<Hire>,
    /// Costs beside materials, hired tools and work.
    pub costs: Vec<Cost>,
    /// From whom one buys, and what they charge.
    pub buying: Terms,
    /// Overhead in percent of cost, from 0 to 1000; nought for an owner.
    pub overhead: Decimal,
    /// What is put by for what nobody can know, in percent of cost, from 0 to 100.
    pub contingency: Decimal,
    /// Profit in percent of the price, not of the cost: 25 % margin is 33.3333 %
    /// on top of the cost. Nought for an owner.
    pub margin: Decimal,
    /// Below what the price should not fall.
    pub floor: Floor,
    /// Where prices are rounded.
    pub rounding: Rounding,
    /// Lines of materials under this are gathered on the quote; none are if none.
    pub small_items: Option<Money>,
    /// What is put on the price for lengths that are not confirmed.
    pub allowance: Option<Allowance>,
    /// Sums that are settled after the work.
    pub provisional: Vec<Provisional>,
    /// The contractor's own words on warranty, changes, dates, in a fixed order.
    pub terms: Vec<Term>,
    /// Tax and what it is taken on.
    pub tax: TaxRule,
    /// Days that the offer stands.
    pub validity_days: u16,
    /// Payment steps; their percentages add up to 100. May be empty.
    pub payment: Vec<PaymentShare>,
    /// What the customer keeps of each payment for a time.
    pub retainage: Option<Retainage>,
    /// What the quote does not include.
    pub exclusions: Vec<String>,
    /// Cautions besides those that always stand.
    pub cautions: Vec<String>,
    /// Other notes.
    pub notices: Vec<String>,
}

/// Hours for each piece of work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hours {
    /// A made-up joint, by method and by size of pipe or thread.
    pub joint: BTreeMap<Joint, BTreeMap<Size, Decimal>>,
    /// Ten feet of pipe, by size.
    pub pipe_10ft: BTreeMap<Size, Decimal>,
    /// What holds for one pipe system instead, by its name.
    pub of: BTreeMap<String, SystemHours>,
    /// A hanger or bracket.
    pub support: Decimal,
    /// A valve, filter, regulator, coupler …
    pub device: Decimal,
    /// A drop, beyond its joints.
    pub drop: Decimal,
    /// A drain, beyond its joints.
    pub drain: Decimal,
    /// Getting there and clearing up, once a job.
    pub mobilisation: Decimal,
    /// The pressure test, once a job.
    pub pressure_test: Decimal,
    /// A tie-in: shut off, let the air out, cut in; beyond its joints. If the rates have it.
    pub tie_in: Option<Decimal>,
    /// Ten feet of pipe taken out, if the rates have it.
    pub remove_10ft: Option<Decimal>,
    /// A hanger or bracket taken down, if the rates have it.
    pub remove_support: Option<Decimal>,
    /// A joint undone or cut, if the rates have it.
    pub remove_joint: Option<Decimal>,
}

/// Hours that hold for one pipe system and go before those for all.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct SystemHours {
    /// A made-up joint, by size of pipe or thread.
    pub joint: BTreeMap<Size, Decimal>,
    /// Ten feet of pipe, by size.
    pub pipe_10ft: BTreeMap<Size, Decimal>,
}

/// What makes work take longer than its hours say.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Adders {
    /// On work above a height.
    pub height: Option<HeightAdder>,
    /// Percent on all hours, in a shop full of machines or stock.
    pub congestion: Decimal,
    /// A job takes at least so many hours.
    pub least_hours: Decimal,
}

/// More hours for work above a height.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HeightAdder {
    /// Above the floor.
    pub above: Length,
    /// Percent on the hours of the work up there.
    pub percent: Decimal,
}

/// Who works on site.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Crew {
    /// How many people; at least one.
    pub people: u32,
    /// Hours of a day; more than none.
    pub day_hours: Decimal,
}

/// A tool that is hired once for a job that needs it.
#[derive(Debug, Clone)]
pub struct Hire {
    /// The tool in words.
    pub tool: String,
    /// The methods of joining pipe that need it.
    pub joints: Vec<Joint>,
    /// What the hire costs.
    pub price: Money,
}

/// How tax is taken.
#[derive(Debug, Clone)]
pub struct TaxRule {
    /// What it is called.
    pub label: String,
    /// Percent, from 0 to 100.
    pub percent: Decimal,
    /// What it is taken on.
    pub on: TaxOn,
}

impl TaxRule {
    /// Whether it is taken on goods (materials, hired tools, costs that are taxed
    /// like them), or on the rest.
    pub(crate) fn falls_on(&self, goods: bool) -> bool {
        match self.on {
            TaxOn::Materials => goods,
            TaxOn::All => true,
            TaxOn::None => false,
        }
    }
}

/// What tax is taken on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum TaxOn {
    /// Materials, hired tools, and the other costs that say so.
    Materials,
    /// Every line.
    All,
    /// Nothing.
    None,
}

/// A payment as a share of the total.
#[derive(Debug, Clone)]
pub struct PaymentShare {
    /// The event that makes it due.
    pub when: String,
    /// Percent of the total.
    pub percent: Decimal,
}

/// What is kept of every payment until an event.
#[derive(Debug, Clone)]
pub struct Retainage {
    /// Percent of the total, from 0 to 50.
    pub percent: Decimal,
    /// The event that makes it due.
    pub until: String,
}

impl Hours {
    /// The hours for one joint of a system, if there are any.
    #[must_use]
    pub fn of_joint(&self, system: &str, joint: Joint, size: Size) -> Option<Decimal> {
        let own = self.of.get(system).map(|own| &own.joint);
        first(own, self.joint.get(&joint), size)
    }

    /// The hours for ten feet of a system's pipe, if there are any.
    #[must_use]
    pub fn of_pipe_10ft(&self, system: &str, size: Size) -> Option<Decimal> {
        let own = self.of.get(system).map(|own| &own.pipe_10ft);
        first(own, Some(&self.pipe_10ft), size)
    }
}

fn first(
    own: Option<&BTreeMap<Size, Decimal>>,
    all: Option<&BTreeMap<Size, Decimal>>,
    size: Size,
) -> Option<Decimal> {
    let tables = [own, all];
    tables
        .into_iter()
        .flatten()
        .find_map(|hours| hours.get(&size).copied())
}

/// The table of the rates file with the hours of a method.
#[must_use]
pub const fn joint_table(joint: Joint) -> &'static str {
    match joint {
        Joint::Threaded => "joint",
        Joint::Soldered => "joint_soldered",
        Joint::Brazed => "joint_brazed",
        Joint::Pressed => "joint_pressed",
        Joint::PushFit => "joint_push_fit",
    }
}

impl Rates {
    /// Whether an owner does the work: their hours cost nothing.
    #[must_use]
    pub const fn is_owner(&self) -> bool {
        self.wage.is_none()
    }

    /// Reads a rates file. There are rates only if no finding stops the job.
    #[must_use]
    pub fn read(source: &Source) -> (Option<Self>, Vec<Finding>) {
        read::rates(source)
    }
}

#[cfg(test)]
mod tests;

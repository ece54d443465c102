//! The finished list.

use super::Spare;
use crate::buying::{Alone, Order};
use crate::money::{Currency, Money};
use crate::quote::MissingPrice;
use bom::takeoff::PartKey;
use jiff::civil::Date;
use rust_decimal::Decimal;

/// How the list is grouped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// By where things lie in the store.
    Aisle,
    /// By who sells them.
    Supplier,
}

/// A finished shopping list: renderers print it and compute nothing.
#[derive(Debug, Clone)]
pub struct ShoppingList {
    /// The job's title.
    pub title: String,
    /// The job file's revision.
    pub revision: String,
    /// Fingerprint of the layout and of the prices.
    pub fingerprint: String,
    /// The day of the list.
    pub date: Date,
    /// The currency of all sums.
    pub currency: Currency,
    /// How it is grouped.
    pub by: By,
    /// The groups, in the order of the walk through the store.
    pub groups: Vec<ShopGroup>,
    /// What the lines that have a price come to, spares included.
    pub priced: Money,
    /// The same; none while a price is missing.
    pub total: Option<Money>,
    /// What it would come to without spares; none while a price is missing.
    pub without_spares: Option<Money>,
    /// What the spares add; none while a price is missing.
    pub spares: Option<Money>,
    /// Parts that no catalog row prices.
    pub missing: Vec<MissingPrice>,
    /// Who sells, in the order of the list.
    pub suppliers: Vec<Supplier>,
    /// What each supplier gets and charges, by name.
    pub orders: Vec<Order>,
    /// What one supplier alone would cost.
    pub alone: Vec<Alone>,
    /// What to know before one drives.
    pub heads_up: Vec<Fact>,
    /// What else is needed and not counted.
    pub also: Vec<String>,
    /// What was taken as given.
    pub assumptions: Vec<String>,
    /// Hazards.
    pub cautions: Vec<String>,
    /// Whether prices are invented samples.
    pub notices: Vec<String>,
}

/// The lines of one aisle or supplier.
#[derive(Debug, Clone)]
pub struct ShopGroup {
    /// Its heading.
    pub title: String,
    /// Its lines.
    pub lines: Vec<ShopLine>,
    /// Sum of the amounts that are known.
    pub subtotal: Money,
}

/// One line.
#[derive(Debug, Clone)]
pub struct ShopLine {
    /// The part.
    pub key: PartKey,
    /// What the label on the shelf says.
    pub words: String,
    /// How many to put in the cart, spares included.
    pub quantity: Decimal,
    /// Of what: `each`, `pack of 10`, `stick 21 ft`.
    pub unit: String,
    /// Where they are used, in few words.
    pub used: String,
    /// How many of them are spares.
    pub spare: Spare,
    /// How many are bought beyond need and spares.
    pub surplus: Decimal,
    /// Price of one; none if the catalog has no price.
    pub unit_price: Option<Money>,
    /// Quantity × unit price; none if the catalog has no price.
    pub amount: Option<Money>,
    /// What the cart comes to with this line; none if the line has no price.
    pub running: Option<Money>,
    /// Where it lies in the store; may be empty.
    pub aisle: String,
    /// Who sells it; may be empty.
    pub supplier: String,
    /// The letter of the supplier; may be empty.
    pub mark: String,
    /// The supplier's order number; may be empty.
    pub code: String,
}

impl ShopLine {
    /// A line of which only the part is known.
    pub(super) const fn nothing(key: PartKey) -> Self {
        Self {
            key,
            words: String::new(),
            quantity: Decimal::ZERO,
            unit: String::new(),
            used: String::new(),
            spare: Spare::NONE,
            surplus: Decimal::ZERO,
            unit_price: None,
            amount: None,
            running: None,
            aisle: String::new(),
            supplier: String::new(),
            mark: String::new(),
            code: String::new(),
        }
    }
}

/// A supplier and the letter that stands for it where there are several.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Supplier {
    /// `A`, `B` …; empty for the only one.
    pub mark: String,
    /// The name in the catalog.
    pub name: String,
}

/// A fact under its heading.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fact {
    /// The heading.
    pub label: &'static str,
    /// The fact.
    pub text: String,
}

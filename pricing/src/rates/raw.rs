//! The rates file as it is written, and nothing else.

use super::{Per, TaxOn};
use crate::exact;
use bom::system::Joint;
use rust_decimal::Decimal;
use serde::de::{Deserialize, Deserializer, Error, Visitor};
use std::collections::BTreeMap;
use std::fmt;
use toml::Spanned;

#[derive(Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawRates {
    #[serde(default)]
    pub(super) sample: bool,
    pub(super) currency: Spanned<String>,
    #[serde(default)]
    pub(super) owner: bool,
    pub(super) wage: Option<Spanned<Exact>>,
    pub(super) overhead: Option<Spanned<Exact>>,
    pub(super) contingency: Option<Spanned<Exact>>,
    pub(super) margin: Option<Spanned<Exact>>,
    pub(super) floor_margin: Option<Spanned<Exact>>,
    pub(super) least_price: Option<Spanned<Exact>>,
    pub(super) rounding: Option<Spanned<RoundingOf>>,
    pub(super) round_to: Option<Spanned<u32>>,
    pub(super) small_items: Option<Spanned<Exact>>,
    pub(super) disposal_lb: Option<Spanned<Exact>>,
    pub(super) validity_days: u16,
    pub(super) crew: Option<Spanned<u32>>,
    pub(super) day_hours: Option<Spanned<Exact>>,
    pub(super) company: RawCompany,
    pub(super) hours: RawHours,
    #[serde(default)]
    pub(super) adders: RawAdders,
    pub(super) tax: RawTax,
    #[serde(default)]
    pub(super) payment: Vec<RawPayment>,
    pub(super) retainage: Option<RawRetainage>,
    #[serde(default)]
    pub(super) hire: Vec<RawHire>,
    #[serde(default)]
    pub(super) cost: Vec<RawCost>,
    pub(super) allowance: Option<Spanned<RawAllowance>>,
    #[serde(default)]
    pub(super) provisional: Vec<RawProvisional>,
    pub(super) terms: Option<Spanned<RawTerms>>,
    #[serde(default)]
    pub(super) buy_from: Vec<Spanned<String>>,
    #[serde(default)]
    pub(super) supplier: BTreeMap<Spanned<String>, RawSupplier>,
    #[serde(default)]
    pub(super) exclusions: Vec<String>,
    #[serde(default)]
    pub(super) cautions: Vec<String>,
    #[serde(default)]
    pub(super) notices: Vec<String>,
}

#[derive(Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawCompany {
    pub(super) name: String,
    #[serde(default)]
    pub(super) lines: Vec<String>,
}

pub(super) type BySize = BTreeMap<Spanned<String>, Spanned<Exact>>;

#[derive(Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawHours {
    pub(super) joint: BySize,
    #[serde(default)]
    pub(super) joint_soldered: BySize,
    #[serde(default)]
    pub(super) joint_brazed: BySize,
    #[serde(default)]
    pub(super) joint_pressed: BySize,
    #[serde(default)]
    pub(super) joint_push_fit: BySize,
    pub(super) pipe_10ft: BySize,
    #[serde(default)]
    pub(super) of: BTreeMap<String, RawSystemHours>,
    pub(super) support: Spanned<Exact>,
    pub(super) device: Spanned<Exact>,
    pub(super) drop: Spanned<Exact>,
    pub(super) drain: Spanned<Exact>,
    pub(super) mobilisation: Spanned<Exact>,
    pub(super) pressure_test: Spanned<Exact>,
    pub(super) tie_in: Option<Spanned<Exact>>,
    pub(super) remove_10ft: Option<Spanned<Exact>>,
    pub(super) remove_support: Option<Spanned<Exact>>,
    pub(super) remove_joint: Option<Spanned<Exact>>,
}

#[derive(Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawSystemHours {
    #[serde(default)]
    pub(super) joint: BySize,
    #[serde(default)]
    pub(super) pipe_10ft: BySize,
}

#[derive(Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawHire {
    pub(super) tool: String,
    pub(super) joints: Vec<Joint>,
    pub(super) price: Spanned<Exact>,
}

#[derive(Debug, Default, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawAdders {
    pub(super) congestion: Option<Spanned<Exact>>,
    pub(super) least_hours: Option<Spanned<Exact>>,
    pub(super) height: Option<RawHeightAdder>,
}

#[derive(Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawHeightAdder {
    pub(super) above: Spanned<String>,
    pub(super) percent: Spanned<Exact>,
}

#[derive(Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawCost {
    pub(super) text: Spanned<String>,
    pub(super) price: Option<Spanned<Exact>>,
    pub(super) quantity: Option<Spanned<Exact>>,
    pub(super) unit: Option<Spanned<String>>,
    pub(super) per: Option<Spanned<Per>>,
    pub(super) percent: Option<Spanned<Exact>>,
    pub(super) when: Option<Spanned<String>>,
    #[serde(default)]
    pub(super) taxed: bool,
}

#[derive(Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawAllowance {
    pub(super) text: Spanned<String>,
    pub(super) price: Option<Spanned<Exact>>,
    pub(super) percent: Option<Spanned<Exact>>,
    #[serde(default)]
    pub(super) taxed: bool,
}

#[derive(Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawProvisional {
    pub(super) text: Spanned<String>,
    pub(super) price: Spanned<Exact>,
    pub(super) in_total: bool,
    #[serde(default)]
    pub(super) taxed: bool,
}

#[derive(Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawTerms {
    pub(super) warranty_work: Option<Spanned<String>>,
    pub(super) warranty_parts: Option<Spanned<String>>,
    pub(super) changes: Option<Spanned<String>>,
    pub(super) start: Option<Spanned<String>>,
    pub(super) shut_down: Option<Spanned<String>>,
    pub(super) cancellation: Option<Spanned<String>>,
}

/// What `rounding` may say.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum RoundingOf {
    Line,
    Total,
}

#[derive(Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawSupplier {
    pub(super) delivery: Option<Spanned<Exact>>,
    pub(super) free_from: Option<Spanned<Exact>>,
    pub(super) least_order: Option<Spanned<Exact>>,
    pub(super) preferred: Option<Spanned<Exact>>,
}

#[derive(Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawTax {
    pub(super) label: String,
    pub(super) percent: Spanned<Exact>,
    pub(super) on: TaxOn,
}

#[derive(Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawPayment {
    pub(super) when: String,
    pub(super) percent: Spanned<Exact>,
}

#[derive(Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawRetainage {
    pub(super) percent: Spanned<Exact>,
    pub(super) until: Spanned<String>,
}

/// A number written as `"42.50"` or `42`. A TOML float has been through
/// binary and is refused.
#[derive(Debug, Clone, Copy)]
pub(super) struct Exact(pub(super) Decimal);

impl<'de> Deserialize<'de> for Exact {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(ExactVisitor)
    }
}

struct ExactVisitor;

impl Visitor<'_> for ExactVisitor {
    type Value = Exact;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a number in quotation marks, like \"42.50\"")
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Exact, E> {
        exact::decimal(text).map(Exact).map_err(E::custom)
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<Exact, E> {
        Ok(Exact(Decimal::from(number)))
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<Exact, E> {
        Err(E::custom(format!(
            "put {number} in quotation marks, so that it stays exact"
        )))
    }
}

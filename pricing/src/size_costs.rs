//! What a size of pipe costs, for choosing sizes: estimates that add up along the
//! pipe. What is bought in the end is worked out from the count, never from these.

use crate::catalog::{Catalog, Offer, Unit};
use crate::rates::Rates;
use bom::air::sizes::SizeCost;
use bom::library::Library;
use bom::quantity::{Length, PartSize, Size};
use bom::takeoff::PartKey;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

/// What a size of a system costs by the cheapest prices, with the work of it
/// where there are rates. None if its pipe or its elbow has no price, or its work
/// no hours.
#[must_use]
pub fn size_cost(
    library: &Library,
    catalog: &Catalog,
    rates: Option<&Rates>,
    system: usize,
    size: Size,
) -> Option<SizeCost> {
    const METRES_IN_10_FT: f64 = 3.048;
    let of = &library.systems()[system];
    let row = of.row(size)?;
    let cheapest = |part: &str, system: &str| {
        let key = PartKey {
            part: part.to_owned(),
            system: system.to_owned(),
            size: PartSize::one(size),
        };
        let offers = catalog.offers(&key).iter();
        offers.filter_map(each).reduce(f64::min)
    };
    let mut metre = cheapest("pipe", &of.name)?;
    let mut end = cheapest("elbow-90", &of.name)? / 2.0;
    // A hanger may be of any system.
    let hanger = cheapest("hanger", "").or_else(|| cheapest("hanger", &of.name));
    metre += hanger.unwrap_or(0.0) / metres(row.support);
    if let Some(rates) = rates {
        // An owner's hours cost nothing.
        let wage = rates
            .wage
            .map_or(Some(0.0), |wage| wage.amount().to_f64())?;
        let hours = &rates.hours;
        let hanging = hours.of_pipe_10ft(&of.name, size)?.to_f64()?;
        let joining = hours.of_joint(&of.name, of.joint, size)?.to_f64()?;
        metre += (hanging / METRES_IN_10_FT + hours.support.to_f64()? / metres(row.support)) * wage;
        end += joining * wage;
    }
    Some(SizeCost { metre, end })
}

/// The price of one, or of each metre.
fn each(offer: &Offer) -> Option<f64> {
    let price = offer.price?.amount().to_f64()? / Decimal::from(offer.pack).to_f64()?;
    Some(match offer.unit {
        Unit::Each | Unit::Metre => price,
        Unit::Foot => price / metres(Length::from_feet(1)),
        Unit::Stick(length) => price / metres(length),
    })
    .filter(|price| price.is_finite())
}

fn metres(length: Length) -> f64 {
    length.mm() / 1e3
}

//! Where the prices of purchases come from.

use super::Purchase;
use std::collections::BTreeSet;

/// Who sells, by name.
pub(crate) fn suppliers(purchases: &[Purchase]) -> BTreeSet<&str> {
    purchases
        .iter()
        .map(|purchase| purchase.supplier.as_str())
        .filter(|name| !name.is_empty())
        .collect()
}

/// `dated 2026-10-01 to 2026-10-08`; none if no price has a date.
pub(crate) fn dated(purchases: &[Purchase]) -> Option<String> {
    let dates: BTreeSet<_> = purchases.iter().filter_map(|p| p.priced_on).collect();
    let (first, last) = (dates.first()?, dates.last()?);
    Some(if first == last {
        format!("dated {first}")
    } else {
        format!("dated {first} to {last}")
    })
}

/// How many prices have no date.
pub(crate) fn undated(purchases: &[Purchase]) -> usize {
    purchases.iter().filter(|p| p.priced_on.is_none()).count()
}

/// The notice that prices are samples, where a supplier's name says so.
pub(crate) fn invented(purchases: &[Purchase]) -> Option<String> {
    let names = samples(purchases);
    (!names.is_empty()).then(|| {
        format!(
            "The material prices of {} are invented samples.",
            names.join(" and ")
        )
    })
}

/// The same for those who need not know who sells.
pub(crate) fn invented_somewhere(purchases: &[Purchase]) -> Option<String> {
    let some = match samples(purchases).len() {
        0 => return None,
        samples if samples == suppliers(purchases).len() => "Material prices",
        _ => "Some of the material prices",
    };
    Some(format!("{some} are invented samples."))
}

fn samples(purchases: &[Purchase]) -> Vec<&str> {
    suppliers(purchases)
        .into_iter()
        .filter(|name| name.to_lowercase().contains("invented"))
        .collect()
}

use super::{Offer, Sheet};
use bom::finding::Finding;
use bom::takeoff::PartKey;
use std::collections::{BTreeMap, HashMap};

/// Rows that offer the same thing at different prices: nobody can say which
/// one holds.
pub(super) fn findings(
    offers: &BTreeMap<PartKey, Vec<Offer>>,
    sheets: &[Sheet],
) -> Vec<(usize, Finding)> {
    let mut findings = Vec::new();
    for offers in offers.values() {
        let mut seen = HashMap::new();
        for offer in offers.iter().filter(|offer| offer.price.is_some()) {
            let terms = (
                &offer.supplier,
                &offer.code,
                offer.unit,
                offer.pack,
                offer.from_quantity,
            );
            let first = *seen.entry(terms).or_insert(offer);
            if first.price == offer.price {
                continue;
            }
            let Some(source) = sheets.get(offer.place.source).map(Sheet::list) else {
                continue;
            };
            let mut finding = Finding::error(
                "catalog-twins",
                source.line_span(offer.place.line),
                format!(
                    "{} {} has another price for the same offer on {}",
                    offer.key.part, offer.key.size, first.place
                ),
                "delete the older row, or tell the two apart by supplier, code or pack",
            );
            if first.place.source == offer.place.source {
                finding = finding.related(source.line_span(first.place.line), "the other price");
            }
            findings.push((offer.place.source, finding));
        }
    }
    findings
}

//! Whom one buys from, as a command and the rates say.

use crate::args::Buying;
use crate::exit::{Exit, Failure};
use crate::{Io, report};
use bom::finding::did_you_mean;
use bom::source::Source;
use pricing::catalog::Catalog;
use pricing::rates::Rates;
use std::collections::BTreeSet;

/// Suppliers that are told to whom mistypes one.
const KNOWN_SUPPLIERS: usize = 20;

/// Keeps the offers of those whom one buys from: by the command, or by the
/// rates. A supplier whom nobody knows is told.
pub(super) fn bought_from(
    catalog: Catalog,
    args: &Buying,
    rates: Option<(&Rates, &Source)>,
    io: &mut Io<'_>,
) -> Result<Catalog, Failure> {
    let terms = rates.map(|(rates, _)| &rates.buying);
    if let Some((rates, source)) = rates {
        report::print(&rates.buying.strangers(&catalog), source, io.err)?;
    }
    let known: BTreeSet<&str> = catalog.suppliers().collect();
    let stranger = args
        .only_from
        .iter()
        .find(|name| !known.contains(name.as_str()));
    if let Some(stranger) = stranger {
        let known = known.into_iter().filter(|name| !name.is_empty());
        let known: Vec<&str> = known.take(KNOWN_SUPPLIERS).collect();
        let help = did_you_mean(stranger, known.iter().copied()).map_or_else(
            || format!("they have {}", known.join(", ")),
            |near| format!("did you mean `{near}`?"),
        );
        return Err(Failure::Untold(
            Exit::Unreadable,
            format!("no price list has the supplier `{stranger}`: {help}"),
        ));
    }
    let by_rates = terms.into_iter().flat_map(|terms| &terms.buy_from);
    let names: Vec<&str> = if args.only_from.is_empty() {
        by_rates.map(|named| named.name.as_str()).collect()
    } else {
        args.only_from.iter().map(String::as_str).collect()
    };
    Ok(if names.is_empty() {
        catalog
    } else {
        catalog.only_from(&names)
    })
}

/// What the command says of it, for the papers' mark; none if it says nothing.
pub(super) fn choice_of_suppliers(args: &Buying) -> Option<Source> {
    let names = args.only_from.join("\n");
    (!names.is_empty()).then(|| Source::new("--only-from", names))
}

//! Parts that no offer prices, made of parts that some offers do: the
//! cheapest way that the pipe system knows.

use crate::catalog::Catalog;
use crate::matching::{self, Match};
use crate::money::{Currency, Money, MoneyError};
use bom::job::Threading;
use bom::library::Library;
use bom::network::Network;
use bom::quantity::{Length, PartSize, Size};
use bom::system::System;
use bom::takeoff::{PartKey, PartLine, Takeoff};
use std::collections::BTreeSet;

/// The parts of one way to make another part.
type Way = Vec<(String, PartSize)>;

/// The count with what the catalog has: straights of ready lengths built of
/// those that it prices, and stand-ins for what it lacks, as far as it has the
/// parts for them. What has none stays as it is, and without a price.
///
/// # Errors
/// A cost with too many digits.
pub fn settle(
    takeoff: &Takeoff,
    network: &Network,
    library: &Library,
    catalog: &Catalog,
    currency: Currency,
) -> Result<Takeoff, MoneyError> {
    // Where the catalog's lengths do not make up every straight, the count
    // stays as it is.
    let rebuilt = match network.threading {
        Threading::Cut => None,
        Threading::Bought => bom::takeoff::takeoff(network, &at_hand(library, network, catalog)).0,
    };
    let takeoff = rebuilt.as_ref().unwrap_or(takeoff);
    let mut settled = takeoff.clone();
    for line in &takeoff.lines {
        if let Match::Bought(_) = matching::part(line, catalog, currency)? {
            continue;
        }
        let mut systems = library.systems().iter();
        let Some(system) = systems.find(|system| system.name == line.key.system) else {
            continue;
        };
        let mut ways: Vec<(Money, Way)> = Vec::new();
        for way in system.stand_ins(&line.key.part, line.key.size) {
            if let Some(cost) = cost(line, &way, library, system, catalog, currency)? {
                ways.push((cost, way));
            }
        }
        // The first of two that cost the same: the order of the system's data.
        let cheapest = ways.into_iter().min_by_key(|(cost, _)| cost.amount());
        if let Some((_, way)) = cheapest
            && let Some(made) = settled.with_stand_in(network, library, &line.key, &way)
        {
            settled = made;
        }
    }
    Ok(settled)
}

/// The trade data with the ready-made pieces that the catalog prices, for
/// straights that are built of them.
fn at_hand(library: &Library, network: &Network, catalog: &Catalog) -> Library {
    network
        .systems()
        .into_iter()
        .filter(|system| {
            library.systems()[*system].threading(network.threading) == Threading::Bought
        })
        .fold(library.clone(), |library, system| {
            let pieces = priced_pieces(&library, system, catalog);
            library.with_ready(system, pieces)
        })
}

/// The ready-made pieces of a system that the catalog prices.
fn priced_pieces(library: &Library, system: usize, catalog: &Catalog) -> BTreeSet<(Size, Length)> {
    let name = &library.systems()[system].name;
    let close = |size: Size| {
        let row = library.systems()[system].row(size);
        row.map(|row| row.shortest)
    };
    catalog
        .priced()
        .filter(|key| key.system == *name)
        .filter_map(|key| {
            let size = key.size.largest()?;
            match key.part.as_str() {
                "nipple" | "ready-pipe" => Some((size, key.size.length()?)),
                "close-nipple" => Some((size, close(size)?)),
                _ => None,
            }
        })
        .collect()
}

/// What the parts of a way cost for a whole line; none if one has no price.
fn cost(
    line: &PartLine,
    way: &Way,
    library: &Library,
    system: &System,
    catalog: &Catalog,
    currency: Currency,
) -> Result<Option<Money>, MoneyError> {
    let mut costs = Vec::new();
    for (name, size) in way {
        let Some(part) = library.parts().iter().find(|part| part.name == *name) else {
            return Ok(None);
        };
        let needed = PartLine {
            key: PartKey {
                part: name.clone(),
                system: if part.of_system {
                    system.name.clone()
                } else {
                    String::new()
                },
                size: *size,
            },
            words: part.words(system),
            group: part.group,
            quantity: line.quantity,
            unit: part.unit.clone(),
            because: Vec::new(),
        };
        match matching::part(&needed, catalog, currency)? {
            Match::Bought(bought) => costs.push(bought.cost),
            Match::Missing(_) => return Ok(None),
        }
    }
    Money::sum(currency, costs).map(Some)
}

#[cfg(test)]
mod tests {
    use super::settle;
    use crate::catalog::Catalog;
    use crate::money::Currency;
    use bom::library::Library;
    use bom::source::Source;

    /// The assumptions that stand-ins add to the annex's count, priced by a
    /// catalog of these rows.
    fn said(rows: &str) -> Vec<String> {
        let library = Library::shipped().unwrap();
        let job = include_str!("../../catalogs-demo/annex.toml");
        let plan = bom::plan(&Source::new("annex", job), &library).0.unwrap();
        let usd = Currency::parse("USD").unwrap();
        let text = format!("part,system,size,price\n{rows}");
        let (catalog, findings) = Catalog::read(&[Source::new("shop", text)], library.parts(), usd);
        assert_eq!(findings, []);
        let settled = settle(&plan.takeoff, &plan.network, &library, &catalog, usd).unwrap();
        settled.assumptions[plan.takeoff.assumptions.len()..].to_vec()
    }

    #[test]
    fn a_lacking_part_is_made_of_what_the_catalog_has() {
        let tee = "tee,black-iron,1in,5.00\nbushing,black-iron,1in x 3/4in,1.00\n";
        assert_eq!(
            said(tee),
            [
                "The price list lacks black iron tee female 1in x 1in x 3/4in: each of the 3 is made of tee 1in + bushing 1in x 3/4in, with 1 more joint."
            ]
        );
    }

    #[test]
    fn a_part_with_a_price_stays() {
        let tee = "tee,black-iron,1in,5.00\nbushing,black-iron,1in x 3/4in,1.00\n\
                   tee,black-iron,1in x 1in x 3/4in,50.00\n";
        assert!(said(tee).is_empty());
    }

    /// Straights are built of what the price list has.
    #[test]
    fn ready_straights_take_what_is_at_hand() {
        let library = Library::shipped().unwrap();
        let job = include_str!("../../catalogs-demo/garage.toml");
        let job = job.replace("[main]\n", "[main]\nthreading = \"bought\"\n");
        let plan = bom::plan(&Source::new("garage", job), &library).0.unwrap();
        let usd = Currency::parse("USD").unwrap();
        let demo = include_str!("../../catalogs-demo/iron.csv");
        let lost = "ready-pipe,black-iron,1/2in x 36in,";
        let rows: Vec<&str> = demo.lines().filter(|row| !row.starts_with(lost)).collect();
        let source = [Source::new("shop", rows.join("\n"))];
        let (catalog, _) = Catalog::read(&source, library.parts(), usd);
        let has = |takeoff: &bom::takeoff::Takeoff| {
            let mut sizes = takeoff.lines.iter().map(|line| line.key.size.to_string());
            sizes.any(|size| size == "1/2in x 36in")
        };
        assert!(has(&plan.takeoff));
        let at_hand = super::at_hand(&library, &plan.network, &catalog);
        let rebuilt = bom::takeoff::takeoff(&plan.network, &at_hand).0.unwrap();
        assert!(!has(&rebuilt));
    }

    #[test]
    fn half_a_way_is_none() {
        assert!(said("tee,black-iron,1in,5.00\n").is_empty());
    }
}

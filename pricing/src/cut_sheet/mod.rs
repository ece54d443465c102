//! Which piece is cut from which stick: own offcuts first, then the sticks of
//! the price list at the least cost, with the proven bound beside it.

pub mod list;

use crate::catalog::Catalog;
use crate::matching::sticks::{demand, offers, stock};
use crate::money::{Currency, Money};
use bom::cutting::{self, CutError, Demand, Plan, Stock};
use bom::network::NodeId;
use bom::quantity::{Length, Units};
use bom::takeoff::{PipeLine, Takeoff};
use jiff::civil::Date;
use std::collections::{BTreeMap, VecDeque};

/// What stands over a cut plan.
#[derive(Debug, Clone)]
pub struct Heading {
    /// The job's title, or the name of the list.
    pub title: String,
    /// The job file's revision; may be empty.
    pub revision: String,
    /// Fingerprint of the layout and of the prices.
    pub fingerprint: String,
    /// The day of the sheet.
    pub date: Date,
    /// How lengths print.
    pub units: Units,
}

/// The cut plan of a job or a list.
#[derive(Debug, Clone)]
pub struct CutSheet {
    /// What stands over it.
    pub heading: Heading,
    /// A section for each size, largest first; none where nothing is cut.
    pub sections: Vec<CutSection>,
    /// Every straight and what it is built of; none for a list.
    pub straights: Vec<StraightLine>,
}

/// What one straight is built of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StraightLine {
    /// The number that its pieces carry before the point.
    pub number: usize,
    /// Its pipe system.
    pub system: String,
    /// Its size.
    pub size: String,
    /// Where it begins.
    pub from: String,
    /// Where it ends.
    pub to: String,
    /// Its pieces, nipples included, in order.
    pub pieces: Vec<Length>,
    /// Whether a union joins the first two, and not a coupling.
    pub union: bool,
}

/// The sticks of one size.
#[derive(Debug, Clone)]
pub struct CutSection {
    /// The pipe system.
    pub system: String,
    /// The size: `3/4in`.
    pub size: String,
    /// What each cut takes.
    pub kerf: Length,
    /// The sticks, offcuts first.
    pub sticks: Vec<CutStick>,
    /// How many of them are bought.
    pub bought: u64,
    /// What those cost; none without a price list.
    pub cost: Option<Money>,
    /// No plan costs less; without a price list, none takes fewer sticks.
    pub bound: Bound,
    /// Whether the plan meets its bound.
    pub proven: bool,
}

/// What no plan can be better than.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bound {
    /// So many sticks.
    Sticks(u64),
    /// So much money.
    Cost(Money),
}

/// One stick and what is cut from it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutStick {
    /// How long it is.
    pub stock: Length,
    /// Whether it is the user's own offcut.
    pub offcut: bool,
    /// The pieces, longest first.
    pub pieces: Vec<CutPiece>,
    /// What is left behind the last cut.
    pub waste: Length,
}

/// One piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutPiece {
    /// By what crews call it: `12.1`.
    pub label: String,
    /// End to end.
    pub length: Length,
}

/// An offcut that the user has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Offcut {
    /// How long it is.
    pub length: Length,
    /// How many there are.
    pub count: u64,
}

/// The user's offcuts by pipe system, if the list names it, and size.
pub type OwnOffcuts = BTreeMap<(Option<String>, String), Vec<Offcut>>;

/// Cuts every size of a job, with this kerf or that of each pipe system.
///
/// # Errors
/// The first size that cannot be cut, and why.
pub fn cut_sheet(
    heading: Heading,
    takeoff: &Takeoff,
    kerf: Option<Length>,
    mut offcuts: OwnOffcuts,
    catalog: Option<(&Catalog, Currency)>,
    place: &dyn Fn(NodeId) -> String,
) -> Result<CutSheet, (String, CutError)> {
    let sections = takeoff
        .pipe
        .iter()
        .filter(|line| !line.ready)
        .map(|line| {
            // What names no system goes to the first section of its size.
            let named = (Some(line.key.system.clone()), line.size.to_string());
            let unnamed = (None, line.size.to_string());
            let mut own = offcuts.remove(&named).unwrap_or_default();
            own.extend(offcuts.remove(&unnamed).unwrap_or_default());
            section(line, kerf.unwrap_or(line.kerf), &own, catalog)
                .map_err(|error| (line.size.to_string(), error))
        })
        .collect::<Result<_, _>>()?;
    let straights = takeoff.straights.iter().enumerate();
    let straights = straights.filter(|(_, straight)| straight.is_new());
    let straights = straights.map(|(index, straight)| StraightLine {
        number: index + 1,
        system: straight.system().to_owned(),
        size: straight.size().to_string(),
        from: place(straight.from()),
        to: place(straight.to()),
        pieces: straight.pieces().to_vec(),
        union: straight.has_union(),
    });
    Ok(CutSheet {
        heading,
        sections,
        straights: straights.chain(stubs(takeoff, place)).collect(),
    })
}

/// The short pieces between two sockets, numbered on behind the straights.
fn stubs(takeoff: &Takeoff, place: &dyn Fn(NodeId) -> String) -> Vec<StraightLine> {
    let straights = takeoff.straights.len();
    let mut stubs: Vec<StraightLine> = takeoff
        .pipe
        .iter()
        .flat_map(|line| line.pieces.iter().map(move |piece| (line, piece)))
        .filter(|(_, piece)| piece.straight > straights)
        .map(|(line, piece)| StraightLine {
            number: piece.straight,
            system: line.key.system.clone(),
            size: line.size.to_string(),
            from: place(piece.from),
            to: place(piece.to),
            pieces: vec![piece.length],
            union: false,
        })
        .collect();
    stubs.sort_by_key(|stub| stub.number);
    stubs
}

fn section(
    line: &PipeLine,
    kerf: Length,
    offcuts: &[Offcut],
    catalog: Option<(&Catalog, Currency)>,
) -> Result<CutSection, CutError> {
    let mut stocks: Vec<Stock> = offcuts
        .iter()
        .map(|offcut| Stock {
            length: offcut.length,
            cost: 0,
            available: Some(offcut.count),
        })
        .collect();
    let own = stocks.len();
    let priced = catalog.and_then(|(catalog, currency)| {
        let sticks: Option<Vec<Stock>> = offers(catalog, &line.key)
            .into_iter()
            .map(|(length, offer)| stock(length, offer.price?))
            .collect();
        sticks
            .filter(|sticks| !sticks.is_empty())
            .map(|sticks| (sticks, currency))
    });
    let currency = match priced {
        Some((sticks, currency)) => {
            stocks.extend(sticks);
            Some(currency)
        }
        None => {
            stocks.push(Stock {
                length: line.stick,
                cost: 1,
                available: None,
            });
            None
        }
    };
    let plan = cutting::plan(&demand(line), &stocks, kerf)?;
    let bought = plan.sticks.iter().filter(|stick| stick.stock >= own);
    Ok(CutSection {
        system: line.key.system.clone(),
        size: line.size.to_string(),
        kerf,
        bought: bought.map(|stick| stick.count).sum(),
        cost: currency.map(|currency| Money::of_minor_units(plan.cost, currency)),
        bound: match currency {
            Some(currency) => Bound::Cost(Money::of_minor_units(plan.bound, currency)),
            None => Bound::Sticks(plan.bound),
        },
        proven: plan.proven(),
        sticks: laid_out(&plan, &stocks, own, labels(line)),
    })
}

/// The labels of a job's pieces by length, in walking order, those that are ordered more
/// last.
fn labels(line: &PipeLine) -> BTreeMap<Length, VecDeque<String>> {
    let mut labels: BTreeMap<Length, VecDeque<String>> = BTreeMap::new();
    for piece in &line.pieces {
        labels
            .entry(piece.length)
            .or_default()
            .push_back(piece.label());
    }
    for length in line.more_pieces() {
        let label = "spare: not measured".to_owned();
        labels.entry(length).or_default().push_back(label);
    }
    labels
}

/// Cuts any list of pieces from any stock.
///
/// # Errors
/// Why it cannot be cut.
pub fn cut_list(
    heading: Heading,
    kerf: Length,
    wanted: &[list::Wanted],
    sticks: &[list::Stick],
    currency: Currency,
) -> Result<CutSheet, CutError> {
    let mut demand: BTreeMap<Length, u64> = BTreeMap::new();
    let mut labels: BTreeMap<Length, VecDeque<String>> = BTreeMap::new();
    for piece in wanted {
        *demand.entry(piece.length).or_default() += piece.count;
        let named = labels.entry(piece.length).or_default();
        named.extend((0..piece.count).map(|_| piece.label.clone()));
    }
    let demand: Vec<Demand> = demand
        .into_iter()
        .map(|(length, count)| Demand { length, count })
        .collect();
    let stocks: Vec<Stock> = sticks
        .iter()
        .map(|stick| {
            Ok(Stock {
                length: stick.length,
                cost: stick.price.minor_units().ok_or(CutError::TooLarge)?,
                available: stick.available,
            })
        })
        .collect::<Result<_, CutError>>()?;
    let plan = cutting::plan(&demand, &stocks, kerf)?;
    let section = CutSection {
        system: String::new(),
        size: String::new(),
        kerf,
        bought: plan.sticks.iter().map(|stick| stick.count).sum(),
        cost: Some(Money::of_minor_units(plan.cost, currency)),
        bound: Bound::Cost(Money::of_minor_units(plan.bound, currency)),
        proven: plan.proven(),
        sticks: laid_out(&plan, &stocks, 0, labels),
    };
    Ok(CutSheet {
        heading,
        sections: vec![section],
        straights: Vec::new(),
    })
}

/// The plan's sticks, one by one, with the pieces that they are for; offcuts
/// (the first `own` stocks) first.
fn laid_out(
    plan: &Plan,
    stocks: &[Stock],
    own: usize,
    mut labels: BTreeMap<Length, VecDeque<String>>,
) -> Vec<CutStick> {
    let mut order: Vec<_> = plan.sticks.iter().collect();
    order.sort_by_key(|stick| stick.stock >= own);
    let mut sticks = Vec::new();
    for stick in order {
        for _ in 0..stick.count {
            let pieces = stick
                .pieces
                .iter()
                .map(|length| CutPiece {
                    label: labels
                        .get_mut(length)
                        .and_then(VecDeque::pop_front)
                        .unwrap_or_default(),
                    length: *length,
                })
                .collect();
            sticks.push(CutStick {
                stock: stocks[stick.stock].length,
                offcut: stick.stock < own,
                pieces,
                waste: stick.rest,
            });
        }
    }
    sticks
}

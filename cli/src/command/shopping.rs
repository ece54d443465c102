//! What a list of what to buy is made of: the job, the price lists and the rates, read
//! with all their problems at once.

use super::cut::cannot;
use super::suppliers::{bought_from, choice_of_suppliers};
use super::{layout, library, lists, plan_by, prices, settled, stopped, unpriced, usd};
use crate::args::{Buying, OwnData};
use crate::exit::{Exit, Failure};
use crate::{Io, files, fingerprint, report};
use bom::Plan;
use bom::finding::Finding;
use bom::library::Library;
use bom::source::Source;
use bom::takeoff::Takeoff;
use jiff::civil::Date;
use pricing::buying::Terms;
use pricing::catalog::Catalog;
use pricing::cut_sheet::{CutSheet, Heading, cut_sheet};
use pricing::money::Currency;
use pricing::rates::Rates;
use pricing::shop::{By, Inputs, ShoppingList, Spares};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// What a command names.
pub(super) struct Asked<'a> {
    pub(super) job: &'a Path,
    /// None for a list without prices.
    pub(super) catalog: &'a [PathBuf],
    pub(super) rates: Option<&'a Path>,
    pub(super) buying: &'a Buying,
    pub(super) currency: Option<Currency>,
    pub(super) own: &'a OwnData,
}

/// A counted job with what its parts are bought by.
pub(super) struct Shopping {
    pub(super) library: Library,
    pub(super) source: Source,
    pub(super) plan: Plan,
    /// What was found of the job, good practice apart.
    pub(super) findings: Vec<Finding>,
    /// The count in what the price lists have.
    pub(super) takeoff: Takeoff,
    /// Whether there are price lists.
    pub(super) priced: bool,
    pub(super) catalog: Catalog,
    pub(super) currency: Currency,
    pub(super) rates: Option<Rates>,
    pub(super) fingerprint: String,
    /// The files of the price lists.
    pub(super) lists: Vec<PathBuf>,
}

impl Shopping {
    pub(super) fn read(asked: &Asked<'_>, io: &mut Io<'_>) -> Result<Self, Failure> {
        let (library, own) = library(asked.own, io)?;
        let source = files::read(asked.job)?;
        let catalogs = lists(asked.catalog, library.parts(), io)?;
        let rates_source = asked.rates.map(files::read).transpose()?;

        // All inputs are read before anything stops, so that all problems show at
        // once.
        let rates = match &rates_source {
            None => Ok(None),
            Some(source) => {
                let (rates, found) = Rates::read(source);
                report::print(&found, source, io.err)?;
                let rates = rates.ok_or_else(|| stopped(&found, "the rates cannot be used"));
                rates.map(|rates| Some((rates, source)))
            }
        };
        let by_rates = rates.as_ref().ok().and_then(Option::as_ref);
        let currency = by_rates.map(|(rates, _)| rates.currency);
        let currency = currency
            .or(asked.currency)
            .or_else(|| Catalog::currency(&catalogs.sheets));
        let currency = currency.map_or_else(usd, Ok)?;
        let by_rates = by_rates.map(|(rates, source)| (rates, *source));
        let catalog = prices(&catalogs, library.parts(), currency, io)
            .and_then(|catalog| bought_from(catalog, asked.buying, by_rates, io));
        let priced = !asked.catalog.is_empty();
        let by = catalog.as_ref().ok().filter(|_| priced);
        let by = by.map(|catalog| (catalog, by_rates.map(|(rates, _)| rates)));
        let (plan, findings) = plan_by(&source, &library, None, by);
        report::print(&findings, &source, io.err)?;
        let plan = plan.ok_or_else(|| stopped(&findings, "nothing was counted"));
        let (plan, catalog, rates) = match (plan, catalog, rates) {
            (Ok(plan), Ok(catalog), Ok(rates)) => (plan, catalog, rates),
            (plan, catalog, rates) => {
                let failures = [plan.err(), catalog.err(), rates.err()];
                let mut failures = failures.into_iter().flatten().peekable();
                let first = failures
                    .next()
                    .map_or(Exit::Done, |first| first.tell(io.err));
                let exit = failures.fold(first, |exit, next| exit.max(next.tell(io.err)));
                return Err(Failure::Told(exit));
            }
        };
        let takeoff = match priced {
            true => settled(&plan, &library, &catalog, currency)?,
            false => plan.takeoff.clone(),
        };
        let layout = layout(&source, &own, &library, &takeoff);
        let choice = choice_of_suppliers(asked.buying);
        let figures = catalogs.sources().chain(&rates_source).chain(&choice);
        let fingerprint = fingerprint::of(&layout, &figures.collect::<Vec<&Source>>());
        Ok(Self {
            rates: rates.map(|(rates, _)| rates),
            lists: catalogs.files,
            library,
            source,
            plan,
            findings,
            takeoff,
            priced,
            catalog,
            currency,
            fingerprint,
        })
    }

    /// Which piece is cut from which stick.
    pub(super) fn cut_sheet(&self, date: Date) -> Result<CutSheet, Failure> {
        let summary = &self.plan.summary;
        let heading = Heading {
            title: summary.title.clone(),
            revision: summary.revision.clone(),
            fingerprint: self.fingerprint.clone(),
            date,
            units: summary.units,
        };
        let prices = self.priced.then_some((&self.catalog, self.currency));
        let place = |node| self.plan.network.place(node);
        cut_sheet(
            heading,
            &self.takeoff,
            None,
            BTreeMap::new(),
            prices,
            &place,
        )
        .map_err(|(size, error)| cannot(&format!("{size} pipe: {error}"), error))
    }

    /// The list of what to buy.
    pub(super) fn list(&self, by: By, date: Date) -> Result<ShoppingList, Failure> {
        let rates = self.rates.as_ref();
        Inputs {
            network: &self.plan.network,
            summary: &self.plan.summary,
            takeoff: &self.takeoff,
            library: &self.library,
            spares: &Spares::shipped().map_err(broken)?,
            catalog: &self.catalog,
            terms: rates.map_or(&Terms::default(), |rates| &rates.buying),
            currency: self.currency,
            by,
            date,
            fingerprint: &self.fingerprint,
        }
        .list()
        .map_err(unpriced)
    }
}

fn broken(error: String) -> Failure {
    Failure::Untold(
        Exit::Outside,
        format!("the shipped data is broken: {error}"),
    )
}

//! A job counted for its papers: the job, the price lists and the rates where there are
//! any, read with all their problems at once.

use super::cut::cannot;
use super::priced::PricedJob;
use super::suppliers::{bought_from, choice_of_suppliers};
use super::{Own, layout, library, lists, plan_by, prices, settle, stopped, unpriced};
use crate::args::{Buying, OwnData};
use crate::exit::{Exit, Failure};
use crate::{Io, files, fingerprint, report};
use bom::Plan;
use bom::drawing::{Field, Scene};
use bom::finding::Finding;
use bom::library::Library;
use bom::quantity::Length;
use bom::source::Source;
use jiff::civil::Date;
use pricing::buying::Terms;
use pricing::catalog::{Catalog, Sheet};
use pricing::cut_sheet::{CutSheet, Heading, OwnOffcuts, cut_sheet};
use pricing::money::Currency;
use pricing::rates::Rates;
use pricing::shop::{By, Inputs, ShoppingList, Spares};
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
pub(super) struct Counted {
    pub(super) library: Library,
    pub(super) source: Source,
    /// The plan, its count in what the price lists have.
    pub(super) plan: Plan,
    /// What was found of the job, good practice apart.
    pub(super) findings: Vec<Finding>,
    /// Whether there are price lists.
    pub(super) priced: bool,
    pub(super) catalog: Catalog,
    pub(super) currency: Currency,
    pub(super) rates: Option<Rates>,
    pub(super) fingerprint: String,
    /// The files of the price lists.
    pub(super) lists: Vec<PathBuf>,
}

impl Counted {
    pub(super) fn read(asked: &Asked<'_>, io: &mut Io<'_>) -> Result<Self, Failure> {
        let known = library(asked.own, io)?;
        let source = files::read(asked.job)?;
        Self::of(source, known, asked, io)
    }

    /// The same of a job that has been read.
    pub(super) fn of(
        source: Source,
        (library, own): (Library, Own),
        asked: &Asked<'_>,
        io: &mut Io<'_>,
    ) -> Result<Self, Failure> {
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
        let currency = currency_of(currency.or(asked.currency), &catalogs.sheets)?;
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
        let mut plan = plan;
        if priced {
            settle(&mut plan, &library, &catalog, currency)?;
        }
        let layout = layout(&source, &own, &library, &plan.takeoff);
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
            priced,
            catalog,
            currency,
            fingerprint,
        })
    }

    /// The job as it is drawn.
    pub(super) fn scene(&self) -> Scene<'_> {
        Scene {
            plan: &self.plan,
            library: &self.library,
            field: Field::COMMON,
        }
    }

    /// Which piece is cut from which stick, with this saw cut and these offcuts.
    pub(super) fn cut_sheet(
        &self,
        kerf: Option<Length>,
        offcuts: OwnOffcuts,
        date: Date,
    ) -> Result<CutSheet, Failure> {
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
        cut_sheet(heading, &self.plan.takeoff, kerf, offcuts, prices, &place)
            .map_err(|(size, error)| cannot(&format!("{size} pipe: {error}"), error))
    }

    /// The job with its price, where there are rates.
    pub(super) fn priced(self) -> Option<PricedJob> {
        Some(PricedJob {
            rates: self.rates?,
            library: self.library,
            source: self.source,
            catalog: self.catalog,
            fingerprint: self.fingerprint,
            lists: self.lists,
            plan: self.plan,
        })
    }

    /// The list of what to buy.
    pub(super) fn list(&self, by: By, date: Date) -> Result<ShoppingList, Failure> {
        let rates = self.rates.as_ref();
        Inputs {
            network: &self.plan.network,
            summary: &self.plan.summary,
            takeoff: &self.plan.takeoff,
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

/// The currency that is asked for, else that of the price lists, else dollars.
pub(super) fn currency_of(
    wanted: Option<Currency>,
    catalogs: &[Sheet],
) -> Result<Currency, Failure> {
    match wanted.or_else(|| Catalog::currency(catalogs)) {
        Some(currency) => Ok(currency),
        None => {
            Currency::parse("USD").map_err(|error| Failure::Untold(Exit::Outside, error.message))
        }
    }
}

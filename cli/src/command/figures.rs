//! Price lists and rates, read with all their problems at once.

use super::suppliers::{bought_from, choice_of_suppliers};
use super::{Prices, both, lists, prices, stopped};
use crate::args::Buying;
use crate::exit::{Exit, Failure};
use crate::{Io, files, fingerprint, report};
use bom::library::Library;
use bom::source::Source;
use pricing::catalog::{Catalog, Sheet};
use pricing::money::Currency;
use pricing::rates::Rates;
use std::path::{Path, PathBuf};

/// What a command names.
#[derive(Clone, Copy)]
pub(super) struct Named<'a> {
    /// None where nothing is priced.
    pub(super) catalog: &'a [PathBuf],
    pub(super) rates: Option<&'a Path>,
    pub(super) buying: &'a Buying,
    /// The currency where the rates state none.
    pub(super) currency: Option<Currency>,
}

/// What parts are bought by.
#[derive(Clone)]
pub(super) struct Figures {
    /// Whether there are price lists.
    pub(super) priced: bool,
    pub(super) catalog: Catalog,
    pub(super) currency: Currency,
    pub(super) rates: Option<Rates>,
    /// All files that were read.
    pub(super) files: Vec<PathBuf>,
    sources: Vec<Source>,
}

impl Figures {
    pub(super) fn read(
        named: Named<'_>,
        library: &Library,
        io: &mut Io<'_>,
    ) -> Result<Self, Failure> {
        let lists = lists(named.catalog, library.parts(), io)?;
        let source = named.rates.map(files::read).transpose()?;
        let rates = match &source {
            None => Ok(None),
            Some(source) => read_rates(source, io).map(Some),
        };
        let by = rates
            .as_ref()
            .ok()
            .and_then(Option::as_ref)
            .zip(source.as_ref());
        let stated = by.map(|(rates, _)| rates.currency).or(named.currency);
        let currency = currency_of(stated, &lists.sheets)?;
        let catalog = prices(&lists, library.parts(), currency, io)
            .and_then(|catalog| bought_from(catalog, named.buying, by, io));
        let (catalog, rates) = both(catalog, rates, io)?;
        let mut sources: Vec<Source> = lists.sources().cloned().collect();
        sources.extend(source);
        sources.extend(choice_of_suppliers(named.buying));
        let mut files = lists.files;
        files.extend(named.rates.map(Path::to_path_buf));
        Ok(Self {
            priced: !named.catalog.is_empty(),
            catalog,
            currency,
            rates,
            files,
            sources,
        })
    }

    /// What open sizes are chosen by; none without price lists.
    pub(super) fn by(&self) -> Option<Prices<'_>> {
        self.priced.then_some((&self.catalog, self.rates.as_ref()))
    }

    /// The papers' mark of a layout that is priced so.
    pub(super) fn mark(&self, layout: &[&Source]) -> String {
        fingerprint::of(layout, &self.sources.iter().collect::<Vec<_>>())
    }
}

fn read_rates(source: &Source, io: &mut Io<'_>) -> Result<Rates, Failure> {
    let (rates, found) = Rates::read(source);
    report::print(&found, source, io.err)?;
    rates.ok_or_else(|| stopped(&found, "the rates cannot be used"))
}

/// The rates, where a command cannot do without.
pub(super) fn needed(rates: Option<Rates>) -> Result<Rates, Failure> {
    let without = || Failure::Untold(Exit::Unreadable, "give your rates with --rates".to_owned());
    rates.ok_or_else(without)
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

//! The prices that sizes are chosen by, where a command can do without.

use super::{Prices, lists, prices, stopped};
use crate::exit::{Exit, Failure};
use crate::{Io, files, report};
use bom::library::Library;
use bom::source::Source;
use pricing::catalog::Catalog;
use pricing::money::Currency;
use pricing::rates::Rates;
use std::path::{Path, PathBuf};

/// Price lists, and rates beside them if there are any.
#[derive(Default)]
pub(super) struct Basis {
    catalog: Option<(Catalog, Currency)>,
    rates: Option<Rates>,
    /// What they were read from, for the papers' mark.
    pub(super) sources: Vec<Source>,
    /// Every file that was read.
    pub(super) files: Vec<PathBuf>,
}

impl Basis {
    pub(super) fn read(
        catalog: &[PathBuf],
        rates: Option<&Path>,
        library: &Library,
        io: &mut Io<'_>,
    ) -> Result<Self, Failure> {
        if catalog.is_empty() {
            return Ok(Self::default());
        }
        let lists = lists(catalog, library.parts(), io)?;
        let mut sources: Vec<Source> = lists.sources().cloned().collect();
        let mut files = lists.files.clone();
        let rates = match rates {
            Some(path) => {
                let source = files::read(path)?;
                let (rates, found) = Rates::read(&source);
                report::print(&found, &source, io.err)?;
                sources.push(source);
                files.push(path.to_owned());
                Some(rates.ok_or_else(|| stopped(&found, "the rates cannot be used"))?)
            }
            None => None,
        };
        let stated = rates.as_ref().map(|rates| rates.currency);
        let currency = stated.or_else(|| Catalog::currency(&lists.sheets));
        let currency = currency.ok_or_else(|| {
            Failure::Untold(
                Exit::Unreadable,
                "no price list says its currency: fill in the column `currency`".to_owned(),
            )
        })?;
        let catalog = prices(&lists, library.parts(), currency, io)?;
        Ok(Self {
            catalog: Some((catalog, currency)),
            rates,
            sources,
            files,
        })
    }

    pub(super) fn prices(&self) -> Option<Prices<'_>> {
        let (catalog, _) = self.catalog.as_ref()?;
        Some((catalog, self.rates.as_ref()))
    }

    pub(super) fn currency(&self) -> Option<Currency> {
        self.catalog.as_ref().map(|(_, currency)| *currency)
    }
}

//! A job counted for the papers of those who build it, with what price lists have
//! where there are any.

use super::{layout, library, lists, plan, prices, settled};
use crate::args::OwnData;
use crate::exit::{Exit, Failure};
use crate::{Io, files, fingerprint};
use bom::Plan;
use bom::library::Library;
use bom::source::Source;
use jiff::civil::Date;
use pricing::catalog::{Catalog, Sheet};
use pricing::cut_sheet::Heading;
use pricing::money::Currency;
use std::path::{Path, PathBuf};

/// A counted job.
pub(super) struct Counted {
    pub(super) library: Library,
    /// The plan, its count with what the price lists have.
    pub(super) plan: Plan,
    pub(super) catalog: Option<Catalog>,
    pub(super) currency: Currency,
    pub(super) heading: Heading,
    /// The files of the price lists.
    pub(super) files: Vec<PathBuf>,
}

pub(super) fn counted(
    job: &Path,
    own: &OwnData,
    lists_of: &[PathBuf],
    currency: Option<Currency>,
    date: Option<Date>,
    io: &mut Io<'_>,
) -> Result<Counted, Failure> {
    let (library, own) = library(own, io)?;
    let source = files::read(job)?;
    let catalogs = lists(lists_of, library.parts(), io)?;
    let currency = currency_of(currency, &catalogs.sheets)?;
    let catalog = if catalogs.sheets.is_empty() {
        None
    } else {
        Some(prices(&catalogs, library.parts(), currency, io)?)
    };
    let by = catalog.as_ref().map(|catalog| (catalog, None));
    let mut plan = plan(&source, &library, by, io)?;
    if let Some(catalog) = &catalog {
        plan.takeoff = settled(&plan, &library, catalog, currency)?;
    }
    let layout = layout(&source, &own, &library, &plan.takeoff);
    let figures: Vec<&Source> = catalogs.sources().collect();
    let heading = Heading {
        title: plan.summary.title.clone(),
        revision: plan.summary.revision.clone(),
        fingerprint: fingerprint::of(&layout, &figures),
        date: date.unwrap_or_else(io.today),
        units: plan.summary.units,
    };
    Ok(Counted {
        plan,
        catalog,
        currency,
        heading,
        files: catalogs.files,
        library,
    })
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

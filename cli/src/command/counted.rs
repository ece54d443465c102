//! A job counted for its papers: the job, the price lists and the rates where there are
//! any, read with all their problems at once.

use super::cut::cannot;
use super::figures::{Figures, Named};
use super::{Own, both, layout, library, plan_by, scene, settle, stopped, unpriced};
use crate::args::{Buying, OwnData, Prices};
use crate::exit::{Exit, Failure};
use crate::{Io, files, report};
use bom::Plan;
use bom::drawing::Scene;
use bom::finding::Finding;
use bom::library::Library;
use bom::quantity::Length;
use bom::source::Source;
use jiff::civil::Date;
use pricing::buying::Terms;
use pricing::cut_sheet::{CutSheet, Heading, OwnOffcuts, cut_sheet};
use pricing::money::Currency;
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

impl<'a> Asked<'a> {
    /// A job that may be priced.
    pub(super) fn of(
        job: &'a Path,
        prices: &'a Prices,
        buying: &'a Buying,
        own: &'a OwnData,
    ) -> Self {
        Self {
            job,
            catalog: prices.catalog.as_slice(),
            rates: prices.rates.as_deref(),
            buying,
            currency: None,
            own,
        }
    }
}

/// A counted job with what its parts are bought by.
pub(super) struct Counted {
    pub(super) library: Library,
    pub(super) source: Source,
    /// The plan, its count in what the price lists have.
    pub(super) plan: Plan,
    /// What was found of the job, good practice apart.
    pub(super) findings: Vec<Finding>,
    pub(super) figures: Figures,
    pub(super) fingerprint: String,
}

impl Counted {
    /// Reads the files and counts the job.
    pub(super) fn read(asked: &Asked<'_>, io: &mut Io<'_>) -> Result<Self, Failure> {
        let (library, own) = library(asked.own, io)?;
        let source = files::read(asked.job)?;
        let named = Named {
            catalog: asked.catalog,
            rates: asked.rates,
            buying: asked.buying,
            currency: asked.currency,
        };
        let figures = Figures::read(named, &library, io);
        Self::of(&source, figures, &library, &own, io)
    }

    /// Counts a job. It is read even where the figures cannot be used, so that all
    /// problems show at once.
    pub(super) fn of(
        source: &Source,
        figures: Result<Figures, Failure>,
        library: &Library,
        own: &Own,
        io: &mut Io<'_>,
    ) -> Result<Self, Failure> {
        let by = figures.as_ref().ok().and_then(Figures::by);
        let (plan, findings) = plan_by(source, library, None, by);
        report::print(&findings, source, io.err)?;
        let plan = plan.ok_or_else(|| stopped(&findings, "nothing was counted"));
        let (mut plan, figures) = both(plan, figures, io)?;
        if figures.priced {
            settle(&mut plan, library, &figures.catalog, figures.currency)?;
        }
        Ok(Self {
            fingerprint: figures.mark(&layout(source, own, library, &plan.takeoff)),
            library: library.clone(),
            source: source.clone(),
            plan,
            findings,
            figures,
        })
    }

    /// The job as it is drawn.
    pub(super) fn scene(&self) -> Scene<'_> {
        scene(&self.plan, &self.library)
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
        let Figures {
            priced,
            catalog,
            currency,
            ..
        } = &self.figures;
        let prices = priced.then_some((catalog, *currency));
        let place = |node| self.plan.network.place(node);
        cut_sheet(heading, &self.plan.takeoff, kerf, offcuts, prices, &place)
            .map_err(|(size, error)| cannot(&format!("{size} pipe: {error}"), error))
    }

    /// The list of what to buy.
    pub(super) fn list(&self, by: By, date: Date) -> Result<ShoppingList, Failure> {
        let figures = &self.figures;
        let rates = figures.rates.as_ref();
        Inputs {
            network: &self.plan.network,
            summary: &self.plan.summary,
            takeoff: &self.plan.takeoff,
            library: &self.library,
            spares: &Spares::shipped().map_err(broken)?,
            catalog: &figures.catalog,
            terms: rates.map_or(&Terms::default(), |rates| &rates.buying),
            currency: figures.currency,
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

//! The same layout in several pipe systems, side by side: each counted, bought
//! and built by its own joints. Like a quote it shows selling prices only, and
//! no cost, overhead or margin.

mod break_even;
mod figures;
mod movers;
mod words;

use crate::catalog::Catalog;
use crate::estimate::Estimate;
use crate::money::{Currency, Money, MoneyError};
use crate::offer;
use crate::quote::{MissingPrice, Quote, Tax};
use crate::rates::Rates;
use bom::quantity::{Length, Size, Units};
use bom::summary::Summary;
use bom::system::Joint;
use bom::takeoff::Takeoff;
use jiff::civil::Date;
use rust_decimal::Decimal;

/// Everything that a comparison stands on.
#[derive(Debug, Clone, Copy)]
pub struct Inputs<'a> {
    /// The pipe systems, in the order of the paper.
    pub candidates: &'a [Candidate<'a>],
    /// The contractor's figures.
    pub rates: &'a Rates,
    /// The day of the paper.
    pub date: Date,
    /// Fingerprint of the layout and of the prices.
    pub fingerprint: &'a str,
}

/// One pipe system to compare.
#[derive(Debug, Clone)]
pub struct Candidate<'a> {
    /// Its name: `black-iron`.
    pub system: &'a str,
    /// Its name on paper.
    pub title: &'a str,
    /// The layout in it, or why it cannot be built in it.
    pub layout: Result<Layout<'a>, String>,
}

/// The layout in one pipe system.
#[derive(Debug, Clone)]
pub struct Layout<'a> {
    /// The layout in a few facts.
    pub summary: &'a Summary,
    /// The count, with what the catalog has.
    pub takeoff: &'a Takeoff,
    /// The user's prices.
    pub catalog: &'a Catalog,
    /// What else is known of it.
    pub facts: Facts,
}

/// What no count tells.
#[derive(Debug, Clone, Copy, Default)]
pub struct Facts {
    /// By how much the longest straight grows in warmth.
    pub growth: Option<Length>,
    /// Pressure lost on the way to the worst outlet.
    pub worst_outlet_kpa: Option<f64>,
    /// Whether that is the most that main and drop take on the way to any tool in
    /// its worst case, after years; else it is that of straight pipe at all the air.
    pub to_tools: bool,
}

/// A finished comparison: renderers print it and compute nothing.
#[derive(Debug, Clone)]
pub struct Comparison {
    /// The job's title.
    pub title: String,
    /// The job file's revision.
    pub revision: String,
    /// Fingerprint of the layout and of the prices.
    pub fingerprint: String,
    /// The day of the paper.
    pub date: Date,
    /// The currency of every sum.
    pub currency: Currency,
    /// How lengths and masses print.
    pub units: Units,
    /// What all options have in common, in a sentence.
    pub scope: String,
    /// The options in the order they were asked for.
    pub options: Vec<CompareOption>,
    /// For each pair of options the wage at which they cost the same.
    pub break_even: Vec<BreakEven>,
    /// How the figures are meant.
    pub assumptions: Vec<String>,
    /// Hazards and the duties of others; each option has those of its pipe.
    pub cautions: Vec<String>,
    /// Whether prices or rates come from invented samples, and which.
    pub notices: Vec<String>,
}

/// One column.
#[derive(Debug, Clone)]
pub struct CompareOption {
    /// The pipe system's name.
    pub system: String,
    /// Its name on paper.
    pub title: String,
    /// Its figures, or why the layout cannot be built in it.
    pub figures: Result<Figures, String>,
}

/// The figures of one option. A sum that is not known in full is none.
#[derive(Debug, Clone)]
pub struct Figures {
    /// Sizes of the main, largest first.
    pub main_sizes: Vec<Size>,
    /// What the materials sell for.
    pub materials: Option<Money>,
    /// What the hired tools sell for.
    pub hire: Money,
    /// What travel, lifts, permits, freight and the like sell for, with the allowance and
    /// what is provisional in the total; none while the days on site are not known.
    pub costs: Option<Money>,
    /// What the rounding of the price adds; none where no sum is rounded.
    pub rounding: Option<Money>,
    /// Hours of work.
    pub labour_hours: Option<Decimal>,
    /// What the labour sells for.
    pub labour: Option<Money>,
    /// Tax on its stated base.
    pub tax: Option<Tax>,
    /// Hire, other costs, rounding and tax: what is neither material nor labour.
    pub other: Option<Money>,
    /// What the customer pays.
    pub total: Option<Money>,
    /// How much dearer it is than the cheapest option; nought for that one.
    pub difference: Option<Money>,
    /// Days on site, up to the next half; none if the rates name no crew.
    pub days: Option<Decimal>,
    /// The pipe, without fittings.
    pub mass: Mass,
    /// Hangers and brackets.
    pub supports: u64,
    /// Joints to make, by method.
    pub joints: Vec<(Joint, u64)>,
    /// Fittings, unions and couplings included.
    pub fittings: u64,
    /// Pieces of pipe to cut.
    pub pieces: usize,
    /// What no count tells.
    pub facts: Facts,
    /// What must be said of its pipe.
    pub cautions: Vec<String>,
    /// Parts that no catalog row prices.
    pub missing: Vec<MissingPrice>,
    /// Work for which the rates have no hours, and the entry to add.
    pub unrated: Vec<String>,
    /// The oldest price that is used.
    pub oldest: Option<PriceAge>,
    /// How many prices have no date.
    pub undated: usize,
    /// The three prices that move the total most; none without a total.
    pub movers: Vec<Mover>,
}

/// How old a price is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PriceAge {
    /// The day of the price.
    pub date: Date,
    /// Days from then to the day of the paper.
    pub days: i64,
}

const KG_PER_LB: f64 = 0.453_592_37;

/// A mass in pounds.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Mass(pub f64);

impl Mass {
    /// A mass in kilograms (a pound is 0.45359237 kg).
    #[must_use]
    pub fn of_kg(kilograms: f64) -> Self {
        Self(kilograms / KG_PER_LB)
    }

    /// The same in kilograms.
    #[must_use]
    pub fn kg(self) -> f64 {
        self.0 * KG_PER_LB
    }

    /// `212 lb` or `96 kg`.
    #[must_use]
    pub fn show(self, units: Units) -> String {
        match units {
            Units::Feet => format!("{:.0} lb", self.0),
            Units::Metric => format!("{:.0} kg", self.kg()),
        }
    }
}

/// A price, and what a tenth more or less of it does to the total.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mover {
    /// What is bought.
    pub text: String,
    /// The change of the total where the price is a tenth higher.
    pub up: Money,
    /// The change of the total where it is a tenth lower; below nought.
    pub down: Money,
}

/// Where two options cost the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BreakEven {
    /// The system of the one that was asked for first.
    pub a: String,
    /// The other.
    pub b: String,
    /// What an hour of work costs there, as `wage` in the rates.
    pub wage: Money,
    /// The system that is cheaper at a lower wage: it takes more hours.
    pub cheaper_below: String,
    /// The system that is cheaper at a higher one.
    pub cheaper_above: String,
}

/// An option with both sides of it.
struct Priced {
    option: CompareOption,
    built: Option<(Estimate, Quote)>,
}

impl Inputs<'_> {
    /// Everything side by side.
    ///
    /// # Errors
    /// A sum with too many digits.
    pub fn comparison(&self) -> Result<Comparison, MoneyError> {
        let priced = self.candidates.iter().map(|one| self.price(one));
        let mut priced: Vec<Priced> = priced.collect::<Result<_, _>>()?;
        set_differences(&mut priced)?;
        let break_even = break_even::all(&priced, self.rates)?;
        let built = self.candidates.iter();
        let built = built.filter_map(|one| one.layout.as_ref().ok());
        let to_tools = built.clone().any(|layout| layout.facts.to_tools);
        let mut summaries = built.map(|layout| layout.summary);
        let mixed = summaries.clone().any(|summary| summary.main_pipe.len() > 1);
        let summary = summaries.next();
        let text = |part: fn(&Summary) -> &String| summary.map(part).cloned().unwrap_or_default();
        Ok(Comparison {
            title: text(|summary| &summary.title),
            revision: text(|summary| &summary.revision),
            fingerprint: self.fingerprint.to_owned(),
            date: self.date,
            currency: self.rates.currency,
            units: summary.map_or(Units::Feet, |summary| summary.units),
            scope: summary.map_or_else(String::new, |summary| words::scope(summary, mixed)),
            assumptions: words::assumptions(self.rates, &break_even, to_tools),
            cautions: words::cautions(self.rates),
            notices: words::notices(&priced, self.rates),
            break_even,
            options: priced.into_iter().map(|one| one.option).collect(),
        })
    }

    fn price(&self, one: &Candidate<'_>) -> Result<Priced, MoneyError> {
        let (figures, built) = match &one.layout {
            Err(reason) => (Err(reason.clone()), None),
            Ok(layout) => {
                let inputs = offer::Inputs {
                    summary: layout.summary,
                    takeoff: layout.takeoff,
                    catalog: layout.catalog,
                    rates: self.rates,
                    date: self.date,
                    fingerprint: self.fingerprint,
                };
                let estimate = inputs.estimate()?;
                let quote = inputs.quote_of(estimate.clone())?;
                let figures = figures::figures(layout, &estimate, &quote, self.rates)?;
                (Ok(figures), Some((estimate, quote)))
            }
        };
        Ok(Priced {
            option: CompareOption {
                system: one.system.to_owned(),
                title: one.title.to_owned(),
                figures,
            },
            built,
        })
    }
}

/// Sets every option's distance from the cheapest.
fn set_differences(priced: &mut [Priced]) -> Result<(), MoneyError> {
    let totals = priced.iter().filter_map(|one| one.option.total());
    let Some(cheapest) = totals.min_by_key(Money::amount) else {
        return Ok(());
    };
    for one in priced {
        if let Ok(figures) = &mut one.option.figures {
            figures.difference = figures
                .total
                .map(|total| total.minus(cheapest))
                .transpose()?;
        }
    }
    Ok(())
}

impl CompareOption {
    /// What the customer pays; none while something is missing.
    #[must_use]
    pub fn total(&self) -> Option<Money> {
        self.figures.as_ref().ok()?.total
    }
}

#[cfg(test)]
mod tests;

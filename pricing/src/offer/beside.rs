//! What stands beside the job on its quote: one more drop, alternates, options. Each is
//! the same job priced once more, and the difference of the two totals.

use super::{Inputs, scope};
use crate::money::{Money, MoneyError};
use crate::quote::{Options, Quote, QuoteOption};
use bom::quantity::{Length, Units};
use bom::summary::{OutletSummary, Summary};

/// One way of doing the work.
#[derive(Debug, Clone)]
pub struct Choice<'a> {
    /// What it is called.
    pub name: String,
    /// Whether it is the job as it stands.
    pub described: bool,
    /// The job in this way, or why it cannot be built so.
    pub inputs: Result<Inputs<'a>, String>,
}

/// What a job with more in it would add to a quote; or why that is not known.
///
/// # Errors
/// A sum with too many digits.
pub fn added(quote: &Quote, more: &Inputs<'_>) -> Result<Result<Money, String>, MoneyError> {
    let more = more.quote()?;
    Ok(match (quote.total, more.total) {
        (Some(base), Some(total)) => Ok(total.minus(base)?),
        _ => Err(open(&more)),
    })
}

/// `at bench: 3/4in, top; 4'-0" above the floor; valve, coupler`.
#[must_use]
pub fn outlet_words(outlet: &OutletSummary, units: Units) -> String {
    format!(
        "{}: {} drop, {} pipe from the {} of the main, {} above the floor; {}",
        outlet.name,
        outlet.drop,
        outlet.size,
        outlet.take_off,
        outlet.height.show(units),
        outlet.sides.join(" / "),
    )
}

/// What an alternate is: its outlets, a line each, and how much main it takes.
#[must_use]
pub fn alternate_words(base: &Summary, with: &Summary, names: &[String]) -> Vec<String> {
    let outlets = with.outlets.iter();
    let outlets = outlets.filter(|outlet| names.contains(&outlet.name));
    let more = with.main_length - base.main_length;
    let main = (more > Length::ZERO).then(|| {
        let more = more.show_total(with.units);
        format!("with {more} more of the main")
    });
    outlets
        .map(|outlet| outlet_words(outlet, with.units))
        .chain(main)
        .collect()
}

/// Why a quote has no total.
fn open(quote: &Quote) -> String {
    let parts = quote.missing.iter();
    let parts = parts.map(|part| format!("{} {}", part.words, part.key.size));
    let parts: Vec<String> = parts.map(|part| part.trim_end().to_owned()).collect();
    match (&parts[..], &quote.unrated[..]) {
        ([], []) => "the total of this quote is open".to_owned(),
        ([], work) => format!("no hours for {}", work.join(", ")),
        (parts, _) => format!("no price for {}", parts.join(", ")),
    }
}

impl Inputs<'_> {
    /// The options beside the quote of the job as it stands, these inputs. If none of
    /// them is that, it stands first.
    ///
    /// # Errors
    /// A sum with too many digits.
    pub fn options(&self, quote: &Quote, choices: &[Choice<'_>]) -> Result<Options, MoneyError> {
        let as_described = Choice {
            name: "As described".to_owned(),
            described: true,
            inputs: Ok(*self),
        };
        let listed = choices.iter().any(|choice| choice.described);
        let all = (!listed)
            .then_some(&as_described)
            .into_iter()
            .chain(choices);
        let options = all.map(|choice| self.option(quote, choice));
        let options: Vec<QuoteOption> = options.collect::<Result<_, _>>()?;
        let built = || {
            choices
                .iter()
                .filter_map(|choice| choice.inputs.as_ref().ok())
        };
        let equal = built().all(|inputs| left_out(self.summary, inputs.summary).is_empty());
        let outlets = match self.summary.outlets.len() {
            1 => "1 outlet".to_owned(),
            count => format!("{count} outlets"),
        };
        Ok(Options {
            scope: format!(
                "Every option is the same layout with the same tests and terms and the same {outlets}{}. Lines, payments and other prices of this quote are those of the work described.",
                if equal {
                    ""
                } else {
                    ", but for those that an option says it leaves out"
                }
            ),
            options,
        })
    }

    fn option(&self, quote: &Quote, choice: &Choice<'_>) -> Result<QuoteOption, MoneyError> {
        let inputs = match &choice.inputs {
            Ok(inputs) => inputs,
            Err(reason) => {
                return Ok(QuoteOption {
                    name: choice.name.clone(),
                    described: choice.described,
                    pipe: String::new(),
                    left_out: Vec::new(),
                    cautions: Vec::new(),
                    total: Err(format!("it cannot be built: {reason}")),
                    difference: None,
                    days: None,
                });
            }
        };
        let estimate = inputs.estimate()?;
        let days = estimate.days;
        let own = inputs.quote_of(estimate)?;
        let both = own.total.zip(quote.total);
        let cautions = inputs.takeoff.cautions.iter();
        let new = cautions.filter(|caution| !self.takeoff.cautions.contains(caution));
        Ok(QuoteOption {
            name: choice.name.clone(),
            described: choice.described,
            pipe: scope::pipe(inputs.summary),
            left_out: left_out(self.summary, inputs.summary),
            cautions: new.cloned().collect(),
            difference: both.map(|(own, base)| own.minus(base)).transpose()?,
            total: own.total.ok_or_else(|| open(&own)),
            days,
        })
    }
}

/// The outlets of one layout that another has not, or has at another height or of another
/// kind.
fn left_out(of: &Summary, from: &Summary) -> Vec<String> {
    let same = |a: &OutletSummary, b: &OutletSummary| {
        a.name == b.name && a.drop == b.drop && a.height == b.height
    };
    let outlets = of.outlets.iter();
    outlets
        .filter(|outlet| !from.outlets.iter().any(|other| same(outlet, other)))
        .map(|outlet| outlet.name.clone())
        .collect()
}

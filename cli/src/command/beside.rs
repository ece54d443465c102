//! What a quote offers beside the job: one more drop of each kind, alternates, options.

use super::compare::named;
use super::priced::PricedJob;
use super::unpriced;
use crate::exit::{Exit, Failure};
use bom::Plan;
use bom::job::{Job, JobOption, Outlet, Stretch};
use bom::source::{Span, Spanned};
use jiff::civil::Date;
use pricing::offer::beside::{self, Choice};
use pricing::quote::{Added, AddedDrop, Options, Quote, QuoteAlternate};
use std::collections::BTreeMap;

/// How many places one more drop is tried at.
const MOST_PLACES: usize = 4;

/// What one more drop of each kind of the job would add.
pub(super) fn added(job: &PricedJob, quote: &Quote, date: Date) -> Result<Option<Added>, Failure> {
    let plan = &job.plan;
    let sized = plan.job.clone().sized_as(&plan.network);
    let mut drops = Vec::new();
    let mut places: Vec<Stretch> = Vec::new();
    for like in one_of_each_kind(&plan.job) {
        let outlet = &plan.job.outlets[like];
        let built = plan.summary.outlets.iter();
        let mut built = built.filter(|built| built.name == outlet.name.value);
        let Some(built) = built.next() else { continue };
        let (count, at) = one_more(job, &sized, like)?;
        let price = match &count {
            Ok(count) => beside::added(quote, &job.inputs_of(count, date)).map_err(unpriced)?,
            Err(reason) => Err(format!("it cannot be built: {reason}")),
        };
        places.extend(at.filter(|at| !places.contains(at)));
        drops.push(AddedDrop {
            kind: built.drop.clone(),
            text: format!("like {}", beside::outlet_words(built, plan.summary.units)),
            price,
        });
    }
    if drops.is_empty() {
        return Ok(None);
    }
    let units = plan.summary.units;
    let places = places.iter().map(|place| {
        let leg = &plan.job.legs[place.leg];
        let (at, length) = (place.at.show(units), place.length.show(units));
        format!(
            "{}, {at} from its start, the middle of {length}",
            leg.label()
        )
    });
    let places: Vec<String> = places.collect();
    let mut basis = vec![
        "The whole job is counted and priced with one more drop of that kind, ordered with the rest, and the two totals are taken from each other, tax and rounding as printed: whole sticks, packs and days on site may tip over.".to_owned(),
        "The main keeps its sizes, and nothing is reckoned to hang on the new drop.".to_owned(),
    ];
    if !places.is_empty() {
        basis.push(format!(
            "It stands on the longest level pipe without a fitting: {}.",
            places.join("; ")
        ));
    }
    Ok(Some(Added { drops, basis }))
}

/// For each kind of drop, in the order of the file, the first outlet at its usual height:
/// the one that most outlets of the kind have, of several the first.
fn one_of_each_kind(job: &Job) -> Vec<usize> {
    let mut kinds: Vec<usize> = Vec::new();
    for kind in job.outlets.iter().filter_map(|outlet| outlet.drop) {
        if !kinds.contains(&kind) {
            kinds.push(kind);
        }
    }
    let usual = kinds.into_iter().filter_map(|kind| {
        let of_kind = |outlet: &&Outlet| outlet.drop == Some(kind);
        let mut heights: BTreeMap<_, usize> = BTreeMap::new();
        for outlet in job.outlets.iter().filter(of_kind) {
            *heights.entry(outlet.height.value).or_default() += 1;
        }
        let most = heights.values().max().copied();
        let mut outlets = job.outlets.iter();
        outlets.position(|outlet| {
            of_kind(&outlet) && heights.get(&outlet.height.value).copied() == most
        })
    });
    usual.collect()
}

/// The job with one more such outlet, at the first of the longest places where one can be
/// built.
fn one_more(
    job: &PricedJob,
    sized: &Job,
    like: usize,
) -> Result<(Result<Plan, String>, Option<Stretch>), Failure> {
    let mut first = None;
    for place in sized.stretches().into_iter().take(MOST_PLACES) {
        match job.otherwise(sized.clone().with_one_more(like, place))? {
            Ok(count) => return Ok((Ok(count), Some(place))),
            Err(reason) => first = first.or(Some(reason)),
        }
    }
    let reason = first.unwrap_or_else(|| "no level pipe is free".to_owned());
    Ok((Err(reason), None))
}

/// What each alternate would add.
pub(super) fn alternates(
    job: &PricedJob,
    quote: &Quote,
    date: Date,
) -> Result<Vec<QuoteAlternate>, Failure> {
    let offered = &job.plan.job.alternates;
    let whole = if offered.is_empty() {
        None
    } else {
        job.whole()
    };
    let Some(whole) = whole else {
        return Ok(Vec::new());
    };
    let mut alternates = Vec::new();
    for alternate in offered {
        let name = alternate.name.value.as_str();
        let count = job.otherwise(whole.clone().with_alternates(&[name]))?;
        let (outlets, price) = match &count {
            Ok(count) => {
                let (base, with) = (&job.plan.summary, &count.summary);
                let words = beside::alternate_words(base, with, &alternate.outlets);
                let inputs = job.inputs_of(count, date);
                (words, beside::added(quote, &inputs).map_err(unpriced)?)
            }
            Err(reason) => (
                alternate.outlets.clone(),
                Err(format!("it cannot be built: {reason}")),
            ),
        };
        alternates.push(QuoteAlternate {
            name: name.to_owned(),
            text: alternate.text.clone(),
            outlets,
            price,
        });
    }
    Ok(alternates)
}

/// The job in each of its ways: those of the command line, else its own.
pub(super) fn options(
    job: &PricedJob,
    asked: &[JobOption],
    quote: &Quote,
    date: Date,
) -> Result<Option<Options>, Failure> {
    let plan = &job.plan;
    let listed = match asked {
        [] => &plan.job.options[..],
        asked => asked,
    };
    if listed.is_empty() {
        return Ok(None);
    }
    let mut counts = Vec::new();
    for option in listed {
        counts.push(match option.is_as_described(plan.job.system) {
            true => None,
            false => Some(job.otherwise(plan.job.clone().with_option(option, &job.library))?),
        });
    }
    let choices = listed.iter().zip(&counts).map(|(option, count)| Choice {
        name: option.name.value.clone(),
        described: count.is_none(),
        inputs: match count {
            None => Ok(job.inputs(date)),
            Some(Ok(count)) => Ok(job.inputs_of(count, date)),
            Some(Err(reason)) => Err(reason.clone()),
        },
    });
    let choices: Vec<Choice<'_>> = choices.collect();
    let options = job.inputs(date).options(quote, &choices);
    options.map(Some).map_err(unpriced)
}

/// The options of the command line.
pub(super) fn asked(
    job: &PricedJob,
    words: &[(String, String)],
) -> Result<Vec<JobOption>, Failure> {
    let unreadable = |message| Failure::Untold(Exit::Unreadable, message);
    let mut options: Vec<JobOption> = Vec::new();
    for (name, system) in words {
        if options.iter().any(|one| one.name.value == *name) {
            return Err(unreadable(format!("two options are called `{name}`")));
        }
        options.push(JobOption {
            name: Spanned::new(name.clone(), Span::default()),
            system: Some(named(system, &job.library).map_err(unreadable)?),
            size: None,
            leave_out: Vec::new(),
        });
    }
    Ok(options)
}

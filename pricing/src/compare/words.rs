use super::{BreakEven, Priced};
use crate::matching::Purchase;
use crate::offer::terms;
use crate::rates::{Rates, Rounding};
use bom::summary::Summary;

/// What every column has; `mixed` where legs name a pipe system of their own.
pub(super) fn scope(summary: &Summary, mixed: bool) -> String {
    let outlets = match summary.outlets.len() {
        1 => "1 outlet".to_owned(),
        count => format!("{count} outlets"),
    };
    format!(
        "Every option is the same layout with the same devices, tests and terms: {outlets}, {} of main.{}",
        summary.main_length.show_total(summary.units),
        if mixed {
            " Legs that name their own pipe system keep it."
        } else {
            ""
        }
    )
}

/// How the figures are meant. What each count takes as given is a matter of its
/// own quote.
pub(super) fn assumptions(rates: &Rates, break_even: &[BreakEven], to_tools: bool) -> Vec<String> {
    let (sizes, loss) = if to_tools {
        (
            "Sizes that the job states carry the same air: at most 10 % more pressure lost; those that it leaves open give every tool its pressure.",
            "loss the most that main and drop, with old pipe, take on the way to any tool while it runs",
        )
    } else {
        (
            "Sizes carry the same air: at most 10 % more pressure lost.",
            "loss that of straight pipe to the worst outlet, all the air going the shortest way",
        )
    };
    let mut said = vec![format!(
        "{sizes} Growth is that of the longest straight, {loss}. What a count takes as given stands on its own quote."
    )];
    if let Some(crew) = rates.crew {
        let people = match crew.people {
            1 => "1 person".to_owned(),
            people => format!("{people} people"),
        };
        said.push(format!(
            "Days on site: the hours shared by {people}, {} hours a day, up to the next half.",
            crew.day_hours
        ));
    }
    if !rates.hire.is_empty() {
        said.push("A tool is hired once where the pipe itself is joined with it.".to_owned());
    }
    if !break_even.is_empty() {
        said.push(
            match rates.rounding {
                Rounding::Lines => "A break-even wage is the `wage` of the rates file, all else unchanged, to within cents.",
                Rounding::Total(_) => "A break-even wage is the `wage` of the rates file, all else unchanged, before the price is rounded.",
            }
            .to_owned(),
        );
    }
    said
}

/// Those of every quote; those of its pipe stand with each option.
pub(super) fn cautions(rates: &Rates) -> Vec<String> {
    terms::cautions(rates, &[])
}

/// Those of the rates, and whether prices are invented.
pub(super) fn notices(priced: &[Priced], rates: &Rates) -> Vec<String> {
    let built = priced.iter().filter_map(|one| one.built.as_ref());
    let purchases: Vec<Purchase> = built
        .flat_map(|(estimate, _)| estimate.purchases.iter().cloned())
        .collect();
    terms::notices(rates, &purchases, terms::Reader::Customer)
}

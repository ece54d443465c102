use super::Inputs;
use crate::estimate::Estimate;
use crate::matching::{Purchase, sources};
use crate::rates::Rates;

/// What no quote for compressed air goes out without.
const CAUTIONS: [&str; 5] = [
    "A pressure test with air stores energy that can kill. Trained people make it, with a relief valve set for the test and everyone clear of the pipework.",
    "Local codes and the inspector prevail over this layout.",
    "Where the law asks for a licence or a qualification to work on pressure equipment, only people who hold it do that work.",
    "The receiver and its relief valve, their rating and their inspection, are the owner's duty.",
    "Never put plastic pipe that is not made for compressed air on this system: it bursts into sharp pieces.",
];

/// Those, then those of the pipe, then the contractor's own.
pub(crate) fn cautions(rates: &Rates, of_pipe: &[String]) -> Vec<String> {
    let always = CAUTIONS.iter().map(|caution| (*caution).to_owned());
    always
        .chain(of_pipe.iter().cloned())
        .chain(rates.cautions.iter().cloned())
        .collect()
}

/// Who reads a paper. Where the contractor buys is no matter of the customer's.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Reader {
    Contractor,
    Customer,
}

/// What was taken as given: about the layout, the air, the prices.
pub(super) fn assumptions(inputs: &Inputs<'_>, estimate: &Estimate, reader: Reader) -> Vec<String> {
    let mut assumptions = inputs.takeoff.assumptions.clone();
    if !inputs.summary.supply.is_empty() {
        let supply = inputs.summary.supply.join("; ");
        assumptions.push(format!("The air supply is as stated to us: {supply}."));
    }
    let purchases = &estimate.purchases;
    if !purchases.is_empty() {
        let dated = sources::dated(purchases).map_or_else(String::new, |dated| format!(" {dated}"));
        let names: Vec<&str> = sources::suppliers(purchases).into_iter().collect();
        let from = match reader {
            Reader::Contractor if !names.is_empty() => format!(" from {}", names.join(" and ")),
            Reader::Contractor | Reader::Customer => String::new(),
        };
        assumptions.push(format!("Material prices{dated}{from}."));
    }
    let undated = sources::undated(purchases);
    if undated > 0 {
        assumptions.push(format!("Material prices without a date: {undated}."));
    }
    assumptions
}

/// The contractor's notes, invented figures, and work that has no hours.
pub(crate) fn notices(rates: &Rates, purchases: &[Purchase], reader: Reader) -> Vec<String> {
    let mut notices = Vec::new();
    if rates.sample {
        notices.push(
            "The labour rates and percentages are an invented sample, not anyone's prices."
                .to_owned(),
        );
    }
    notices.extend(match reader {
        Reader::Contractor => sources::invented(purchases),
        Reader::Customer => sources::invented_somewhere(purchases),
    });
    notices.extend(rates.notices.iter().cloned());
    notices
}

/// Work for which the rates have no hours, and the entry to add.
pub(super) fn unrated(estimate: &Estimate) -> Vec<String> {
    estimate
        .unrated
        .iter()
        .map(|line| format!("{} ({}): {}", line.text, line.amount(), line.basis))
        .collect()
}

use super::{BreakEven, Priced};
use crate::quote::Quote;
use crate::rates::Rates;
use bom::summary::Summary;

/// What every column has.
pub(super) fn scope(summary: &Summary) -> String {
    let outlets = match summary.outlets.len() {
        1 => "1 outlet".to_owned(),
        count => format!("{count} outlets"),
    };
    format!(
        "Every option is the same layout with the same devices, tests and terms: {outlets}, {} of main.",
        summary.main_length.show_total(summary.units)
    )
}

pub(super) fn assumptions(
    priced: &[Priced],
    rates: &Rates,
    break_even: &[BreakEven],
) -> Vec<String> {
    let mut said = shared(priced, |quote| &quote.assumptions);
    let tax = &rates.tax.label;
    said.push(format!(
        "Prices are what the customer pays; only the total includes the tax ({tax})."
    ));
    if let Some(crew) = rates.crew {
        let people = match crew.people {
            1 => "1 person".to_owned(),
            people => format!("{people} people"),
        };
        said.push(format!(
            "Days on site: the hours shared by {people}, {} hours a day, up to the next tenth.",
            crew.day_hours
        ));
    }
    if !rates.hire.is_empty() {
        said.push(
            "A tool is hired once for an option whose own pipe is joined with it; threads of devices need none."
                .to_owned(),
        );
    }
    if !break_even.is_empty() {
        said.push(
            "A break-even wage is the `wage` of the rates file (what an hour of work costs), all else in it unchanged. It comes from unrounded sums: within cents of it, printed totals may differ either way."
                .to_owned(),
        );
    }
    said
}

pub(super) fn cautions(priced: &[Priced]) -> Vec<String> {
    let mut said = shared(priced, |quote| &quote.cautions);
    for one in priced {
        let facts = one.option.figures.iter().map(|figures| &figures.facts);
        let own = facts.flat_map(|facts| &facts.cautions);
        said.extend(own.map(|caution| format!("{}: {caution}", one.option.title)));
    }
    said
}

pub(super) fn notices(priced: &[Priced]) -> Vec<String> {
    shared(priced, |quote| &quote.notices)
}

/// What holds for all options, then what holds for some, with their names.
fn shared(priced: &[Priced], part: fn(&Quote) -> &Vec<String>) -> Vec<String> {
    let built: Vec<(&str, &Vec<String>)> = priced
        .iter()
        .filter_map(|one| Some((one.option.title.as_str(), part(&one.built.as_ref()?.1))))
        .collect();
    let mut texts: Vec<&String> = Vec::new();
    for text in built.iter().flat_map(|(_, texts)| *texts) {
        if !texts.contains(&text) {
            texts.push(text);
        }
    }
    let (mut all, mut some) = (Vec::new(), Vec::new());
    for text in texts {
        let holders = built.iter().filter(|(_, texts)| texts.contains(text));
        let holders: Vec<&str> = holders.map(|(title, _)| *title).collect();
        if holders.len() == built.len() {
            all.push(text.clone());
        } else {
            some.push(format!("{}: {text}", holders.join(" and ")));
        }
    }
    all.extend(some);
    all
}

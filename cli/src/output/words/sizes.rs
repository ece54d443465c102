//! Sizes of pipe in words.

use bom::Plan;
use bom::air::answer::Air;
use bom::air::sizes::{Because, Forced, MainIn};
use bom::quantity::{Pressure, Size, Speed};
use pricing::compare::Mass;
use pricing::money::Currency;
use std::cmp::Ordering;

/// Why something has its size.
pub(crate) fn forced(what: &str, forced: &Forced, limit: Speed, air: &Air, plan: &Plan) -> String {
    let units = plan.summary.units;
    let size = forced.size;
    let is = format!("{what} is {size}");
    let smaller = forced
        .smaller
        .map_or_else(String::new, |smaller| smaller.to_string());
    match &forced.because {
        Because::Smallest => format!("{is}: no smaller size is chosen, or can be had."),
        Because::TooFast(speed) => {
            let [speed, limit] = speed.beside(limit, units);
            format!(
                "{is}: in {smaller} the air would run at {speed}, and the limit there is {limit}."
            )
        }
        Because::Follows => format!("{is}: in {smaller} it would be smaller than what follows it."),
        Because::Unjoined => format!("{is}: no fittings join {smaller} to what meets it."),
        Because::Untried => {
            format!("{is}: {smaller} may do, but there was more to try than could be.")
        }
        Because::NotCheaper => format!("{is}: {smaller} would do as well, and is no cheaper."),
        Because::Lacks { tool, case, by } => {
            let tool = &air.demand.tools[*tool];
            let outlet = &plan.job.outlets[tool.outlet].name.value;
            let case = air.aged.cases.get(*case);
            format!(
                "{is}: in {smaller} the {} at {outlet} would lack {} at the foot of its drop, while {}.",
                tool.name,
                Pressure::from_kpa(by / 1e3).show_fine(units, 2),
                case.map_or("it runs", |case| &case.name)
            )
        }
    }
}

/// Rows of the main in several sizes: its sizes, what it takes, its fastest air,
/// tools that get too little, metal, price.
pub(crate) fn mains(mains: &[MainIn], currency: Option<Currency>, plan: &Plan) -> Vec<Vec<String>> {
    let units = plan.summary.units;
    let row = |main: &MainIn| {
        let sizes: Vec<String> = main.sizes.iter().map(Size::to_string).collect();
        let mark = match main.than_planned {
            Ordering::Equal => ", as planned",
            Ordering::Less | Ordering::Greater => "",
        };
        let mut row = vec![
            format!("{}{mark}", sizes.join(", ")),
            main.takes
                .map_or("no air gets through".to_owned(), |takes| {
                    takes.show_fine(units, 2)
                }),
            main.fastest
                .map_or_else(String::new, |speed| speed.show(units)),
            match main.short.len() {
                0 => "none".to_owned(),
                short => short.to_string(),
            },
            Mass::of_kg(main.kilograms).show(units),
        ];
        if let Some(currency) = currency {
            row.push(match main.cost {
                Some(cost) => format!("{} {cost:.0}", currency.code()),
                None => "no price".to_owned(),
            });
        }
        row
    };
    mains.iter().map(row).collect()
}

//! The paper on air in words: flows and pressures as plain figures, whose unit
//! stands in the head of their column.

use crate::output::AirPaper;
use bom::air::answer::{Air, part_of};
use bom::air::ladder::Fast;
use bom::air::supply::Burst;
use bom::quantity::{AirFlow, Pressure, Units};

/// `psi` or `bar`.
pub(in crate::output) const fn pressure_unit(units: Units) -> &'static str {
    match units {
        Units::Feet => "psi",
        Units::Metric => "bar",
    }
}

/// `cfm` or `l/s`.
pub(in crate::output) const fn flow_unit(units: Units) -> &'static str {
    match units {
        Units::Feet => "cfm",
        Units::Metric => "l/s",
    }
}

/// A pressure without its unit.
pub(in crate::output) fn pressure(pressure: Pressure, units: Units, decimals: usize) -> String {
    let text = pressure.show_fine(units, decimals);
    let figure = text.split(' ').next().unwrap_or_default();
    figure.to_owned()
}

/// A flow without its unit.
pub(in crate::output) fn flow(flow: AirFlow, units: Units) -> String {
    match units {
        Units::Feet => format!("{:.1}", flow.cfm()),
        Units::Metric => format!("{:.2}", flow.litres_per_second()),
    }
}

/// What is not known.
fn or_dash(text: Option<String>) -> String {
    text.unwrap_or_else(|| "-".to_owned())
}

/// `orbital sander at bench`.
pub(in crate::output) fn tool(paper: &AirPaper<'_>, number: usize) -> String {
    let tool = &paper.air.demand.tools[number];
    format!("{} at {}", tool.name, outlet(paper, tool.outlet))
}

/// `the orbital sander at bench`.
pub(in crate::output) fn the_tool(paper: &AirPaper<'_>, number: usize) -> String {
    let tool = &paper.air.demand.tools[number];
    format!("{} at {}", tool.with_article(), outlet(paper, tool.outlet))
}

/// An outlet's name.
pub(in crate::output) fn outlet<'a>(paper: &AirPaper<'a>, outlet: usize) -> &'a str {
    &paper.plan.job.outlets[outlet].name.value
}

/// The name of a case.
pub(in crate::output) fn case(air: &Air, case: usize) -> String {
    let case = air.aged.cases.get(case);
    case.map_or_else(String::new, |case| case.name.clone())
}

/// What each outlet wants, and all together.
pub(in crate::output) fn demand(paper: &AirPaper<'_>, units: Units) -> Vec<Vec<String>> {
    let demand = &paper.air.demand;
    let outlets = demand.outlets.iter().enumerate();
    let outlets = outlets.map(|(number, load)| (outlet(paper, number), load));
    outlets
        .chain(std::iter::once(("all together", &demand.total)))
        .map(|(name, load)| {
            let flows = [load.connected, load.peak, load.average];
            let flows = flows.map(|one| flow(one, units));
            std::iter::once(name.to_owned()).chain(flows).collect()
        })
        .collect()
}

/// How long the tank lasts.
pub(in crate::output) fn burst(burst: &Burst, units: Units) -> Vec<String> {
    let falls = burst.then_falls.map(|falls| match falls.kpa() > 0.0 {
        true => format!("{} a minute", falls.show_fine(units, 1)),
        false => "keeps up".to_owned(),
    });
    vec![
        burst.what.clone(),
        flow(burst.flow, units),
        burst
            .until_cut_in
            .map_or_else(|| "-".to_owned(), |minutes| format!("{minutes:.1}")),
        or_dash(falls),
    ]
}

/// The first row of each key, with how many more have that key.
pub(in crate::output) fn folded<K: PartialEq>(
    rows: impl IntoIterator<Item = (K, Vec<String>)>,
) -> Vec<(Vec<String>, usize)> {
    let mut kept: Vec<(K, Vec<String>, usize)> = Vec::new();
    for (key, row) in rows {
        match kept.iter_mut().find(|(known, ..)| *known == key) {
            Some((.., others)) => *others += 1,
            None => kept.push((key, row, 0)),
        }
    }
    kept.into_iter()
        .map(|(_, row, others)| (row, others))
        .collect()
}

/// How the figures of tools are meant.
pub(in crate::output) const NEW_AND_WORN: &str = "New as it is put in, worn after years. Spare is what could still be lost on the way until the tool has its least.";

/// Every tool with what it wants and gets, those that are alike in one row.
pub(in crate::output) fn tool_rows(paper: &AirPaper<'_>, units: Units) -> Vec<Vec<String>> {
    let rows = (0..paper.air.tools.len()).map(|number| {
        let row = tool_row(paper, number, units);
        (row.clone(), row)
    });
    let rows = folded(rows).into_iter().map(|(mut row, others)| {
        if others > 0 {
            row[1] = format!("{} x {}", others + 1, row[1]);
        }
        row
    });
    rows.collect()
}

/// A tool with what it wants and gets.
pub(in crate::output) fn tool_row(
    paper: &AirPaper<'_>,
    number: usize,
    units: Units,
) -> Vec<String> {
    let (tool, judged) = (&paper.air.demand.tools[number], &paper.air.tools[number]);
    let figure = |one: Option<Pressure>| or_dash(one.map(|one| pressure(one, units, 1)));
    let way = &paper.air.aged.tools[number];
    let most = judged.takes_most.and_then(|most| way.steps.get(most));
    let most = most.map(|step| format!("{}: {}", step.item, pressure(step.loss, units, 1)));
    let most = most.or_else(|| {
        let blocked = way.blocked.as_ref()?;
        let place = || paper.plan.network.place(blocked.at);
        Some(format!(
            "{}: all of it",
            blocked.item.clone().unwrap_or_else(place)
        ))
    });
    let state = match (judged.new.state, judged.aged.state) {
        (new, aged) if new == aged => new.word().to_owned(),
        (new, aged) => format!("{}, worn {}", new.word(), aged.word()),
    };
    vec![
        outlet(paper, tool.outlet).to_owned(),
        tool.name.clone(),
        figure(tool.least.map(|least| least.value)),
        figure(tool.best.map(|best| best.value)),
        figure(judged.new.gets),
        figure(judged.aged.gets),
        state,
        figure(judged.to_spare),
        or_dash(most),
    ]
}

/// Room for one more at each outlet.
pub(in crate::output) fn rooms(paper: &AirPaper<'_>, units: Units) -> Vec<Vec<String>> {
    let figure = |one: Option<AirFlow>| or_dash(one.map(|one| flow(one, units)));
    let rooms = paper.rooms.iter().map(|room| {
        let until = room.until_least;
        vec![
            outlet(paper, room.outlet).to_owned(),
            figure(until.map(|until| until.more)),
            or_dash(until.map(|until| tool(paper, until.tool))),
            figure(room.until_fast_main),
            figure(room.until_fast_drop),
        ]
    });
    rooms.collect()
}

/// The fastest air of each leg and each drop, by how near it is to its limit.
pub(in crate::output) fn fastest(paper: &AirPaper<'_>, units: Units) -> Vec<Vec<String>> {
    const MOST: usize = 10;
    let network = &paper.plan.network;
    let limit = |fast: &Fast| paper.air.limits.at(network, fast.link);
    let near = |fast: &Fast| fast.speed.metres_per_second() / limit(fast).metres_per_second();
    let mut pipes: Vec<&Fast> = paper.air.aged.fastest.iter().collect();
    pipes.sort_by(|a, b| near(b).total_cmp(&near(a)));
    let mut shown: Vec<(String, bom::quantity::Size)> = Vec::new();
    let mut rows = Vec::new();
    for fast in pipes {
        let size = network.link(fast.link).size;
        let key = (part_of(network, fast.link), size);
        if shown.contains(&key) || rows.len() == MOST {
            continue;
        }
        let [speed, limit] = fast.speed.beside(limit(fast), units);
        rows.push(vec![
            key.0.clone(),
            size.to_string(),
            speed,
            limit,
            case(paper.air, fast.case),
        ]);
        shown.push(key);
    }
    rows
}

/// What a year takes, a row for each: what, kWh, and what it costs.
pub(in crate::output) fn yearly(paper: &AirPaper<'_>, units: Units) -> Vec<Vec<String>> {
    let Some(yearly) = paper.yearly else {
        return Vec::new();
    };
    let row = |what: String, energy: f64| {
        let cost = yearly.cost(energy).map(|cost| format!("{cost:.0}"));
        let mut row = vec![what, format!("{energy:.0}")];
        row.extend(cost);
        row
    };
    let mut rows = vec![row(
        format!(
            "the air that the shop wants, {} on average over {:.0} hours",
            paper.air.demand.total.average.show(units),
            yearly.worked
        ),
        yearly.average,
    )];
    if let Some(pipe) = &yearly.pipe {
        rows.push(row(
            format!(
                "the {} that main and drop take on the way to {}",
                pipe.lost.show_fine(units, 1),
                the_tool(paper, pipe.tool)
            ),
            pipe.energy,
        ));
        rows.push(row(
            format!(
                "what a main of the next larger size would save of that, {}",
                pipe.saved.show_fine(units, 1)
            ),
            pipe.energy_saved,
        ));
    }
    if let Some(leak) = &yearly.leak {
        let hole = match units {
            Units::Feet => leak.hole.show(units),
            Units::Metric => format!("{} mm", leak.hole.to_mm_text()),
        };
        let flow = leak.flow.show(units);
        rows.push(row(
            format!("a leak of {hole}, {flow}, day and night all the year"),
            leak.all_year,
        ));
        rows.push(row(
            "the same, with the tank's valve shut whenever nobody works".to_owned(),
            leak.worked,
        ));
    }
    rows
}

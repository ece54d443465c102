//! Which outlets to read under flow, and what to expect there.

use super::sheet::Blank;
use super::worked::flow;
use super::{Context, Part};
use crate::Plan;
use crate::air::answer::{Air, State};
use crate::air::ladder::Part as Way;
use crate::network::LinkId;
use crate::quantity::{Length, Pressure};
use std::cmp::Ordering;
use std::collections::{BTreeMap, BTreeSet};

pub(super) fn parts(context: &Context<'_>) -> Vec<Part> {
    let read = chosen(context.plan, &context.air);
    if read.is_empty() {
        return vec![Part::note(
            "Nothing can be read under flow: the job has no outlet.",
        )];
    }
    let tools = read.iter().any(|one| one.tool.is_some());
    let rows = read.iter().map(|one| row(context, one)).collect();
    let columns = [
        ("Outlet", false),
        ("Why this one", false),
        ("Tool", false),
        ("In the drop", true),
        ("Read", true),
        ("At the tool", true),
        ("Read", true),
    ];
    let mut parts = vec![
        Part::note(
            "Read while the tool runs, with everything running that usually runs together. In the drop: a gauge before filter and regulator, or in the place of the drip leg's drain. At the tool: on a tee between hose and tool.",
        ),
        Part::table(&columns, rows),
    ];
    parts.push(Part::Note(if tools {
        format!(
            "Expected with the pipework new and the tank at {}, where the compressor starts; `dripleg air` shows every step. With the tank higher, so much more is read, behind a regulator nothing more. Two marks of the gauge less is too little. In the drop: look for a valve that is half shut, or a clogged filter before it. At the tool alone: for its filter, regulator, coupler and hose.",
            context.shown(context.air.cut_in)
        )
    } else {
        "What to expect is not worked out: the job names no tools. State `tools` under the outlets, and it stands here.".to_owned()
    }));
    let read = &context.worked.flow;
    if read.is_empty() {
        parts.push(Part::blanks([&["Tank at", "What ran"]]));
    } else {
        parts.extend(context.other_layout());
        parts.extend(flow::parts(context));
        let mut ran: Vec<&str> = read.iter().map(|one| one.read.ran.as_str()).collect();
        ran.retain(|words| !words.is_empty());
        ran.dedup();
        let ran = Blank::filled("What ran", &ran.join("; "));
        parts.push(Part::Blanks(vec![vec![ran]]));
    }
    parts.push(Part::Blanks(vec![
        context.signed("Read by", |people| &people.tested_by),
    ]));
    parts
}

/// The outlets to read, each with its tool that is worst off.
pub(super) fn to_read(plan: &Plan, air: &Air) -> Vec<(usize, Option<usize>)> {
    let read = chosen(plan, air).into_iter();
    read.map(|one| (one.outlet, one.tool)).collect()
}

/// What was read at a tool, else a line to write on.
fn read_at(context: &Context<'_>, tool: usize) -> String {
    let wants = &context.air.demand.tools[tool];
    let mut read = context.worked.flow.iter();
    let read =
        read.find(|one| one.read.outlet == wants.outlet && one.tool.as_ref() == Some(&wants.name));
    let Some(one) = read else {
        return blank();
    };
    let expected = context.air.cut_in.kpa();
    if (one.read.tank.kpa() - expected).abs() < 1e-6 * expected {
        return context.shown(one.read.read);
    }
    "see below".to_owned()
}

fn blank() -> String {
    String::from("____________")
}

/// An outlet to read.
struct Reading {
    outlet: usize,
    /// The tool that is worst off there; none if it names none.
    tool: Option<usize>,
    why: &'static str,
}

fn row(context: &Context<'_>, one: &Reading) -> Vec<String> {
    let name = &context.plan.network.drops[one.outlet].name;
    let shown = |pressure: Option<Pressure>| match (one.tool, pressure) {
        (None, _) => "not known".to_owned(),
        (_, None) => "no air".to_owned(),
        (_, Some(pressure)) => context.fine(pressure),
    };
    let (in_drop, at_tool) = one.tool.map_or((None, None), |tool| {
        let ladder = &context.air.new.tools[tool];
        let piping = ladder.steps.iter().take_while(|step| step.part < Way::Side);
        let in_drop = piping.last().map(|step| step.left);
        (in_drop.filter(|_| ladder.gets.is_some()), ladder.gets)
    });
    let tool = one.tool.map_or("what usually hangs there", |tool| {
        &context.air.demand.tools[tool].name
    });
    vec![
        format!("{} {name}", context.tags.outlet(name)),
        one.why.to_owned(),
        tool.to_owned(),
        shown(in_drop),
        blank(),
        shown(at_tool),
        one.tool.map_or_else(blank, |tool| read_at(context, tool)),
    ]
}

/// Two outlets, or the only one: that which is worst off, and that on whose way from the
/// tank most pipe lies which the first does not see. Two beside each other would say the
/// same thing twice.
fn chosen(plan: &Plan, air: &Air) -> Vec<Reading> {
    let ways = ways(plan);
    let worst = |outlet: &usize| air.worst_at(*outlet);
    let all = || 0..plan.network.drops.len();
    let with_tools = all().filter(|outlet| worst(outlet).is_some());
    let first = with_tools.min_by(|a, b| by_worst(air, worst(a), worst(b)));
    let (first, why) = match first {
        Some(first) => (first, "worst off"),
        None => {
            let farthest =
                |outlet: &usize| (length(plan, &ways[*outlet]), std::cmp::Reverse(*outlet));
            let Some(first) = all().max_by_key(farthest) else {
                return Vec::new();
            };
            (first, "farthest from the tank")
        }
    };
    let own = |outlet: usize| -> Length {
        let own = ways[outlet].difference(&ways[first]).copied().collect();
        length(plan, &own)
    };
    // Of those that see as much, one with a tool, then the worse.
    let better = |a: &usize, b: &usize| {
        let tools = worst(a).is_some().cmp(&worst(b).is_some());
        let far = own(*a).cmp(&own(*b));
        let order = tools.then(far);
        order.then(by_worst(air, worst(b), worst(a))).then(b.cmp(a))
    };
    let second = all().filter(|outlet| *outlet != first).max_by(better);
    let second = second.map(|outlet| Reading {
        outlet,
        tool: worst(&outlet),
        why: "most pipe of its own",
    });
    let first = Reading {
        outlet: first,
        tool: worst(&first),
        why,
    };
    std::iter::once(first).chain(second).collect()
}

/// What a regulator takes off is no loss: the least to spare is the worst, and no air at
/// all is worse than any.
fn by_worst(air: &Air, a: Option<usize>, b: Option<usize>) -> Ordering {
    let key = |tool: Option<usize>| {
        tool.map_or(f64::INFINITY, |tool| {
            let judged = &air.tools[tool];
            match (judged.new.state, judged.to_spare) {
                (State::Blocked, _) => f64::NEG_INFINITY,
                (_, Some(spare)) => spare.kpa(),
                (_, None) => f64::INFINITY,
            }
        })
    };
    key(a).total_cmp(&key(b)).then(a.cmp(&b))
}

/// The pipe on the shortest way from a tank to each outlet.
fn ways(plan: &Plan) -> Vec<BTreeSet<LinkId>> {
    let network = &plan.network;
    let by: BTreeMap<_, _> = network.shortest_ways().into_iter().collect();
    let way = |outlet: &crate::network::Drop| {
        let mut way = BTreeSet::new();
        let mut here = outlet.foot_at;
        while let Some(link) = by.get(&here).filter(|link| !way.contains(*link)) {
            way.insert(*link);
            let [from, to] = network.ends_of(*link);
            here = if from == here { to } else { from };
        }
        way
    };
    network.drops.iter().map(way).collect()
}

fn length(plan: &Plan, way: &BTreeSet<LinkId>) -> Length {
    let pipe = way.iter().filter_map(|link| plan.network.link(*link).pipe);
    pipe.sum()
}

#[cfg(test)]
mod tests;

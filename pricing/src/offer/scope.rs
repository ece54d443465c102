use bom::quantity::Size;
use bom::summary::{MainPipe, Summary};
use bom::takeoff::Takeoff;
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// The work in plain words: the main, its water, the tank, the drops, the test.
pub(super) fn paragraphs(summary: &Summary) -> Vec<String> {
    let mut scope = vec![main_line(summary), water(summary)];
    scope.extend(summary.connections.iter().map(|connection| {
        let of = match &summary.connections[..] {
            [_] => String::new(),
            _ => format!(" of {}", connection.supply),
        };
        if connection.items.is_empty() {
            return format!("The pipe is screwed straight into the port of the tank{of}.");
        }
        let items = connection.items.join("; ");
        format!("Connection to the tank{of}, in this order: {items}.")
    }));
    if !summary.outlets.is_empty() {
        scope.push(drops(summary));
    }
    scope.push(
        "Pressure test of the finished pipework with air, with all outlets plugged for the test."
            .to_owned(),
    );
    scope
}

/// The same of a count, with what of it is no work.
pub(super) fn of(summary: &Summary, takeoff: &Takeoff) -> Vec<String> {
    let mut scope = paragraphs(summary);
    if !takeoff.standing.lines.is_empty() || !takeoff.standing.pipe.is_empty() {
        scope.push(
            "What of this stands already is no part of the work: the assumptions name it."
                .to_owned(),
        );
    }
    if !takeoff.taken_out.lines.is_empty() || !takeoff.taken_out.pipe.is_empty() {
        scope.push("Old pipework is taken out and got rid of: the assumptions name it.".to_owned());
    }
    scope
}

fn main_line(summary: &Summary) -> String {
    let shape = match summary.rings {
        0 => "Main line for compressed air".to_owned(),
        1 => "One ring main for compressed air".to_owned(),
        rings => format!("Main for compressed air with {rings} rings"),
    };
    let whole = summary.main_length.show_total(summary.units);
    let height = summary.main_height.show(summary.units);
    if let [pipe] = &summary.main_pipe[..] {
        return format!(
            "{shape}: {}; size {}; {whole} in all, starting {height} above the floor.",
            pipe.system_title,
            sizes(pipe),
        );
    }
    let pipe = summary.main_pipe.iter().map(|pipe| {
        format!(
            "{} of {}, size {}",
            pipe.length.show_total(summary.units),
            pipe.system_title,
            sizes(pipe)
        )
    });
    format!(
        "{shape}, {whole} in all, starting {height} above the floor: {}.",
        pipe.collect::<Vec<_>>().join("; ")
    )
}

/// The pipe of the main, without its length.
pub(super) fn pipe(summary: &Summary) -> String {
    let pipe = summary.main_pipe.iter();
    let pipe = pipe.map(|pipe| format!("{}, size {}", pipe.system_title, sizes(pipe)));
    pipe.collect::<Vec<_>>().join("; ")
}

fn sizes(pipe: &MainPipe) -> String {
    let sizes: Vec<String> = pipe.sizes.iter().map(Size::to_string).collect();
    sizes.join(" and ")
}

fn water(summary: &Summary) -> String {
    let fall = if summary.fall == "level" {
        "The main is level.".to_owned()
    } else {
        format!("The main falls {}.", summary.fall)
    };
    let drains: Vec<String> = summary
        .drains
        .iter()
        .map(|drain| format!("{} ({} valve)", drain.name, drain.valve))
        .collect();
    let drained = match drains.as_slice() {
        [] => fall,
        drains => format!("{fall} It is drained at {}.", drains.join(", ")),
    };
    drained + &valves(summary)
}

fn valves(summary: &Summary) -> String {
    let valves = summary.valves.iter();
    let valves: Vec<String> = valves
        .map(|valve| format!("{} ({})", valve.name, valve.size))
        .collect();
    match valves.len() {
        0 => String::new(),
        1 => format!(" 1 line valve shuts off part of it: {}.", valves[0]),
        count => format!(
            " {count} line valves shut off parts of it: {}.",
            valves.join(", ")
        ),
    }
}

fn drops(summary: &Summary) -> String {
    let outlets = &summary.outlets;
    let count = outlets.len();
    let kinds = tally(outlets.iter().map(|outlet| outlet.drop.as_str()));
    let mut text = match count {
        1 => format!("1 drop: {kinds}."),
        _ => format!("{count} drops: {kinds}."),
    };
    if outlets.iter().all(|outlet| outlet.take_off == "top") {
        text += " Each leaves the main from the top, so that water stays in the main.";
    } else {
        let sides = tally(outlets.iter().map(|outlet| outlet.take_off.as_str()));
        text += &format!(" They leave the main from these sides: {sides}.");
    }
    let drained = outlets
        .iter()
        .filter(|outlet| outlet.drain != "none")
        .count();
    text += &match drained {
        0 => String::new(),
        all if all == count => " Each ends in a drip leg with a drain.".to_owned(),
        1 => " 1 of them ends in a drip leg with a drain.".to_owned(),
        some => format!(" {some} of them end in a drip leg with a drain."),
    };
    text
}

/// `4 two-sided, 1 paint, 1 reel`: the most frequent first, then by name.
fn tally<'a>(words: impl Iterator<Item = &'a str>) -> String {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for word in words {
        *counts.entry(word).or_default() += 1;
    }
    let mut counts: Vec<(&str, usize)> = counts.into_iter().collect();
    counts.sort_by_key(|(_, count)| Reverse(*count));
    let counts = counts.iter().map(|(word, count)| format!("{count} {word}"));
    counts.collect::<Vec<_>>().join(", ")
}

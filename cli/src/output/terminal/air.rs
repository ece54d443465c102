//! The paper on air in the terminal.

use super::Column::{Figures, Points, Words};
use super::{clean, list, paragraph, table};
use crate::output::AirPaper;
use crate::output::words::air as words;
use crate::output::words::sizes;
use bom::air::ladder::Step;
use bom::air::supply::MOST_STARTS;
use bom::quantity::{Pressure, Units};
use std::io::{self, Write};

/// Whether every tool gets its air and its pressure, and where it goes.
///
/// # Errors
/// What the writer says.
pub fn air(paper: &AirPaper<'_>, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let (air, units) = (paper.air, paper.plan.summary.units);
    let title = format!("Air and pressure: {}", paper.plan.summary.title);
    paragraph(out, width, &title)?;
    list(out, width, "In short", &air.sentences)?;
    let unit = words::flow_unit(units);
    if !air.demand.tools.is_empty() {
        writeln!(out, "\nWhat the tools take, {unit} of free air")?;
        let heads = ["outlet", "all at once", "likely peak", "average"];
        let rows = words::demand(paper, units);
        table(out, width, &[Words, Points, Points, Points], &heads, rows)?;
    }
    supply(paper, units, width, out)?;
    if !air.tools.is_empty() {
        tools(paper, units, width, out)?;
    }
    if let Some(shown) = paper.shown {
        way(paper, shown, units, width, out)?;
    }
    let fastest = words::fastest(paper, units);
    if !fastest.is_empty() {
        writeln!(
            out,
            "\nWhere the air runs fastest, nearest to its limit first"
        )?;
        let heads = ["pipe", "size", "speed", "limit", "while"];
        table(
            out,
            width,
            &[Words, Words, Figures, Figures, Words],
            &heads,
            fastest,
        )?;
    }
    rooms(paper, units, width, out)?;
    mains(paper, width, out)?;
    if let Some(why) = &paper.why_size {
        list(out, width, "Why this size", std::slice::from_ref(why))?;
    }
    yearly(paper, units, width, out)?;
    let ours = air.assumptions.iter();
    let of_year = paper.yearly.iter().flat_map(|yearly| &yearly.assumptions);
    let taken: Vec<String> = ours.chain(of_year).cloned().collect();
    list(out, width, "Taken for granted", &taken)
}

/// The compressor and its tank.
fn supply(paper: &AirPaper<'_>, units: Units, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let supply = &paper.air.supply;
    let mut said = Vec::new();
    if let Some(tank) = &supply.tank {
        said.push(format!(
            "The tank of {} gives {} of free air from {} down to {}.",
            tank.volume.show(units),
            tank.usable.show_air(units),
            tank.cut_out.show(units),
            tank.cut_in.show(units)
        ));
        // More often than that is remarked on below.
        let starts = tank.starts.filter(|starts| *starts <= MOST_STARTS);
        said.extend(
            starts.map(|starts| format!("On average the motor starts {starts:.1} times an hour.")),
        );
        let wanted = !paper.air.demand.tools.is_empty();
        said.extend(tank.for_peak.filter(|_| wanted).map(|peak| {
            let standing = peak.standing.show(units);
            match peak.running.litres() > 0.0 {
                true => format!(
                    "To carry the likely peak for a minute takes a tank of {} if the compressor runs from its first moment on, of {standing} if it still stands.",
                    peak.running.show(units)
                ),
                false => format!(
                    "The compressor carries the likely peak while it runs; to carry it for a minute while it still stands takes a tank of {standing}."
                ),
            }
        }));
    }
    said.extend(supply.remarks.iter().chain(&supply.missing).cloned());
    if said.is_empty() {
        return Ok(());
    }
    list(out, width, "Compressor and tank", &said)?;
    let Some(tank) = &supply.tank else {
        return Ok(());
    };
    if paper.air.demand.tools.is_empty() {
        return Ok(());
    }
    writeln!(out)?;
    let unit = words::flow_unit(units);
    let heads = [
        "from a full tank, while this runs",
        unit,
        "minutes to cut-in",
        "then it falls",
    ];
    // The first is the average, then come the tools in their order.
    let tools = &paper.air.demand.tools;
    let name = |number: usize| Some(tools.get(number.checked_sub(1)?)?.name.as_str());
    let rows = tank.bursts.iter().enumerate().map(|(number, burst)| {
        let row = words::burst(burst, units);
        ((name(number), row[1..].to_vec()), row)
    });
    let rows = words::folded(rows).into_iter().map(|(mut row, others)| {
        if others > 0 {
            row[0] += &format!(" ({others} more)");
        }
        row
    });
    table(out, width, &[Words, Points, Points, Figures], &heads, rows)
}

fn tools(paper: &AirPaper<'_>, units: Units, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let unit = words::pressure_unit(units);
    writeln!(out, "\nWhat each tool gets at its inlet, {unit}")?;
    let heads = [
        "outlet",
        "tool",
        "least",
        "best",
        "new",
        "worn",
        "",
        "spare",
        "takes most",
    ];
    let columns = [
        Words, Words, Points, Points, Points, Points, Words, Points, Words,
    ];
    let rows = words::tool_rows(paper, units);
    table(out, width, &columns, &heads, rows)?;
    paragraph(out, width, words::NEW_AND_WORN)
}

/// The way to one tool, as a strip that grows shorter with the pressure.
fn way(
    paper: &AirPaper<'_>,
    number: usize,
    units: Units,
    width: usize,
    out: &mut dyn Write,
) -> io::Result<()> {
    let tool = &paper.air.demand.tools[number];
    let way = &paper.air.aged.tools[number];
    writeln!(out)?;
    let runs = tool.running.value.show(units);
    let mut heading = format!(
        "From the tank to {}, worn, {}; it takes {runs}",
        words::the_tool(paper, number),
        words::pressure_unit(units)
    );
    let shut = way.shut.and_then(|at| paper.plan.network.valve_at(at));
    if way.case != number {
        heading += &format!("; {}", words::case(paper.air, way.case));
    }
    if let Some(valve) = shut {
        heading += &format!("; valve {} shut", valve.name);
    }
    paragraph(out, width, &heading)?;
    let start = paper.air.cut_in;
    // Above what the tool needs, if it gets that.
    let least = tool.least.map(|least| least.value);
    let base = least.filter(|least| way.gets.is_some_and(|gets| gets >= *least) && *least < start);
    let rows: Vec<[String; 4]> = std::iter::once([
        "the tank when the compressor starts".to_owned(),
        String::new(),
        String::new(),
        words::pressure(start, units, 1),
    ])
    .chain(way.steps.iter().map(|step| row(step, units)))
    .collect();
    let wide = |column: usize| {
        let cells = rows.iter().map(|row| row[column].chars().count());
        cells.max().unwrap_or(0)
    };
    let heads = ["item", "takes", "holds back", "left"];
    let columns = [0, 1, 2, 3].map(|at| wide(at).max(heads[at].len()));
    let figures = columns[1] + columns[2] + columns[3] + 3;
    let item = columns[0].min(width.saturating_sub(figures + 12));
    let bar = width.saturating_sub(item + figures + 1).min(40);
    let print = |cells: [&str; 4], strip: &str, out: &mut dyn Write| {
        let [name, takes, back, left] = cells;
        let name: String = clean(name).chars().take(item).collect();
        let [_, two, three, four] = columns;
        let line = format!("{name:item$} {takes:>two$} {back:>three$} {left:>four$} {strip}");
        writeln!(out, "{}", line.trim_end())
    };
    print(heads, "", out)?;
    writeln!(out, "{}", "-".repeat(item + figures + 1 + bar))?;
    for (at, [name, takes, back, left]) in rows.iter().enumerate() {
        let step = at.checked_sub(1).and_then(|at| way.steps.get(at));
        let strip = strip(step, base, start, bar);
        print([name, takes, back, left], &strip, out)?;
    }
    if way.gets.is_none() {
        paragraph(out, width, "Further on the air does not get through.")?;
    }
    let from = base.map_or_else(String::new, |base| {
        format!(
            " The strip starts at the {} that the tool needs to work.",
            base.show(units)
        )
    });
    paragraph(
        out,
        width,
        &format!("# is the pressure left, - what the item takes, = what it holds back.{from}"),
    )
}

fn row(step: &Step, units: Units) -> [String; 4] {
    let back = match step.held_back.kpa() < 0.05 {
        true => String::new(),
        false => words::pressure(step.held_back, units, 1),
    };
    [
        step.item.clone(),
        words::pressure(step.loss, units, 2),
        back,
        words::pressure(step.left, units, 1),
    ]
}

/// A bar of the pressure behind a step, with what it took.
fn strip(step: Option<&Step>, base: Option<Pressure>, start: Pressure, columns: usize) -> String {
    let base = base.map_or(0.0, Pressure::kpa);
    let mut filled = 0;
    let mut until = |pressure: f64| {
        let share = (pressure - base) / (start.kpa() - base);
        let reached = (0..columns).filter(|cell| {
            let middle = (f64::from(u32::try_from(*cell).unwrap_or(0)) + 0.5)
                / f64::from(u32::try_from(columns).unwrap_or(1));
            middle < share
        });
        let reached = reached.count().max(filled);
        let more = reached - filled;
        filled = reached;
        more
    };
    let Some(step) = step else {
        return "#".repeat(until(start.kpa()));
    };
    let (left, loss) = (step.left.kpa(), step.loss.kpa());
    let cells = [
        ("#", left),
        ("-", left + loss),
        ("=", left + loss + step.held_back.kpa()),
    ];
    let cells = cells.map(|(mark, pressure)| mark.repeat(until(pressure)));
    cells.concat()
}

fn rooms(paper: &AirPaper<'_>, units: Units, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let rows = words::rooms(paper, units);
    if rows.is_empty() {
        return Ok(());
    }
    let limits = paper.air.limits;
    writeln!(out)?;
    paragraph(
        out,
        width,
        &format!(
            "Room for one more, {} of free air on top of what is drawn: until a tool has its least, until the main runs at {}, until the drop runs at {}",
            words::flow_unit(units),
            limits.main.show(units),
            limits.drop.show(units)
        ),
    )?;
    let heads = [
        "outlet",
        "by pressure",
        "first to run short",
        "by main",
        "by drop",
    ];
    table(
        out,
        width,
        &[Words, Points, Words, Points, Points],
        &heads,
        rows,
    )?;
    paragraph(
        out,
        width,
        "The least of the three holds, and no more than the compressor has left.",
    )
}

/// The main a size smaller, as it is, and a size larger.
fn mains(paper: &AirPaper<'_>, width: usize, out: &mut dyn Write) -> io::Result<()> {
    if paper.mains.is_empty() {
        return Ok(());
    }
    writeln!(out, "\nThe main in other sizes, worn")?;
    let mut heads = vec![
        "main of",
        "takes at most",
        "fastest air",
        "tools short",
        "pipe",
    ];
    let mut columns = vec![Words, Figures, Figures, Figures, Figures];
    if paper.currency.is_some() {
        heads.push("about");
        columns.push(Figures);
    }
    let rows = sizes::mains(paper.mains, paper.currency, paper.plan);
    table(out, width, &columns, &heads, rows)?;
    if paper.currency.is_some() {
        paragraph(
            out,
            width,
            "The price is of pipe, half an elbow for each of its ends and what carries it, with the work where rates are given: what the count comes to is in `quote`.",
        )?;
    }
    Ok(())
}

fn yearly(paper: &AirPaper<'_>, units: Units, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let rows = words::yearly(paper, units);
    let Some(first) = rows.first() else {
        return Ok(());
    };
    writeln!(out, "\nWhat a year takes")?;
    let heads = ["for", "kWh", "cost"];
    let columns = [Words, Figures, Figures];
    let shown = first.len();
    table(out, width, &columns[..shown], &heads[..shown], rows)
}

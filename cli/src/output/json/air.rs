//! The paper on air for programs: gauge pressures in kPa, free air in l/s.

use super::{number, print};
use crate::output::AirPaper;
use crate::output::words::air as words;
use bom::air::answer::{Fate, Room, part_of};
use bom::air::demand::Load;
use bom::air::ladder::{Fast, Ladders, Step, ToolAir};
use bom::air::sizes::MainIn;
use bom::air::supply::Tank;
use bom::quantity::{AirFlow, Pressure};
use serde_json::{Value, json};
use std::cmp::Ordering;
use std::io::{self, Write};

/// The paper on air.
///
/// # Errors
/// What the writer says.
pub fn air(paper: &AirPaper<'_>, out: &mut dyn Write) -> io::Result<()> {
    let air = paper.air;
    let cases: Vec<Value> = air
        .aged
        .cases
        .iter()
        .map(|case| {
            let running = case.running.iter().map(|tool| words::tool(paper, *tool));
            json!({ "name": case.name, "running": running.collect::<Vec<_>>() })
        })
        .collect();
    let tools: Vec<Value> = (0..air.tools.len())
        .map(|number| tool(paper, number))
        .collect();
    let names = paper.plan.job.outlets.iter().enumerate();
    let outlets = names.map(|(number, outlet)| {
        let worst = air.worst_at(number);
        let way = worst.map(|worst| &air.aged.tools[worst]);
        let least = worst.and_then(|worst| air.demand.tools[worst].least);
        json!({
            "name": outlet.name.value,
            "pressure_kpa": way.and_then(|way| way.gets).map(kpa),
            "needed_kpa": least.map(|least| kpa(least.value)),
            "tool": worst.map(|worst| air.demand.tools[worst].name.as_str()),
            "demand": air.demand.outlets.get(number).map(load),
            "steps": way.map_or_else(Vec::new, steps),
        })
    });
    let outlets: Vec<Value> = outlets.collect();
    let network = &paper.plan.network;
    let pipe = |fast: &Fast| {
        let [from, to] = network.ends_of(fast.link);
        json!({
            "from": network.place(from),
            "to": network.place(to),
            "part_of": part_of(network, fast.link),
            "size": network.link(fast.link).size.to_string(),
            "flow_l_s": flow(bom::air::demand::free_air(fast.kg_per_s)),
            "velocity_m_s": number(format!("{:.3}", fast.speed.metres_per_second())),
            "limit_m_s": number(format!("{:.3}", air.limits.at(network, fast.link).metres_per_second())),
            "loss_kpa": kpa(fast.loss),
            "case": air.aged.cases.get(fast.case).map(|case| case.name.as_str()),
        })
    };
    let pipes: Vec<Value> = air.aged.fastest.iter().map(pipe).collect();
    let rooms: Vec<Value> = paper.rooms.iter().map(|one| room(paper, one)).collect();
    let residual = |ladders: &Ladders| {
        json!({
            "imbalance_kg_s": ladders.residual.imbalance,
            "miss_pa": ladders.residual.miss,
        })
    };
    print(
        &json!({
            "sentences": air.sentences,
            "cases": cases,
            "outlets": outlets,
            "tools": tools,
            "worst": air.worst.map(|worst| words::tool(paper, worst)),
            "main_takes_kpa": air.main_takes.map(kpa),
            "pipes": pipes,
            "room": rooms,
            "demand": load(&air.demand.total),
            "supply": supply(paper),
            "year": year(paper),
            "main_sizes": main_sizes(paper),
            "why_size": paper.why_size,
            "residuals": { "new": residual(&air.new), "worn": residual(&air.aged) },
            "assumptions": air.assumptions,
        }),
        out,
    )
}

/// The main in several sizes; nothing where it was not asked for.
fn main_sizes(paper: &AirPaper<'_>) -> Vec<Value> {
    let main = |main: &MainIn| {
        let sizes = main.sizes.iter().map(ToString::to_string);
        let speed = main.fastest.map(|speed| speed.metres_per_second());
        json!({
            "sizes": sizes.collect::<Vec<_>>(),
            "planned": main.than_planned == Ordering::Equal,
            "takes_kpa": main.takes.map(kpa),
            "fastest_m_s": speed.map(|speed| number(format!("{speed:.3}"))),
            "short": main.short.iter().map(|tool| words::tool(paper, *tool)).collect::<Vec<_>>(),
            "pipe_kg": number(format!("{:.1}", main.kilograms)),
            "about": main.cost.map(|cost| format!("{cost:.2}")),
            "currency": paper.currency.map(|currency| currency.code().to_owned()),
        })
    };
    paper.mains.iter().map(main).collect()
}

fn tool(paper: &AirPaper<'_>, number: usize) -> Value {
    let air = paper.air;
    let (tool, judged) = (&air.demand.tools[number], &air.tools[number]);
    let way = &air.aged.tools[number];
    let gets =
        |fate: Fate| json!({ "pressure_kpa": fate.gets.map(kpa), "state": fate.state.word() });
    let shut = way.shut.and_then(|at| paper.plan.network.valve_at(at));
    let blocked = way
        .blocked
        .as_ref()
        .map(|blocked| paper.plan.network.place(blocked.at));
    json!({
        "outlet": words::outlet(paper, tool.outlet),
        "side": tool.side + 1,
        "tool": tool.name,
        "running_l_s": flow(tool.running.value),
        "average_l_s": flow(tool.average),
        "least_kpa": tool.least.map(|least| kpa(least.value)),
        "best_kpa": tool.best.map(|best| kpa(best.value)),
        "new": gets(judged.new),
        "worn": gets(judged.aged),
        "state": judged.state().word(),
        "spare_kpa": judged.to_spare.map(kpa),
        "case": words::case(air, way.case),
        "shut": shut.map(|valve| valve.name.as_str()),
        "blocked": blocked,
        "steps": steps(way),
    })
}

fn steps(way: &ToolAir) -> Vec<Value> {
    let step = |step: &Step| {
        json!({
            "item": step.item,
            "loss_kpa": kpa(step.loss),
            "held_back_kpa": kpa(step.held_back),
            "left_kpa": kpa(step.left),
        })
    };
    way.steps.iter().map(step).collect()
}

fn room(paper: &AirPaper<'_>, room: &Room) -> Value {
    let until = room.until_least;
    json!({
        "outlet": words::outlet(paper, room.outlet),
        "until_least_l_s": until.map(|until| flow(until.more)),
        "of_tool": until.map(|until| words::tool(paper, until.tool)),
        "until_fast_main_l_s": room.until_fast_main.map(flow),
        "until_fast_drop_l_s": room.until_fast_drop.map(flow),
    })
}

fn supply(paper: &AirPaper<'_>) -> Value {
    let supply = &paper.air.supply;
    json!({
        "verdict": supply.line,
        "free_air_l_s": supply.free_air.map(flow),
        "delivered_l_s": supply.delivered.map(flow),
        "duty": supply.duty.map(|duty| number(format!("{duty:.4}"))),
        "spare_l_s": supply.spare.map(flow),
        "cut_in_kpa": kpa(paper.air.cut_in),
        "tank": supply.tank.as_ref().map(tank),
        "remarks": supply.remarks,
        "missing": supply.missing,
    })
}

fn tank(tank: &Tank) -> Value {
    let litres = |litres: f64| number(format!("{litres:.1}"));
    let bursts = tank.bursts.iter().map(|burst| {
        json!({
            "what": burst.what,
            "flow_l_s": flow(burst.flow),
            "minutes_to_cut_in": burst.until_cut_in.map(|one| number(format!("{one:.2}"))),
            "then_falls_kpa_per_minute": burst.then_falls.map(kpa),
        })
    });
    json!({
        "litres": litres(tank.volume.litres()),
        "usable_litres": litres(tank.usable.litres()),
        "starts_per_hour": tank.starts.map(|starts| number(format!("{starts:.2}"))),
        "bursts": bursts.collect::<Vec<_>>(),
        "for_peak_litres": tank.for_peak.map(|peak| json!({
            "running": litres(peak.running.litres()),
            "standing": litres(peak.standing.litres()),
        })),
    })
}

fn year(paper: &AirPaper<'_>) -> Value {
    let Some(yearly) = paper.yearly else {
        return Value::Null;
    };
    let energy = |kwh: f64| number(format!("{kwh:.1}"));
    json!({
        "worked_hours": number(format!("{:.1}", yearly.worked)),
        "average_kwh": energy(yearly.average),
        "pipe_kwh": yearly.pipe.as_ref().map(|pipe| energy(pipe.energy)),
        "larger_main_saves_kwh": yearly.pipe.as_ref().map(|pipe| energy(pipe.energy_saved)),
        "pipe_kpa": yearly.pipe.as_ref().map(|pipe| kpa(pipe.lost)),
        "leak": yearly.leak.as_ref().map(|leak| json!({
            "hole_mm": super::millimetres(leak.hole),
            "flow_l_s": flow(leak.flow),
            "all_year_kwh": energy(leak.all_year),
            "worked_kwh": energy(leak.worked),
        })),
        "price_per_kwh": yearly.price,
        "assumptions": yearly.assumptions,
    })
}

fn load(load: &Load) -> Value {
    json!({
        "connected_l_s": flow(load.connected),
        "peak_l_s": flow(load.peak),
        "average_l_s": flow(load.average),
    })
}

fn kpa(pressure: Pressure) -> Value {
    number(format!("{:.3}", pressure.kpa()))
}

fn flow(flow: AirFlow) -> Value {
    number(format!("{:.4}", flow.litres_per_second()))
}

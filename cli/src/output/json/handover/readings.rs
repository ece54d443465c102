//! What was read on site, worked out. Pressures in kPa above the air outside, flows in
//! litres of free air each second.

use super::rounded;
use bom::handover::worked::{
    Against, BleedDown, Fell, Flow, Line, Machine, Plate, Strength, Tightness, Worked,
};
use bom::quantity::{AirFlow, Pressure};
use serde_json::{Value, json};

pub(super) fn readings(worked: &Worked) -> Value {
    json!({
        "tested_by": worked.people.tested_by,
        "seen_by": worked.people.seen_by,
        "date": worked.people.date,
        "of_another_layout": worked.other_layout,
        "test": worked.strength.as_ref().map(strength),
        "tightness": worked.tightness.iter().map(tightness).collect::<Vec<Value>>(),
        "bleed_down": worked.bleed_down.iter().map(bleed_down).collect::<Vec<Value>>(),
        "leak_by_pressure": worked.line.as_ref().map(line),
        "machines": worked.machines.iter().map(machine).collect::<Vec<Value>>(),
        "flow": worked.flow.iter().map(flow).collect::<Vec<Value>>(),
    })
}

fn kpa(pressure: impl Into<Option<Pressure>>) -> Value {
    rounded(pressure.into().map(Pressure::kpa))
}

/// A leak may be far below a thousandth of a litre.
fn fine(figure: Option<f64>) -> Value {
    figure.map_or(Value::Null, |figure| super::number(format!("{figure:.9}")))
}

fn litres_a_second(flow: impl Into<Option<AirFlow>>) -> Value {
    fine(flow.into().map(AirFlow::litres_per_second))
}

fn strength(of: &Strength) -> Value {
    json!({
        "reached_kpa": kpa(of.read.reached),
        "agreed_kpa": kpa(of.agreed),
        "short_by_kpa": kpa(of.short),
        "held_seconds": rounded(of.read.held),
        "relief_set_to_kpa": kpa(of.read.relief),
        "gauge": of.read.gauge,
        "begun": of.read.begun,
        "at_test": of.read.at_test,
        "down": of.read.down,
        "agreed_with": of.read.agreed_with,
        "remarks": of.read.remarks,
        "says": of.words,
    })
}

fn tightness(of: &Tightness) -> Value {
    let (first, last) = (&of.read.first, &of.read.last);
    json!({
        "part": of.part,
        "litres": rounded(Some(of.litres)),
        "begun": of.read.times.0,
        "begin_kpa": kpa(first.gauge),
        "begin_pipe_c": rounded(first.pipe.map(|pipe| pipe.celsius())),
        "ended": of.read.times.1,
        "end_kpa": kpa(last.gauge),
        "end_pipe_c": rounded(last.pipe.map(|pipe| pipe.celsius())),
        "seconds": rounded(Some(of.read.seconds)),
        "mark_kpa": kpa(of.mark),
        "still_kpa": kpa(of.fall.still),
        "fall_left_kpa": kpa(of.fall.left),
        "leak_l_s": litres_a_second(of.fall.leak),
        "smallest_seen_l_s": litres_a_second(of.fall.sees),
        "gauge": match of.fall.fell {
            Fell::Stands => "stands",
            Fell::Falls => "falls",
            Fell::Rises => "rises",
        },
        "says": of.words,
        "remarks": of.read.remarks,
    })
}

fn bleed_down(of: &BleedDown) -> Value {
    json!({
        "from_kpa": kpa(of.read.from),
        "to_kpa": kpa(of.read.to),
        "seconds": rounded(Some(of.read.seconds)),
        "litres": rounded(of.litres),
        "leak_l_s": litres_a_second(of.leak),
        "leak_at_first_l_s": litres_a_second(of.at_first),
        "share_of_delivered": fine(of.share),
        "all_year_kwh": rounded(of.energy),
        "cost_a_year": rounded(of.cost),
        "remarks": of.read.remarks,
    })
}

fn line(of: &Line) -> Value {
    let at = of
        .at
        .iter()
        .map(|(at, leak)| json!({"kpa": kpa(*at), "leak_l_s": litres_a_second(*leak)}));
    json!({
        "l_s_each_pa": fine(Some(of.leak.slope)),
        "l_s_at_nothing": fine(Some(of.leak.at_zero)),
        "at": at.collect::<Vec<Value>>(),
    })
}

fn machine(of: &Machine) -> Value {
    json!({
        "machine": of.name,
        "from_kpa": kpa(of.read.from),
        "to_kpa": kpa(of.read.to),
        "seconds": rounded(Some(of.read.seconds)),
        "with_pipe": of.read.with_pipe,
        "litres": rounded(of.litres),
        "delivers_l_s": litres_a_second(of.delivers),
        "plate_l_s": litres_a_second(of.plate),
        "share_of_plate": fine(of.share),
        "against_plate": of.against.map(|against| match against {
            Plate::Within => "within",
            Plate::Below => "below",
            Plate::Above => "above",
        }),
        "remarks": of.read.remarks,
    })
}

fn flow(of: &Flow) -> Value {
    json!({
        "number": of.outlet.0,
        "outlet": of.outlet.1,
        "tool": of.tool,
        "tank_kpa": kpa(of.read.tank),
        "read_kpa": kpa(of.read.read),
        "expected_kpa": kpa(of.expected),
        "lower_by_kpa": kpa(of.lower),
        "mark_kpa": kpa(of.mark),
        "against_expected": of.against.map(|against| match against {
            Against::Alike => "alike",
            Against::Lower => "lower",
            Against::Higher => "higher",
        }),
        "ran": of.read.ran,
        "remarks": of.read.remarks,
    })
}

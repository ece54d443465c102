//! `[[bleed_down]]`, `[machine]` and `[flow]`: what was read with the tank.

use super::tightness::marks;
use super::{Reader, Value};
use crate::finding::Finding;
use crate::handover::record::table::Table;
use crate::handover::record::{BleedDown, Flow, Machine};
use crate::job::{one_of, unknown_name};
use crate::quantity::{Pressure, QuantityError, Time};
use crate::source::Spanned;

impl Reader<'_> {
    pub(super) fn bleed_down(&mut self, value: Value<'_>) -> Option<BleedDown> {
        const KEYS: [&str; 4] = ["from", "to", "time", "remarks"];
        let findings = &mut self.findings;
        let table = Table::of("[[bleed_down]]".to_owned(), value, &KEYS, findings)?;
        let [from, to, seconds] = pumped(&table, &KEYS, ("\"175 psi\"", "\"140 psi\""), findings)?;
        if from.value <= to.value {
            findings.push(wrong_way(&table, "falls, from high to low"));
        }
        Some(BleedDown {
            from: Pressure::from_kpa(from.value),
            to: Pressure::from_kpa(to.value),
            seconds: seconds.value,
            remarks: table.words("remarks", findings),
        })
    }

    pub(super) fn machine(&mut self, name: &Spanned<String>, value: Value<'_>) -> Option<Machine> {
        const KEYS: [&str; 5] = ["from", "to", "time", "with", "remarks"];
        let supplies = &self.plan.job.supplies;
        let names: Vec<&str> = supplies
            .iter()
            .map(|supply| supply.name.value.as_str())
            .collect();
        let supply = names.iter().position(|known| *known == name.value);
        let findings = &mut self.findings;
        if supply.is_none() {
            findings.push(unknown_name("machine", &name.value, name.span, &names));
        }
        let table = Table::of(format!("[machine.{}]", name.value), value, &KEYS, findings)?;
        let read = pumped(&table, &KEYS, ("\"nothing\"", "\"175 psi\""), findings);
        if table.is_any_filled(&KEYS) {
            table.needs(&[("with", "\"tank\"")], findings);
        }
        let words = [("tank", false), ("tank and pipe", true)];
        let with = table.given("with", findings);
        let with = with.and_then(|with| one_of("way to pump", with, &words, findings));
        if with.is_some_and(|with| with.value) && names.len() > 1 {
            findings.push(Finding::unreadable(
                "impossible-reading",
                table.span("with"),
                "several tanks hang on the pipe, so that nothing says how much this machine filled",
                "read each machine with its tank alone, the valve to the pipe shut: with = \"tank\"",
            ));
        }
        let [from, to, seconds] = read?;
        if from.value >= to.value {
            findings.push(wrong_way(&table, "rises, from low to high"));
        }
        Some(Machine {
            supply: supply?,
            from: Pressure::from_kpa(from.value),
            to: Pressure::from_kpa(to.value),
            seconds: seconds.value,
            with_pipe: with?.value,
            remarks: table.words("remarks", findings),
        })
    }

    pub(super) fn flow(&mut self, name: &Spanned<String>, value: Value<'_>) -> Option<Flow> {
        const KEYS: [&str; 6] = ["tool", "tank", "read", "mark", "ran", "remarks"];
        let drops = &self.plan.network.drops;
        let names: Vec<&str> = drops.iter().map(|drop| drop.name.as_str()).collect();
        let outlet = names.iter().position(|known| *known == name.value);
        let findings = &mut self.findings;
        if outlet.is_none() {
            findings.push(unknown_name("outlet", &name.value, name.span, &names));
        }
        let table = Table::of(format!("[flow.{}]", name.value), value, &KEYS, findings)?;
        let tools = self.demand.tools.iter().enumerate();
        let tools: Vec<(&str, usize)> = tools
            .filter(|(_, tool)| Some(tool.outlet) == outlet)
            .map(|(at, tool)| (tool.name.as_str(), at))
            .collect();
        let tool = table.given("tool", findings).filter(|_| outlet.is_some());
        let tool = tool.and_then(|tool| one_of("tool at this outlet", tool, &tools, findings));
        if !table.is_any_filled(&KEYS[1..]) {
            return None;
        }
        table.needs(&[("tank", "\"140 psi\""), ("read", "\"90 psi\"")], findings);
        let tank = table.quantity("tank", Pressure::parse, findings);
        let read = table.quantity("read", Pressure::parse_reading, findings);
        let mark = table.quantity("mark", marks, findings);
        let (tank, read) = (tank?, read?);
        if read.value.kpa() > tank.value.kpa() {
            let finding = Finding::unreadable(
                "impossible-reading",
                read.span,
                "the tool cannot have more than the tank",
                "check both gauges, and that the figures are not swapped",
            );
            findings.push(finding.related(tank.span, "the tank has less"));
        }
        Some(Flow {
            outlet: outlet?,
            tool: tool.map(|tool| tool.value),
            tank: tank.value,
            read: read.value,
            mark: mark.map(|mark| mark.value),
            ran: table.words("ran", findings),
            remarks: table.words("remarks", findings),
        })
    }
}

/// `from` and `to` in kPa and `time` in seconds, if any of a table is filled in.
fn pumped(
    table: &Table<'_>,
    keys: &[&str],
    (from, to): (&str, &str),
    findings: &mut Vec<Finding>,
) -> Option<[Spanned<f64>; 3]> {
    if !table.is_any_filled(keys) {
        return None;
    }
    table.needs(
        &[("from", from), ("to", to), ("time", "\"7 min 20 s\"")],
        findings,
    );
    let from = table.quantity("from", from_nothing, findings);
    let to = table.quantity("to", from_nothing, findings);
    let time = table.quantity("time", Time::parse, findings);
    let kpa = |pressure: Spanned<Pressure>| pressure.map(Pressure::kpa);
    Some([kpa(from?), kpa(to?), time?.map(Time::seconds)])
}

fn wrong_way(table: &Table<'_>, does: &str) -> Finding {
    let finding = Finding::unreadable(
        "impossible-reading",
        table.span("to"),
        format!("the pressure of this test {does}"),
        "check both figures: `from` is what was read first, `to` what was read last",
    );
    finding.related(table.span("from"), "read first")
}

/// What a gauge shows that may be read from `nothing`.
fn from_nothing(text: &str) -> Result<Pressure, QuantityError> {
    if text.trim() == "nothing" {
        return Ok(Pressure::from_kpa(0.0));
    }
    Pressure::parse_reading(text)
}

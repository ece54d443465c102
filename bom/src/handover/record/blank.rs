//! The empty record of a job, to be filled in on site.

use super::ALL;
use crate::Plan;
use crate::air::answer::answer;
use crate::handover::flow::to_read;
use crate::handover::sections::{Part, parts};
use crate::library::Library;
use crate::quantity::Units;
use crate::survey::table::{Table, comment, key};
use crate::water::volume;

/// How figures are written, in both units.
struct Examples {
    high: &'static str,
    low: &'static str,
    mark: &'static str,
    pipe: &'static str,
}

const FEET: Examples = Examples {
    high: "like \"175 psi\"",
    low: "like \"140 psi\"",
    mark: "one mark of the gauge, like \"1 psi\"; that is taken if it stays empty",
    pipe: "of the pipe, like \"68 F\"",
};
const METRIC: Examples = Examples {
    high: "like \"10 bar\"",
    low: "like \"8 bar\"",
    mark: "one mark of the gauge, like \"0.1 bar\"; that is taken if it stays empty",
    pipe: "of the pipe, like \"20 C\"",
};

/// The record file of a job with every reading left empty: it can be read as it stands.
#[must_use]
pub fn blank(plan: &Plan, library: &Library, fingerprint: &str) -> String {
    let examples = match plan.summary.units {
        Units::Feet => FEET,
        Units::Metric => METRIC,
    };
    let sections = parts(plan, library);
    let mut tables = vec![head(fingerprint), strength(&examples)];
    let letters = sections.iter().map(|part| part.letter.as_str());
    let several = (sections.len() > 1).then_some(ALL);
    tables.extend(letters.chain(several).map(|part| {
        let words = held(plan, &sections, part);
        tightness(part, &words, &examples)
    }));
    tables.push(bleed_down(&examples));
    let supplies = plan.job.supplies.iter();
    tables.extend(supplies.map(|supply| machine(&supply.name.value, &examples)));
    let air = answer(&plan.job, &plan.network, library);
    let drops = &plan.network.drops;
    let outlets = to_read(plan, &air).into_iter().map(|(outlet, tool)| {
        let tool = tool.map_or("", |tool| air.demand.tools[tool].name.as_str());
        (outlet, tool)
    });
    tables.extend(outlets.filter_map(|(outlet, tool)| {
        let drop = drops.get(outlet)?;
        Some(flow(&drop.name, tool, &examples))
    }));
    let mut text = comment(&format!(
        "Readings on site: {}{}.",
        plan.summary.title,
        if plan.summary.revision.is_empty() {
            String::new()
        } else {
            format!(", revision {}", plan.summary.revision)
        }
    ));
    text += &comment(
        "Type what was read between the quotes. What stays empty was not read. A [[table]] may be copied as often as there are readings, and a [flow.NAME] be added for every outlet. Then `dripleg handover JOB.toml --readings THIS-FILE.toml --out record.pdf` prints the finished record.",
    );
    text + &tables.join("\n")
}

fn head(fingerprint: &str) -> String {
    let mut table = Table::new("", "");
    table.text(
        "layout",
        fingerprint,
        "the layout that was read: leave it as it is",
    );
    table.text("tested_by", "", "by name; it is signed on paper");
    table.text("seen_by", "", "");
    table.text("date", "", "like \"2026-11-02\"");
    table.to_text()
}

fn strength(examples: &Examples) -> String {
    let mut table = Table::new("[test]", "the test for strength, with the pipe alone");
    table.text("reached", "", examples.high);
    table.text("held", "", "like \"30 min\" or \"4 h\"");
    table.text("relief", "", "what the relief valve of the test was set to");
    table.text("gauge", "", "which one, and when it was last checked");
    table.text("begun", "", "day, time");
    table.text("at_test", "", "time");
    table.text("down", "", "time");
    table.text("agreed_with", "", "by name");
    table.text("remarks", "", "");
    table.to_text()
}

/// What a part is, in words.
fn held(plan: &Plan, sections: &[Part], letter: &str) -> String {
    let units = plan.summary.units;
    let Some(part) = sections.iter().find(|part| part.letter == letter) else {
        let all: f64 = sections.iter().map(|part| part.litres).sum();
        return format!("the whole pipework: holds {}", volume(all, units));
    };
    let valves = if part.valves.is_empty() {
        String::new()
    } else {
        format!("at {}, ", part.valves.join(", "))
    };
    format!("{valves}holds {}", volume(part.litres, units))
}

fn tightness(part: &str, words: &str, examples: &Examples) -> String {
    let mut table = Table::new("[[tightness]]", "shut in, the tank shut off");
    table.text("part", part, words);
    table.text("begin_time", "", "like \"2026-11-02 17:05\"");
    table.text("begin_gauge", "", examples.high);
    table.text("begin_pipe", "", examples.pipe);
    table.text("end_time", "", "");
    table.text("end_gauge", "", "");
    table.text("end_pipe", "", "");
    table.text("held", "", "like \"4 h\", where no times were noted");
    table.text("mark", "", examples.mark);
    table.text("remarks", "", "");
    table.to_text()
}

fn bleed_down(examples: &Examples) -> String {
    let mut table = Table::new(
        "[[bleed_down]]",
        "all valves open, compressor off, no tool runs",
    );
    table.text("from", "", examples.high);
    table.text("to", "", examples.low);
    table.text("time", "", "like \"42 min\"");
    table.text("remarks", "", "");
    table.to_text()
}

fn machine(name: &str, examples: &Examples) -> String {
    let mut table = Table::new(
        format!("[machine.{}]", key(name)),
        "pumped up, no tool runs",
    );
    table.text("from", "", "\"nothing\", or what the gauge showed");
    table.text("to", "", examples.high);
    table.text("time", "", "like \"5 min 40 s\"");
    table.text("with", "", "\"tank\" or \"tank and pipe\"");
    table.text("remarks", "", "");
    table.to_text()
}

fn flow(outlet: &str, tool: &str, examples: &Examples) -> String {
    let mut table = Table::new(
        format!("[flow.{}]", key(outlet)),
        "read at the tool's inlet while it runs",
    );
    table.text("tool", tool, "");
    table.text("tank", "", examples.low);
    table.text("read", "", "at the tool");
    table.text("mark", "", examples.mark);
    table.text("ran", "", "what else ran");
    table.text("remarks", "", "");
    table.to_text()
}

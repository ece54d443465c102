//! From the text of a record file to a [`Record`], with every problem found.

mod pumping;
mod tightness;

use super::table::Table;
use super::{Record, Test};
use crate::Plan;
use crate::air::demand::{Demand, demand};
use crate::finding::{Finding, stops};
use crate::handover::sections::{Part, parts};
use crate::job::{Fields, syntax_findings};
use crate::library::Library;
use crate::quantity::{Pressure, Time};
use crate::source::{Source, Span};
use toml::de::{DeTable, DeValue};

const TOP: [&str; 9] = [
    "layout",
    "tested_by",
    "seen_by",
    "date",
    "test",
    "tightness",
    "bleed_down",
    "machine",
    "flow",
];
type Value<'a> = &'a toml::Spanned<DeValue<'a>>;

struct Reader<'a> {
    plan: &'a Plan,
    fingerprint: &'a str,
    sections: Vec<Part>,
    demand: Demand,
    findings: Vec<Finding>,
}

/// Reads a record of this job, whose papers carry a mark. The record is there if nothing
/// stops it; the findings stand in the order of the file.
#[must_use]
pub fn read(
    source: &Source,
    plan: &Plan,
    library: &Library,
    fingerprint: &str,
) -> (Option<Record>, Vec<Finding>) {
    let (document, errors) = DeTable::parse_recoverable(source.text());
    let mut reader = Reader {
        plan,
        fingerprint,
        sections: parts(plan, library),
        demand: demand(&plan.job, library),
        findings: Vec::new(),
    };
    let record = reader.record(document.get_ref());
    let mut findings = reader.findings;
    if !errors.is_empty() {
        // A broken line has lost what stood on it.
        findings.retain(|finding| !["missing-key", "half-a-reading"].contains(&finding.rule));
        findings.extend(syntax_findings(source, &errors));
    }
    findings.sort_by_key(Finding::place);
    ((!stops(&findings)).then_some(record), findings)
}

impl Reader<'_> {
    fn record<'a>(&mut self, document: &'a DeTable<'a>) -> Record {
        let name = "the record";
        let top = Fields::new(name, document, Span::default(), &TOP, &mut self.findings);
        let test = top.value("test").and_then(|value| self.test(value));
        // One of a kind may stand as a plain table.
        let tightness = top.one_or_list("tightness").into_iter();
        let tightness = tightness
            .filter_map(|value| self.tightness(value))
            .collect();
        let bleed_down = top.one_or_list("bleed_down").into_iter();
        let bleed_down = bleed_down
            .filter_map(|value| self.bleed_down(value))
            .collect();
        let machines = top.entries("machine", &mut self.findings);
        let machines = machines
            .into_iter()
            .filter_map(|(name, value)| self.machine(&name, value))
            .collect();
        let flow = top.entries("flow", &mut self.findings);
        let flow = flow
            .into_iter()
            .filter_map(|(name, value)| self.flow(&name, value))
            .collect();
        let top = Table::new(name.to_owned(), top);
        let layout = top.given("layout", &mut self.findings);
        let other = layout.filter(|layout| layout.value.trim() != self.fingerprint);
        self.findings.extend(other.map(|other| {
            Finding::warning(
                "other-layout",
                other.span,
                format!(
                    "the record is of the layout {}, and the job's is {}",
                    other.value.trim(),
                    self.fingerprint
                ),
                "see that parts and outlets are still the same; volumes are those of the job as it is now",
            )
        }));
        Record {
            other_layout: other.is_some(),
            tested_by: top.words("tested_by", &mut self.findings),
            seen_by: top.words("seen_by", &mut self.findings),
            date: top.words("date", &mut self.findings),
            test,
            tightness,
            bleed_down,
            machines,
            flow,
        }
    }

    fn test(&mut self, value: Value<'_>) -> Option<Test> {
        const KEYS: [&str; 9] = [
            "reached",
            "held",
            "relief",
            "gauge",
            "begun",
            "at_test",
            "down",
            "agreed_with",
            "remarks",
        ];
        let findings = &mut self.findings;
        let table = Table::of("[test]".to_owned(), value, &KEYS, findings)?;
        let reached = table.quantity("reached", Pressure::parse, findings);
        let held = table.quantity("held", Time::parse, findings);
        let relief = table.quantity("relief", Pressure::parse, findings);
        let test = Test {
            reached: reached.map(|one| one.value),
            held: held.map(|one| one.value.seconds()),
            relief: relief.map(|one| one.value),
            gauge: table.words("gauge", findings),
            begun: table.words("begun", findings),
            at_test: table.words("at_test", findings),
            down: table.words("down", findings),
            agreed_with: table.words("agreed_with", findings),
            remarks: table.words("remarks", findings),
        };
        table.is_any_filled(&KEYS).then_some(test)
    }
}

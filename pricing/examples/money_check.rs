//! Prices jobs for tests/money_check.py: a JSON object a line comes in on the
//! standard input (rates, price list, count), and what the papers say of it goes
//! out, a JSON object a line.

#![expect(clippy::print_stdout, reason = "it is a filter")]

use bom::library::Library;
use bom::quantity::{Length, PartSize, Size, Units};
use bom::source::Source;
use bom::summary::Summary;
use bom::system::Joint;
use bom::takeoff::{Group, Heights, JointCount, PartKey, PartLine, PipeLine, Stretch, Takeoff};
use jiff::civil::date;
use pricing::catalog::Catalog;
use pricing::estimate::{EstimateSection, Price};
use pricing::money::Money;
use pricing::offer::Inputs;
use pricing::rates::Rates;
use serde::Deserialize;
use serde_json::{Value, json};
use std::error::Error;

/// What is asked.
#[derive(Debug, Deserialize)]
struct Job {
    rates: String,
    catalog: String,
    elbows: u64,
    valves: u64,
    hangers: u64,
    feet: i64,
    joints: u64,
    drops: u64,
    drains: u64,
    high: bool,
}

fn main() -> Result<(), Box<dyn Error>> {
    let library = Library::shipped()?;
    for line in std::io::stdin().lines() {
        let job: Job = serde_json::from_str(&line?)?;
        println!("{}", priced(&job, &library)?);
    }
    Ok(())
}

fn priced(job: &Job, library: &Library) -> Result<Value, Box<dyn Error>> {
    let (rates, findings) = Rates::read(&Source::new("rates", job.rates.as_str()));
    let rates = rates.ok_or_else(|| format!("{findings:?}"))?;
    let source = Source::new("prices", job.catalog.as_str());
    let (catalog, findings) = Catalog::read(&[source], library.parts(), rates.currency);
    if !findings.is_empty() {
        return Err(format!("{findings:?}").into());
    }
    let takeoff = takeoff(job)?;
    let summary = summary();
    let inputs = Inputs {
        summary: &summary,
        takeoff: &takeoff,
        catalog: &catalog,
        rates: &rates,
        date: date(2026, 11, 2),
        fingerprint: "",
    };
    let sheet = inputs.sheet()?;
    let quote = inputs.quote()?;
    let estimate = &sheet.estimate;
    let sections = estimate.sections.iter().map(section);
    let steps = estimate.steps.iter();
    let steps = steps.map(|step| json!([step.text, step.amount.plain(), step.is_sum]));
    let payment = quote.payment.iter().map(|step| step.amount.plain());
    Ok(json!({
        "sections": sections.collect::<Vec<_>>(),
        "steps": steps.collect::<Vec<_>>(),
        "hours": estimate.hours.to_string(),
        "days": estimate.days.map(|days| days.to_string()),
        "margin": estimate.margin_percent.map(|percent| percent.to_string()),
        "markup": estimate.markup_percent.map(|percent| percent.to_string()),
        "rounding": quote.rounding.map(|sum| sum.plain()),
        "price": estimate.price.plain(),
        "subtotal": quote.subtotal.plain(),
        "tax_base": quote.tax.base.plain(),
        "tax": quote.tax.amount.plain(),
        "total": quote.total.map(|total| total.plain()),
        "payment": payment.collect::<Vec<_>>(),
        "warnings": estimate.warnings.len(),
    }))
}

fn section(section: &EstimateSection) -> Value {
    let side = |price: Option<Price>| price.map(|price| [price.unit, price.amount].map(plain));
    let lines = section.lines.iter().map(|line| {
        json!([
            line.text,
            line.quantity.to_string(),
            side(line.cost),
            side(line.price),
        ])
    });
    json!({
        "title": section.title,
        "lines": lines.collect::<Vec<_>>(),
        "cost": section.cost.plain(),
        "price": section.price.plain(),
    })
}

fn plain(money: Money) -> String {
    money.plain()
}

const SYSTEM: &str = "black-iron";

fn takeoff(job: &Job) -> Result<Takeoff, Box<dyn Error>> {
    let size = Size::parse("1in")?;
    let line = |part: &str, system: &str, group, quantity| PartLine {
        key: PartKey {
            part: part.to_owned(),
            system: system.to_owned(),
            size: PartSize::one(size),
        },
        words: part.to_owned(),
        group,
        quantity,
        unit: "each".to_owned(),
        because: Vec::new(),
    };
    let pipe = line("pipe", SYSTEM, Group::Pipe, 0);
    let length = Length::from_feet(job.feet);
    let up = Length::from_feet(if job.high { 14 } else { 9 });
    let hangers = usize::try_from(job.hangers)?;
    let joints = usize::try_from(job.joints)?;
    Ok(Takeoff {
        standing: Default::default(),
        taken_out: Default::default(),
        tie_ins: 0,
        system: SYSTEM.to_owned(),
        system_title: SYSTEM.to_owned(),
        lines: vec![
            line("elbow-90", SYSTEM, Group::Fittings, job.elbows),
            line("ball-valve", "", Group::Valves, job.valves),
            line("hanger", SYSTEM, Group::Supports, job.hangers),
        ],
        pipe: vec![PipeLine {
            key: pipe.key,
            words: pipe.words,
            size,
            centre_to_centre: length,
            end_to_end: length,
            more: bom::quantity::Length::ZERO,
            pieces: Vec::new(),
            stick: Length::from_feet(21),
            kerf: Length::ZERO,
            mass_lb_per_ft: 1.68,
            ready: false,
        }],
        joints: vec![JointCount {
            system: SYSTEM.to_owned(),
            joint: Joint::Threaded,
            size,
            count: job.joints,
            places: vec![bom::network::NodeId::default().into(); joints],
        }],
        drops: job.drops,
        drains: job.drains,
        assumptions: Vec::new(),
        cautions: Vec::new(),
        proofs: Vec::new(),
        straights: Vec::new(),
        heights: Heights {
            places: vec![up],
            supports: vec![up; hangers],
            pipe: vec![Stretch {
                system: SYSTEM.to_owned(),
                size,
                length,
                ends: [up, up],
            }],
        },
    })
}

fn summary() -> Summary {
    Summary {
        title: String::new(),
        customer: String::new(),
        revision: String::new(),
        units: Units::Feet,
        supply: Vec::new(),
        connections: Vec::new(),
        main_sizes: Vec::new(),
        main_pipe: Vec::new(),
        main_length: Length::ZERO,
        rings: 0,
        main_height: Length::ZERO,
        fall: "level".to_owned(),
        drains: Vec::new(),
        valves: Vec::new(),
        outlets: Vec::new(),
    }
}

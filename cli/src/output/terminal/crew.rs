use super::Column::{Figures, Words};
use super::{list, paragraph, table};
use crate::output::words;
use bom::assembly::{Assembly, Step};
use bom::quantity::Units;
use bom::summary::Summary;
use bom::takeoff::Takeoff;
use std::io::{self, Write};

/// Prints the order of work.
///
/// # Errors
/// Those of `out`.
pub fn crew(
    summary: &Summary,
    takeoff: &Takeoff,
    assembly: &Assembly,
    width: usize,
    out: &mut dyn Write,
) -> io::Result<()> {
    paragraph(out, width, &format!("Order of work: {}", summary.title))?;
    let facts = words::crew_facts(summary, takeoff);
    list(out, width, "What is built", &facts)?;
    list(out, width, "Mind first", &assembly.cautions)?;
    list(out, width, "Bring", &assembly.tools)?;
    for group in &assembly.groups {
        writeln!(out, "\n{}", group.stage.title().to_uppercase())?;
        for note in &group.notes {
            paragraph(out, width, note)?;
        }
        for step in &group.steps {
            writeln!(out)?;
            let lines = lines(step, summary.units);
            table(out, width, &[Figures, Words], &[], lines)?;
        }
    }
    Ok(())
}

/// A step in lines, its number beside the first.
fn lines(step: &Step, units: Units) -> Vec<Vec<String>> {
    let remarks = step.remarks.iter().map(|remark| words::mind(remark));
    let below = step.how.iter().cloned();
    let joints = words::step_joints(step).map(|joints| format!("{joints}."));
    let last = joints.into_iter().chain(words::step_height(step, units));
    let last: Vec<String> = last.collect();
    let last = (!last.is_empty()).then(|| last.join(" "));
    let below = below
        .chain(words::needs(step, units))
        .chain(last)
        .chain(remarks);
    let first = vec![format!("{:3}", step.number), step.title.clone()];
    std::iter::once(first)
        .chain(below.map(|line| vec![String::new(), line]))
        .collect()
}

//! The whole job on one page for a browser: nothing is fetched, everything that the job
//! says is escaped, and what is ticked stays in the reader's own browser.

mod air;
mod cut;
mod drawings;
mod findings;
mod front;
mod notes;
mod outlets;
mod page;
mod pieces;
mod shop;
mod water;

use bom::Plan;
use bom::air::answer::Air;
use bom::drawing::Sheet;
use bom::finding::Finding;
use bom::source::Source;
use bom::takeoff::Takeoff;
use pieces::Section;
use pricing::cut_sheet::CutSheet;
use pricing::shop::ShoppingList;
use std::io::{self, Write};

/// What the page is made of.
#[derive(Debug)]
pub struct Report<'a> {
    /// The job and its layout.
    pub plan: &'a Plan,
    /// The job's file, whose lines findings name.
    pub source: &'a Source,
    /// All that was found, good practice included.
    pub findings: &'a [Finding],
    /// Whether every tool gets its air.
    pub air: &'a Air,
    /// The count in what is bought.
    pub takeoff: &'a Takeoff,
    /// What to buy.
    pub shop: &'a ShoppingList,
    /// Whether its prices are for the reader. Who sells is on no page.
    pub priced: bool,
    /// What is cut.
    pub cut: &'a CutSheet,
    /// The drawings, as far as there are any.
    pub drawings: &'a [Sheet],
}

/// Writes the page.
///
/// # Errors
/// Those of `out`.
pub fn report(report: &Report<'_>, out: &mut dyn Write) -> io::Result<()> {
    let to_build = Some(report).filter(|report| !report.takeoff.builds_nothing());
    let sections: Vec<Section> = [
        front::job(report),
        findings::section(report),
        drawings::section(report),
        outlets::section(report),
        air::section(report),
        water::section(report),
        to_build.and_then(shop::section),
        to_build.and_then(cut::section),
        to_build.and_then(notes::confirm),
        notes::assumptions(report),
        notes::cautions(report),
    ]
    .into_iter()
    .flatten()
    .collect();
    out.write_all(page::page(report, &sections).into_string().as_bytes())?;
    writeln!(out)
}

#[cfg(test)]
mod tests;

//! The crew's set: what is built, the drawings, the cut sheet, the order of work
//! with boxes to tick, and the record of the joints.

mod front;
mod order;
mod record;

use super::Paper;
use super::blocks;
use super::cut;
use super::imprint::Imprint;
use super::leaf::Leaf;
use super::page::Sheets;
use bom::assembly::Assembly;
use bom::summary::Summary;
use bom::takeoff::Takeoff;
use pricing::cut_sheet::CutSheet;
use std::collections::BTreeSet;
use std::io::{self, Write};

/// What the set is made of.
#[derive(Debug)]
pub struct CrewSet<'a> {
    /// The job in a few facts.
    pub summary: &'a Summary,
    /// The count that is built.
    pub takeoff: &'a Takeoff,
    /// The order of work.
    pub assembly: &'a Assembly,
    /// Which piece is cut from which stick.
    pub cut: &'a CutSheet,
    /// The drawings, in order.
    pub drawings: &'a [Leaf],
}

/// Writes the crew's set as PDF and gives back the characters that the fonts lack,
/// which are printed as `?`.
///
/// # Errors
/// Those of `out`.
pub fn crew(set: &CrewSet<'_>, paper: Paper, out: &mut dyn Write) -> io::Result<BTreeSet<char>> {
    let heading = &set.cut.heading;
    let imprint = Imprint {
        kind: "Crew set",
        title: &heading.title,
        revision: &heading.revision,
        fingerprint: &heading.fingerprint,
        date: heading.date,
        author: "",
        foot: "",
        warning: None,
    };
    imprint.write(paper, out, |sheets| {
        imprint.name(sheets);
        front::draw(sheets, set);
        for drawing in set.drawings {
            sheets.leaf(drawing);
        }
        fresh(sheets);
        blocks::name(sheets, "Cut sheet", &heading.title);
        cut::body(sheets, set.cut);
        fresh(sheets);
        order::draw(sheets, set);
        fresh(sheets);
        record::draw(sheets, set);
    })
}

/// Begins a sheet.
fn fresh(sheets: &mut Sheets) {
    sheets.need(sheets.whole());
}

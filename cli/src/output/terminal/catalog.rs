//! The end of the check of price lists.

use crate::output::CatalogPaper;
use crate::output::words::count;
use crate::report::in_one_line;
use bom::finding::Finding;
use std::io::{self, Write};

/// What a job lacks, what each list holds, and how much was found.
///
/// # Errors
/// What the writer says.
pub fn catalog(paper: &CatalogPaper<'_>, out: &mut dyn Write) -> io::Result<()> {
    let job = paper
        .job
        .map_or_else(String::new, |job| job.display().to_string());
    match paper.missing {
        Some([]) => writeln!(out, "{job}: every part has a price")?,
        Some(missing) => {
            writeln!(out, "{job}: no price for {}", count(missing.len(), "part"))?;
            for missing in missing {
                let size = missing.key.size;
                writeln!(
                    out,
                    "  {} {} {size}: {}",
                    missing.quantity, missing.words, missing.reason
                )?;
                writeln!(out, "    {}", missing.row)?;
            }
        }
        None => {}
    }
    for held in paper.held {
        let suppliers = match held.suppliers.len() {
            0 => "no supplier named".to_owned(),
            several => count(several, "supplier"),
        };
        writeln!(
            out,
            "{}: {}, {}, {}, {} of parts that are not known",
            held.file,
            count(held.rows, "row"),
            priced(held.priced, held.open),
            suppliers,
            held.unknown,
        )?;
    }
    let findings: Vec<Finding> = paper.findings.iter().map(|(_, one)| one.clone()).collect();
    writeln!(
        out,
        "{}; a price is old after {}",
        in_one_line(&findings),
        count(
            usize::try_from(paper.older_than).unwrap_or(usize::MAX),
            "day"
        ),
    )
}

fn priced(priced: usize, open: usize) -> String {
    match open {
        0 => count(priced, "price"),
        open => format!("{}, {open} still open", count(priced, "price")),
    }
}

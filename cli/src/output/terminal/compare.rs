use super::Column::{Figures, Words};
use super::{list, paragraph, table};
use crate::output::words;
use pricing::compare::{CompareOption, Comparison};
use std::io::{self, Write};

/// Prints the options side by side.
///
/// # Errors
/// Those of `out`.
pub fn compare(comparison: &Comparison, width: usize, out: &mut dyn Write) -> io::Result<()> {
    paragraph(out, width, &format!("Comparison: {}", comparison.title))?;
    let revision = match comparison.revision.as_str() {
        "" => String::new(),
        revision => format!("revision {revision}, "),
    };
    let marks = format!("{revision}{}, {}", comparison.fingerprint, comparison.date);
    paragraph(out, width, &marks)?;
    paragraph(out, width, &comparison.scope)?;
    holes(comparison, width, out)?;
    for options in comparison.options.chunks(per_table(width)) {
        writeln!(out)?;
        side_by_side(comparison, options, width, out)?;
    }
    list(
        out,
        width,
        words::BREAK_EVEN,
        &words::break_even(comparison),
    )?;
    movers(comparison, width, out)?;
    list(out, width, "Assumptions", &comparison.assumptions)?;
    let own = comparison.options.iter().flat_map(|option| {
        let cautions = words::own_cautions(option).iter();
        cautions.map(|caution| format!("{}: {caution}", option.system))
    });
    let cautions: Vec<String> = comparison.cautions.iter().cloned().chain(own).collect();
    list(out, width, "Cautions", &cautions)?;
    list(out, width, "Notices", &comparison.notices)
}

/// How many options stand beside each other, each in some 22 columns.
fn per_table(width: usize) -> usize {
    (width.saturating_sub(30) / 22).max(1)
}

fn holes(comparison: &Comparison, width: usize, out: &mut dyn Write) -> io::Result<()> {
    if comparison
        .options
        .iter()
        .all(|option| option.total().is_some())
    {
        return Ok(());
    }
    writeln!(out, "\n{}", words::NOT_COMPARED)?;
    let rows = comparison.options.iter().flat_map(|option| {
        let holes = words::compare_holes(option).into_iter();
        holes.map(|hole| vec![option.system.clone(), hole])
    });
    table(out, width, &[Words, Words], &[], rows)
}

fn side_by_side(
    comparison: &Comparison,
    options: &[CompareOption],
    width: usize,
    out: &mut dyn Write,
) -> io::Result<()> {
    let heads = options.iter().map(|option| option.system.as_str());
    let heads: Vec<&str> = std::iter::once("").chain(heads).collect();
    let mut columns = vec![Figures; heads.len()];
    columns[0] = Words;
    let rows = words::compare_rows(comparison, options);
    let rows = rows.into_iter().map(|row| {
        let label = if row.total {
            row.label.to_uppercase()
        } else {
            row.label
        };
        std::iter::once(label).chain(row.cells).collect()
    });
    table(out, width, &columns, &heads, rows)
}

fn movers(comparison: &Comparison, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let rows: Vec<Vec<String>> = comparison
        .options
        .iter()
        .filter_map(|option| {
            let movers = words::movers(option.figures.as_ref().ok()?);
            (!movers.is_empty()).then(|| vec![option.system.clone(), movers.join("\n")])
        })
        .collect();
    if rows.is_empty() {
        return Ok(());
    }
    writeln!(out, "\n{}", words::MOVERS)?;
    table(out, width, &[Words, Words], &[], rows)
}

use super::Column::{Figures, Points, Words};
use super::{list, paragraph, table};
use crate::output::words::change as words;
use pricing::change::{Change, Part};
use std::io::{self, Write};

/// Prints the change order.
///
/// # Errors
/// Those of `out`.
pub fn change(change: &Change, width: usize, out: &mut dyn Write) -> io::Result<()> {
    head(change, width, out)?;
    if change.totals.is_none() {
        list(out, width, words::OPEN, &words::holes(change))?;
    }
    list(out, width, "Warnings", &change.warnings)?;
    if change.is_empty() && change.totals.is_some() {
        writeln!(out)?;
        paragraph(out, width, words::NOTHING)?;
    }
    sums(change, width, out)?;
    if let Some(worst) = words::worst(change) {
        writeln!(out)?;
        paragraph(out, width, &worst)?;
    }
    layout(change, width, out)?;
    for part in &change.parts {
        lines(part, change, width, out)?;
    }
    list(
        out,
        width,
        "New findings of good practice",
        &change.findings,
    )?;
    list(out, width, "How it was reckoned", &change.notes)?;
    list(out, width, "Notices", &change.notices)?;
    if let Some(totals) = change.totals.as_ref().filter(|_| !change.is_empty()) {
        writeln!(out, "\nAcceptance")?;
        paragraph(out, width, &words::signed_for(change, totals))?;
        paragraph(out, width, words::TERMS)?;
        writeln!(out, "\n{} __________", words::DAYS)?;
        for party in ["Customer", "Contractor"] {
            writeln!(
                out,
                "\n{party}, name, signature, date: ____________________"
            )?;
        }
    }
    Ok(())
}

fn head(change: &Change, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let company = format!(
        "{}\n{}",
        change.company.name,
        change.company.lines.join("\n")
    );
    let (revision, fingerprint) = (&change.revision, &change.fingerprint);
    let mark = |revision: &str, fingerprint: &str| format!("{revision} {fingerprint}");
    let mut facts = vec![
        ("Change order", change.title.clone()),
        ("From", company),
        ("For", change.customer.clone()),
        ("Old revision", mark(&revision.old, &fingerprint.old)),
        ("New revision", mark(&revision.new, &fingerprint.new)),
        ("Reason", change.reason.clone()),
        ("Date", change.date.to_string()),
        ("Valid until", change.valid_until.to_string()),
    ];
    facts.retain(|(_, value)| !value.trim().is_empty());
    let rows = facts
        .into_iter()
        .map(|(label, value)| vec![label.to_owned(), value.trim().to_owned()]);
    table(out, width, &[Words, Words], &[], rows)
}

fn sums(change: &Change, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let [old, new] = words::revisions(change);
    let columns = [Words, Figures, Figures, Figures];
    if let Some(totals) = &change.totals {
        let kinds = words::kinds(change);
        let rows = kinds.into_iter().chain(words::sums(change, totals));
        let rows = rows.map(Vec::from);
        writeln!(out)?;
        table(out, width, &columns, &["Price", &old, &new, "Change"], rows)?;
    }
    let times = words::times(change);
    if times.is_empty() {
        return Ok(());
    }
    writeln!(out)?;
    let rows = times.into_iter().map(Vec::from);
    table(out, width, &columns, &["Time", &old, &new, "Change"], rows)
}

fn layout(change: &Change, width: usize, out: &mut dyn Write) -> io::Result<()> {
    if change.items.is_empty() {
        return Ok(());
    }
    let rows = words::item_rows(change);
    let rows = rows
        .into_iter()
        .map(|row| vec![row.item, row.what, row.old, row.new]);
    writeln!(out)?;
    let heads = ["Layout", "What", "Was", "Now"];
    table(out, width, &[Words, Words, Words, Words], &heads, rows)
}

fn lines(part: &Part, change: &Change, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let priced = change.totals.is_some();
    let heads = words::line_heads(part.kind, priced);
    let cells = part
        .lines
        .iter()
        .map(|line| words::line_cells(line, priced));
    let mut rows: Vec<Vec<String>> = cells.collect();
    if let Some(sum) = part.change {
        let mut row = vec![String::new(); heads.len()];
        row[0] = "Sum of the changes".to_owned();
        row[heads.len() - 1] = words::by(sum);
        rows.push(row);
    }
    let columns = [Words, Points, Points, Points, Figures, Figures, Figures];
    writeln!(out, "\n{}", words::heading(part.kind).to_uppercase())?;
    table(out, width, &columns[..heads.len()], &heads, rows)
}

use super::{Table, words};
use pricing::change::{Change, Side};
use pricing::money::Money;
use std::io::{self, Write};

/// The change order: what differs in the layout, then the lines, then the sums.
///
/// # Errors
/// What the writer says.
pub fn change(change: &Change, out: &mut dyn Write) -> io::Result<()> {
    let mut table = Table::new(out);
    let head = [
        "section",
        "text",
        "what",
        "unit",
        "old",
        "new",
        "more",
        "old_price",
        "new_price",
        "old_amount",
        "new_amount",
        "change",
        "currency",
    ];
    table.row(head)?;
    let plain = |text: &str, words: [&str; 3]| -> [String; 13] {
        let mut row: [String; 13] = Default::default();
        row[0] = text.to_owned();
        for (cell, words) in row[1..].iter_mut().zip(words) {
            *cell = words.to_owned();
        }
        row
    };
    let mut rows = Vec::new();
    for hole in words::change::holes(change) {
        rows.push(plain(words::change::OPEN, [&hole, "", ""]));
    }
    for (label, old, new) in [
        ("Revision", &change.revision.old, &change.revision.new),
        (
            "Fingerprint",
            &change.fingerprint.old,
            &change.fingerprint.new,
        ),
    ] {
        let mut row = plain("Revision", [label, "", ""]);
        row[4].clone_from(old);
        row[5].clone_from(new);
        rows.push(row);
    }
    rows.push(plain("Reason", [&change.reason, "", ""]));
    for item in &change.items {
        let name = format!("{} {}", item.kind.word(), item.name);
        let fate = item.fate_words();
        let mut title = plain("Layout", [name.trim_end(), &fate, ""]);
        title[4] = item.was.clone().unwrap_or_default();
        rows.push(title);
        for fact in &item.facts {
            let mut row = plain("Layout", [name.trim_end(), fact.label, ""]);
            row[4] = fact.old.clone().unwrap_or_default();
            row[5] = fact.new.clone().unwrap_or_default();
            rows.push(row);
        }
    }
    let quantity = |side: &Option<Side>| {
        let side = side.as_ref();
        side.map_or_else(String::new, |side| side.quantity.to_string())
    };
    let money = |side: &Option<Side>, of: fn(&Side) -> Option<Money>| {
        let money = side.as_ref().and_then(of);
        money.map_or_else(String::new, |money| money.plain())
    };
    let currency = change.currency.code();
    for part in &change.parts {
        let heading = words::change::heading(part.kind);
        for line in &part.lines {
            rows.push([
                heading.to_owned(),
                line.text.clone(),
                line.section.clone(),
                line.unit.clone(),
                quantity(&line.old),
                quantity(&line.new),
                line.more.to_string(),
                money(&line.old, |side| side.unit_price),
                money(&line.new, |side| side.unit_price),
                money(&line.old, |side| side.amount),
                money(&line.new, |side| side.amount),
                line.change.map_or_else(String::new, |sum| sum.plain()),
                currency.to_owned(),
            ]);
        }
        let mut sum = plain(heading, ["Sum of the changes", "", ""]);
        sum[11] = part.change.map_or_else(String::new, |sum| sum.plain());
        sum[12] = currency.to_owned();
        rows.push(sum);
    }
    for (text, step) in [("hours", change.hours), ("days on site", change.days)] {
        if let Some(step) = step {
            let mut row = plain("Time", [text, "", ""]);
            row[4] = step.old.to_string();
            row[5] = step.new.to_string();
            row[6] = step.change.to_string();
            rows.push(row);
        }
    }
    if let Some(worst) = words::change::worst(change) {
        rows.push(plain("Air", [&worst, "", ""]));
    }
    for (label, texts) in [
        ("New findings", &change.findings),
        ("Warnings", &change.warnings),
        ("Notes", &change.notes),
        ("Notices", &change.notices),
    ] {
        rows.extend(texts.iter().map(|text| plain(label, [text, "", ""])));
    }
    if let Some(totals) = &change.totals {
        for (text, step) in [
            ("Before tax", totals.before_tax),
            ("Tax", totals.tax),
            ("Total", totals.total),
        ] {
            let mut row = plain("Sums", [text, "", ""]);
            row[9] = step.old.plain();
            row[10] = step.new.plain();
            row[11] = step.change.plain();
            row[12] = currency.to_owned();
            rows.push(row);
        }
    }
    for row in rows {
        table.row(row.each_ref().map(String::as_str))?;
    }
    table.end()
}

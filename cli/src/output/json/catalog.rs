//! What the check of price lists says, for programs.

use super::{found, missing_prices, print};
use crate::output::CatalogPaper;
use bom::source::Source;
use serde_json::{Value, json};
use std::io::{self, Write};

/// The check of price lists, whose texts are `lists`.
///
/// # Errors
/// What the writer says.
pub fn catalog(paper: &CatalogPaper<'_>, lists: &[&Source], out: &mut dyn Write) -> io::Result<()> {
    let findings: Vec<Value> = paper
        .findings
        .iter()
        .filter_map(|(number, finding)| {
            let list = lists.get(*number)?;
            let mut value = found(finding, list);
            value["file"] = json!(list.name());
            Some(value)
        })
        .collect();
    let held: Vec<Value> = paper
        .held
        .iter()
        .map(|held| {
            json!({
                "file": held.file,
                "rows": held.rows,
                "priced": held.priced,
                "open": held.open,
                "unknown": held.unknown,
                "suppliers": held.suppliers,
            })
        })
        .collect();
    print(
        &json!({
            "date": paper.date.to_string(),
            "older_than_days": paper.older_than,
            "lists": held,
            "findings": findings,
            "missing": paper.missing.map(missing_prices),
        }),
        out,
    )
}

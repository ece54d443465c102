//! What each line of a quote is bought or done for.

use crate::estimate::{self, LABOUR};
use crate::labour;
use crate::offer::Inputs;
use bom::takeoff::Group;
use std::collections::BTreeMap;

/// The needs by heading and text of the line: the same need on both sides means that
/// only its price can differ.
pub(super) fn needs<'a>(inputs: &Inputs<'_>) -> BTreeMap<(&'a str, String), String> {
    let takeoff = inputs.takeoff;
    let mut needs: BTreeMap<_, String> = BTreeMap::new();
    let mut add = |section, text, need: &str| {
        let needs = needs.entry((section, text)).or_default();
        needs.push_str(need);
        needs.push(';');
    };
    for line in &takeoff.lines {
        let text = estimate::text(&line.key, &line.words);
        let need = format!("{} {}", line.quantity, line.unit);
        add(line.group.title(), text, &need);
    }
    for line in takeoff.pipe.iter().filter(|line| !line.ready) {
        let mut pieces: Vec<i64> = line.pieces.iter().map(|piece| piece.length.nm()).collect();
        pieces.sort_unstable();
        let text = estimate::text(&line.key, &line.words);
        let need = format!("{} {pieces:?}", line.ordered().nm());
        add(Group::Pipe.title(), text, &need);
    }
    let work = labour::labour(takeoff, inputs.summary.units, inputs.rates);
    let counted = work.iter().filter(|line| line.unit != "job");
    let whole: Vec<String> = counted
        .map(|line| format!("{} {}", line.text, line.amount()))
        .collect();
    for line in &work {
        // What is taken once, or on all hours, is the same where all work is.
        let need = match line.unit {
            "job" => whole.join(", "),
            _ => line.amount(),
        };
        add(LABOUR, line.text.clone(), &need);
    }
    needs
}

//! What is worth knowing of price lists beyond rows that cannot be read: old
//! prices, prices without a date, words that are none of ours.

use super::age::{Stale, plural, stale};
use super::parts::Parts;
use super::{Catalog, ListFacts, Offer, Sheet};
use bom::finding::{Finding, Severity, did_you_mean};
use bom::library::Part;
use bom::source::Source;
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

/// What the lists are held against.
#[derive(Debug)]
pub struct Asked<'a> {
    /// The parts that a row may name.
    pub parts: &'a [Part],
    /// The names of the pipe systems.
    pub systems: &'a [&'a str],
    /// The day of the check.
    pub date: Date,
    /// A price is old when it is older than so many days.
    pub older_than: u32,
}

/// What one list holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Held {
    /// The list's name.
    pub file: String,
    /// Its rows, headings and broken ones included.
    pub rows: usize,
    /// Rows with a price.
    pub priced: usize,
    /// Rows of parts whose price is still open.
    pub open: usize,
    /// Rows that name no part of ours.
    pub unknown: usize,
    /// Who sells.
    pub suppliers: BTreeSet<String>,
}

/// Unknown words that are listed of one list.
const MOST_WORDS: usize = 1_000;

/// What the lists hold, in their order.
#[must_use]
pub fn held(catalog: &Catalog, sheets: &[Sheet]) -> Vec<Held> {
    let lists = sheets.iter().zip(catalog.lists());
    let mut held: Vec<Held> = lists
        .map(|(sheet, facts)| Held {
            file: sheet.list().name().to_owned(),
            rows: facts.rows,
            priced: 0,
            open: 0,
            unknown: facts.unknown.len(),
            suppliers: BTreeSet::new(),
        })
        .collect();
    for offer in catalog.all() {
        let list = &mut held[offer.place.source];
        match offer.price {
            Some(_) => list.priced += 1,
            None => list.open += 1,
        }
        if !offer.supplier.is_empty() && !list.suppliers.contains(&offer.supplier) {
            list.suppliers.insert(offer.supplier.clone());
        }
    }
    held
}

/// Everything that is worth knowing, each with the number of its list.
#[must_use]
pub fn check(catalog: &Catalog, sheets: &[Sheet], asked: &Asked<'_>) -> Vec<(usize, Finding)> {
    let mut offers: Vec<Vec<&Offer>> = vec![Vec::new(); sheets.len()];
    for offer in catalog.all() {
        offers[offer.place.source].push(offer);
    }
    let mut findings = Vec::new();
    for (number, (sheet, facts)) in sheets.iter().zip(catalog.lists()).enumerate() {
        let list = List {
            source: sheet.list(),
            offers: &offers[number],
            facts,
            asked,
        };
        let found = [list.systems(), list.ages(), list.rounded(), list.unknown()];
        findings.extend(found.into_iter().flatten().map(|finding| (number, finding)));
    }
    findings
}

struct List<'a> {
    source: &'a Source,
    offers: &'a [&'a Offer],
    facts: &'a ListFacts,
    asked: &'a Asked<'a>,
}

impl List<'_> {
    /// A warning at the first of some lines; their numbers follow the message.
    fn warning(
        &self,
        rule: &'static str,
        at: &mut [usize],
        message: &str,
        help: String,
    ) -> Finding {
        at.sort_unstable();
        let span = self.source.line_span(at.first().copied().unwrap_or(1));
        Finding::warning(rule, span, format!("{message} ({})", lines(at)), help)
    }

    fn note(&self, rule: &'static str, at: &mut [usize], message: &str, help: String) -> Finding {
        let mut note = self.warning(rule, at, message, help);
        note.severity = Severity::Note;
        note
    }

    /// Systems of which nobody has heard: their rows price nothing.
    fn systems(&self) -> Vec<Finding> {
        let known = self.asked.systems;
        let mut strange: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
        for offer in self.offers {
            let system = offer.key.system.as_str();
            if !system.is_empty() && !known.contains(&system) {
                strange.entry(system).or_default().push(offer.place.line);
            }
        }
        let told = strange.iter_mut().map(|(system, at)| {
            let help = did_you_mean(system, known.iter().copied()).map_or_else(
                || {
                    format!(
                        "the pipe systems are {}; add one of your own with --system-file",
                        known.join(", ")
                    )
                },
                |near| format!("did you mean `{near}`?"),
            );
            let message = format!("there is no pipe system `{system}`");
            self.warning("catalog-no-such-system", at, &message, help)
        });
        told.collect()
    }

    /// Prices by their day: too old, not yet, or on none.
    fn ages(&self) -> Vec<Finding> {
        let mut by_day: BTreeMap<Option<Date>, Vec<usize>> = BTreeMap::new();
        for offer in self.offers.iter().filter(|offer| offer.price.is_some()) {
            by_day
                .entry(offer.priced_on)
                .or_default()
                .push(offer.place.line);
        }
        let mut findings = Vec::new();
        for (day, at) in &mut by_day {
            let prices = plural(at.len(), "price");
            let Some(day) = day else {
                let message = format!("{prices} without a date");
                let help = "write under `priced_on` when the supplier said it".to_owned();
                findings.push(self.warning("catalog-undated", at, &message, help));
                continue;
            };
            let (rule, help, message) = match stale(
                at.len(),
                *day,
                self.asked.date,
                self.asked.older_than,
            ) {
                None => continue,
                Some((Stale::Future, message)) => (
                    "catalog-future",
                    "check the date, or say the day of the check with --date",
                    message,
                ),
                Some((Stale::Old, message)) => (
                    "catalog-old",
                    "ask the supplier again (`dripleg catalog blank`), or take a longer --older-than",
                    message,
                ),
            };
            findings.push(self.warning(rule, at, &message, help.to_owned()));
        }
        findings
    }

    fn rounded(&self) -> Vec<Finding> {
        if self.facts.rounded.is_empty() {
            return Vec::new();
        }
        let mut at = self.facts.rounded.clone();
        let message = format!(
            "{} for one piece or stick, finer than the smallest coin and rounded to it",
            plural(at.len(), "price")
        );
        let help = "half a coin goes up; nothing to do unless you buy a great many".to_owned();
        vec![self.note("catalog-rounded", &mut at, &message, help)]
    }

    /// Words that are none of ours: those that may be mistyped or may be given
    /// a meaning, and the rest.
    fn unknown(&self) -> Vec<Finding> {
        let mut words: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
        for unknown in &self.facts.unknown {
            words
                .entry(&unknown.written)
                .or_default()
                .push(unknown.line);
        }
        let parts = Parts::new(self.asked.parts);
        let mut findings = Vec::new();
        let mut others: Vec<&str> = Vec::new();
        let mut other_lines = Vec::new();
        let count = words.len();
        for (word, at) in words.iter_mut().take(MOST_WORDS) {
            match parts.near(word) {
                Some(near) => {
                    let help = format!(
                        "did you mean `{near}`? then add \"{word}\" = \"{near}\" to the mapping's words for `part`"
                    );
                    let message = format!("`{word}` is not a part");
                    findings.push(self.warning("catalog-unknown", at, &message, help));
                }
                None => {
                    others.push(word);
                    other_lines.extend_from_slice(at);
                }
            }
        }
        if !others.is_empty() {
            const SHOWN: usize = 12;
            let shown: Vec<String> = others
                .iter()
                .take(SHOWN)
                .map(|word| format!("`{word}`"))
                .collect();
            let more = count.saturating_sub(findings.len() + shown.len());
            let more = if more > 0 {
                format!(" and {more} more")
            } else {
                String::new()
            };
            let message = format!("no parts of ours: {}{more}", shown.join(", "));
            let help =
                "give a word a meaning in the mapping if one of them is a part of a job".to_owned();
            findings.push(self.note("catalog-unknown", &mut other_lines, &message, help));
        }
        findings
    }
}

/// `lines 2 to 9, 12 and 40`, and how many more; the numbers are sorted.
fn lines(at: &[usize]) -> String {
    const MOST: usize = 6;
    let mut stretches: Vec<(usize, usize)> = Vec::new();
    for line in at {
        match stretches.last_mut() {
            Some((_, last)) if *line <= *last + 1 => *last = *line,
            _ => stretches.push((*line, *line)),
        }
    }
    let said = |(first, last): &(usize, usize)| match last - first {
        0 => first.to_string(),
        1 => format!("{first}, {last}"),
        _ => format!("{first} to {last}"),
    };
    let shown: Vec<String> = stretches.iter().take(MOST).map(said).collect();
    let word = if at.len() == 1 { "line" } else { "lines" };
    let more = if stretches.len() > MOST {
        " and more"
    } else {
        ""
    };
    format!("{word} {}{more}", shown.join(", "))
}

#[cfg(test)]
mod tests {
    use super::lines;

    #[test]
    fn lines_are_said_in_stretches() {
        for (at, said) in [
            (&[4][..], "line 4"),
            (&[2, 3], "lines 2, 3"),
            (&[2, 3, 4, 9], "lines 2 to 4, 9"),
            (&[1, 3, 5, 7, 9, 11, 13], "lines 1, 3, 5, 7, 9, 11 and more"),
        ] {
            assert_eq!(lines(at), said);
        }
    }
}

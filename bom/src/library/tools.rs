//! What tools take: the shipped list of typical figures, and the user's own.

use super::Library;
use crate::finding::{Finding, did_you_mean};
use crate::job::{Hose, read_share};
use crate::quantity::{AirFlow, Pressure, QuantityError, Units};
use crate::source::{Source, Span};
use csv::StringRecord;

/// A row of a list of tools. Flows are free air at sea level.
#[derive(Debug, Clone, PartialEq)]
pub struct ToolKind {
    /// Its name in job files: `orbital sander`.
    pub name: String,
    /// What else it is called.
    pub also: Vec<String>,
    /// The shops that have it: `auto`, `body`, `wood`, `fab`, `factory`, `all`.
    pub classes: Vec<String>,
    /// What catalogues give as its average. A share of time is in it already,
    /// so that nothing is worked out from it.
    pub average: Option<AirFlow>,
    /// What it takes while it runs.
    pub air: AirFlow,
    /// The share of time in which it runs, from 0 to 1.
    pub share: f64,
    /// The least pressure at which it works.
    pub least: Pressure,
    /// The pressure at which it works best.
    pub best: Pressure,
    /// The hose that it usually has.
    pub hose: Option<Hose>,
    /// Whether it runs only in somebody's hand.
    pub by_hand: bool,
    /// Who says so.
    pub source: String,
}

impl ToolKind {
    /// Whether the tool goes by this name, hyphens and capitals aside.
    fn is_called(&self, name: &str) -> bool {
        let name = plain(name);
        let mut names = std::iter::once(&self.name).chain(&self.also);
        names.any(|known| plain(known) == name)
    }
}

fn plain(name: &str) -> String {
    let name = name.to_lowercase().replace('-', " ");
    name.split_whitespace().collect::<Vec<_>>().join(" ")
}

impl Library {
    /// The tools that are known, the user's own last.
    #[must_use]
    pub fn tools(&self) -> &[ToolKind] {
        &self.tools
    }

    /// The index of the tool that goes by a name; an own one comes first.
    #[must_use]
    pub fn tool_called(&self, name: &str) -> Option<usize> {
        self.tools.iter().rposition(|kind| kind.is_called(name))
    }

    /// The same data with the user's own tools. One of a shipped name takes
    /// its place.
    ///
    /// # Errors
    /// Everything that is wrong with the lists, each with the index of its
    /// file.
    pub fn with_tools(mut self, sources: &[Source]) -> Result<Self, Vec<(usize, Finding)>> {
        let mut wrong = Vec::new();
        for (index, source) in sources.iter().enumerate() {
            match read(source) {
                Ok(own) => {
                    self.tools
                        .retain(|kind| !own.iter().any(|own| own.is_called(&kind.name)));
                    self.tools.extend(own);
                }
                Err(findings) => {
                    wrong.extend(findings.into_iter().map(|finding| (index, finding)));
                }
            }
        }
        if wrong.is_empty() {
            Ok(self)
        } else {
            Err(wrong)
        }
    }
}

const CLASSES: [&str; 6] = ["auto", "body", "wood", "fab", "factory", "all"];
const COLUMNS: [&str; 11] = [
    "tool", "also", "class", "average", "air", "share", "least", "best", "hose", "by_hand",
    "source",
];
const NEEDED: [&str; 6] = ["tool", "air", "share", "least", "best", "source"];

/// Reads a list of tools, whose cells name their units as job files do.
pub(super) fn read(source: &Source) -> Result<Vec<ToolKind>, Vec<Finding>> {
    let mut records = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .from_reader(source.text().as_bytes())
        .into_records()
        .map_while(Result::ok)
        .filter(|record| !record.iter().all(|cell| cell.trim().is_empty()));
    let head = records.next().unwrap_or_default();
    let columns: Vec<String> = head.iter().map(|cell| cell.trim().to_lowercase()).collect();
    let mut findings = wrong_columns(&columns, source.line_span(1));
    if !findings.is_empty() {
        return Err(findings);
    }
    let mut kinds: Vec<ToolKind> = Vec::new();
    for record in records {
        let mut row = Row {
            columns: &columns,
            span: place(&record, source),
            record: &record,
            findings: &mut findings,
        };
        let Some(kind) = row.kind() else { continue };
        let names = std::iter::once(&kind.name).chain(&kind.also);
        let taken = names.filter(|name| kinds.iter().any(|known| known.is_called(name)));
        for name in taken {
            row.wrong(
                format!("`{name}` stands in a row above already"),
                "give each tool one row, and each name to one tool",
            );
        }
        kinds.push(kind);
    }
    if findings.is_empty() {
        Ok(kinds)
    } else {
        Err(findings)
    }
}

fn wrong_columns(columns: &[String], span: Span) -> Vec<Finding> {
    let wrong =
        |message: String, help: String| Finding::unreadable("tool-list", span, message, help);
    let list = || format!("the columns are {}", COLUMNS.join(", "));
    let unknown = columns
        .iter()
        .filter(|name| !COLUMNS.contains(&name.as_str()));
    let unknown = unknown.map(|name| {
        let help = did_you_mean(name, COLUMNS)
            .map_or_else(list, |near| format!("did you mean `{near}`? {}", list()));
        wrong(format!("`{name}` is not a column of a list of tools"), help)
    });
    let missing = NEEDED
        .iter()
        .filter(|name| !columns.iter().any(|known| known == *name));
    let missing = missing.map(|name| {
        wrong(
            format!("the column `{name}` is missing"),
            format!("begin with a line that names the columns; {}", list()),
        )
    });
    unknown.chain(missing).collect()
}

/// The line on which a record begins; blank lines before it are counted in its
/// own position.
fn place(record: &StringRecord, source: &Source) -> Span {
    let start = record.position().map_or(0, csv::Position::byte);
    let rest = usize::try_from(start)
        .ok()
        .and_then(|start| source.text().get(start..))
        .unwrap_or_default();
    let row = rest.trim_start_matches(['\r', '\n']);
    source.line_span(source.line(source.text().len() - row.len()))
}

/// A row that is being read.
struct Row<'a> {
    columns: &'a [String],
    record: &'a StringRecord,
    span: Span,
    findings: &'a mut Vec<Finding>,
}

impl Row<'_> {
    fn cell(&self, column: &str) -> &str {
        let at = self.columns.iter().position(|name| name == column);
        let cell = at.and_then(|at| self.record.get(at));
        cell.map_or("", str::trim)
    }

    fn wrong(&mut self, message: impl Into<String>, help: impl Into<String>) {
        let finding = Finding::unreadable("tool-list", self.span, message, help);
        self.findings.push(finding);
    }

    /// A cell's quantity, or what is wrong with it. An empty cell has none.
    fn quantity<T>(
        &mut self,
        column: &str,
        parse: impl FnOnce(&str) -> Result<T, QuantityError>,
    ) -> Option<T> {
        match self.cell(column) {
            "" => {
                if NEEDED.contains(&column) {
                    self.wrong(format!("`{column}` is empty"), "fill it in");
                }
                None
            }
            text => match parse(text) {
                Ok(value) => Some(value),
                Err(error) => {
                    self.wrong(format!("{column}: {}", error.message), error.help);
                    None
                }
            },
        }
    }

    fn kind(&mut self) -> Option<ToolKind> {
        let text = |text: &str| Ok(text.to_owned());
        let name = self.quantity("tool", text);
        let source = self.quantity("source", text);
        let air = self.quantity("air", AirFlow::parse);
        let average = self.quantity("average", AirFlow::parse);
        let share = self.quantity("share", read_share);
        let least = self.quantity("least", Pressure::parse);
        let best = self.quantity("best", Pressure::parse);
        let hose = self.quantity("hose", |text| Hose::parse(text, Units::Feet));
        let by_hand = self.quantity("by_hand", |text| match text {
            "yes" => Ok(true),
            "no" => Ok(false),
            other => Err(QuantityError::new(
                format!("`{other}` is neither yes nor no"),
                "write yes where the tool runs only in somebody's hand, else no",
            )),
        });
        let also = self.cell("also").split('|').map(str::trim);
        let also = also
            .filter(|name| !name.is_empty())
            .map(str::to_owned)
            .collect();
        let classes: Vec<String> = self
            .cell("class")
            .split_whitespace()
            .map(str::to_owned)
            .collect();
        for class in classes
            .iter()
            .filter(|class| !CLASSES.contains(&class.as_str()))
        {
            let help = format!("known are {}, with blanks between them", CLASSES.join(", "));
            self.wrong(format!("there is no class `{class}`"), help);
        }
        if let (Some(least), Some(best)) = (least, best)
            && least > best
        {
            self.wrong(
                "the least pressure is above the best",
                "write under `least` where the tool begins to work, and under `best` where it works best",
            );
        }
        if let (Some(average), Some(air)) = (average, air)
            && average > air
        {
            self.wrong(
                "the average is above what it takes while it runs",
                "`average` has the share of time in it, and `air` has not",
            );
        }
        Some(ToolKind {
            name: name?,
            also,
            classes,
            average,
            air: air?,
            share: share?,
            least: least?,
            best: best?,
            hose,
            by_hand: by_hand.unwrap_or(false),
            source: source?,
        })
    }
}

#[cfg(test)]
mod tests;

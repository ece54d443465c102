//! Findings for the terminal.

use crate::output::words;
use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet, Title};
use bom::finding::{Finding, Severity};
use bom::source::{Source, Span};
use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::io::{self, Write};
use std::ops::Range;

/// More findings than these are counted and not printed.
const MOST: usize = 30;

/// Prints findings with their place, their reason and their cure.
pub(crate) fn print(findings: &[Finding], source: &Source, err: &mut dyn Write) -> io::Result<()> {
    for finding in findings.iter().take(MOST) {
        writeln!(err, "{}\n", render(finding, source))?;
    }
    if let Some(more) = findings.len().checked_sub(MOST).filter(|more| *more > 0) {
        writeln!(err, "{}: {more} more, not shown\n", source.name())?;
    }
    Ok(())
}

/// Prints findings table by table of the file: the table with the worst one
/// first, and what the job accepts last. A place is shown once.
pub(crate) fn print_by_place(
    findings: &[Finding],
    source: &Source,
    out: &mut dyn Write,
) -> io::Result<()> {
    let sorted = by_place(findings, source);
    let mut shown: Option<Span> = None;
    for finding in sorted.iter().take(MOST) {
        let text = match shown {
            Some(place) if place == finding.place() && finding.labels.len() == 1 => {
                Renderer::styled().render(&[
                    title(finding).element(
                        Origin::path(source.name())
                            .line(source.line(place.start))
                            .char_column(source.column(place.start)),
                    ),
                    cure(finding),
                ])
            }
            _ => render(finding, source),
        };
        shown = Some(finding.place());
        writeln!(out, "{text}\n")?;
    }
    if let Some(more) = sorted.len().checked_sub(MOST).filter(|more| *more > 0) {
        writeln!(out, "{}: {more} more, not shown\n", source.name())?;
    }
    Ok(())
}

fn by_place<'a>(findings: &'a [Finding], source: &Source) -> Vec<&'a Finding> {
    let table = |finding: &Finding| source.heading(finding.place().start);
    let mut worst: BTreeMap<usize, Reverse<u8>> = BTreeMap::new();
    for finding in findings {
        let rank = Reverse(rank(finding));
        let of_table = worst.entry(table(finding)).or_insert(rank);
        *of_table = rank.min(*of_table);
    }
    let mut sorted: Vec<&Finding> = findings.iter().collect();
    sorted.sort_by_key(|finding| {
        let table = table(finding);
        let rank = rank(finding);
        let last = rank == 0;
        (last, worst[&table], table, Reverse(rank), finding.place())
    });
    sorted
}

/// How much a finding weighs here: what stops the job, either way, most.
fn rank(finding: &Finding) -> u8 {
    match finding.severity {
        _ if finding.accepted.is_some() => 0,
        Severity::Note => 1,
        Severity::Warning => 2,
        Severity::Error | Severity::Unreadable => 3,
    }
}

/// How many findings of each weight there are: `3 warnings, 1 note; 1 accepted`.
pub(crate) fn in_one_line(findings: &[Finding]) -> String {
    let count = |wanted| findings.iter().filter(|one| rank(one) == wanted).count();
    let open: Vec<String> = [(3, "error"), (2, "warning"), (1, "note")]
        .into_iter()
        .filter(|(wanted, _)| count(*wanted) > 0)
        .map(|(wanted, word)| words::count(count(wanted), word))
        .collect();
    let open = match open.is_empty() {
        true => "nothing found".to_owned(),
        false => open.join(", "),
    };
    match count(0) {
        0 => open,
        accepted => format!("{open}; {accepted} accepted"),
    }
}

fn title(finding: &Finding) -> Title<'_> {
    let level = match finding.severity {
        _ if finding.accepted.is_some() => Level::NOTE.with_name("accepted"),
        Severity::Note => Level::NOTE,
        Severity::Warning => Level::WARNING,
        Severity::Error | Severity::Unreadable => Level::ERROR,
    };
    level
        .primary_title(finding.message.clone())
        .id(finding.rule)
}

/// What to do, or why the user does not.
fn cure(finding: &Finding) -> Group<'_> {
    Group::with_title(match &finding.accepted {
        Some(reason) => Level::HELP
            .with_name("reason")
            .secondary_title(reason.clone()),
        None => Level::HELP.secondary_title(finding.help.clone()),
    })
}

fn render(finding: &Finding, source: &Source) -> String {
    let spans: Vec<Range<usize>> = finding
        .labels
        .iter()
        .map(|label| visible(label.span, source))
        .collect();
    // Only the lines from the first place to the last are looked at: a price
    // list may have half a million.
    let first = spans.iter().map(|span| source.line(span.start)).min();
    let last = spans.iter().map(|span| source.line(span.end)).max();
    let (first, last) = (first.unwrap_or(1), last.unwrap_or(1));
    let from = source.line_span(first).start;
    let text = &source.text()[from..source.line_span(last).end];
    let mut snippet = Snippet::source(text).path(source.name()).line_start(first);
    for (index, (label, span)) in finding.labels.iter().zip(spans).enumerate() {
        let kind = if index == 0 {
            AnnotationKind::Primary
        } else {
            AnnotationKind::Context
        };
        let annotation = kind.span(span.start - from..span.end - from);
        snippet = snippet.annotation(if label.text.is_empty() {
            annotation
        } else {
            annotation.label(label.text.clone())
        });
    }
    Renderer::styled().render(&[title(finding).element(snippet), cure(finding)])
}

/// Keeps a span inside the text and on its first line, so that a whole table
/// is not underlined.
fn visible(span: Span, source: &Source) -> Range<usize> {
    let text = source.text();
    let start = (0..=span.start.min(text.len()))
        .rev()
        .find(|at| text.is_char_boundary(*at))
        .unwrap_or(0);
    let line_end = source.line_span(source.line(start)).end;
    let end = span.end.clamp(start, line_end.max(start));
    start..end
}

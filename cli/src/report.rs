//! Findings for the terminal.

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use bom::finding::{Finding, Severity};
use bom::source::{Source, Span};
use std::io::{self, Write};

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

fn render(finding: &Finding, source: &Source) -> String {
    let level = match finding.severity {
        Severity::Note => Level::NOTE,
        Severity::Warning => Level::WARNING,
        Severity::Error | Severity::Unreadable => Level::ERROR,
    };
    let mut snippet = Snippet::source(source.text()).path(source.name());
    for (index, label) in finding.labels.iter().enumerate() {
        let kind = if index == 0 {
            AnnotationKind::Primary
        } else {
            AnnotationKind::Context
        };
        let annotation = kind.span(visible(label.span, source));
        snippet = snippet.annotation(if label.text.is_empty() {
            annotation
        } else {
            annotation.label(label.text.clone())
        });
    }
    let group = level
        .primary_title(finding.message.clone())
        .id(finding.rule)
        .element(snippet);
    let help = Group::with_title(Level::HELP.secondary_title(finding.help.clone()));
    Renderer::styled().render(&[group, help])
}

/// Keeps a span inside the text and on its first line, so that a whole table
/// is not underlined.
fn visible(span: Span, source: &Source) -> std::ops::Range<usize> {
    let text = source.text();
    let start = (0..=span.start.min(text.len()))
        .rev()
        .find(|at| text.is_char_boundary(*at))
        .unwrap_or(0);
    let line_end = source.line_span(source.line(start)).end;
    let end = span.end.clamp(start, line_end.max(start));
    start..end
}

//! Broken TOML, told once for each broken place.

use crate::finding::Finding;
use crate::source::{Source, Span};

/// The reader's errors as findings.
pub(crate) fn findings(source: &Source, errors: &[toml::de::Error]) -> Vec<Finding> {
    let places: Vec<(Span, &toml::de::Error)> = errors
        .iter()
        .map(|error| (error.span().map_or_else(Span::default, Span::from), error))
        .collect();
    // A table that stands twice makes an error of each of its keys too.
    let doubled: Vec<usize> = places
        .iter()
        .filter(|(span, _)| source.heading(span.start) == source.line(span.start))
        .map(|(span, _)| source.line(span.start))
        .collect();
    places
        .into_iter()
        .filter(|(span, error)| {
            let (line, header) = (source.line(span.start), source.heading(span.start));
            line == header || !is_duplicate(error) || !doubled.contains(&header)
        })
        .map(|(span, error)| finding(source, span, error))
        .collect()
}

fn finding(source: &Source, span: Span, error: &toml::de::Error) -> Finding {
    if is_duplicate(error) {
        let name = source.text().get(span.start..span.end).unwrap_or_default();
        return Finding::unreadable(
            "written-twice",
            span,
            format!("`{name}` is written twice"),
            "keep one of them",
        );
    }
    Finding::unreadable(
        "syntax",
        span,
        format!("the file's form is broken here: {}", error.message()),
        "each line is `key = \"value\"` or a [table] heading; lists stand in [ ], text in quotes",
    )
}

fn is_duplicate(error: &toml::de::Error) -> bool {
    error.message().contains("duplicate key")
}

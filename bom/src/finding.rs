//! What is wrong or worth knowing, where, why, and how to mend it. Findings
//! are values; printing them is the caller's business.

use crate::source::Span;

/// How much a finding weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Worth knowing; the job goes on.
    Note,
    /// Probably not meant; the job goes on.
    Warning,
    /// The layout cannot be built as written; the job stops (exit code 1).
    Error,
    /// The file could not be read or understood; the job stops (exit code 2).
    Unreadable,
}

/// One finding.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// What was found, as a stable name: `mark-past-end`.
    pub rule: &'static str,
    /// How much it weighs.
    pub severity: Severity,
    /// What is wrong, in one sentence.
    pub message: String,
    /// The places; the first is where the caret goes.
    pub labels: Vec<Label>,
    /// How to mend it.
    pub help: String,
    /// Why the user takes it as it is; none if nobody has said so.
    pub accepted: Option<String>,
}

/// A place that a finding points at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// Where.
    pub span: Span,
    /// What is there; may be empty.
    pub text: String,
}

impl Finding {
    /// A finding that means the text could not be understood.
    #[must_use]
    pub fn unreadable(
        rule: &'static str,
        span: Span,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Self {
        Self::new(rule, Severity::Unreadable, span, message, help)
    }

    /// A finding that means the layout cannot be built as written.
    #[must_use]
    pub fn error(
        rule: &'static str,
        span: Span,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Self {
        Self::new(rule, Severity::Error, span, message, help)
    }

    /// A finding with which the job goes on.
    #[must_use]
    pub fn warning(
        rule: &'static str,
        span: Span,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Self {
        Self::new(rule, Severity::Warning, span, message, help)
    }

    /// A finding of any weight.
    pub(crate) fn new(
        rule: &'static str,
        severity: Severity,
        span: Span,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Self {
        Self {
            rule,
            severity,
            message: message.into(),
            labels: vec![Label {
                span,
                text: String::new(),
            }],
            help: help.into(),
            accepted: None,
        }
    }

    /// The same finding with words at its caret.
    #[must_use]
    pub fn here(mut self, text: impl Into<String>) -> Self {
        if let Some(first) = self.labels.first_mut() {
            first.text = text.into();
        }
        self
    }

    /// The same finding pointing at one more place.
    #[must_use]
    pub fn related(mut self, span: Span, text: impl Into<String>) -> Self {
        self.labels.push(Label {
            span,
            text: text.into(),
        });
        self
    }

    /// Whether it stops the job.
    #[must_use]
    pub fn stops(&self) -> bool {
        self.accepted.is_none() && self.severity >= Severity::Error
    }

    /// Where the caret goes.
    #[must_use]
    pub fn place(&self) -> Span {
        self.labels
            .first()
            .map_or_else(Span::default, |label| label.span)
    }
}

/// Whether any finding stops the job.
#[must_use]
pub fn stops(findings: &[Finding]) -> bool {
    findings.iter().any(Finding::stops)
}

/// The known name nearest to a mistyped one, if one is near enough to offer:
/// at most a third of the letters wrong.
#[must_use]
pub fn did_you_mean<'a>(
    written: &str,
    known: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    let written = written.to_lowercase();
    known
        .into_iter()
        .map(|name| {
            (
                strsim::damerau_levenshtein(&written, &name.to_lowercase()),
                name,
            )
        })
        .filter(|(distance, name)| *distance * 3 <= name.chars().count().max(3))
        .min()
        .map(|(_, name)| name)
}

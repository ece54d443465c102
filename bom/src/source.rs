//! Text that the user wrote, and places in it.

use std::ops::Range;

/// A file's text under the name that messages give it.
#[derive(Debug, Clone)]
pub struct Source {
    name: String,
    text: String,
    line_starts: Vec<usize>,
}

impl Source {
    /// Takes over a file's text.
    #[must_use]
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Self {
        let text = text.into();
        let mut line_starts = vec![0];
        line_starts.extend(text.match_indices('\n').map(|(at, _)| at + 1));
        Self {
            name: name.into(),
            text,
            line_starts,
        }
    }

    /// The name in messages.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The whole text.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The line of a byte offset, from 1.
    #[must_use]
    pub fn line(&self, offset: usize) -> usize {
        self.line_starts
            .partition_point(|start| *start <= offset)
            .max(1)
    }

    /// The column of a byte offset in characters, from 1.
    #[must_use]
    pub fn column(&self, offset: usize) -> usize {
        let start = self.line_starts[self.line(offset) - 1];
        self.text
            .get(start..offset)
            .map_or(1, |before| before.chars().count() + 1)
    }

    /// The line of the table heading above a byte offset, or on its line; 0 if
    /// there is none.
    #[must_use]
    pub fn heading(&self, offset: usize) -> usize {
        (1..=self.line(offset))
            .rev()
            .find(|line| {
                let span = self.line_span(*line);
                self.text[span.start..span.end]
                    .trim_start()
                    .starts_with('[')
            })
            .unwrap_or(0)
    }

    /// The span of a whole line (from 1), without its line end.
    #[must_use]
    pub fn line_span(&self, line: usize) -> Span {
        let start = self
            .line_starts
            .get(line.saturating_sub(1))
            .copied()
            .unwrap_or(self.text.len());
        let rest = &self.text[start..];
        let end = rest.find(['\n', '\r']).unwrap_or(rest.len());
        Span {
            start,
            end: start + end,
        }
    }
}

/// A stretch of a source in bytes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Span {
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl From<Range<usize>> for Span {
    fn from(range: Range<usize>) -> Self {
        Self {
            start: range.start,
            end: range.end,
        }
    }
}

/// A value and where the user wrote it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spanned<T> {
    /// The value.
    pub value: T,
    /// Its place.
    pub span: Span,
}

impl<T> Spanned<T> {
    /// A value at a place.
    pub const fn new(value: T, span: Span) -> Self {
        Self { value, span }
    }

    /// The same place with another value.
    pub fn map<U>(self, f: impl FnOnce(T) -> U) -> Spanned<U> {
        Spanned {
            value: f(self.value),
            span: self.span,
        }
    }
}

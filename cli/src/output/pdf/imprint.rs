//! What every paper says of itself: over it, on every sheet and in the file.

use super::Paper;
use super::blocks;
use super::file::{self, About};
use super::fonts::Fonts;
use super::page::Sheets;
use super::running::{Finished, Running};
use super::words::{joined, marks};
use jiff::civil::Date;
use std::collections::BTreeSet;
use std::io::{self, Write};

/// What a paper is.
#[derive(Debug)]
pub(super) struct Imprint<'a> {
    /// `Quote`.
    pub(super) kind: &'static str,
    /// The job.
    pub(super) title: &'a str,
    pub(super) revision: &'a str,
    pub(super) fingerprint: &'a str,
    pub(super) date: Date,
    /// Whose paper it is, as the file says; empty for one's own.
    pub(super) author: &'a str,
    /// At the foot, left.
    pub(super) foot: &'a str,
    /// In the middle of every foot.
    pub(super) warning: Option<&'static str>,
}

impl Imprint<'_> {
    /// Draws the paper, writes it, and gives back the characters that its fonts lack,
    /// which are printed as `?`.
    pub(super) fn write(
        &self,
        paper: Paper,
        out: &mut dyn Write,
        draw: impl FnOnce(&mut Sheets),
    ) -> io::Result<BTreeSet<char>> {
        let fonts = Fonts::load()?;
        let Finished {
            pages,
            outline,
            lacking,
        } = self.finished(&fonts, paper, draw);
        let about = About {
            title: &self.whole_title(),
            author: self.author,
            date: self.date,
        };
        file::write(pages, &outline, fonts.into_map(), &about, out)?;
        Ok(lacking)
    }

    /// The drawn pages.
    pub(super) fn finished(
        &self,
        fonts: &Fonts,
        paper: Paper,
        draw: impl FnOnce(&mut Sheets),
    ) -> Finished {
        let mut sheets = Sheets::new(fonts, paper);
        draw(&mut sheets);
        sheets.finish(&Running {
            title: self.whole_title(),
            marks: marks(fonts, self.revision, self.fingerprint, self.date),
            foot: self.foot.to_owned(),
            warning: self.warning,
        })
    }

    /// The word for the paper, and the job beside it.
    pub(super) fn name(&self, sheets: &mut Sheets) {
        blocks::name(sheets, self.kind, self.title);
    }

    fn whole_title(&self) -> String {
        joined(&[self.kind, self.title.trim()], ": ")
    }
}

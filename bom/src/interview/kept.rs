//! An unfinished interview as text: a line for each answer, as it was typed.

use super::{Interview, Reply, topics};
use crate::library::Library;
use std::fmt::Write as _;

impl<'a> Interview<'a> {
    /// What goes into the file of an unfinished interview; `again` is the command
    /// that goes on with it.
    #[must_use]
    pub fn kept(&self, again: &str) -> String {
        let mut text =
            format!("# The answers so far: `{again}` goes on from here, and removes this file.\n");
        for said in &self.said {
            let _ = writeln!(text, "{}: {}", said.to, said.line);
        }
        text
    }

    /// The interview that was kept, as far as its answers still fit the questions; and
    /// the first line that does not.
    #[must_use]
    pub fn resumed(library: &'a Library, kept: &str) -> (Self, Option<String>) {
        let mut interview = Self::new(library);
        let lines = kept.lines().map(str::trim);
        let lines = lines.filter(|line| !line.is_empty() && !line.starts_with('#'));
        for kept in lines {
            let (to, line) = kept.split_once(':').unwrap_or((kept, ""));
            let mut answers = interview.answers();
            let asked = topics::next(&answers, library).filter(|asked| asked.name == to.trim());
            let taken = asked.is_some_and(|asked| {
                let Reply { told, .. } = interview.heard(asked, &mut answers, line.trim());
                told.is_empty()
            });
            if !taken {
                return (interview, Some(kept.to_owned()));
            }
        }
        (interview, None)
    }
}

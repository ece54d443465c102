//! What becomes of a part of the job: it is built, it stands, it comes out, it
//! comes later.

use super::fields::{Fields, one_of};
use super::read::Reader;
use crate::source::Spanned;

/// What becomes of a thing in the job.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum State {
    /// It stands and stays.
    Existing,
    /// It stands and is taken out.
    Remove,
    /// It is built.
    #[default]
    New,
    /// Its place is made ready, and nothing more.
    Later,
}

impl State {
    /// The word of the job file.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Existing => "existing",
            Self::Remove => "remove",
            Self::New => "new",
            Self::Later => "later",
        }
    }

    /// What a table says, or new.
    #[must_use]
    pub fn of(said: Option<Spanned<Self>>) -> Self {
        said.map(|said| said.value).unwrap_or_default()
    }
}

/// All of them.
pub(super) const ANY: [State; 4] = [State::New, State::Existing, State::Remove, State::Later];
/// What stands in a pipe goes and comes with its pipe.
pub(super) const STANDS: [State; 2] = [State::New, State::Existing];

/// Reads `state`, one of these.
pub(super) fn read(
    fields: &Fields<'_>,
    of: &[State],
    r: &mut Reader<'_>,
) -> Option<Spanned<State>> {
    let text = fields.text("state", &mut r.findings)?;
    let words: Vec<(&str, State)> = of.iter().map(|state| (state.word(), *state)).collect();
    one_of("state", text, &words, &mut r.findings)
}

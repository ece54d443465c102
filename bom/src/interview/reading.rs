//! Pieces of answers.

use crate::quantity::{Length, Size, Units};

/// A length as somebody gave it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Taped {
    /// Read off a tape.
    Measured(Length),
    /// Paced, or taken for now.
    Paced(Length),
    /// Not known.
    Open,
}

impl Taped {
    /// Reads `12-6`, `~36-0` or `?`.
    pub(super) fn read(text: &str, units: Units) -> Result<Self, String> {
        let text = text.trim();
        if text == "?" {
            return Ok(Self::Open);
        }
        let (paced, figure) = match text.strip_prefix('~') {
            Some(figure) => (true, figure),
            None => (false, text),
        };
        let length = Length::parse(figure, units).map_err(|error| spoken(&error.to_string()))?;
        Ok(match paced {
            true => Self::Paced(length),
            false => Self::Measured(length),
        })
    }

    /// The length, if there is one.
    #[must_use]
    pub const fn length(self) -> Option<Length> {
        match self {
            Self::Measured(length) | Self::Paced(length) => Some(length),
            Self::Open => None,
        }
    }

    /// What follows from it, as sure as it is.
    #[must_use]
    pub fn map(self, of: impl FnOnce(Length) -> Length) -> Self {
        match self {
            Self::Measured(length) => Self::Measured(of(length)),
            Self::Paced(length) => Self::Paced(of(length)),
            Self::Open => Self::Open,
        }
    }

    /// What follows from two, as sure as the less sure of them.
    #[must_use]
    pub fn with(self, other: Self, of: impl FnOnce(Length, Length) -> Length) -> Self {
        match (self, other) {
            (Self::Open, _) | (_, Self::Open) => Self::Open,
            (Self::Measured(one), Self::Measured(two)) => Self::Measured(of(one, two)),
            (Self::Measured(one) | Self::Paced(one), Self::Measured(two) | Self::Paced(two)) => {
                Self::Paced(of(one, two))
            }
        }
    }

    /// Refuses what is out of a range.
    pub(super) fn within(
        self,
        (least, most): (Length, Length),
        what: &str,
        units: Units,
    ) -> Result<Self, String> {
        match self.length() {
            Some(length) if length < least || length > most => Err(format!(
                "{what} of {} is not from {} to {}; is the unit right?",
                length.show(units),
                least.show(units),
                most.show(units)
            )),
            _ => Ok(self),
        }
    }
}

/// A message of the job file, for somebody who has seen none: no quotes to type.
pub(super) fn spoken(message: &str) -> String {
    message.replace('"', "")
}

/// Reads a thread: `3/4in`, and `3/4` or `3/4"`, which can be nothing else here.
pub(super) fn thread(text: &str) -> Result<Size, String> {
    let text = text.trim().trim_end_matches(['"', '”']);
    let bare = |character: char| character.is_ascii_digit() || "/- ".contains(character);
    let text = match text.chars().all(bare) {
        true => format!("{text}in"),
        false => text.replace(" inch", "in").replace("inch", "in"),
    };
    Size::parse(&text).map_err(|error| spoken(&error.to_string()))
}

/// A list as people write it: with commas, semicolons or `and` between.
pub(super) fn items(text: &str) -> Vec<String> {
    let text = text.replace([';', '+', '&'], ",").replace(" and ", ",");
    let items = text.split(',').map(str::trim);
    items
        .filter(|item| !item.is_empty())
        .map(str::to_owned)
        .collect()
}

/// An outlet's name: small letters, a dash for a space.
pub(super) fn name(text: &str) -> String {
    let words: Vec<String> = text
        .split_whitespace()
        .map(|word| {
            let kept = |character: &char| character.is_alphanumeric() || "-_".contains(*character);
            word.to_lowercase().chars().filter(kept).collect()
        })
        .filter(|word: &String| !word.is_empty())
        .collect();
    words.join("-")
}

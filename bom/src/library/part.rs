//! Kinds of parts.

use super::{Gender, has_source};
use crate::system::{Joint, System};
use crate::takeoff::Group;
use serde::Deserialize;

/// A kind of part as the catalog knows it.
#[derive(Debug, Clone)]
pub struct Part {
    /// Our plain word: `elbow-90`.
    pub name: String,
    /// Whether it belongs to a pipe system; valves and hoses do not.
    pub of_system: bool,
    /// Where it stands on paper.
    pub group: Group,
    /// What one is: `each`, `roll`.
    pub unit: String,
    /// Whether its size ends in a length.
    pub has_length: bool,
    /// Its ends that are made up, in the order of its sizes; none where a port
    /// is no joint.
    pub ends: Vec<Option<PartEnd>>,
    words: ByFamily,
    pub(super) shelf: ByFamily,
}

/// An end of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PartEnd {
    /// Made as its system's pipe is joined: a socket, or an end of pipe.
    Own(Gender),
    /// A thread, whatever the system.
    Thread(Gender),
}

/// Words that differ between threaded systems and tube.
#[derive(Debug, Clone)]
pub(super) struct ByFamily {
    pub(super) threaded: String,
    pub(super) tube: String,
}

impl ByFamily {
    /// The words for threaded systems, and behind a bar those for tube.
    fn read(text: &str) -> Self {
        let (threaded, tube) = text.split_once('|').unwrap_or((text, text));
        Self {
            threaded: threaded.to_owned(),
            tube: tube.to_owned(),
        }
    }

    /// The words in a system; of none, those of threads.
    pub(super) fn of(&self, system: Option<&System>) -> String {
        let joint = system.map_or(Joint::Threaded, |system| system.joint);
        let grade = system
            .and_then(|system| system.grade.as_ref())
            .map_or_else(String::new, |grade| format!(", {grade}"));
        let socket = match joint {
            Joint::Threaded => return self.threaded.replace("{grade}", &grade),
            Joint::Soldered | Joint::Brazed => "cup",
            Joint::Pressed => "press",
            Joint::PushFit => "push-fit",
        };
        self.tube
            .replace("{socket}", socket)
            .replace("{grade}", &grade)
    }
}

impl Part {
    /// What it is called on papers, without material and size.
    #[must_use]
    pub fn words(&self, system: &System) -> String {
        self.words.of(Some(system))
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PartRow {
    part: String,
    of_system: String,
    group: String,
    unit: String,
    has_length: String,
    ends: String,
    words: String,
    shelf: String,
    source: String,
}

impl PartRow {
    pub(super) fn into_part(self) -> Result<Part, String> {
        let group = Group::ALL
            .into_iter()
            .find(|group| group.key() == self.group)
            .ok_or_else(|| format!("parts.csv: {}: no group `{}`", self.part, self.group))?;
        has_source("parts.csv", &self.part, &self.source)?;
        Ok(Part {
            of_system: self.of_system == "yes",
            group,
            unit: self.unit,
            has_length: self.has_length == "yes",
            ends: self
                .ends
                .chars()
                .map(|end| match end {
                    'M' => Ok(Some(PartEnd::Thread(Gender::Male))),
                    'F' => Ok(Some(PartEnd::Thread(Gender::Female))),
                    'P' => Ok(Some(PartEnd::Own(Gender::Male))),
                    'E' => Ok(Some(PartEnd::Own(Gender::Female))),
                    '-' => Ok(None),
                    other => Err(format!("parts.csv: {}: no end `{other}`", self.part)),
                })
                .collect::<Result<_, _>>()?,
            name: self.part,
            words: ByFamily::read(&self.words),
            shelf: ByFamily::read(&self.shelf),
        })
    }
}

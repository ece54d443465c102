//! The questions, a topic per file, in the order in which they are put. A topic asks a
//! line or several; each is worked out from the answers before it.

mod above;
mod coldest;
mod compressor;
mod door;
mod height;
mod low;
mod outlets;
mod paint;
mod people;
mod pipe;
mod plate;
mod room;
mod tools;
mod units;
mod walls;
mod who;

use super::answers::Answers;
use crate::job::Wall;
use crate::library::Library;

/// What one has to know of a shop.
pub(super) struct Topic {
    /// Its name in the file of an unfinished interview: one word.
    pub(super) name: &'static str,
    /// Why we ask, and what a good answer looks like.
    pub(super) help: &'static str,
    /// Names that may be said, for the help.
    pub(super) names: Option<fn(&Library) -> String>,
    /// What is still to be asked of it.
    next: fn(&Answers, &Library) -> Option<Line>,
    /// Takes the answer to that, or says what is wrong with it.
    take: fn(&mut Answers, Item, &str, &Library) -> Result<(), String>,
}

/// Every topic, in the order in which they are put.
pub(super) static TOPICS: [Topic; 16] = [
    units::TOPIC,
    door::TOPIC,
    room::TOPIC,
    compressor::TOPIC,
    plate::TOPIC,
    height::TOPIC,
    above::TOPIC,
    walls::TOPIC,
    outlets::TOPIC,
    tools::TOPIC,
    people::TOPIC,
    coldest::TOPIC,
    paint::TOPIC,
    low::TOPIC,
    pipe::TOPIC,
    who::TOPIC,
];

/// The most outlets that are asked for: a larger hall is written in an editor.
pub(super) const MOST_OUTLETS: usize = 60;

/// More questions than there ever are where every answer is the usual one.
pub(super) const MOST_QUESTIONS: usize = 200;

/// A line of a topic.
struct Line {
    item: Item,
    /// The rest of its name, behind the topic's; empty if the topic has one line.
    name: String,
    question: String,
    like: String,
    usual: Usual,
}

/// What a line is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Item {
    /// The topic itself.
    Whole,
    /// The outlet of the tank.
    Port,
    /// The next outlet on a wall.
    On(Wall),
    /// The height of all outlets.
    Height,
    /// What is used at an outlet.
    At(usize),
}

/// What an empty line means.
struct Usual {
    /// As it would be typed.
    line: String,
    /// As it is shown.
    shown: String,
    /// What is then to be measured, or read off.
    confirm: Option<String>,
}

impl Usual {
    fn plain(line: impl Into<String>) -> Self {
        let line = line.into();
        Self {
            shown: line.clone(),
            line,
            confirm: None,
        }
    }

    fn shown(line: impl Into<String>, shown: impl Into<String>) -> Self {
        Self {
            line: line.into(),
            shown: shown.into(),
            confirm: None,
        }
    }

    fn confirming(self, what: impl Into<String>) -> Self {
        Self {
            confirm: Some(what.into()),
            ..self
        }
    }
}

impl Line {
    fn whole(question: impl Into<String>, like: impl Into<String>, usual: Usual) -> Self {
        Self {
            item: Item::Whole,
            name: String::new(),
            question: question.into(),
            like: like.into(),
            usual,
        }
    }
}

/// A line that is to be put.
#[derive(Debug, Clone)]
pub(super) struct Asked {
    /// The index of its topic.
    pub(super) topic: usize,
    /// Its name: `outlets north 2`.
    pub(super) name: String,
    pub(super) question: String,
    pub(super) like: String,
    /// What an empty line means, as it is shown.
    pub(super) shown: String,
    item: Item,
    usual: String,
    confirm: Option<String>,
}

/// The next line to be put; none once everything is answered.
pub(super) fn next(answers: &Answers, library: &Library) -> Option<Asked> {
    TOPICS.iter().enumerate().find_map(|(at, topic)| {
        let line = (topic.next)(answers, library)?;
        Some(Asked {
            topic: at,
            name: format!("{} {}", topic.name, line.name).trim().to_owned(),
            question: line.question,
            like: line.like,
            shown: line.usual.shown,
            item: line.item,
            usual: line.usual.line,
            confirm: line.usual.confirm,
        })
    })
}

/// The topic that a line is of, by its name.
pub(super) fn topic_of(name: &str) -> Option<usize> {
    let first = name.split(' ').next()?;
    TOPICS.iter().position(|topic| topic.name == first)
}

impl Asked {
    /// Takes an answer. An empty one is the usual one, and so is `?` where the answer
    /// is no length that may be left open.
    pub(super) fn take(
        &self,
        answers: &mut Answers,
        line: &str,
        library: &Library,
    ) -> Result<(), String> {
        let topic = &TOPICS[self.topic];
        let usual = line.is_empty() || line == "?";
        let line = if usual { &self.usual } else { line };
        (topic.take)(answers, self.item, line, library)?;
        if usual {
            answers.confirm.extend(self.confirm.clone());
        }
        Ok(())
    }
}

//! The interview that a job begins with: questions as data, and a machine that is
//! pure. A line goes in, and out comes what is to be said to it and the next
//! question; whoever reads and prints lines is the caller's business.
//!
//! What was said is kept as it was typed. Everything else (the next question, what an
//! empty line means, the job) is worked out from that, so that going back is to forget
//! the last line, and going on another day is to say them all again.

mod answers;
mod kept;
mod legs;
mod reading;
mod route;
mod survey;
mod topics;
mod walls;

pub use answers::{Answers, By, Corner, Plate, Spot, Who};
pub use reading::Taped;

use crate::library::Library;
use std::collections::BTreeMap;
use topics::{Asked, TOPICS};

/// An interview that goes on.
#[derive(Debug, Clone)]
pub struct Interview<'a> {
    library: &'a Library,
    /// What was said, in the order of the questions.
    said: Vec<Said>,
    /// What was said before somebody went back, by question.
    earlier: BTreeMap<String, String>,
}

/// One answer.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Said {
    /// The question's name.
    to: String,
    /// The line; empty where the usual answer was taken.
    line: String,
}

/// A question, as it is put.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Question {
    /// The number of its topic, from 1.
    pub number: usize,
    /// How many topics there are.
    pub of: usize,
    /// What is asked.
    pub text: String,
    /// What an answer looks like; empty if the question says it.
    pub like: String,
    /// What an empty line means.
    pub usual: String,
}

/// Where the interview stands after a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// There is a question.
    Asking,
    /// Everything is answered.
    Finished,
    /// The user goes, and comes back another time.
    Left,
}

/// What comes of a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reply {
    /// What is to be said to it.
    pub told: Vec<String>,
    /// Where the interview stands.
    pub stage: Stage,
}

/// The words that steer, as the user is told them.
pub const WORDS: &str = "Enter takes what stands in [ ]. At any question: ? = not measured or not known, \
                         help, back, again (this question anew), skip, quit (keeps the answers).";

impl<'a> Interview<'a> {
    /// One that begins.
    #[must_use]
    pub const fn new(library: &'a Library) -> Self {
        Self {
            library,
            said: Vec::new(),
            earlier: BTreeMap::new(),
        }
    }

    /// The answers so far.
    #[must_use]
    pub fn answers(&self) -> Answers {
        let mut answers = Answers::default();
        for said in &self.said {
            // They were taken before: what is said again is taken again.
            if let Some(asked) = topics::next(&answers, self.library) {
                let _ = asked.take(&mut answers, &said.line, self.library);
            }
        }
        answers
    }

    /// The next question; none once everything is answered.
    #[must_use]
    pub fn question(&self) -> Option<Question> {
        let asked = topics::next(&self.answers(), self.library)?;
        let usual = match self.earlier.get(&asked.name) {
            Some(line) => line.clone(),
            None => asked.shown.clone(),
        };
        Some(Question {
            number: asked.topic + 1,
            of: TOPICS.len(),
            text: asked.question,
            like: asked.like,
            usual,
        })
    }

    /// Whether anything has been answered.
    #[must_use]
    pub fn has_begun(&self) -> bool {
        !self.said.is_empty()
    }

    /// Takes a line. Once everything is answered there is only going back, or leaving.
    pub fn say(&mut self, line: &str) -> Reply {
        let mut answers = self.answers();
        let asked = topics::next(&answers, self.library);
        let line = line.trim();
        match (line.to_lowercase().as_str(), &asked) {
            ("back", _) => return Reply::asking(self.back()),
            ("again" | "redo", _) => return Reply::asking(self.again(asked.as_ref())),
            ("quit" | "exit", _) => return Reply::new(Vec::new(), Stage::Left),
            ("help", Some(asked)) => return Reply::asking(self.help(asked)),
            ("skip", Some(asked)) => {
                self.earlier.remove(&asked.name);
            }
            _ => {}
        }
        let Some(asked) = asked else {
            return Reply::new(Vec::new(), Stage::Finished);
        };
        let line = match (line, self.earlier.get(&asked.name)) {
            ("", Some(earlier)) => earlier.clone(),
            (skip, _) if skip.eq_ignore_ascii_case("skip") => String::new(),
            (line, _) => line.to_owned(),
        };
        self.heard(asked, &mut answers, &line)
    }

    /// Takes the usual answer to all that is still open.
    pub fn finish(&mut self) {
        // A wall ends with its first empty line, so that there are few of them.
        for _ in 0..topics::MOST_QUESTIONS {
            let reply = self.say("");
            let reply = match reply.told.is_empty() {
                true => reply,
                false => self.say("skip"),
            };
            if reply.stage == Stage::Finished {
                return;
            }
        }
    }

    fn heard(&mut self, asked: Asked, answers: &mut Answers, line: &str) -> Reply {
        match asked.take(answers, line, self.library) {
            Err(complaint) => Reply::asking(vec![complaint]),
            Ok(()) => {
                self.earlier.remove(&asked.name);
                self.said.push(Said {
                    to: asked.name,
                    line: line.to_owned(),
                });
                let stage = match topics::next(answers, self.library) {
                    Some(_) => Stage::Asking,
                    None => Stage::Finished,
                };
                Reply::new(Vec::new(), stage)
            }
        }
    }

    /// Why we ask, and what a good answer looks like.
    fn help(&self, asked: &Asked) -> Vec<String> {
        let topic = &TOPICS[asked.topic];
        let more = topic.names.map(|names| names(self.library));
        std::iter::once(topic.help.to_owned())
            .chain(more)
            .chain(std::iter::once(WORDS.to_owned()))
            .collect()
    }

    /// Forgets the last answer, and offers it.
    fn back(&mut self) -> Vec<String> {
        match self.said.pop() {
            None => vec!["This is the first question.".to_owned()],
            Some(said) => {
                self.offer(said);
                Vec::new()
            }
        }
    }

    /// Forgets all answers of this topic, or if it has none yet of the one before.
    fn again(&mut self, asked: Option<&Asked>) -> Vec<String> {
        let of = |said: &Said| topics::topic_of(&said.to);
        if let Some(asked) = asked {
            self.earlier.remove(&asked.name);
        }
        // The last answer is of this topic, or this one has none yet.
        let Some(topic) = self.said.last().and_then(of) else {
            return vec!["This is the first question.".to_owned()];
        };
        while self.said.last().is_some_and(|said| of(said) == Some(topic)) {
            self.said.pop();
        }
        self.earlier
            .retain(|name, _| topics::topic_of(name) != Some(topic));
        Vec::new()
    }

    fn offer(&mut self, said: Said) {
        if !said.line.is_empty() {
            self.earlier.insert(said.to, said.line);
        }
    }
}

impl Reply {
    const fn new(told: Vec<String>, stage: Stage) -> Self {
        Self { told, stage }
    }

    const fn asking(told: Vec<String>) -> Self {
        Self::new(told, Stage::Asking)
    }
}

#[cfg(test)]
mod tests;

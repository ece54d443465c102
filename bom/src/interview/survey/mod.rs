//! From the answers to a survey, which is written as a job file.

mod outlets;
mod plant;
mod walk;

use super::answers::Answers;
use super::legs;
use super::reading::Taped;
use super::{By, Spot};
use crate::library::Library;
use crate::survey::{Drain, Survey, as_written};

const SUPPLY: &str = "compressor";
const ENTRY: &str = "entry";
const LOW: &str = "low";

impl Answers {
    /// The survey of the answers; `title` heads the papers.
    #[must_use]
    pub fn survey(&self, title: &str, library: &Library) -> Survey {
        let answers = self.with_an_outlet();
        let (stretches, drains) = legs::stretches(&answers, LOW);
        let mut walk = vec![answers.riser()];
        walk.extend(stretches.iter().map(|stretch| answers.leg(stretch)));
        Survey {
            remarks: self.remarks(library),
            title: Some(title.to_owned()),
            units: answers.in_units(),
            people: answers.people,
            rooms: vec![answers.room()],
            supplies: vec![answers.supply()],
            main: answers.main(&stretches, library),
            legs: walk,
            drops: answers.drops(library),
            drains: drains
                .into_iter()
                .map(|name| Drain {
                    name,
                    ..Drain::default()
                })
                .collect(),
            outlets: answers.outlets(library),
            ..Survey::default()
        }
    }

    /// Pipe without an outlet is none that anybody wants: one stands on the last wall.
    fn with_an_outlet(&self) -> Self {
        let mut answers = self.clone();
        if let (true, Some(walls)) = (answers.spots.is_empty(), &answers.walls) {
            let wall = walls.last().copied().unwrap_or_else(|| answers.start());
            answers.spots.push(Spot {
                name: "outlet-1".to_owned(),
                wall,
                reading: Taped::Open,
                by: By::Left,
            });
        }
        answers
    }

    fn text(&self, taped: Taped) -> String {
        let units = self.in_units();
        match taped {
            Taped::Measured(length) => as_written(length, units),
            Taped::Paced(length) => format!("~{}", as_written(length, units)),
            Taped::Open => "?".to_owned(),
        }
    }

    /// What is to be measured or read off before anything is bought.
    #[must_use]
    pub fn to_confirm(&self, library: &Library) -> Vec<String> {
        let above = self.above.iter().filter(|above| !above.is_empty());
        let above = above.map(|above| format!("how the pipe passes what is in its way: {above}"));
        let mut confirm: Vec<String> = above.chain(self.confirm.iter().cloned()).collect();
        if let Some([main, drop]) = self.stand_in_sizes(library) {
            confirm.push(format!(
                "the sizes: the main is {main} and the drops {drop} for now, since nothing says how \
                 much air there is or is used"
            ));
        }
        if self.spots.is_empty() {
            confirm.push(
                "where the outlets stand: there is one for now, so that there is a count"
                    .to_owned(),
            );
        }
        confirm
    }

    fn remarks(&self, library: &Library) -> Vec<String> {
        let mut remarks = vec![
            "Written from the answers to `dripleg new`. Correct it here: every line says what it is.".to_owned(),
            format!(
                "The main door is in the {} wall. Left and right corners are those of somebody who \
                 faces the wall from inside.",
                self.door_in().word()
            ),
        ];
        let others = self.systems.iter().flatten().skip(1);
        let others: Vec<&str> = others.map(String::as_str).collect();
        if !others.is_empty() {
            remarks.push(format!("To be compared with: {}.", others.join(", ")));
        }
        let confirm = self.to_confirm(library).into_iter();
        remarks.extend(confirm.map(|what| format!("To confirm: {what}.")));
        remarks
    }
}

use super::{Line, Topic, Usual};
use crate::interview::answers::Answers;
use crate::interview::reading::Taped;
use crate::job::Wall;
use crate::quantity::{Length, Units};

pub(super) const TOPIC: Topic = Topic {
    name: "room",
    help: "The pipe follows the walls, so that their length is most of its length. Measure inside, \
           wall to wall: first across, from left to right as you come in by the main door, then \
           from that wall to the one ahead. A third figure is the height to the eave or ceiling. \
           Put ~ before what you paced: ~36-0.",
    names: None,
    next: |answers, _| {
        answers.room.is_none().then(|| {
            let metric = answers.in_units() == Units::Metric;
            let (like, usual, shown) = match metric {
                false => (
                    "48-0 x 32-0, or 48-0 x 32-0 x 14-0",
                    "~24-0 x ~20-0",
                    "24-0 x 20-0 for now",
                ),
                true => (
                    "14.6m x 9.8m, or 14.6m x 9.8m x 4.2m",
                    "~7.2m x ~6m",
                    "7.2m x 6m for now",
                ),
            };
            Line::whole(
                "How wide is the shop inside, from left to right as you come in, and how deep to \
                 the wall ahead? With the height under the eave if you know it.",
                like,
                Usual::shown(usual, shown)
                    .confirming("the size of the room, which is a guess so far"),
            )
        })
    },
    take: |answers, _, line, _| {
        let units = answers.in_units();
        let line = line.replace(" by ", " x ");
        let figures: Vec<&str> = line.split(['x', 'X', '×']).collect();
        if !(2..=3).contains(&figures.len()) {
            return Err(format!(
                "`{line}`: two figures with an x between them are wanted, width x depth."
            ));
        }
        let read = |text: &&str| Taped::read(text, units);
        let figures = figures.iter().map(read).collect::<Result<Vec<_>, _>>()?;
        let range = (Length::from_mm(1_500), Length::from_mm(600_000));
        let width = figures[0].within(range, "a width", units)?;
        let depth = figures[1].within(range, "a depth", units)?;
        if width == Taped::Open || depth == Taped::Open {
            return Err(
                "The room needs both figures: pace what you cannot measure, ~36-0.".to_owned(),
            );
        }
        let heights = (Length::from_mm(1_800), Length::from_mm(30_000));
        let eave = figures.get(2).copied().unwrap_or(Taped::Open);
        let eave = eave.within(heights, "a height", units)?;
        answers.room = Some(turned(answers, width, depth, eave));
        Ok(())
    },
};

/// East-west and north-south of what was measured from the door.
fn turned(answers: &Answers, width: Taped, depth: Taped, eave: Taped) -> [Taped; 3] {
    match answers.door_in() {
        Wall::North | Wall::South => [width, depth, eave],
        Wall::East | Wall::West => [depth, width, eave],
    }
}

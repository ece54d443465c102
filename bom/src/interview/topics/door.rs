use super::{Line, Topic, Usual};
use crate::interview::walls;
use crate::job::Wall;

pub(super) const TOPIC: Topic = Topic {
    name: "door",
    help: "Walls are called by the compass, and only have to be told apart. Say south if you do \
           not know: south is then the wall that you come in through, north the one ahead of \
           you, west on your left, east on your right.",
    names: None,
    next: |answers, _| {
        answers.door.is_none().then(|| {
            Line::whole(
                "Which wall is the main door in? Without a compass take south: north is then \
                 ahead of you as you come in.",
                "north, east, south or west",
                Usual::plain("south"),
            )
        })
    },
    take: |answers, _, line, _| {
        let wall = walls::read(line, Wall::South);
        answers.door = Some(
            wall.ok_or_else(|| format!("`{line}` is no wall: say north, east, south or west."))?,
        );
        Ok(())
    },
};

use super::{Line, Topic, Usual};
use crate::interview::reading::items;
use crate::interview::walls;

pub(super) const TOPIC: Topic = Topic {
    name: "walls",
    help: "Name the walls that have outlets. The pipe goes from the compressor to them, the shorter \
           way round. A ring goes round all four and comes back: every tool then gets its air from \
           two sides, for more pipe.",
    names: None,
    next: |answers, _| {
        answers.walls.is_none().then(|| {
            let usual = answers.start();
            Line::whole(
                format!(
                    "Which walls shall the pipe follow? Name them, or say ring. Walls: {}.",
                    walls::all(answers.door_in())
                ),
                "north, east; or ring",
                Usual::plain(usual.word()),
            )
        })
    },
    take: |answers, _, line, _| {
        let small = line.to_lowercase();
        if ["ring", "all", "all four", "loop", "round", "all round"].contains(&small.as_str()) {
            answers.ring = true;
            answers.walls = Some(walls::CLOCKWISE.to_vec());
            return Ok(());
        }
        let mut named = Vec::new();
        for item in items(&small.replace(" wall", "")) {
            for word in item.split_whitespace() {
                let wall = walls::read(word, answers.door_in()).ok_or_else(|| {
                    format!(
                        "`{word}` is no wall: {}; or ring.",
                        walls::all(answers.door_in())
                    )
                })?;
                if !named.contains(&wall) {
                    named.push(wall);
                }
            }
        }
        if named.is_empty() {
            return Err("Name one wall at least, or say ring.".to_owned());
        }
        answers.walls = Some(named);
        Ok(())
    },
};

use super::outlets::APART;
use super::{Line, Topic, Usual};
use crate::interview::answers::{Answers, Corner};
use crate::interview::reading::Taped;
use crate::interview::{route, walls};
use crate::quantity::Units;

pub(super) const TOPIC: Topic = Topic {
    name: "low",
    help: "Air cools in the pipe and water falls out of it. The pipe slopes a little, so that the \
           water runs to a place where a valve lets it out: one that you can get at every day.",
    names: None,
    next: |answers, _| {
        answers.low.is_none().then(|| match answers.ring {
            true => ring(answers),
            false => tree(answers),
        })
    },
    take: |answers, _, line, _| {
        let small = line.to_lowercase();
        if !answers.ring {
            answers.low = Some(match small.as_str() {
                "tank" | "compressor" | "back to the tank" => None,
                "end" | "the end" | "drain" | "yes" | "ok" => Some(ends(answers)),
                _ => return Err(format!("`{line}`: say end or tank.")),
            });
            return Ok(());
        }
        let mut words = small.split_whitespace().filter(|word| *word != "wall");
        let wall = words
            .next()
            .and_then(|word| walls::read(word, answers.door_in()));
        let wall = wall.ok_or_else(|| {
            format!(
                "`{line}`: begin with a wall: {}.",
                walls::all(answers.door_in())
            )
        })?;
        let figure = words.collect::<Vec<_>>().join(" ");
        let from_left = match figure.as_str() {
            "" => Taped::Open,
            figure => Taped::read(figure, answers.in_units())?,
        };
        if let Some(place) = from_left.length()
            && let Some(near) = route::near(answers, wall, place, APART)
        {
            return Err(format!(
                "{near}: leave 6 in (150 mm) between, or the fittings find no room."
            ));
        }
        answers.low = Some(Some(Corner {
            wall,
            from_left,
            outside: None,
        }));
        Ok(())
    },
};

fn ring(answers: &Answers) -> Line {
    let like = match answers.in_units() {
        Units::Feet => "east, or east 16-0",
        Units::Metric => "east, or east 4.8m",
    };
    let opposite = walls::on(answers.start(), 2);
    Line::whole(
        "At which wall shall the water gather? The ring is lowest there and has its drain.",
        like,
        Usual::plain(opposite.word()),
    )
}

fn tree(answers: &Answers) -> Line {
    Line::whole(
        format!(
            "The pipe slopes away from the compressor to a drain at its end ({} wall). Or say \
             tank: then water runs back to the tank.",
            ends(answers).wall.word()
        ),
        "end or tank",
        Usual::plain("end"),
    )
}

/// Where the longest way ends.
fn ends(answers: &Answers) -> Corner {
    let wall = route::walls(answers).last().copied();
    Corner {
        wall: wall.unwrap_or_else(|| answers.start()),
        from_left: Taped::Open,
        outside: None,
    }
}

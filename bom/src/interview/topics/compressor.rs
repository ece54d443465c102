use super::{Item, Line, Topic, Usual};
use crate::interview::answers::{Answers, Corner};
use crate::interview::reading::{Taped, thread};
use crate::interview::walls;
use crate::library::Gender;
use crate::quantity::{Length, Units};

pub(super) const TOPIC: Topic = Topic {
    name: "compressor",
    help: "The pipe starts there. Face the wall from inside: the distance is from its left corner \
           to where the pipe is to come up. Outside, in a lean-to, say how far it stands from the \
           wall. Then the outlet of its tank: how high above the floor, and how large its thread \
           is: a 1/2 in pipe thread is 0.84 in (21 mm) across, 3/4 in 1.05 (27), 1 in 1.32 (33).",
    names: None,
    next: |answers, _| match answers.place {
        None => Some(place(answers)),
        Some(_) if answers.port.is_none() => Some(port(answers)),
        Some(_) => None,
    },
    take: |answers, item, line, _| match item {
        Item::Port => take_port(answers, line),
        Item::Whole | Item::On(_) | Item::Height | Item::At(_) => take_place(answers, line),
    },
};

fn place(answers: &Answers) -> Line {
    let wall = walls::on(answers.door_in(), 1);
    let (like, far) = match answers.in_units() {
        Units::Feet => ("west 16-0, or west 16-0 outside 4-0", "2-0"),
        Units::Metric => ("west 4.8m, or west 4.8m outside 1.2m", "0.6m"),
    };
    let usual = format!("{} ~{far}", wall.word());
    Line::whole(
        format!(
            "By which wall is the compressor, and how far from that wall's left corner, as you \
             face it? Walls: {}.",
            walls::all(answers.door_in())
        ),
        like,
        Usual::shown(usual, format!("{} {far} for now", wall.word()))
            .confirming("where the compressor stands, which is a guess so far"),
    )
}

fn port(answers: &Answers) -> Line {
    let like = match answers.in_units() {
        Units::Feet => "3-6, 3/4in",
        Units::Metric => "1.1m, 3/4in",
    };
    Line {
        item: Item::Port,
        name: "port".to_owned(),
        ..Line::whole(
            "The air outlet on its tank: how high above the floor, and how large is its thread?",
            like,
            Usual::shown("?, 3/4in", "not measured, 3/4in for now")
                .confirming("the thread of the outlet on the tank, taken as 3/4in female"),
        )
    }
}

fn take_place(answers: &mut Answers, line: &str) -> Result<(), String> {
    let units = answers.in_units();
    let small = line.to_lowercase().replace(',', " ");
    let (inside, outside) = match small.split_once("outside") {
        Some((inside, outside)) => (inside.to_owned(), Some(outside.trim().to_owned())),
        None => (small.replace("inside", ""), None),
    };
    let mut words = inside.split_whitespace();
    let wall = words
        .next()
        .and_then(|word| walls::read(word, answers.door_in()));
    let wall = wall.ok_or_else(|| {
        format!(
            "`{line}`: begin with the wall ({}), then the distance.",
            walls::all(answers.door_in())
        )
    })?;
    let figure = words
        .filter(|word| *word != "wall")
        .collect::<Vec<_>>()
        .join(" ");
    let from_left = match figure.as_str() {
        "" => Taped::Open,
        figure => Taped::read(figure, units)?,
    };
    let corner = Length::from_64ths(64 * 12);
    let length = answers.length_of(wall).length().unwrap_or(Length::LONGEST);
    if let Some(from_left) = from_left.length()
        && !(corner..=length - corner).contains(&from_left)
    {
        return Err(format!(
            "The {} wall is {} long, and the pipe needs a foot (300 mm) to either corner: where \
             shall it come up?",
            wall.word(),
            answers.say(length)
        ));
    }
    let outside = match outside.as_deref() {
        None => None,
        Some("") => Some(Taped::Open),
        Some(figure) => Some(Taped::read(figure, units)?.within(
            (Length::from_mm(100), Length::from_mm(100_000)),
            "a distance from the wall",
            units,
        )?),
    };
    // What nobody has measured is taken near the corner, or near the wall.
    let stand_in = |at: Taped, length| match at {
        Taped::Open => Taped::Paced(length),
        known => known,
    };
    let two = match units {
        Units::Feet => Length::from_feet(2),
        Units::Metric => Length::from_mm(600),
    };
    let open = from_left == Taped::Open || outside == Some(Taped::Open);
    if open {
        answers
            .confirm
            .push("how far the compressor is from the corner and the wall".to_owned());
    }
    answers.place = Some(Corner {
        wall,
        from_left: stand_in(from_left, two),
        outside: outside.map(|at| stand_in(at, two)),
    });
    Ok(())
}

fn take_port(answers: &mut Answers, line: &str) -> Result<(), String> {
    let units = answers.in_units();
    let (height, size) = match line.rsplit_once([',', ';']) {
        Some((height, size)) => (height, size),
        // A lone figure under 4 in is no height.
        None if is_thread(line, units) => ("?", line),
        None => (line, "3/4in"),
    };
    let (size, gender) = match size.trim().rsplit_once(' ') {
        Some((size, "male")) => (size, Gender::Male),
        Some((size, "female")) => (size, Gender::Female),
        _ => (size, Gender::Female),
    };
    let height = Taped::read(height, units)?.within(
        (Length::from_mm(50), Length::from_mm(6_000)),
        "an outlet's height",
        units,
    )?;
    let size = thread(size)
        .map_err(|_| format!("`{}` is no thread: write it like 3/4in.", size.trim()))?;
    answers.port = Some((height, size, gender));
    Ok(())
}

fn is_thread(line: &str, units: Units) -> bool {
    let height = Taped::read(line, units).ok().and_then(Taped::length);
    thread(line).is_ok() && height.is_none_or(|height| height < Length::from_64ths(64 * 4))
}

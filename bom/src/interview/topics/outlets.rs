use super::{Item, Line, MOST_OUTLETS, Topic, Usual};
use crate::interview::answers::{Answers, By, Spot};
use crate::interview::reading::{Taped, name};
use crate::interview::{route, walls};
use crate::job::Wall;
use crate::quantity::{Length, Units};

pub(super) const TOPIC: Topic = Topic {
    name: "outlets",
    help: "Stand before the wall, hook the tape in its left corner and read on: each outlet's name \
           and how far it is from that corner. Where the tape is too short read from the right \
           corner and put right behind it: press 10-0 right. ~10-0 is paced, ? not measured. An \
           empty line ends the wall.",
    names: None,
    next: |answers, _| {
        let open = route::walls(answers);
        let open = open.into_iter().find(|wall| !answers.told.contains(wall));
        match open {
            Some(wall) => Some(on(answers, wall)),
            None => answers.outlets_at.is_none().then(|| height(answers)),
        }
    },
    take: |answers, item, line, _| match item {
        Item::On(wall) if line.is_empty() || line.eq_ignore_ascii_case("none") => {
            answers.told.push(wall);
            Ok(())
        }
        Item::On(wall) => take_spot(answers, wall, line),
        Item::Whole | Item::Port | Item::Height | Item::At(_) => take_height(answers, line),
    },
};

/// Names that the job uses itself.
const TAKEN: [&str; 5] = ["compressor", "entry", "low", "low-2", "shop"];

/// So near to a corner, or to one another, two fittings find no room.
pub(super) const APART: Length = Length::from_64ths(64 * 6);

fn on(answers: &Answers, wall: Wall) -> Line {
    let here = answers
        .spots
        .iter()
        .filter(|spot| spot.wall == wall)
        .count();
    let like = example(answers);
    let question = match here {
        0 => format!(
            "{} wall ({}), from its left corner: name and distance of the first outlet.",
            capital(wall.word()),
            walls::seen_from(answers.door_in(), wall)
        ),
        _ => format!("{} wall: the next outlet.", capital(wall.word())),
    };
    let shown = match here {
        0 => "no outlet here",
        _ => "no more here",
    };
    Line {
        item: Item::On(wall),
        name: format!("{} {}", wall.word(), here + 1),
        question,
        like: if here == 0 {
            like.to_owned()
        } else {
            String::new()
        },
        usual: Usual::shown("", shown),
    }
}

fn example(answers: &Answers) -> &'static str {
    match answers.in_units() {
        Units::Feet => "bench 10-0",
        Units::Metric => "bench 3m",
    }
}

fn height(answers: &Answers) -> Line {
    let usual = match answers.in_units() {
        Units::Feet => "4-0",
        Units::Metric => "1.2m",
    };
    Line {
        item: Item::Height,
        name: "height".to_owned(),
        ..Line::whole(
            "How high above the floor shall the outlets be?",
            "",
            Usual::plain(usual),
        )
    }
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    let first = letters.next().map(|first| first.to_ascii_uppercase());
    first.into_iter().chain(letters).collect()
}

fn take_spot(answers: &mut Answers, wall: Wall, line: &str) -> Result<(), String> {
    if answers.spots.len() == MOST_OUTLETS {
        return Err(format!(
            "That is {MOST_OUTLETS} outlets: add the others to the job file. An empty line goes on."
        ));
    }
    let spot = read_spot(answers, wall, line)?;
    if TAKEN.contains(&spot.name.as_str()) {
        return Err(format!(
            "`{}` is a name that the job needs itself: take another.",
            spot.name
        ));
    }
    if let Some(other) = answers.spots.iter().find(|other| other.name == spot.name) {
        return Err(format!(
            "There is a {} already, on the {} wall: take another name, like {}-2.",
            spot.name,
            other.wall.word(),
            spot.name
        ));
    }
    let Some(place) = answers.from_left(&spot).length() else {
        answers.spots.push(spot);
        return Ok(());
    };
    if let Some(near) = route::near(answers, wall, place, APART) {
        return Err(format!(
            "{near}: leave 6 in (150 mm) between, or the fittings find no room."
        ));
    }
    answers.spots.push(spot);
    Ok(())
}

/// Reads `bench 10-0`, `10-0 bench`, `spray booth: 6-0 right`.
fn read_spot(answers: &Answers, wall: Wall, line: &str) -> Result<Spot, String> {
    let units = answers.in_units();
    let line = line.replace([':', '=', ','], " ");
    let mut words: Vec<&str> = line.split_whitespace().collect();
    let by = match words.last().map(|word| word.to_lowercase()) {
        Some(last) if last == "right" || last == "back" => {
            words.pop();
            if words.last() == Some(&"from") {
                words.pop();
            }
            By::Right
        }
        _ => By::Left,
    };
    let is_figure =
        |word: &str| word.starts_with(|first: char| "~?".contains(first) || first.is_ascii_digit());
    let wanted = || {
        let like = example(answers);
        format!("A name and a distance are wanted, like {like}; or ? for the distance.")
    };
    let first = words
        .iter()
        .position(|word| is_figure(word))
        .ok_or_else(wanted)?;
    // A figure that goes on is `12-6 1/2` or `12ft 6in`; a name may hold one: `bay 2`.
    let (reading, name_of) = match first {
        0 => {
            let more = words[1..].iter().take_while(|word| is_figure(word)).count();
            (words[..=more].join(" "), words[1 + more..].join(" "))
        }
        _ => {
            let reads = |at: &usize| Taped::read(&words[*at..].join(" "), units).is_ok();
            let at = (first..words.len()).find(reads).unwrap_or(first);
            (words[at..].join(" "), words[..at].join(" "))
        }
    };
    let name = name(&name_of);
    if name.is_empty() {
        return Err(wanted());
    }
    if name.chars().count() > 24 {
        return Err("A name of up to 24 letters is wanted: it stands on every drawing.".to_owned());
    }
    Ok(Spot {
        name,
        wall,
        reading: Taped::read(&reading, units)?,
        by,
    })
}

fn take_height(answers: &mut Answers, line: &str) -> Result<(), String> {
    let units = answers.in_units();
    let range = (Length::from_mm(300), Length::from_mm(6_000));
    let height = Taped::read(line, units)?.within(range, "a height", units)?;
    if let (Some(height), Some(main)) = (height.length(), answers.height.and_then(Taped::length))
        && height + Length::from_mm(600) > main
    {
        return Err(format!(
            "The pipe runs at {}, and the drop needs 2 ft (600 mm) below it.",
            answers.say(main)
        ));
    }
    answers.outlets_at = Some(height);
    Ok(())
}

use super::{Line, Topic, Usual};
use crate::interview::answers::Answers;
use crate::interview::reading::Taped;
use crate::quantity::{Length, Units};

pub(super) const TOPIC: Topic = Topic {
    name: "height",
    help: "The height of the pipe's middle above the floor, where it starts: high enough to walk \
           and drive under, a foot or so under the eave. From there it falls a little towards its \
           drain. It says how long the riser and every drop are.",
    names: None,
    next: |answers, _| {
        answers.height.is_none().then(|| {
            let like = match answers.in_units() {
                Units::Feet => "11-0",
                Units::Metric => "3.3m",
            };
            let question = "How high above the floor shall the pipe run?";
            Line::whole(question, like, usual(answers))
        })
    },
    take: |answers, _, line, _| {
        let units = answers.in_units();
        let range = (Length::from_mm(1_500), Length::from_mm(30_000));
        let height = Taped::read(line, units)?.within(range, "a height", units)?;
        if let (Some(height), Some(eave)) = (height.length(), eave(answers))
            && height > eave
        {
            return Err(format!("The eave is at {}: take less.", answers.say(eave)));
        }
        let port = answers.port.and_then(|(port, ..)| port.length());
        if let (Some(height), Some(port)) = (height.length(), port)
            && height < port + Length::from_mm(300)
        {
            return Err(format!(
                "The outlet of the tank is at {}: the pipe has to rise from it.",
                answers.say(port)
            ));
        }
        answers.height = Some(height);
        Ok(())
    },
};

fn eave(answers: &Answers) -> Option<Length> {
    answers.room.and_then(|[.., eave]| eave.length())
}

/// A foot under the eave, if that leaves room for a person.
fn usual(answers: &Answers) -> Usual {
    let foot = match answers.in_units() {
        Units::Feet => Length::from_feet(1),
        Units::Metric => Length::from_mm(300),
    };
    let port = answers.port.and_then(|(port, ..)| port.length());
    let least = port.unwrap_or_default().max(foot.times(6));
    match eave(answers).map(|eave| eave - foot) {
        Some(height) if height > least + foot => Usual::plain(answers.say(height)),
        _ => Usual::shown("?", "not measured"),
    }
}

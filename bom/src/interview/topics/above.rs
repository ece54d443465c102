use super::{Line, Topic, Usual};

pub(super) const TOPIC: Topic = Topic {
    name: "above",
    help: "Door tracks, beams, lights and ducts are what the pipe has to pass over or under. It is \
           written into the job as a remark, so that nobody forgets it; how to step over a door \
           stands in the README.",
    names: None,
    next: |answers, _| {
        answers.above.is_none().then(|| {
            Line::whole(
                "Is anything in its way up there: door tracks, beams, lights? Say what and where.",
                "door track on the south wall",
                Usual::plain("none"),
            )
        })
    },
    take: |answers, _, line, _| {
        let nothing = ["none", "no", "nothing", "-"].contains(&line.to_lowercase().as_str());
        answers.above = Some(match nothing {
            true => String::new(),
            false => line
                .chars()
                .map(|one| if one.is_control() { ' ' } else { one })
                .collect(),
        });
        Ok(())
    },
};

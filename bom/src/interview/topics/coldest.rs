use super::{Line, Topic, Usual};
use crate::interview::reading::spoken;
use crate::quantity::{Temperature, Units};

pub(super) const TOPIC: Topic = Topic {
    name: "coldest",
    help: "The colder the pipe, the more water falls out of the air in it, and below freezing it \
           stops a drain. A guess does: 40 F where there is some heating, the winter's coldest \
           where there is none.",
    names: None,
    next: |answers, _| {
        answers.coldest.is_none().then(|| {
            let like = match answers.in_units() {
                Units::Feet => "38 F",
                Units::Metric => "4 C",
            };
            Line::whole(
                "How cold does it get in the shop in winter?",
                like,
                Usual::shown("none", "not known"),
            )
        })
    },
    take: |answers, _, line, _| {
        if line == "none" {
            answers.coldest = Some(None);
            return Ok(());
        }
        let temperature = Temperature::parse(line).map_err(|error| spoken(&error.to_string()))?;
        let range = Temperature::from_celsius(-60)..=Temperature::from_celsius(40);
        if !range.contains(&temperature) {
            return Err(format!("{line} is no winter: is the unit right, F or C?"));
        }
        answers.coldest = Some(Some(temperature));
        Ok(())
    },
};

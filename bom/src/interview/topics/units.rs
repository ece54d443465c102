use super::{Line, Topic, Usual};
use crate::quantity::Units;

pub(super) const TOPIC: Topic = Topic {
    name: "units",
    help: "A plain 12-6 then means 12 ft 6 in. You may mix all the same: 3.81m and 150in are \
           read in either.",
    names: None,
    next: |answers, _| {
        answers.units.is_none().then(|| {
            let question = "Do you measure in feet and inches, or metric?";
            Line::whole(question, "feet or metric", Usual::plain("feet"))
        })
    },
    take: |answers, _, line, _| {
        answers.units = Some(match line.to_lowercase().as_str() {
            "feet" | "ft" | "foot" | "inches" | "in" | "f" | "feet and inches" => Units::Feet,
            "metric" | "m" | "mm" | "cm" | "metres" | "meters" | "metre" | "meter" => Units::Metric,
            _ => return Err(format!("`{line}`: say feet or metric.")),
        });
        Ok(())
    },
};

//! From a survey to a job file that a person goes on with.

mod outlets;
mod place;
mod plant;
mod walk;

use super::Survey;
use super::table::comment;
use crate::quantity::Units;

/// Writes the job file.
#[must_use]
pub fn write(survey: &Survey) -> String {
    let style = Style(survey.units);
    let remarks = survey.remarks.iter().map(|words| comment(words));
    let mut parts: Vec<String> = vec![
        remarks.collect(),
        place::head(survey),
        place::people(survey),
    ];
    parts.extend(survey.altitude.as_deref().map(place::site));
    parts.push(place::rooms(survey, &style));
    let supplies = survey.supplies.iter();
    parts.extend(supplies.map(|one| plant::supply(one, &style)));
    parts.push(plant::main(&survey.main, &style));
    parts.push(comment(&format!(
        "The legs: each a way with one hook of the tape, in walking order. A mark is where something \
         stands along it, read from the hook, or with \"back\" from the far end. What is not measured \
         is \"?\", what is paced \"~{}\".",
        style.length("36-0", "11m")
    )));
    parts.extend(survey.legs.iter().map(|one| walk::leg(one, survey, &style)));
    parts.extend(survey.drains.iter().map(|one| walk::drain(one, &style)));
    parts.extend(survey.valves.iter().map(walk::valve));
    let kinds = outlets::kinds(survey);
    parts.extend(kinds.iter().map(|one| outlets::drop_kind(one, &style)));
    parts.extend(
        survey
            .outlets
            .iter()
            .map(|one| outlets::outlet(one, &style)),
    );
    parts.retain(|part| !part.is_empty());
    parts.join("\n")
}

/// Examples and stand-ins in the job's units.
struct Style(Units);

impl Style {
    const fn length(&self, feet: &'static str, metric: &'static str) -> &'static str {
        match self.0 {
            Units::Feet => feet,
            Units::Metric => metric,
        }
    }

    /// What to say of a length that may not be measured.
    fn measure(&self, text: &str, what: &str) -> String {
        let example = self.length("12-6", "3810mm");
        match text.trim() {
            "?" => format!("to measure: {what}, written like \"{example}\""),
            text if text.starts_with('~') => {
                format!("paced: measure {what}, and take the ~ off")
            }
            _ => what.to_owned(),
        }
    }
}

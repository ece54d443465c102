//! What is said of one more drop.

use crate::output::AddDropPaper;
use bom::quantity::Units;
use pricing::change::Worst;

/// Where it goes, what to shut, what the air says and what it costs, a paragraph each.
pub(in crate::output) fn add_drop(paper: &AddDropPaper<'_>) -> Vec<String> {
    let mut said = vec![format!(
        "All that the job describes is taken to stand. The new drop leaves {}{}.",
        paper.place,
        match paper.plugged {
            true => ", where a plugged tee stands: the plug comes out and no pipe is cut",
            false => "",
        }
    )];
    said.push(shut(paper));
    said.extend(air(paper));
    if let Some(price) = &paper.price {
        let days = price.days.as_ref().map_or_else(String::new, |days| {
            let plural = if days == "1" { "" } else { "s" };
            format!(", {days} day{plural} on site")
        });
        let what = if price.owner {
            "Cost"
        } else {
            "Price with tax"
        };
        said.push(match price.total {
            Some(total) => format!(
                "{what} as a job of its own: {} {}; {} hours of work{days}.",
                total.currency(),
                total.show(),
                price.hours
            ),
            None => format!(
                "{what}: open, as prices or hours are missing; {} hours of work that are known{days}.",
                price.hours
            ),
        });
    }
    said
}

fn shut(paper: &AddDropPaper<'_>) -> String {
    let dead = match &paper.dead[..] {
        [] => "No outlet goes without air meanwhile.".to_owned(),
        dead => format!("Without air meanwhile: {}.", dead.join(", ")),
    };
    let shut = paper.shut.join(" and ");
    match (paper.at_tank, paper.shut.is_empty()) {
        (true, true) => format!(
            "No valve shuts this part of the main off: stop the compressor and let all air out. {dead}"
        ),
        (true, false) => format!(
            "Shut {shut}; a tank stands in that part with no valve between: stop its compressor and let its air out. {dead}"
        ),
        (false, _) => format!("Shut {shut}, and let the air out of the pipe behind. {dead}"),
    }
}

/// The tool that is worst off before and after.
fn air(paper: &AddDropPaper<'_>) -> Option<String> {
    let units = paper.plan.summary.units;
    let new = paper.after.as_ref()?;
    let before = paper.before.as_ref();
    let before = before.map_or_else(
        || "before, nothing said what tools need".to_owned(),
        |old| format!("before, it was {}", worst(old, units)),
    );
    Some(format!(
        "The tool that is worst off afterwards, with old pipe, is {}; {before}.",
        worst(new, units)
    ))
}

fn worst(worst: &Worst, units: Units) -> String {
    let gets = worst.gets.map_or_else(
        || "gets no air".to_owned(),
        |gets| format!("gets {} at its inlet", gets.show(units)),
    );
    format!("{} at {}, which {gets}", worst.tool, worst.outlet)
}

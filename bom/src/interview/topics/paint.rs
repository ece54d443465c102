use super::tools::sprays;
use super::{Line, Topic, Usual};
use crate::interview::reading::{items, name};

pub(super) const TOPIC: Topic = Topic {
    name: "paint",
    help: "Oil or water in the air spoils paint: these outlets get a filter and no lubricator, and \
           the checks hold them to it. A spray gun counts as paint unless you say none.",
    names: None,
    next: |answers, _| {
        answers.paint.is_none().then(|| {
            let spraying = (0..answers.spots.len()).filter(|outlet| sprays(answers, *outlet));
            let spraying: Vec<&str> = spraying
                .map(|outlet| answers.spots[outlet].name.as_str())
                .collect();
            let usual = match spraying.is_empty() {
                true => "none".to_owned(),
                false => spraying.join(", "),
            };
            Line::whole(
                "Which outlets need clean, dry air for paint? Name them, or say none.",
                "",
                Usual::plain(usual),
            )
        })
    },
    take: |answers, _, line, _| {
        let names: Vec<String> = answers.spots.iter().map(|spot| spot.name.clone()).collect();
        let said = line.to_lowercase();
        let chosen = match said.as_str() {
            "none" | "no" => Vec::new(),
            "all" => names,
            _ => {
                let chosen: Vec<String> = items(&said).iter().map(|item| name(item)).collect();
                if let Some(wrong) = chosen.iter().find(|name| !names.contains(name)) {
                    return Err(format!(
                        "There is no outlet {wrong}: there are {}. Or say none.",
                        names.join(", ")
                    ));
                }
                chosen
            }
        };
        answers.paint = Some(chosen);
        Ok(())
    },
};

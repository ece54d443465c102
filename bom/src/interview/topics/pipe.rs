use super::{Line, Topic, Usual};
use crate::finding::did_you_mean;
use crate::interview::reading::items;
use crate::library::Library;

pub(super) const TOPIC: Topic = Topic {
    name: "pipe",
    help: "The job is counted in the first one that you name; the others are for comparing, with \
           prices. Iron is cheap and takes the most hours, copper and aluminium are light and \
           quick. Plastic water pipe is refused: it bursts.",
    names: Some(|library| format!("Pipe: {}.", mains(library).join(", "))),
    next: |answers, _| {
        answers.systems.is_none().then(|| {
            Line::whole(
                "Which pipe do you think of? Several to compare, the likeliest first.",
                "black iron, copper soldered, aluminium (help lists them)",
                Usual::plain("black-iron"),
            )
        })
    },
    take: |answers, _, line, library| {
        let mut systems: Vec<String> = Vec::new();
        for item in items(&line.to_lowercase()) {
            let system = read(&item, library)?;
            if !systems.contains(&system) {
                systems.push(system);
            }
        }
        if systems.is_empty() {
            return Err("Name one pipe at least.".to_owned());
        }
        answers.systems = Some(systems);
        Ok(())
    },
};

/// The pipe that mains are made of.
fn mains(library: &Library) -> Vec<&str> {
    let systems = library
        .systems()
        .iter()
        .filter(|system| system.carries_main);
    systems.map(|system| system.name.as_str()).collect()
}

fn read(item: &str, library: &Library) -> Result<String, String> {
    let wanted = item
        .replace("aluminum", "aluminium")
        .replace("galvanized", "galvanised");
    let wanted: Vec<&str> = wanted
        .split([' ', '-'])
        .filter(|word| !["pipe", "tube", ""].contains(word))
        .collect();
    let names = mains(library);
    let is = |name: &&&str| name.split('-').eq(wanted.iter().copied());
    if let Some(name) = names.iter().find(is) {
        return Ok((*name).to_owned());
    }
    let fits = |name: &&&str| {
        let words: Vec<&str> = name.split('-').collect();
        !wanted.is_empty() && wanted.iter().all(|word| words.contains(word))
    };
    let fitting: Vec<&str> = names.iter().filter(fits).copied().collect();
    match fitting[..] {
        [one] => Ok(one.to_owned()),
        [] => {
            if let Some(refused) = library.refused_for(item) {
                return Err(format!(
                    "{} is refused for compressed air: {}. Use {}.",
                    refused.words, refused.happens, refused.alternatives
                ));
            }
            let near = did_you_mean(item, names.iter().copied());
            let near = near.map_or_else(|| names.join(", "), str::to_owned);
            Err(format!("`{item}` is no pipe of the list; there is {near}."))
        }
        _ => Err(format!("There are several: {}. Which?", fitting.join(", "))),
    }
}

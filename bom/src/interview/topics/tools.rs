use super::{Item, Line, Topic, Usual};
use crate::finding::did_you_mean;
use crate::interview::answers::Answers;
use crate::interview::reading::{items, spoken};
use crate::library::Library;
use crate::quantity::AirFlow;

pub(super) const TOPIC: Topic = Topic {
    name: "tools",
    help: "What a tool takes decides how large the pipe and the compressor must be. Typical \
           figures are taken for a name of the list below; a tool that is not in it needs its \
           air: edge bander 9 cfm. same = as at the outlet before, all same = at all that are left.",
    names: Some(names),
    next: |answers, _| {
        let outlet = answers.tools.len();
        let spot = answers.spots.get(outlet)?;
        let same = match outlet {
            0 => "",
            _ => ", or same",
        };
        Some(Line {
            item: Item::At(outlet),
            name: spot.name.clone(),
            question: format!(
                "What is used at {}? One tool or several, with commas.",
                spot.name
            ),
            like: format!("orbital sander, blow gun{same} (help lists the names)"),
            usual: Usual::shown("none", "not known")
                .confirming(format!("what is used at {}", spot.name)),
        })
    },
    take: |answers, _, line, library| {
        let small = line.to_lowercase();
        let tools = match (small.as_str(), answers.tools.last()) {
            ("none" | "nothing" | "no", _) => Vec::new(),
            ("same" | "all same", Some(last)) => last.clone(),
            ("same" | "all same", None) => {
                return Err("This is the first outlet: say what is used there.".to_owned());
            }
            _ => read_all(&small, library)?,
        };
        let count = match small.as_str() {
            "all same" => answers.spots.len() - answers.tools.len(),
            _ => 1,
        };
        answers.tools.extend(std::iter::repeat_n(tools, count));
        Ok(())
    },
};

/// The names of the tools that are known.
fn names(library: &Library) -> String {
    let names: Vec<&str> = library
        .tools()
        .iter()
        .map(|tool| tool.name.as_str())
        .collect();
    format!("Tools: {}.", names.join(", "))
}

fn read_all(line: &str, library: &Library) -> Result<Vec<(String, Option<AirFlow>)>, String> {
    items(line).iter().map(|item| read(item, library)).collect()
}

/// Reads `sander`, or `edge bander 9 cfm`.
fn read(item: &str, library: &Library) -> Result<(String, Option<AirFlow>), String> {
    if let Some(known) = known(item, library) {
        return Ok((known, None));
    }
    let figure = item.find(|one: char| one.is_ascii_digit());
    if let Some((name, air)) = figure.and_then(|at| item.split_at_checked(at))
        && !name.trim().is_empty()
    {
        let air = AirFlow::parse(air).map_err(|error| spoken(&error.to_string()))?;
        let name = name.trim();
        return Ok((
            known(name, library).unwrap_or_else(|| name.to_owned()),
            Some(air),
        ));
    }
    let tools = library.tools().iter();
    let names: Vec<&str> = tools
        .flat_map(|tool| tool.also.iter().chain([&tool.name]))
        .map(String::as_str)
        .collect();
    let holds = names
        .iter()
        .filter(|name| name.split(' ').any(|word| word == item));
    let near: Vec<&str> = holds.copied().take(4).collect();
    let near = match (near.is_empty(), did_you_mean(item, names.iter().copied())) {
        (false, _) => format!("did you mean {}?", near.join(", ")),
        (true, Some(near)) => format!("did you mean {near}?"),
        (true, None) => "help lists them.".to_owned(),
    };
    Err(format!(
        "`{item}` is not in the list of tools: {near} Or say what air it takes: {item} 9 cfm"
    ))
}

/// The list's name for a tool, in the singular if need be.
fn known(name: &str, library: &Library) -> Option<String> {
    let one = name.strip_suffix('s');
    let called = std::iter::once(name)
        .chain(one)
        .find_map(|name| library.tool_called(name))?;
    Some(library.tools()[called].name.clone())
}

/// Whether anything that is used at an outlet sprays paint.
pub(super) fn sprays(answers: &Answers, outlet: usize) -> bool {
    let tools = answers.tools.get(outlet);
    let mut names = tools.into_iter().flatten().map(|(name, _)| name.as_str());
    names.any(|name| name.contains("spray") || name.contains("touch-up"))
}

//! `explain`: what a rule of good practice finds, and why.

use crate::args::Explain;
use crate::exit::{Exit, Failure};
use crate::{Io, output};
use bom::finding::did_you_mean;
use bom::practice::RULES;

pub(super) fn run(args: &Explain, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let Some(name) = &args.rule else {
        output::terminal::rules(&RULES, io.width, io.out)?;
        return Ok(Exit::Done);
    };
    let Some(rule) = RULES.iter().find(|rule| rule.name == name.trim()) else {
        let names = RULES.iter().map(|rule| rule.name);
        let near = did_you_mean(name.trim(), names)
            .map_or_else(String::new, |near| format!("; did you mean `{near}`?"));
        return Err(Failure::Untold(
            Exit::Unreadable,
            format!(
                "there is no rule of good practice `{name}`: `dripleg explain` lists them{near}; any other finding says in `check` all there is to say"
            ),
        ));
    };
    output::terminal::rule(rule, io.width, io.out)?;
    Ok(Exit::Done)
}

//! The dialogue: reads lines and prints questions; what they mean is the interview's.

use super::asking;
use crate::args::New;
use crate::exit::{Exit, Failure};
use crate::{Io, files, output};
use bom::interview::{Answers, Interview, Stage, WORDS};
use bom::library::Library;
use std::io::{self, BufRead, Read};
use std::path::Path;

/// No answer is as long as this.
const LONGEST_LINE: u64 = 4_000;

/// Asks until everything is answered; none if the user leaves before.
pub(super) fn answers(
    args: &New,
    library: &Library,
    io: &mut Io<'_>,
) -> Result<Option<Answers>, Failure> {
    let kept = asking(&args.job);
    let again = format!("dripleg new {}", args.job.display());
    let mut interview = begin(&kept, library, io)?;
    let mut topic = 0;
    loop {
        let asked = interview.question();
        match &asked {
            Some(question) => {
                let heading = question.number != topic;
                topic = question.number;
                output::terminal::question(question, heading, io.width, io.out)?;
            }
            None => output::terminal::last_question(&args.job, io.width, io.out)?,
        }
        let Some(line) = line(io.input)? else {
            writeln!(io.out)?;
            if io.at_terminal {
                return leave(&interview, &kept, &again, io);
            }
            interview.finish();
            break;
        };
        let reply = interview.say(&line);
        output::terminal::told(&reply.told, io.width, io.out)?;
        match reply.stage {
            Stage::Left => return leave(&interview, &kept, &again, io),
            Stage::Finished if asked.is_none() => break,
            Stage::Asking | Stage::Finished => {}
        }
        if reply.told.is_empty() {
            keep(&interview, &kept, &again)?;
        }
    }
    Ok(Some(interview.answers()))
}

/// A new interview, or the one that was left.
fn begin<'a>(kept: &Path, library: &'a Library, io: &mut Io<'_>) -> Result<Interview<'a>, Failure> {
    if !kept.exists() {
        let words = [
            "A few questions about your shop, most of them answered with one word or one length. \
             What you do not know can stay open.",
            WORDS,
        ];
        output::terminal::told(&words.map(str::to_owned), io.width, io.out)?;
        return Ok(Interview::new(library));
    }
    let source = files::read(kept)?;
    let (interview, wrong) = Interview::resumed(library, source.text());
    let mut told = vec![format!(
        "Going on with the answers in {}; back and again change them.",
        kept.display()
    )];
    told.extend(wrong.map(|line| {
        format!("From `{line}` on they do not fit the questions any more, and are asked again.")
    }));
    output::terminal::told(&told, io.width, io.out)?;
    Ok(interview)
}

fn keep(interview: &Interview<'_>, kept: &Path, again: &str) -> Result<(), Failure> {
    let text = interview.kept(again);
    files::write(kept, &[], |out| out.write_all(text.as_bytes()))
}

fn leave(
    interview: &Interview<'_>,
    kept: &Path,
    again: &str,
    io: &mut Io<'_>,
) -> Result<Option<Answers>, Failure> {
    if interview.has_begun() {
        keep(interview, kept, again)?;
        writeln!(
            io.out,
            "The answers are kept in {}: `{again}` goes on from here.",
            kept.display()
        )?;
    }
    Ok(None)
}

/// The next line without its end; none behind the last one.
fn line(input: &mut dyn BufRead) -> Result<Option<String>, Failure> {
    let mut bytes = Vec::new();
    let read = input.take(LONGEST_LINE).read_until(b'\n', &mut bytes);
    let read = read.map_err(|error: io::Error| {
        Failure::Untold(
            Exit::Outside,
            format!("the answers could not be read: {error}"),
        )
    })?;
    Ok((read > 0).then(|| String::from_utf8_lossy(&bytes).trim().to_owned()))
}

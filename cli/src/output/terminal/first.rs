//! The first rough sheet, and the dialogue that leads to it.

use super::Column::Words;
use super::{clean, list, paragraph, table};
use crate::output::FirstSheet;
use bom::interview::Question;
use std::io::{self, Write};
use std::path::Path;

/// Lines of a screen that a sheet may fill.
const SCREEN: usize = 38;

/// How many sentences of the verdict, open figures and assumptions are printed: the
/// first of these that fit a screen. What is open goes before what is assumed.
const MOST: [[usize; 3]; 7] = [
    [5, 9, 3],
    [4, 9, 2],
    [3, 9, 1],
    [2, 9, 1],
    [2, 7, 1],
    [2, 5, 1],
    [2, 3, 1],
];

/// Letters of an assumption that are printed: the papers have all of it.
const LONGEST: usize = 140;

/// Prints the sheet on one screen: what it has no room for is counted.
///
/// # Errors
/// Those of `out`.
pub fn first(sheet: &FirstSheet, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let mut printed = Vec::new();
    for most in MOST {
        printed.clear();
        print(sheet, most, width, &mut printed)?;
        if printed.iter().filter(|byte| **byte == b'\n').count() <= SCREEN {
            break;
        }
    }
    out.write_all(&printed)
}

fn print(
    sheet: &FirstSheet,
    [verdict, confirm, assumed]: [usize; 3],
    width: usize,
    out: &mut dyn Write,
) -> io::Result<()> {
    paragraph(out, width, &format!("First rough sheet: {}", sheet.title))?;
    list(
        out,
        width,
        "Air",
        &some(&sheet.verdict, verdict, "`dripleg air`"),
    )?;
    list(out, width, "What it takes", &sheet.totals)?;
    let open = some(&sheet.confirm, confirm, "the job file");
    list(out, width, "To measure or read off next", &open)?;
    if open.is_empty() {
        writeln!(
            out,
            "\nTo measure or read off next: nothing, it was all told"
        )?;
    }
    let short: Vec<String> = sheet.assumed.iter().map(|one| clipped(one)).collect();
    let taken = some(&short, assumed, "`dripleg parts`");
    list(out, width, "Taken for granted", &taken)?;
    writeln!(out, "\nNext, type")?;
    for (command, what) in &sheet.next {
        let (command, what) = (clean(command), clean(what));
        match command.chars().count() + what.chars().count() + 6 <= width {
            true => writeln!(out, "  {command}    {what}")?,
            false => writeln!(out, "  {command}\n      {what}")?,
        }
    }
    Ok(())
}

/// The first of some, and how many there are more.
fn some(items: &[String], most: usize, tells: &str) -> Vec<String> {
    let mut shown: Vec<String> = items.iter().take(most).cloned().collect();
    match items.len().saturating_sub(most) {
        0 => {}
        more => shown.push(format!("{more} more: {tells} says them")),
    }
    shown
}

/// A text up to the last word that has room.
fn clipped(text: &str) -> String {
    let Some((end, _)) = text.char_indices().nth(LONGEST) else {
        return text.to_owned();
    };
    let words = text[..end].rfind(' ').unwrap_or(end);
    format!("{} ...", text[..words].trim_end_matches([',', ';', '.']))
}

/// Where the words of the dialogue begin.
const INDENT: usize = 10;

/// Puts a question, the first line of a topic with its number.
///
/// # Errors
/// Those of `out`.
pub fn question(
    question: &Question,
    heading: bool,
    width: usize,
    out: &mut dyn Write,
) -> io::Result<()> {
    let place = match heading {
        true => format!("\n{:>2} of {}", question.number, question.of),
        false => String::new(),
    };
    write!(out, "{place}")?;
    let shown = place.trim_start_matches('\n').len();
    indented(out, shown, width, &question.text)?;
    let mut below = Vec::new();
    if !question.like.is_empty() {
        below.push(format!("like {}", question.like));
    }
    if !question.usual.is_empty() {
        below.push(format!("[{}]", question.usual));
    }
    indented(out, 0, width, &below.join("   "))
}

/// Asks whether that was all.
///
/// # Errors
/// Those of `out`.
pub fn last_question(job: &Path, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let text = format!(
        "That was all. Enter writes {}; back changes the last answer.",
        job.display()
    );
    writeln!(out)?;
    indented(out, 0, width, &text)
}

/// Waits for an answer behind its mark.
///
/// # Errors
/// Those of `out`.
pub fn prompt(out: &mut dyn Write) -> io::Result<()> {
    write!(out, "{:>1$} ", ">", INDENT - 2)?;
    out.flush()
}

/// Says what there is to say between questions.
///
/// # Errors
/// Those of `out`.
pub fn told(lines: &[String], width: usize, out: &mut dyn Write) -> io::Result<()> {
    lines
        .iter()
        .try_for_each(|line| indented(out, 0, width, line))
}

/// A text in lines that begin where answers do; so much of the first is filled.
fn indented(out: &mut dyn Write, mut filled: usize, width: usize, text: &str) -> io::Result<()> {
    let mut lines = Vec::new();
    paragraph(&mut lines, width.saturating_sub(INDENT), text)?;
    for line in String::from_utf8_lossy(&lines).lines() {
        let gap = INDENT.saturating_sub(filled);
        writeln!(out, "{:gap$}{}", "", line.trim_end())?;
        filled = 0;
    }
    Ok(())
}

/// Lists the ready-made starting points.
///
/// # Errors
/// Those of `out`.
pub fn starts<'a>(
    starts: impl IntoIterator<Item = (&'a str, &'a str)>,
    width: usize,
    out: &mut dyn Write,
) -> io::Result<()> {
    let rows = starts
        .into_iter()
        .map(|(name, what)| vec![name.to_owned(), what.to_owned()]);
    table(
        out,
        width,
        &[Words, Words],
        &["start", "what it is (all of it invented)"],
        rows,
    )
}

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

/// Puts a question, and leaves the cursor behind its prompt.
///
/// # Errors
/// Those of `out`.
pub fn question(
    question: &Question,
    heading: bool,
    width: usize,
    out: &mut dyn Write,
) -> io::Result<()> {
    if heading {
        writeln!(out)?;
    }
    let place = match heading {
        true => format!("{:>2} of {}", question.number, question.of),
        false => String::new(),
    };
    let mut text = question.text.clone();
    if !question.like.is_empty() {
        text.push_str(&format!(" Like {}", question.like));
    }
    if !question.usual.is_empty() {
        text.push_str(&format!(" [{}]", question.usual));
    }
    // The column of the place is as wide where it is empty.
    let row = vec![format!("{place:<8}"), text];
    table(out, width, &[Words, Words], &[], [row])?;
    write!(out, "       > ")?;
    out.flush()
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
    paragraph(out, width, &text)?;
    write!(out, "       > ")?;
    out.flush()
}

/// Says what there is to say between questions.
///
/// # Errors
/// Those of `out`.
pub fn told(lines: &[String], width: usize, out: &mut dyn Write) -> io::Result<()> {
    for line in lines {
        paragraph(out, width, line)?;
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

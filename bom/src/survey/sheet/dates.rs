//! Cells that a spreadsheet program turned into a date, and what was typed there:
//! `11-6` becomes `6-Nov`, `11-Jun`, `Jun-11` or `2011-06-01`, as the program's language
//! and the cell's format will have it.

use super::columns::Column;
use super::length::Wrong;

/// The months as they begin in English, and where German, French or Spanish differ.
const MONTHS: [(&str, u32); 27] = [
    ("jan", 1),
    ("ene", 1),
    ("feb", 2),
    ("fév", 2),
    ("mar", 3),
    ("mär", 3),
    ("mrz", 3),
    ("apr", 4),
    ("abr", 4),
    ("avr", 4),
    ("may", 5),
    ("mai", 5),
    ("jun", 6),
    ("juin", 6),
    ("jul", 7),
    ("juil", 7),
    ("aug", 8),
    ("ago", 8),
    ("aoû", 8),
    ("sep", 9),
    ("oct", 10),
    ("okt", 10),
    ("nov", 11),
    ("dec", 12),
    ("dez", 12),
    ("dic", 12),
    ("déc", 12),
];

/// Pairs of numbers that may have been typed where a date stands now, likeliest first;
/// none if it is no date.
pub(super) fn typed(text: &str) -> Option<Vec<(u32, u32)>> {
    let text = text.to_lowercase();
    // A time of day says nothing.
    let day = text.split(['t', ' ']).next().unwrap_or_default();
    let day = if text.contains(':') { day } else { &text };
    let parts: Vec<&str> = day
        .split(|letter: char| !letter.is_alphanumeric())
        .filter(|part| !part.is_empty())
        .collect();
    if !(2..=3).contains(&parts.len()) {
        return None;
    }
    let month = parts.iter().position(|part| month(part).is_some());
    let numbers: Vec<u32> = parts
        .iter()
        .enumerate()
        .filter(|(at, _)| Some(*at) != month)
        .map(|(_, part)| part.parse().ok().filter(|_| part.len() <= 4))
        .collect::<Option<_>>()?;
    let pairs = match (month.and_then(|at| self::month(parts[at])), &numbers[..]) {
        (Some(month), [one]) => vec![(one % 100, month), (month, one % 100)],
        (Some(month), [day, year]) => of_day(*day, month, *year),
        (None, [year, month, day]) if *year > 999 => of_day(*day, *month, *year),
        (None, [first, second, year]) if *year > 99 || is_short(day) => {
            of_day(*first, *second, *year)
        }
        _ => return None,
    };
    Some(pairs)
}

/// Whether three numbers are a date with a short year, and no inches with a fraction:
/// `6/11/26`, never `6-15/16`.
fn is_short(text: &str) -> bool {
    let mut marks = text.chars().filter(|letter| !letter.is_alphanumeric());
    let (first, second) = (marks.next(), marks.next());
    first == second && marks.next().is_none() && matches!(first, Some('/' | '.' | '-'))
}

/// The first day of a month stands for the month alone: what was typed is then the year.
fn of_day(day: u32, month: u32, year: u32) -> Vec<(u32, u32)> {
    let year = year % 100;
    match day {
        1 => vec![(year, month), (month, year), (1, month), (month, 1)],
        day => vec![(day, month), (month, day)],
    }
}

fn month(word: &str) -> Option<u32> {
    let letters = word.chars().count() > 2 && word.chars().all(char::is_alphabetic);
    let known = MONTHS.iter().find(|(start, _)| word.starts_with(start));
    known.map(|(_, month)| *month).filter(|_| letters)
}

/// What to say of a date, and how to write what was meant.
pub(super) fn told(written: &str, column: Column, pairs: &[(u32, u32)]) -> Wrong {
    let turned = |what: &str| format!("`{written}`: the spreadsheet turned {what} into a date");
    if column == Column::Mm {
        return (
            turned("the figure"),
            "write whole millimetres like 3810, in a cell whose format is text".to_owned(),
        );
    }
    let is_fraction = |(part, of): &&(u32, u32)| part < of && [2, 4, 8, 16].contains(of);
    if column == Column::In
        && let Some((part, of)) = pairs.iter().find(is_fraction)
    {
        let decimal = f64::from(*part) / f64::from(*of);
        return (
            turned(&format!("{part}/{of}")),
            format!("write {decimal}, or make the cell's format text"),
        );
    }
    let mut likely: Vec<(u32, u32)> = Vec::new();
    for pair in pairs
        .iter()
        .filter(|(feet, inches)| *feet > 0 && *inches < 12)
    {
        if !likely.contains(pair) {
            likely.push(*pair);
        }
    }
    match likely[..] {
        [] => (
            turned("what was typed"),
            "write feet in ft and inches in in, as the tape said".to_owned(),
        ),
        [(feet, inches)] => (
            turned(&format!("{feet}-{inches}")),
            format!("write {feet} in ft and {inches} in in"),
        ),
        [(feet, inches), other, ..] => (
            turned(&format!("{feet}-{inches} (or {}-{})", other.0, other.1)),
            format!(
                "write {feet} in ft and {inches} in in; or {} and {}: the tape knows which",
                other.0, other.1
            ),
        ),
    }
}

use super::Column::{Figures, Words};
use super::{paragraph, table};
use crate::output::words;
use bom::quantity::Length;
use pricing::cut_sheet::{CutSheet, CutStick};
use std::io::{self, Write};

/// Prints the cut plan with a picture of every stick.
///
/// # Errors
/// Those of `out`.
pub fn cut(sheet: &CutSheet, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let heading = &sheet.heading;
    let units = heading.units;
    paragraph(out, width, &format!("Cut plan: {}", heading.title))?;
    if sheet.sections.is_empty() {
        paragraph(out, width, words::NOTHING_CUT)?;
    } else {
        paragraph(out, width, &words::cut_kerf(sheet))?;
    }
    if !sheet.straights.is_empty() && !sheet.sections.is_empty() {
        paragraph(out, width, words::LABELS)?;
    }
    for section in &sheet.sections {
        writeln!(out)?;
        paragraph(out, width, &words::cut_summary(sheet, section))?;
        let longest = section.sticks.iter().map(|stick| stick.stock).max();
        for (index, stick) in section.sticks.iter().enumerate() {
            let longest = longest.unwrap_or(stick.stock);
            writeln!(out)?;
            let caption = words::cut_caption(index + 1, stick, units);
            for line in wrapped(&caption, width.saturating_sub(2)) {
                writeln!(out, "  {line}")?;
            }
            let bar = bar(stick, longest, width.saturating_sub(6).clamp(30, 110));
            writeln!(out, "    {bar}")?;
        }
    }
    if sheet.straights.is_empty() {
        return Ok(());
    }
    writeln!(out, "\nStraights")?;
    table(
        out,
        width,
        &[Figures, Words, Words, Words, Words],
        &words::STRAIGHT_HEADS,
        sheet
            .straights
            .iter()
            .map(|straight| words::straight_row(sheet, straight)),
    )
}

/// The caption in lines that are broken behind a piece, never within a length.
fn wrapped(caption: &str, width: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for piece in caption.split_inclusive([',', ';']) {
        match lines.last_mut() {
            Some(line) if line.chars().count() + piece.chars().count() <= width => {
                line.push_str(piece);
            }
            _ => lines.push(piece.trim_start().to_owned()),
        }
    }
    lines
}

/// The stick drawn to scale: pieces with their labels, the rest hatched.
fn bar(stick: &CutStick, longest: Length, columns: usize) -> String {
    let at = |length: Length| -> usize {
        let columns = i64::try_from(columns).unwrap_or(60);
        let step = (longest.nm() / columns).max(1);
        usize::try_from(length.nm().max(0) / step).unwrap_or(0)
    };
    let end = at(stick.stock).max(2);
    let mut line = vec!['/'; end];
    let mut begun = Length::ZERO;
    for piece in &stick.pieces {
        let from = at(begun).min(end);
        begun += piece.length;
        let to = at(begun).min(end);
        line[from..to].fill(' ');
        if let Some(first) = line.get_mut(from) {
            *first = '|';
        }
        let label: Vec<char> = piece.label.chars().collect();
        let room = to.saturating_sub(from + 1);
        if label.len() <= room {
            let start = from + 1 + (room - label.len()) / 2;
            line[start..start + label.len()].copy_from_slice(&label);
        }
    }
    line.push('|');
    line.into_iter().collect()
}

#[cfg(test)]
mod tests {
    use super::wrapped;

    #[test]
    fn a_caption_breaks_behind_a_piece() {
        let caption = "stick 2, 20'-0\": 2.1 7'-11 1/4\", 6.1 4'-4 7/16\"; left 2'-7 1/2\"";
        assert_eq!(
            wrapped(caption, 34),
            [
                "stick 2, 20'-0\": 2.1 7'-11 1/4\",",
                "6.1 4'-4 7/16\"; left 2'-7 1/2\"",
            ]
        );
        assert_eq!(wrapped(caption, 80), [caption]);
    }
}

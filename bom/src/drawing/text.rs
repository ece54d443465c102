//! Text on a drawing, and how much room it takes.

use super::shape::{Area, At};
use std::sync::LazyLock;

/// The widths of the papers' two faces; the drawing is laid out by them, whatever
/// shows it.
const WIDTHS: &str = include_str!("../../data/type_widths.csv");

/// In how many units a widths' em is.
const EM: f64 = 2048.0;

/// From the baseline up to above the capitals, and down to below the tails, of the size.
const ABOVE: f64 = 0.76;
const BELOW: f64 = 0.22;

/// How large letters are. Nothing is smaller than what can be read at arm's
/// length: capitals of 2 mm.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum TextSize {
    /// Pieces, dimensions, tables: 8 pt.
    Small,
    /// Names and sizes: 9.5 pt.
    Plain,
    /// Headings on a drawing: 12 pt.
    Large,
}

impl TextSize {
    /// In millimetres, as type is measured; capitals are 0.73 of it high.
    #[must_use]
    pub const fn mm(self) -> f64 {
        match self {
            Self::Small => 2.822,
            Self::Plain => 3.351,
            Self::Large => 4.233,
        }
    }

    /// From one line of text to the next.
    #[must_use]
    pub const fn leading(self) -> f64 {
        self.mm() * 1.25
    }
}

/// Which end of a text is where it is said to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// Its beginning.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// One line of text.
#[derive(Debug, Clone)]
pub struct Text {
    /// Where its baseline is.
    pub at: At,
    /// Which end of it is there.
    pub anchor: Anchor,
    /// How large it is.
    pub size: TextSize,
    /// Whether it is bold.
    pub bold: bool,
    /// Whether it is turned to read upwards.
    pub turned: bool,
    /// What it says.
    pub words: String,
}

impl Text {
    /// Level text that begins at a place.
    #[must_use]
    pub fn new(at: At, size: TextSize, words: impl Into<String>) -> Self {
        Self {
            at,
            anchor: Anchor::Start,
            size,
            bold: false,
            turned: false,
            words: words.into(),
        }
    }

    /// The same, by another end of it.
    #[must_use]
    pub fn anchored(mut self, anchor: Anchor) -> Self {
        self.anchor = anchor;
        self
    }

    /// The same in bold.
    #[must_use]
    pub const fn bold(mut self) -> Self {
        self.bold = true;
        self
    }

    /// The same, reading upwards.
    #[must_use]
    pub const fn turned(mut self) -> Self {
        self.turned = true;
        self
    }

    /// Level text whose middle, by its capitals, is at a place.
    #[must_use]
    pub fn centred(at: At, size: TextSize, words: impl Into<String>) -> Self {
        Self::new(at.by(0.0, 0.365 * size.mm()), size, words).anchored(Anchor::Middle)
    }

    /// How long it is.
    #[must_use]
    pub fn length(&self) -> f64 {
        width(&self.words, self.size, self.bold)
    }

    /// The room that it takes.
    #[must_use]
    pub fn area(&self) -> Area {
        let length = self.length();
        let before = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => length / 2.0,
            Anchor::End => length,
        };
        let (above, below) = (ABOVE * self.size.mm(), BELOW * self.size.mm());
        if self.turned {
            let bottom = self.at.y + before;
            return Area {
                left: self.at.x - above,
                top: bottom - length,
                right: self.at.x + below,
                bottom,
            };
        }
        let left = self.at.x - before;
        Area {
            left,
            top: self.at.y - above,
            right: left + length,
            bottom: self.at.y + below,
        }
    }
}

/// How long a text is, in millimetres. A character that the faces lack counts as
/// the question mark that is drawn in its place.
#[must_use]
pub fn width(words: &str, size: TextSize, bold: bool) -> f64 {
    static FACES: LazyLock<Vec<(char, [u16; 2])>> = LazyLock::new(faces);
    let of = |character: char| {
        let at = FACES
            .binary_search_by_key(&character, |(one, _)| *one)
            .ok()?;
        FACES.get(at).map(|(_, widths)| widths[usize::from(bold)])
    };
    let lacking = of('?').unwrap_or_default();
    let units: u32 = words
        .chars()
        .map(|character| u32::from(of(character).unwrap_or(lacking)))
        .sum();
    f64::from(units) / EM * size.mm()
}

/// A text as lines no longer than `room`; a longer word goes on below.
#[must_use]
pub fn wrap(words: &str, size: TextSize, bold: bool, room: f64) -> Vec<String> {
    let mut lines = vec![String::new()];
    let fits = |line: &str| width(line, size, bold) <= room;
    for word in words.split_whitespace() {
        let last = lines.last().map_or("", |line| line.as_str());
        let longer = format!("{last} {word}");
        if fits(longer.trim_start()) {
            lines.pop();
            lines.push(longer.trim_start().to_owned());
            continue;
        }
        if lines.last().is_some_and(|line| !line.is_empty()) {
            lines.push(String::new());
        }
        for letter in word.chars() {
            let Some(last) = lines.last_mut() else { break };
            last.push(letter);
            if !fits(last) && last.chars().count() > 1 {
                last.pop();
                lines.push(letter.to_string());
            }
        }
    }
    lines.retain(|line| !line.is_empty());
    lines
}

/// A text no longer than `room`, cut with `…` where it would be.
#[must_use]
pub fn shorten(words: &str, size: TextSize, bold: bool, room: f64) -> String {
    if width(words, size, bold) <= room {
        return words.to_owned();
    }
    let left = room - width("…", size, bold);
    let mut short = String::new();
    for character in words.chars() {
        short.push(character);
        if width(&short, size, bold) > left {
            short.pop();
            break;
        }
    }
    short.truncate(short.trim_end().len());
    short + "…"
}

/// Every character with its two widths, in the characters' order.
fn faces() -> Vec<(char, [u16; 2])> {
    let rows = WIDTHS.lines().skip(1).filter_map(|row| {
        let mut cells = row.split(',');
        let character = char::from_u32(u32::from_str_radix(cells.next()?, 16).ok()?)?;
        let [regular, bold] = [cells.next()?, cells.next()?].map(|cell| cell.parse().ok());
        Some((character, [regular?, bold?]))
    });
    rows.collect()
}

#[cfg(test)]
mod tests {
    use super::{Anchor, Text, TextSize, faces, shorten, width, wrap};
    use crate::drawing::At;

    #[test]
    fn every_row_of_widths_is_read_in_order() {
        let faces = faces();
        assert_eq!(faces.len(), super::WIDTHS.lines().count() - 1);
        assert!(faces.is_sorted_by_key(|(character, _)| *character));
        for sign in "½¼¾⅛″′°–…⌀≤→0Aa?".chars() {
            assert!(faces.iter().any(|(one, _)| *one == sign), "{sign}");
        }
    }

    #[test]
    fn a_text_takes_its_room() {
        // A digit of the regular face is 1172 of 2048 wide.
        let wide = width("00", TextSize::Small, false);
        assert!(
            (wide - 2.0 * 1172.0 / 2048.0 * 2.822).abs() < 1e-9,
            "{wide}"
        );
        let text = Text::new(At::new(10.0, 10.0), TextSize::Small, "00").anchored(Anchor::Middle);
        let (level, upright) = (text.area(), text.clone().turned().area());
        assert!((level.width() - wide).abs() < 1e-9);
        assert!((upright.height() - wide).abs() < 1e-9);
        assert!((level.middle().x - 10.0).abs() < 1e-9);
        assert!((upright.middle().y - 10.0).abs() < 1e-9);
    }

    #[test]
    fn long_texts_are_broken_or_cut() {
        let (size, words) = (TextSize::Small, "one two three four");
        let room = width("one two", size, false);
        assert_eq!(wrap(words, size, false, room), ["one two", "three", "four"]);
        assert_eq!(wrap("", size, false, room), [""; 0]);
        assert_eq!(shorten(words, size, false, 100.0), words);
        let short = shorten(words, size, false, room);
        assert_eq!(short, "one t…");
        assert!(width(&short, size, false) <= room);
    }
}

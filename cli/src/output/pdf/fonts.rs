//! The two faces of the papers: what they can show, how wide it is, and where
//! a line breaks. There is no kerning and no shaping, which Latin and Greek
//! do without.

use printpdf::{FontId, ParsedFont, PdfFont, PdfFontHandle, PdfFontMap};
use std::io;

const REGULAR: &[u8] = include_bytes!("../../../fonts/DejaVuSansCondensed.ttf");
const BOLD: &[u8] = include_bytes!("../../../fonts/DejaVuSansCondensed-Bold.ttf");

/// A weight of type.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Face {
    Regular,
    Bold,
}

impl Face {
    /// The name under which the file keeps the font; a fixed one, so that the
    /// same quote gives the same bytes.
    const fn name(self) -> &'static str {
        match self {
            Self::Regular => "DejaVuSansCondensed",
            Self::Bold => "DejaVuSansCondensed-Bold",
        }
    }

    pub(super) fn handle(self) -> PdfFontHandle {
        PdfFontHandle::External(FontId(self.name().to_owned()))
    }
}

/// Type of one weight and size, and the distance between its lines.
#[derive(Debug, Clone, Copy)]
pub(super) struct Style {
    pub(super) face: Face,
    pub(super) size: f32,
    pub(super) leading: f32,
}

/// Running text and tables.
pub(super) const BODY: Style = Style::new(Face::Regular, 9.0, 12.5);
/// Running text that stands out.
pub(super) const STRONG: Style = Style::new(Face::Bold, 9.0, 12.5);
/// Captions, column heads, page heads and feet.
pub(super) const SMALL: Style = Style::new(Face::Regular, 7.5, 10.0);
/// The total, the job's title and warnings.
pub(super) const LARGE: Style = Style::new(Face::Bold, 12.0, 15.5);
/// The word at the head of the paper.
pub(super) const TITLE: Style = Style::new(Face::Bold, 20.0, 24.0);

impl Style {
    const fn new(face: Face, size: f32, leading: f32) -> Self {
        Self {
            face,
            size,
            leading,
        }
    }
}

/// Both faces, read.
#[derive(Debug)]
pub(super) struct Fonts {
    regular: ParsedFont,
    bold: ParsedFont,
}

impl Fonts {
    pub(super) fn load() -> io::Result<Self> {
        let read = |bytes| {
            ParsedFont::from_bytes(bytes, 0, &mut Vec::new())
                .ok_or_else(|| io::Error::other("the built-in font cannot be read"))
        };
        Ok(Self {
            regular: read(REGULAR)?,
            bold: read(BOLD)?,
        })
    }

    fn face(&self, face: Face) -> &ParsedFont {
        match face {
            Face::Regular => &self.regular,
            Face::Bold => &self.bold,
        }
    }

    /// The fonts as the file embeds them.
    pub(super) fn into_map(self) -> PdfFontMap {
        let named = |face: Face, font| (FontId(face.name().to_owned()), PdfFont::new(font));
        PdfFontMap {
            map: [
                named(Face::Regular, self.regular),
                named(Face::Bold, self.bold),
            ]
            .into(),
        }
    }

    /// Whether the face has a glyph for the character.
    pub(super) fn has(&self, face: Face, character: char) -> bool {
        self.face(face)
            .codepoint_to_glyph
            .contains_key(&u32::from(character))
    }

    /// What is drawn for a character: nothing for one that has no shape, `?`
    /// for one that the face lacks.
    pub(super) fn shown(&self, face: Face, character: char) -> Option<char> {
        match character {
            '\u{ad}'
            | '\u{200b}'..='\u{200f}'
            | '\u{202a}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}'
            | '\u{fe00}'..='\u{fe0f}'
            | '\u{feff}' => None,
            _ if character.is_control() => None,
            _ if self.has(face, character) => Some(character),
            _ => Some('?'),
        }
    }

    /// The width of a text in points.
    pub(super) fn width(&self, style: Style, text: &str) -> f32 {
        let font = self.face(style.face);
        let units: u32 = text
            .chars()
            .filter_map(|character| self.shown(style.face, character))
            .filter_map(|character| font.codepoint_to_glyph.get(&u32::from(character)))
            .filter_map(|glyph| font.glyph_widths.get(glyph))
            .map(|width| u32::from(*width))
            .sum();
        scaled(units, font.units_per_em, style.size)
    }

    /// The text in lines no wider than `width`. A word that is wider by itself
    /// is cut wherever the line ends.
    pub(super) fn wrap(&self, style: Style, text: &str, width: f32) -> Vec<String> {
        // A column as wide as its widest cell must hold it in spite of rounding.
        let width = width + 0.01;
        let space = self.width(style, " ");
        let mut lines = Vec::new();
        for paragraph in text.lines() {
            let mut line = String::new();
            let mut used = 0.0;
            for word in paragraph.split(may_break).filter(|word| !word.is_empty()) {
                let word_width = self.width(style, word);
                if !line.is_empty() && used + space + word_width <= width {
                    line.push(' ');
                    line.push_str(word);
                    used += space + word_width;
                    continue;
                }
                if !line.is_empty() {
                    lines.push(std::mem::take(&mut line));
                }
                if word_width <= width {
                    line.push_str(word);
                    used = word_width;
                    continue;
                }
                used = 0.0;
                for character in word.chars() {
                    let step = self.width(style, character.encode_utf8(&mut [0; 4]));
                    if !line.is_empty() && used + step > width {
                        lines.push(std::mem::take(&mut line));
                        used = 0.0;
                    }
                    line.push(character);
                    used += step;
                }
            }
            lines.push(line);
        }
        lines
    }

    /// How tall the wrapped text is; an empty one counts as a line.
    pub(super) fn height(&self, style: Style, text: &str, width: f32) -> f32 {
        let lines = self.wrap(style, text, width);
        let height: f32 = lines.iter().map(|_| style.leading).sum();
        height.max(style.leading)
    }

    /// The text in at most `most` lines, cut with `…`: for places where only an
    /// absurd text is longer.
    pub(super) fn wrap_within(
        &self,
        style: Style,
        text: &str,
        width: f32,
        most: usize,
    ) -> Vec<String> {
        let mut lines = self.wrap(style, text, width);
        if lines.len() > most {
            lines.truncate(most);
            if let Some(last) = lines.last_mut() {
                *last = self.shorten(style, &format!("{last}…"), width);
            }
        }
        lines
    }

    /// The text on one line, cut with `…` where it would be wider than `width`.
    pub(super) fn shorten(&self, style: Style, text: &str, width: f32) -> String {
        let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if self.width(style, &line) <= width {
            return line;
        }
        let room = width - self.width(style, "…");
        let mut short = String::new();
        let mut used = 0.0;
        for character in line.chars() {
            used += self.width(style, character.encode_utf8(&mut [0; 4]));
            if used > room {
                break;
            }
            short.push(character);
        }
        short.truncate(short.trim_end().len());
        short + "…"
    }
}

/// Whether a line may end at this character; it may not at a no-break space.
fn may_break(character: char) -> bool {
    character.is_whitespace() && !matches!(character, '\u{a0}' | '\u{2007}' | '\u{202f}')
}

#[expect(
    clippy::cast_precision_loss,
    reason = "a text of 2^24 font units is 70 m long; a point more or less does not show"
)]
fn scaled(units: u32, units_per_em: u16, size: f32) -> f32 {
    units as f32 / f32::from(units_per_em) * size
}

//! Drawings as SVG: vectors in millimetres of paper, in black on white, with names
//! for links and words for those who cannot see them. A page may hold many: every id
//! begins with its sheet's.

mod caption;
mod escape;
mod numbers;
mod shapes;

use crate::output::DrawingHead;
use bom::drawing::{Mark, Sheet};
use escape::escaped;
use numbers::number;
use std::fmt::Write as _;
use std::io::{self, Write};

/// What letters are shown in. Lengths of texts are stated, so that another face makes
/// nothing overlap.
const FACES: &str = "'DejaVu Sans Condensed','DejaVu Sans',Verdana,sans-serif";
/// Around a drawing that stands alone.
const MARGIN: f64 = 6.0;

/// A drawing for a page of HTML: its ink is the page's colour of text, its paper the
/// page's `--paper`.
#[must_use]
pub fn inline(sheet: &Sheet) -> String {
    let mut svg = String::new();
    let place = Place {
        left: 0.0,
        top: 0.0,
        width: sheet.width,
        height: sheet.height,
    };
    begin(&mut svg, sheet, &place, "");
    layers(&mut svg, sheet, "var(--paper,#fff)");
    svg += "</svg>";
    svg
}

/// Writes a drawing as a file of its own, on white, with its caption below: it is
/// one of so many sheets.
///
/// # Errors
/// Those of `out`.
pub fn alone(
    sheet: &Sheet,
    head: &DrawingHead<'_>,
    of: (usize, usize),
    out: &mut dyn Write,
) -> io::Result<()> {
    let (strip, down) = caption::caption(sheet, head, of);
    let width = sheet.width.max(caption::LEAST);
    let place = Place {
        left: -MARGIN,
        top: -MARGIN,
        width: width + 2.0 * MARGIN,
        height: sheet.height + down + 2.0 * MARGIN,
    };
    let mut svg = String::from("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    begin(&mut svg, sheet, &place, " color=\"#000\"");
    let [x, y, across, down] = place.numbers();
    let _ = writeln!(
        svg,
        "<rect x=\"{x}\" y=\"{y}\" width=\"{across}\" height=\"{down}\" fill=\"#fff\" stroke=\"none\"/>"
    );
    layers(&mut svg, sheet, "#fff");
    svg += "<g class=\"caption\">";
    shapes::write(&mut svg, &[&strip], "#fff");
    svg += "</g>\n</svg>\n";
    out.write_all(svg.as_bytes())
}

/// The part of the plane that is shown.
struct Place {
    left: f64,
    top: f64,
    width: f64,
    height: f64,
}

impl Place {
    fn numbers(&self) -> [String; 4] {
        [self.left, self.top, self.width, self.height].map(number)
    }
}

fn begin(svg: &mut String, sheet: &Sheet, place: &Place, colour: &str) {
    let [left, top, width, height] = place.numbers();
    let id = escaped(&sheet.id);
    let _ = writeln!(
        svg,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"drawing\" \
         width=\"{width}mm\" height=\"{height}mm\" viewBox=\"{left} {top} {width} {height}\" \
         role=\"img\"{colour} aria-labelledby=\"{id}-title {id}-about\" xml:space=\"preserve\" \
         fill=\"none\" stroke=\"currentColor\" stroke-width=\"{}\" \
         stroke-linecap=\"round\" stroke-linejoin=\"round\" font-family=\"{FACES}\">\n\
         <title id=\"{id}-title\">{}</title>\n<desc id=\"{id}-about\">{}</desc>",
        number(shapes::USUAL.weight.mm()),
        escaped(&sheet.title),
        escaped(&sheet.about),
    );
}

/// The marks, those of a layer in a group, each with a name in one of its own.
fn layers(svg: &mut String, sheet: &Sheet, paper: &str) {
    let has_name = |mark: &Mark| mark.id.is_some() || mark.title.is_some();
    for layer in sheet.marks.chunk_by(|a, b| a.layer == b.layer) {
        let word = layer.first().map_or("", |mark| mark.layer.word());
        let _ = writeln!(svg, "<g class=\"{word}\">");
        for marks in layer.chunk_by(|a, b| !has_name(a) && !has_name(b)) {
            let named = marks.first().filter(|mark| has_name(mark));
            if let Some(mark) = named {
                name(svg, sheet, mark);
            }
            let marks: Vec<&Mark> = marks.iter().collect();
            shapes::write(svg, &marks, paper);
            svg.push_str(if named.is_some() { "</g>\n" } else { "\n" });
        }
        svg.push_str("</g>\n");
    }
}

fn name(svg: &mut String, sheet: &Sheet, mark: &Mark) {
    *svg += "<g";
    if let Some(id) = &mark.id {
        let _ = write!(svg, " id=\"{}-{}\"", escaped(&sheet.id), escaped(id));
    }
    *svg += ">";
    if let Some(title) = &mark.title {
        let _ = write!(svg, "<title>{}</title>", escaped(title));
    }
}

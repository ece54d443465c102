//! The shapes of marks: lines of one style in one path, texts of one style in one
//! group.

use super::escape::escaped;
use super::numbers::{number, path};
use bom::drawing::{Anchor, At, Fill, Mark, Shape, Stroke, Text};
use std::fmt::Write as _;

/// The line that is meant where nothing is said.
pub(super) const USUAL: Stroke = Stroke::NARROW;

/// Marks without a name that follow each other, or one with a name.
pub(super) fn write(svg: &mut String, marks: &[&Mark], paper: &str) {
    let mut lines = Lines::default();
    let mut texts: Vec<&Text> = Vec::new();
    for mark in marks {
        for shape in mark.drawn() {
            // What is drawn later lies on top.
            self::texts(svg, &std::mem::take(&mut texts));
            self::shape(svg, shape, &mut lines, paper);
        }
        let own = mark.read();
        if !own.is_empty() {
            lines.end(svg);
        }
        texts.extend(own);
    }
    lines.end(svg);
    self::texts(svg, &texts);
}

fn shape(svg: &mut String, shape: &Shape, lines: &mut Lines, paper: &str) {
    match shape {
        Shape::Path {
            points,
            closed,
            stroke: Some(stroke),
            fill: Fill::Open,
        } => lines.add(svg, *stroke, points, *closed),
        Shape::Path {
            points,
            closed,
            stroke,
            fill,
        } => {
            lines.end(svg);
            let mut data = String::new();
            path(points, *closed, &mut data);
            let style = style(*stroke, *fill, paper);
            let _ = write!(svg, "<path d=\"{data}\"{style}/>");
        }
        Shape::Disc {
            centre,
            radius,
            stroke,
            fill,
        } => {
            lines.end(svg);
            let [x, y, radius] = [centre.x, centre.y, *radius].map(number);
            let style = style(*stroke, *fill, paper);
            let _ = write!(svg, "<circle cx=\"{x}\" cy=\"{y}\" r=\"{radius}\"{style}/>");
        }
        Shape::Text(_) => {}
    }
}

/// Lines of one style that are not written yet.
#[derive(Default)]
struct Lines {
    stroke: Option<Stroke>,
    data: String,
}

impl Lines {
    fn add(&mut self, svg: &mut String, stroke: Stroke, points: &[At], closed: bool) {
        if self.stroke != Some(stroke) {
            self.end(svg);
            self.stroke = Some(stroke);
        }
        path(points, closed, &mut self.data);
    }

    fn end(&mut self, svg: &mut String) {
        if let Some(stroke) = self.stroke.take() {
            let style = style(Some(stroke), Fill::Open, "");
            let _ = write!(svg, "<path d=\"{}\"{style}/>", self.data);
        }
        self.data.clear();
    }
}

fn style(stroke: Option<Stroke>, fill: Fill, paper: &str) -> String {
    let mut style = String::new();
    match fill {
        Fill::Open => {}
        Fill::Paper => {
            let _ = write!(style, " fill=\"{paper}\"");
        }
        Fill::Ink => style += " fill=\"currentColor\"",
    }
    let Some(stroke) = stroke else {
        return style + " stroke=\"none\"";
    };
    if stroke.weight != USUAL.weight {
        let _ = write!(style, " stroke-width=\"{}\"", number(stroke.weight.mm()));
    }
    let dashes = stroke.dashes();
    if !dashes.is_empty() {
        let dashes: Vec<String> = dashes.into_iter().map(number).collect();
        let _ = write!(
            style,
            " stroke-dasharray=\"{}\" stroke-linecap=\"butt\"",
            dashes.join(" ")
        );
    }
    style
}

fn texts(svg: &mut String, texts: &[&Text]) {
    let style = |text: &Text| (text.size, text.bold, text.anchor);
    for texts in texts.chunk_by(|a, b| style(a) == style(b)) {
        let Some(first) = texts.first() else { continue };
        let _ = write!(
            svg,
            "<g fill=\"currentColor\" stroke=\"none\" font-size=\"{}\"{}{}>",
            number(first.size.mm()),
            if first.bold {
                " font-weight=\"bold\""
            } else {
                ""
            },
            match first.anchor {
                Anchor::Start => "",
                Anchor::Middle => " text-anchor=\"middle\"",
                Anchor::End => " text-anchor=\"end\"",
            }
        );
        for text in texts {
            let [x, y, length] = [text.at.x, text.at.y, text.length()].map(number);
            let _ = write!(svg, "<text x=\"{x}\" y=\"{y}\"");
            if text.turned {
                let _ = write!(svg, " transform=\"rotate(-90 {x} {y})\"");
            }
            let _ = write!(
                svg,
                " textLength=\"{length}\" lengthAdjust=\"spacingAndGlyphs\">{}</text>",
                escaped(&text.words)
            );
        }
        *svg += "</g>";
    }
}

#[cfg(test)]
mod tests {
    use super::write;
    use bom::drawing::{At, Dash, Fill, Layer, Mark, Shape, Stroke, Text, TextSize, Weight};

    fn written(shapes: Vec<Shape>) -> String {
        let mut svg = String::new();
        write(&mut svg, &[&Mark::new(Layer::Pipe, shapes)], "#fff");
        svg
    }

    #[test]
    fn lines_of_one_style_are_one_path() {
        let line = |stroke, y| Shape::line(stroke, vec![At::new(0.0, y), At::new(5.0, y)]);
        let dashed = Stroke::new(Weight::Wide, Dash::Dashed);
        assert_eq!(
            written(vec![
                line(Stroke::NARROW, 0.0),
                line(Stroke::NARROW, 1.0),
                line(dashed, 2.0),
            ]),
            "<path d=\"M0 0h5M0 1h5\"/>\
             <path d=\"M0 2h5\" stroke-width=\".5\" stroke-dasharray=\"3 1.5\" stroke-linecap=\"butt\"/>"
        );
    }

    #[test]
    fn what_hides_and_what_is_black_stays_in_its_order() {
        let disc = |fill| Shape::circle(Stroke::NARROW, fill, At::new(2.0, 3.0), 0.5);
        let bare = Shape::Path {
            points: vec![At::new(0.0, 0.0), At::new(1.0, 1.0)],
            closed: true,
            stroke: None,
            fill: Fill::Ink,
        };
        assert_eq!(
            written(vec![disc(Fill::Paper), bare]),
            "<circle cx=\"2\" cy=\"3\" r=\".5\" fill=\"#fff\"/>\
             <path d=\"M0 0l1 1z\" fill=\"currentColor\" stroke=\"none\"/>"
        );
    }

    #[test]
    fn a_text_states_its_length() {
        let text = Text::new(At::new(1.0, 2.0), TextSize::Small, "<00>").turned();
        let svg = written(vec![Shape::Text(text)]);
        assert!(
            svg.contains(" transform=\"rotate(-90 1 2)\" textLength=\""),
            "{svg}"
        );
        assert!(svg.contains(">&lt;00&gt;</text></g>"), "{svg}");
    }
}

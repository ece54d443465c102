//! Which texts of a sheet cannot be read: those that meet another text, a line,
//! something black, or the edge.

use super::shape::{Area, At, Fill, Shape};
use super::{Sheet, Text};

/// What may touch without being seen to.
const SLACK: f64 = 0.05;

/// A text that meets something.
#[derive(Debug, Clone, PartialEq)]
pub struct Collision {
    /// The text.
    pub text: String,
    /// What it meets: another text in quotes, `a line`, `black`, `the edge`.
    pub with: String,
    /// Where the text stands.
    pub at: At,
}

/// Every text that meets something. Takes the square of the texts: for checks, not
/// for drawing.
#[must_use]
pub fn collisions(sheet: &Sheet) -> Vec<Collision> {
    let texts: Vec<(&Text, Area)> = sheet
        .texts()
        .filter(|text| !text.words.trim().is_empty())
        .map(|text| (text, text.area().grown(-SLACK)))
        .collect();
    let shapes = || sheet.marks.iter().flat_map(|mark| &mark.shapes);
    let lines: Vec<(At, At, f64)> = shapes().flat_map(widened).collect();
    let black: Vec<Area> = shapes().filter_map(black).collect();
    let paper = Area::of(At::default(), At::new(sheet.width, sheet.height));
    let mut found = Vec::new();
    for (number, (text, area)) in texts.iter().enumerate() {
        let mut meets = |with: String| {
            found.push(Collision {
                text: text.words.clone(),
                with,
                at: text.at,
            });
        };
        for (other, its) in &texts[number + 1..] {
            if area.overlaps(its) {
                meets(format!("“{}”", other.words));
            }
        }
        if lines
            .iter()
            .any(|(from, to, half)| area.grown(*half).is_crossed(*from, *to))
        {
            meets("a line".to_owned());
        }
        if black.iter().any(|one| area.overlaps(one)) {
            meets("black".to_owned());
        }
        if !paper.holds(area) {
            meets("the edge".to_owned());
        }
    }
    found
}

/// The lines of a shape that are drawn, with half their width.
fn widened(shape: &Shape) -> Vec<(At, At, f64)> {
    let stroke = match shape {
        Shape::Path { stroke, .. } | Shape::Disc { stroke, .. } => *stroke,
        Shape::Text(_) => None,
    };
    let Some(stroke) = stroke else {
        return Vec::new();
    };
    let half = stroke.weight.mm() / 2.0;
    let segments = shape.segments().into_iter();
    segments.map(|(from, to)| (from, to, half)).collect()
}

fn black(shape: &Shape) -> Option<Area> {
    match shape {
        Shape::Path { fill, .. } | Shape::Disc { fill, .. } if *fill == Fill::Ink => shape.area(),
        Shape::Path { .. } | Shape::Disc { .. } | Shape::Text(_) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::collisions;
    use crate::drawing::{At, Fill, Layer, Mark, Shape, Sheet, Stroke, Text, TextSize};

    fn text(x: f64, y: f64, words: &str) -> Shape {
        Shape::Text(Text::new(At::new(x, y), TextSize::Small, words))
    }

    fn met(shapes: Vec<Shape>) -> Vec<(String, String)> {
        let sheet = Sheet {
            id: "test".to_owned(),
            title: "Test".to_owned(),
            about: String::new(),
            width: 100.0,
            height: 50.0,
            marks: vec![Mark::new(Layer::Label, shapes)],
        };
        let found = collisions(&sheet).into_iter();
        found.map(|one| (one.text, one.with)).collect()
    }

    #[test]
    fn what_a_text_meets_is_found_and_nothing_else() {
        let pair = |text: &str, with: &str| (text.to_owned(), with.to_owned());
        assert_eq!(
            met(vec![text(10.0, 10.0, "one"), text(10.0, 20.0, "two")]),
            []
        );
        assert_eq!(
            met(vec![text(10.0, 10.0, "one"), text(12.0, 11.0, "two")]),
            [pair("one", "“two”")]
        );
        let line = |y: f64| Shape::line(Stroke::WIDE, vec![At::new(0.0, y), At::new(90.0, y)]);
        assert_eq!(
            met(vec![text(10.0, 10.0, "one"), line(9.0)]),
            [pair("one", "a line")]
        );
        assert_eq!(met(vec![text(10.0, 10.0, "one"), line(12.0)]), []);
        assert_eq!(
            met(vec![text(96.0, 10.0, "one")]),
            [pair("one", "the edge")]
        );
        let ring = |fill| Shape::circle(Stroke::NARROW, fill, At::new(12.5, 9.0), 6.0);
        assert_eq!(met(vec![ring(Fill::Paper), text(10.0, 10.0, "one")]), []);
        assert_eq!(
            met(vec![ring(Fill::Ink), text(10.0, 10.0, "one")]),
            [pair("one", "black")]
        );
    }
}

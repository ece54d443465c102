//! Drawings on paper, each on a page of its own: the same lines, areas and texts as
//! in SVG.

use super::fonts::{Face, Fonts, LARGE};
use super::imprint::Imprint;
use super::page::Sheets;
use super::{Leaf, Paper};
use crate::output::DrawingHead;
use bom::drawing::{Anchor, At, Field, Fill, Shape, Sheet, Stroke, Text};
use printpdf::{
    Color, Greyscale, Line, LineCapStyle, LineDashPattern, LineJoinStyle, LinePoint, Op, PaintMode,
    Point, Polygon, PolygonRing, Pt, TextItem, TextMatrix, WindingOrder,
};
use std::collections::BTreeSet;
use std::io::{self, Write};

/// Points in a millimetre.
const SCALE: f64 = 72.0 / 25.4;
/// How far along its tangents a quarter of a circle is drawn to.
const QUARTER: f64 = 0.552_284_75;
/// How far a drawing's title stands above the drawing.
const RAISED: f32 = 18.5;

/// Writes drawings as a PDF with a bookmark each, and gives back the characters that
/// the fonts lack, which are printed as `?`.
///
/// # Errors
/// Those of `out`.
pub fn drawings(
    sheets: &[Sheet],
    head: &DrawingHead<'_>,
    paper: Paper,
    out: &mut dyn Write,
) -> io::Result<BTreeSet<char>> {
    let imprint = Imprint {
        kind: "Drawings",
        title: head.job,
        revision: head.revision,
        fingerprint: head.fingerprint,
        date: head.date,
        author: "",
        foot: "",
        warning: None,
    };
    imprint.write(paper, out, |pile| {
        for sheet in sheets {
            pile.leaf(&leaf(sheet, pile.fonts, paper));
        }
    })
}

/// Drawings for another paper to take up.
///
/// # Errors
/// Where the built-in fonts cannot be read.
pub fn leaves(sheets: &[Sheet], paper: Paper) -> io::Result<Vec<Leaf>> {
    let fonts = Fonts::load()?;
    let leaf = |sheet| leaf(sheet, &fonts, paper);
    Ok(sheets.iter().map(leaf).collect())
}

/// A drawing on a page of its own, which lies where the drawing is too wide for one
/// that stands.
fn leaf(sheet: &Sheet, fonts: &Fonts, paper: Paper) -> Leaf {
    let (across, down) = paper.millimetres();
    let lies = sheet.width > Field::COMMON.width;
    let size = if lies { (down, across) } else { (across, down) };
    Leaf::drawn(fonts, &sheet.title, size, |page| {
        let left = page.left();
        // The title stands between the running head and where papers begin, so that
        // the drawing has all of the rest.
        page.go_to(page.down() - RAISED);
        let title = fonts.shorten(LARGE, &sheet.title, page.right() - left);
        page.text(LARGE, left, &title);
        page.advance(RAISED);
        let top = f64::from(page.size().1 - page.down());
        draw(page, sheet, At::new(f64::from(left), top));
    })
}

/// Draws a sheet whose upper left corner is at `origin`, in points from the lower left
/// corner of the page.
fn draw(page: &mut Sheets, sheet: &Sheet, origin: At) {
    page.push(Op::SaveGraphicsState);
    page.push(Op::SetLineJoinStyle {
        join: LineJoinStyle::Round,
    });
    let mut pen = Pen {
        page,
        origin,
        stroke: None,
        grey: None,
    };
    for mark in &sheet.marks {
        for shape in mark.drawn() {
            pen.shape(shape);
        }
        for text in mark.read() {
            pen.text(text);
        }
    }
    page.push(Op::RestoreGraphicsState);
}

/// What draws, and what it draws with just now.
struct Pen<'a, 'f> {
    page: &'a mut Sheets<'f>,
    origin: At,
    stroke: Option<Stroke>,
    grey: Option<f32>,
}

impl Pen<'_, '_> {
    fn shape(&mut self, shape: &Shape) {
        let (points, closed, stroke, fill) = match shape {
            Shape::Path {
                points,
                closed,
                stroke,
                fill,
            } => {
                let corners = points.iter().map(|at| self.corner(*at, false));
                (corners.collect(), *closed, *stroke, *fill)
            }
            Shape::Disc {
                centre,
                radius,
                stroke,
                fill,
            } => (self.circle(*centre, *radius), true, *stroke, *fill),
            Shape::Text(_) => return,
        };
        match fill {
            Fill::Open => {}
            Fill::Paper => self.area(&points, 1.0),
            Fill::Ink => self.area(&points, 0.0),
        }
        if let Some(stroke) = stroke {
            self.take(stroke);
            let line = Line {
                points,
                is_closed: closed,
            };
            self.page.push(Op::DrawLine { line });
        }
    }

    fn area(&mut self, points: &[LinePoint], grey: f32) {
        self.ink(grey);
        let polygon = Polygon {
            rings: vec![PolygonRing {
                points: points.to_vec(),
            }],
            mode: PaintMode::Fill,
            winding_order: WindingOrder::NonZero,
        };
        self.page.push(Op::DrawPolygon { polygon });
    }

    /// The colour of areas and letters.
    fn ink(&mut self, grey: f32) {
        if self.grey.is_some_and(|now| now.total_cmp(&grey).is_eq()) {
            return;
        }
        self.grey = Some(grey);
        self.page.push(Op::SetFillColor {
            col: Color::Greyscale(Greyscale {
                percent: grey,
                icc_profile: None,
            }),
        });
    }

    fn take(&mut self, stroke: Stroke) {
        if self.stroke == Some(stroke) {
            return;
        }
        self.stroke = Some(stroke);
        let dashes: Vec<f32> = stroke.dashes().into_iter().map(points).collect();
        let cap = if dashes.is_empty() {
            LineCapStyle::Round
        } else {
            LineCapStyle::Butt
        };
        self.page.push(Op::SetOutlineThickness {
            pt: Pt(points(stroke.weight.mm())),
        });
        self.page.push(Op::SetLineDashPattern {
            dash: LineDashPattern::new(0.0, &dashes),
        });
        self.page.push(Op::SetLineCapStyle { cap });
    }

    /// Four quarters, each by the two ends of its tangents.
    fn circle(&self, centre: At, radius: f64) -> Vec<LinePoint> {
        let on = |x: f64, y: f64, handle| self.corner(centre.by(x * radius, y * radius), handle);
        let mut points = vec![on(1.0, 0.0, false)];
        for (x, y) in [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)] {
            // The next quarter begins a right angle further on.
            let (next_x, next_y): (f64, f64) = (-y, x);
            points.push(on(x + QUARTER * next_x, y + QUARTER * next_y, true));
            points.push(on(next_x + QUARTER * x, next_y + QUARTER * y, true));
            points.push(on(next_x, next_y, false));
        }
        points
    }

    fn text(&mut self, text: &Text) {
        let face = if text.bold { Face::Bold } else { Face::Regular };
        let shown = self.page.shown(face, &text.words);
        if shown.trim().is_empty() {
            return;
        }
        self.ink(0.0);
        let before = match text.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => text.length() / 2.0,
            Anchor::End => text.length(),
        };
        self.page.push(Op::StartTextSection);
        self.page.push(Op::SetFont {
            font: face.handle(),
            size: Pt(points(text.size.mm())),
        });
        self.page.push(if text.turned {
            let at = self.place(text.at.by(0.0, before));
            let matrix = TextMatrix::Raw([0.0, 1.0, -1.0, 0.0, at.x.0, at.y.0]);
            Op::SetTextMatrix { matrix }
        } else {
            let pos = self.place(text.at.by(-before, 0.0));
            Op::SetTextCursor { pos }
        });
        self.page.push(Op::ShowText {
            items: vec![TextItem::Text(shown)],
        });
        self.page.push(Op::EndTextSection);
    }

    fn corner(&self, at: At, bezier: bool) -> LinePoint {
        LinePoint {
            p: self.place(at),
            bezier,
        }
    }

    fn place(&self, at: At) -> Point {
        Point {
            x: Pt(hundredth(self.origin.x + at.x * SCALE)),
            y: Pt(hundredth(self.origin.y - at.y * SCALE)),
        }
    }
}

/// Millimetres as points.
fn points(mm: f64) -> f32 {
    hundredth(mm * SCALE)
}

/// Rounded to a hundredth of a point, so that the file stays short.
#[expect(clippy::cast_possible_truncation, reason = "a place on paper")]
fn hundredth(points: f64) -> f32 {
    ((points * 100.0).round() / 100.0) as f32
}

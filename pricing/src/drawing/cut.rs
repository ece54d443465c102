//! Every stick to scale with its pieces end to end, in the order of cutting.

use crate::cut_sheet::{CutPiece, CutSection, CutSheet, CutStick};
use bom::drawing::{
    Anchor, Area, At, Entry, Field, Fill, Hatch, Layer, Mark, Named, Pages, Shape, Sheet, Stroke,
    Text, TextSize, hatch, width, wrap,
};
use bom::quantity::{Length, Units};

/// A stick on paper.
const BAR: f64 = 9.0;
/// From its caption to the stick, and from there to what is said below.
const ABOVE: f64 = 1.6;
const BELOW: f64 = 1.0;
/// Free on both sides of what is written into a piece.
const INSIDE: f64 = 1.0;

/// The sticks of every size; no sheet where nothing is cut.
#[must_use]
pub fn cut(sheet: &CutSheet, field: Field) -> Vec<Sheet> {
    let mut pages = Pages::new(
        field,
        Named {
            id: "cut".to_owned(),
            title: "Cut sheet".to_owned(),
            about: "Every stick of pipe to scale, with the pieces that are cut from it in the order of cutting; what is left is hatched.".to_owned(),
        },
    );
    for section in &sheet.sections {
        if section.sticks.is_empty() {
            continue;
        }
        let longest = section.sticks.iter().map(|stick| stick.stock).max();
        let drawing = Drawing {
            units: sheet.heading.units,
            section,
            labelled: !sheet.straights.is_empty(),
            across: field.width - 1.0,
            longest: longest.unwrap_or_default(),
        };
        drawing.put(&mut pages);
    }
    pages.finish()
}

/// The sticks of one size.
struct Drawing<'a> {
    units: Units,
    section: &'a CutSection,
    /// Whether labels name straights.
    labelled: bool,
    /// The longest stick on paper.
    across: f64,
    longest: Length,
}

impl Drawing<'_> {
    fn put(&self, pages: &mut Pages) {
        let sticks: Vec<Stick<'_>> = self
            .section
            .sticks
            .iter()
            .map(|one| self.stick(one))
            .collect();
        let heads = 2.0 * TextSize::Plain.leading() + 8.0;
        let first = sticks.first().map_or(0.0, Stick::height);
        pages.make_room(heads + first, &self.legend());
        pages.title(&self.title());
        pages.text(&self.kerf(), false);
        for (number, stick) in sticks.iter().enumerate() {
            if pages.make_room(stick.height() + 2.0, &self.legend()) {
                pages.title(&format!("{}, continued", self.title()));
            }
            let top = pages.down() + 2.0;
            let marks = self.drawn(stick, number + 1, top);
            pages.put(marks, top + stick.height());
        }
    }

    /// `black-iron 3/4in: 11 sticks to buy`.
    fn title(&self) -> String {
        let CutSection {
            system,
            size,
            bought,
            ..
        } = self.section;
        let sticks = match bought {
            1 => "1 stick".to_owned(),
            count => format!("{count} sticks"),
        };
        let what = format!("{system} {size}");
        let proven = if self.section.proven {
            ", proven the best plan"
        } else {
            ""
        };
        match what.trim() {
            "" => format!("{sticks} to buy{proven}"),
            what => format!("{what}: {sticks} to buy{proven}"),
        }
    }

    fn kerf(&self) -> String {
        let kerf = self.section.kerf;
        let labels = match self.labelled {
            true => " A piece 1.1 is the first of straight 1.",
            false => "",
        };
        let takes = match (kerf, self.units) {
            (Length::ZERO, _) => "A wheel cutter takes nothing.".to_owned(),
            (_, Units::Feet) => format!("The saw takes {} at each cut.", kerf.show(Units::Feet)),
            (_, Units::Metric) => format!("The saw takes {} mm at each cut.", kerf.to_mm_text()),
        };
        format!("Cut from the left. {takes} A last piece may finish flush.{labels}")
    }

    fn legend(&self) -> Vec<(&'static str, Entry)> {
        let area = |left: f64, right: f64| Area::of(At::new(left, -2.2), At::new(right, 2.2));
        let piece = Shape::rectangle(Stroke::WIDE, Fill::Open, area(-6.0, 6.0));
        let mut left = hatch(area(-6.0, 6.0), Hatch::Rising);
        left.push(piece.clone());
        let entry = |sign: Vec<Shape>, words: &str| Entry {
            sign,
            words: words.to_owned(),
        };
        vec![
            (
                "piece",
                entry(vec![piece], "piece, with its label and its length"),
            ),
            ("waste", entry(left, "left over")),
        ]
    }

    /// How far along the stick a length reaches on paper.
    fn along(&self, length: Length) -> f64 {
        length.mm() / self.longest.mm().max(1e-6) * self.across
    }

    /// What is written into the pieces and what below.
    fn stick<'a>(&self, stick: &'a CutStick) -> Stick<'a> {
        let inside = stick.pieces.iter().take_while(|piece| {
            let lines = [piece.label.clone(), piece.length.show(self.units)];
            let bold = [true, false];
            let most = lines
                .iter()
                .zip(bold)
                .map(|(line, bold)| width(line, TextSize::Small, bold));
            most.fold(0.0, f64::max) + 2.0 * INSIDE <= self.along(piece.length)
        });
        let inside = inside.count();
        let below = wrap(
            &self.below(&stick.pieces[inside..]),
            TextSize::Small,
            false,
            self.across,
        );
        Stick {
            stick,
            inside,
            below,
        }
    }

    /// Pieces that are too short to be written into: `then 12.1 1 3/4", …`.
    fn below(&self, pieces: &[CutPiece]) -> String {
        let mut said: Vec<(Length, Vec<&str>)> = Vec::new();
        for piece in pieces {
            match said.last_mut() {
                Some((length, labels)) if *length == piece.length => labels.push(&piece.label),
                _ => said.push((piece.length, vec![&piece.label])),
            }
        }
        let words = said.iter().map(|(length, labels)| {
            let length = length.show(self.units);
            let names: Vec<&str> = labels
                .iter()
                .copied()
                .filter(|one| !one.is_empty())
                .collect();
            match (names.len(), labels.len()) {
                (0, 1) => length,
                (0, count) => format!("{count} of {length}"),
                (1, _) => format!("{} of {length}", names.join("")),
                _ => format!("{}, each {length}", names.join(", ")),
            }
        });
        match words.collect::<Vec<_>>().join("; ") {
            words if words.is_empty() => words,
            words => format!("Short pieces in order: {words}."),
        }
    }

    fn drawn(&self, drawn: &Stick<'_>, number: usize, top: f64) -> Vec<Mark> {
        let stick = drawn.stick;
        let small = TextSize::Small;
        let baseline = top + 0.8 * small.mm();
        let what = if stick.offcut { "Own offcut" } else { "Stick" };
        let what = format!("{what} {number}, {}", stick.stock.show(self.units));
        let title = Text::new(At::new(0.5, baseline), small, &*what).bold();
        let left = format!("left {}", stick.waste.show(self.units));
        let right = 0.5 + self.along(stick.stock);
        let left = Text::new(At::new(right, baseline), small, left).anchored(Anchor::End);
        let mut words = vec![Shape::Text(title), Shape::Text(left)];
        let bar = Area::of(
            At::new(0.5, top + small.mm() + ABOVE),
            At::new(right, top + small.mm() + ABOVE + BAR),
        );
        let mut shapes = Vec::new();
        let mut begun = Length::ZERO;
        for (index, piece) in stick.pieces.iter().enumerate() {
            let end = begun + piece.length;
            let area = Area {
                left: 0.5 + self.along(begun),
                right: 0.5 + self.along(end),
                ..bar
            };
            shapes.push(Shape::rectangle(Stroke::NARROW, Fill::Open, area));
            if index < drawn.inside {
                words.extend(self.inside(piece, &area));
            }
            begun = end + self.section.kerf;
        }
        let waste = stick.stock - stick.waste;
        let rest = Area {
            left: 0.5 + self.along(waste),
            ..bar
        };
        if stick.waste > Length::ZERO {
            shapes.extend(hatch(rest, Hatch::Rising));
            shapes.push(Shape::rectangle(Stroke::NARROW, Fill::Open, rest));
        }
        shapes.push(Shape::rectangle(Stroke::WIDE, Fill::Open, bar));
        let mut down = bar.bottom + BELOW;
        for line in &drawn.below {
            words.push(Shape::Text(Text::new(
                At::new(0.5, down + 0.8 * small.mm()),
                small,
                &**line,
            )));
            down += small.leading();
        }
        let id = format!(
            "stick-{}-{}-{number}",
            self.section.system,
            self.section.size.replace([' ', '/'], "-")
        );
        vec![
            Mark::named(Layer::Part, &id, &what, shapes),
            Mark::new(Layer::Label, words),
        ]
    }

    fn inside(&self, piece: &CutPiece, area: &Area) -> Vec<Shape> {
        let small = TextSize::Small;
        let length = piece.length.show(self.units);
        let middle = area.middle();
        if piece.label.is_empty() {
            return vec![Shape::Text(Text::centred(middle, small, length))];
        }
        let line = small.leading() / 2.0 + 0.15;
        let label = Text::centred(middle.by(0.0, -line), small, &*piece.label).bold();
        let length = Text::centred(middle.by(0.0, line), small, length);
        vec![Shape::Text(label), Shape::Text(length)]
    }
}

/// A stick, how many of its pieces are written into, and what is said below.
struct Stick<'a> {
    stick: &'a CutStick,
    inside: usize,
    below: Vec<String>,
}

impl Stick<'_> {
    fn height(&self) -> f64 {
        let below: f64 = self.below.iter().map(|_| TextSize::Small.leading()).sum();
        TextSize::Small.mm() + ABOVE + BAR + BELOW + below
    }
}

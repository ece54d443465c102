//! The columns below the pipe: name, distance and height of each place.

use super::{LEFT, NAME, Panel};
use crate::drawing::page::{Block, in_lines, moved};
use crate::drawing::shape::{At, Dash, Fill, Shape, Stroke, Weight};
use crate::drawing::text::{Text, TextSize, shorten, width};
use crate::drawing::water::strip::spread;
use crate::drawing::{Layer, Mark};
use crate::network::{Owner, Spot};
use crate::water::Place;

const DOTTED: Stroke = Stroke::new(Weight::Narrow, Dash::Dotted);

impl Panel<'_> {
    /// The title above, and the columns below.
    pub(super) fn columns(mut self) -> Block {
        let units = self.side.scene.plan.summary.units;
        let places = self.run.places;
        let wanted: Vec<f64> = places.iter().map(|place| self.x(place.along)).collect();
        let apart = vec![self.side.apart; places.len()];
        let columns = spread(&wanted, &apart, LEFT, self.right + 3.0);
        let bend = self.floor() + 1.0;
        let rows_top = bend + 4.0;
        let size = TextSize::Small;
        let names: Vec<(Option<usize>, String)> =
            places.iter().map(|place| self.name(place)).collect();
        let long = |words: &mut dyn Iterator<Item = &str>| {
            words
                .map(|words| width(words, size, false))
                .fold(0.0, f64::max)
        };
        let alongs: Vec<String> = places.iter().map(|place| place.along.show(units)).collect();
        let heights: Vec<String> = places
            .iter()
            .map(|place| place.height.show(units))
            .collect();
        let name_row = long(&mut names.iter().map(|(_, name)| &**name)) * 1.08;
        let along_row = long(&mut alongs.iter().map(|text| &**text)).max(9.0);
        let height_row = long(&mut heights.iter().map(|text| &**text)).max(9.0);
        let has_ring = names.iter().any(|(number, _)| number.is_some());
        let ring_row = if has_ring { self.side.apart + 0.8 } else { 1.0 };
        let name_top = rows_top + ring_row;
        let along_top = name_top + name_row + 2.4;
        let height_top = along_top + along_row + 2.4;
        let bottom = height_top + height_row + 1.0;
        let mut lines = Vec::new();
        let mut texts = Vec::new();
        for (index, place) in places.iter().enumerate() {
            let (at, x) = (self.at(place), columns[index]);
            let below = match self.side.tags.drain_at(place.at).is_some() {
                true => 5.2,
                false => 1.2,
            };
            lines.push(Shape::line(
                DOTTED,
                vec![
                    At::new(at.x, (at.y + below).min(bend)),
                    At::new(at.x, bend),
                    At::new(x, rows_top),
                ],
            ));
            let turned = |words: &str, bottom: f64, bold: bool| {
                let at = At::new(x + 0.365 * size.mm(), bottom);
                let mut text = Text::new(at, size, words).turned();
                text.bold = bold;
                Shape::Text(text)
            };
            let (number, name) = &names[index];
            let mut shapes = Vec::new();
            if let Some(number) = number {
                let middle = At::new(x, rows_top + self.side.apart / 2.0);
                shapes.push(Shape::circle(
                    Stroke::NARROW,
                    Fill::Paper,
                    middle,
                    self.side.apart / 2.0 - 0.2,
                ));
                shapes.push(Shape::Text(Text::centred(middle, size, number.to_string())));
            }
            // Names hang below the numbers.
            let bold = number.is_none() && self.side.tags.drain_at(place.at).is_some();
            let reaches = width(name, size, bold);
            shapes.push(turned(name, name_top + reaches, bold));
            shapes.push(turned(&alongs[index], along_top + along_row, false));
            shapes.push(turned(&heights[index], height_top + height_row, false));
            texts.push(shapes);
        }
        for y in [along_top - 1.2, height_top - 1.2, bottom] {
            lines.push(Shape::line(
                Stroke::NARROW,
                vec![At::new(0.0, y), At::new(self.right + 6.0, y)],
            ));
        }
        self.marks.push(Mark::new(Layer::Dimension, lines));
        for shapes in texts {
            self.marks.push(Mark::new(Layer::Note, shapes));
        }
        let heads = [
            ("place", name_top, name_row),
            ("along", along_top, along_row),
            ("height", height_top, height_row),
        ];
        let heads = heads.map(|(words, top, row)| {
            let at = At::new(0.0, top + row / 2.0 + 0.365 * size.mm());
            Shape::Text(Text::new(at, size, words).bold())
        });
        self.marks.push(Mark::new(Layer::Note, heads.to_vec()));
        let across = (self.right + 6.0).min(self.side.across);
        let title = self.title();
        let mut shapes = Vec::new();
        let title = in_lines(&title, TextSize::Small, true, across);
        let mut y = 0.8 * TextSize::Small.mm();
        for line in title {
            shapes.push(Shape::Text(
                Text::new(At::new(0.0, y), TextSize::Small, line).bold(),
            ));
            y += TextSize::Small.leading();
        }
        let head = y - 0.8 * TextSize::Small.mm();
        self.marks = moved(std::mem::take(&mut self.marks), 0.0, head - 4.0);
        self.marks.push(Mark::new(Layer::Note, shapes));
        Block {
            marks: self.marks,
            signs: self.entries,
            across,
            down: bottom + head - 4.0,
        }
    }

    /// The number of a place's outlet, and its name in its column.
    fn name(&self, place: &Place) -> (Option<usize>, String) {
        let network = &self.side.scene.plan.network;
        let drop = network
            .drops
            .iter()
            .find(|drop| drop.take_off_at == place.at);
        let number = drop.map(|drop| self.side.tags.outlet(&drop.name));
        let drain = self.side.tags.drain_at(place.at);
        let valve = self
            .side
            .tags
            .valve_at(place.at)
            .filter(|_| network.is_line_valve(place.at));
        let goes_on = || {
            network
                .ends(place.at)
                .filter(|end| network.link(end.link).is_main())
                .count()
                > 1
        };
        let name = match (number, drain, valve) {
            (None, Some(tag), _) | (None, None, Some(tag)) => format!("{tag} {}", place.name),
            (Some(_), Some(tag), _) => format!("{} {tag}", place.name),
            // A leg may end there; the pipe does not.
            _ if self.is_nameless_end(place) && goes_on() => "corner".to_owned(),
            _ => place.name.clone(),
        };
        let name = shorten(&name, TextSize::Small, true, NAME);
        (number, name)
    }

    fn is_nameless_end(&self, place: &Place) -> bool {
        let network = &self.side.scene.plan.network;
        let origin = network.node(place.at).origin;
        match (origin.owner, origin.spot) {
            (Owner::Leg(leg), Spot::End) => network.legs[leg].end.is_empty(),
            _ => false,
        }
    }

    /// Which legs it is, and how its heights are drawn.
    fn title(&self) -> String {
        let network = &self.side.scene.plan.network;
        let mut legs: Vec<usize> = Vec::new();
        for place in self.run.places {
            if let Some(leg) = place.by.and_then(|by| network.link(by).leg)
                && legs.last() != Some(&leg)
            {
                legs.push(leg);
            }
        }
        let label = |leg: Option<&usize>| {
            leg.map_or_else(String::new, |leg| network.legs[*leg].label.clone())
        };
        let words = match legs.len() {
            0 | 1 => label(legs.first()),
            _ => format!("{} to {}", label(legs.first()), label(legs.last())),
        };
        let times = match self.bands.times {
            times if times >= 1.5 => format!("heights drawn {times:.0} times as large as lengths"),
            times if times > 0.99 => "heights drawn as large as lengths".to_owned(),
            times => format!("heights drawn {times:.2} times as large as lengths"),
        };
        let goes_on = if self.run.goes_on {
            ", a piece of it"
        } else {
            ""
        };
        format!("{}. {words}{goes_on}; {times}", self.run.number)
    }
}

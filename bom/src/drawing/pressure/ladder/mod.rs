//! One ladder: a rung for each item, with what it takes and what it leaves.

mod stairs;

use crate::air::answer::{Air, State};
use crate::air::ladder::{Step, ToolAir};
use crate::drawing::page::{Block, in_lines};
use crate::drawing::shape::{At, Dash, Shape, Stroke, Weight};
use crate::drawing::text::{Anchor, Text, TextSize};
use crate::drawing::{Entry, Layer, Mark, Scene, tags};
use crate::quantity::{Pressure, Units};
use stairs::Stairs;

const SIZE: TextSize = TextSize::Small;
/// From one line of text to the next.
const LINE: f64 = 4.2;
/// A column of figures.
const FIGURE: f64 = 11.5;
/// The items' column.
const ITEM: f64 = 56.0;
const WORN: Stroke = Stroke::new(Weight::Narrow, Dash::Dashed);
const NEEDS: Stroke = Stroke::new(Weight::Narrow, Dash::Whole);
const BEST: Stroke = Stroke::new(Weight::Narrow, Dash::Centre);

/// The ladder of a tool; two where the air comes another way after years.
pub(super) fn ladders(scene: &Scene<'_>, air: &Air, tool: usize, across: f64) -> Vec<Block> {
    let (new, worn) = (&air.new.tools[tool], &air.aged.tools[tool]);
    let items =
        |way: &ToolAir| -> Vec<String> { way.steps.iter().map(|step| step.item.clone()).collect() };
    let one = |name: &str, ways: &[(&str, &ToolAir)]| {
        Ladder {
            scene,
            air,
            tool,
            across,
            ways,
        }
        .drawn(name)
    };
    match items(new) == items(worn) {
        true => vec![one("", &[("new", new), ("worn", worn)])],
        false => vec![
            one(", as new", &[("new", new)]),
            one(", worn", &[("worn", worn)]),
        ],
    }
}

/// What the lines mean.
fn key() -> Vec<Entry> {
    let entry = |words: &str, stroke| {
        let ends = vec![At::new(-6.0, 0.0), At::new(6.0, 0.0)];
        Entry {
            sign: vec![Shape::line(stroke, ends)],
            words: words.to_owned(),
        }
    };
    vec![
        entry("pressure left, new", Stroke::WIDE),
        entry("pressure left, worn", WORN),
        entry("least that the tool needs", NEEDS),
        entry("at which it works best", BEST),
    ]
}

struct Ladder<'a> {
    scene: &'a Scene<'a>,
    air: &'a Air,
    tool: usize,
    across: f64,
    ways: &'a [(&'a str, &'a ToolAir)],
}

impl Ladder<'_> {
    fn units(&self) -> Units {
        self.scene.plan.summary.units
    }

    /// A pressure without its unit.
    fn figure(&self, pressure: Pressure, decimals: usize) -> String {
        let text = pressure.show_fine(self.units(), decimals);
        text.split(' ').next().unwrap_or_default().to_owned()
    }

    fn drawn(&self, name: &str) -> Block {
        let head = self
            .title(name)
            .above(Block::note(&self.verdict(), self.across), 0.4);
        head.above(self.rungs(name), 1.6)
    }

    fn title(&self, name: &str) -> Block {
        let plan = self.scene.plan;
        let tool = &self.air.demand.tools[self.tool];
        let outlet = &plan.job.outlets[tool.outlet].name.value;
        let number = tags(plan).outlet(outlet);
        let state = self.air.tools[self.tool].state().word().to_uppercase();
        let words = format!("Outlet {number}, {outlet}: {}{name}: {state}", tool.name);
        let mut block = Block::heading(&words, self.across);
        if let Some(mark) = block.marks.first_mut() {
            let tool = self.tool + 1;
            mark.id = Some(format!("outlet-{number}-tool-{tool}{}", slug(name)));
            mark.title = Some(words);
        }
        block
    }

    /// The verdict in words.
    fn verdict(&self) -> String {
        let units = self.units();
        let demand = &self.air.demand.tools[self.tool];
        let judged = &self.air.tools[self.tool];
        let mut said = Vec::new();
        for (word, way) in self.ways {
            said.push(match way.gets {
                Some(gets) => format!("{} {word}", gets.show_fine(units, 1)),
                None => format!("nothing {word}"),
            });
        }
        let mut words = format!("It gets {}", said.join(", "));
        let least = demand
            .least
            .map(|least| format!("needs {}", least.value.show(units)));
        let best = demand
            .best
            .map(|best| format!("works best at {}", best.value.show(units)));
        let wants: Vec<String> = least.into_iter().chain(best).collect();
        words += &match wants.len() {
            0 => "; nothing says what it needs".to_owned(),
            _ => format!("; it {}", wants.join(" and ")),
        };
        words += match judged.state() {
            State::Enough => ": enough.",
            State::Unknown => ".",
            State::Weak => ": it works, and less well than it could.",
            State::Starved => ": IT IS STARVED.",
            State::Blocked => ": NO AIR COMES.",
        };
        for (word, way) in self.ways {
            if let Some(blocked) = &way.blocked {
                let place = || self.scene.plan.network.place(blocked.at);
                let item = blocked.item.clone().unwrap_or_else(place);
                words += &format!(" As {word} it stops at {item}.");
            }
        }
        if let Some(case) = self
            .ways
            .last()
            .and_then(|(_, way)| self.air.aged.cases.get(way.case))
        {
            words += &format!(" Worst while {}", case.name);
            let shut = self.ways.last().and_then(|(_, way)| way.shut);
            words += &match shut {
                Some(valve) => format!(", with {} shut.", self.scene.plan.network.place(valve)),
                None => ".".to_owned(),
            };
        }
        words
    }

    /// The table and the stairs beside it.
    fn rungs(&self, name: &str) -> Block {
        let unit = match self.units() {
            Units::Feet => "psi",
            Units::Metric => "bar",
        };
        let steps: &[Step] = self.ways.first().map_or(&[], |(_, way)| &way.steps);
        let mut shapes = Vec::new();
        let mut lines = Vec::new();
        let text = |x: f64, y: f64, words: &str, anchor: Anchor, bold: bool| {
            let mut text = Text::new(At::new(x, y), SIZE, words).anchored(anchor);
            text.bold = bold;
            Shape::Text(text)
        };
        let base = 0.8 * SIZE.mm();
        let mut right = ITEM;
        let mut heads = Vec::new();
        for what in ["takes", "left"] {
            for (word, _) in self.ways {
                right += FIGURE;
                heads.push((right, what, *word));
            }
        }
        shapes.push(text(
            0.0,
            base + LINE,
            &format!("from the tank, {unit}"),
            Anchor::Start,
            true,
        ));
        for (x, what, word) in &heads {
            shapes.push(text(*x, base, what, Anchor::End, true));
            shapes.push(text(*x, base + LINE, word, Anchor::End, true));
        }
        let mut y = 2.0 * LINE + 1.6;
        lines.push(Shape::line(
            Stroke::NARROW,
            vec![At::new(0.0, y - 1.0), At::new(right, y - 1.0)],
        ));
        let chart = Stairs::of(self, right + 8.0);
        let mut tops = Vec::new();
        // The tank first.
        let mut rows: Vec<(String, Option<usize>)> =
            vec![("tank, as the compressor starts".to_owned(), None)];
        rows.extend(
            steps
                .iter()
                .enumerate()
                .map(|(number, step)| (self.words(step), Some(number))),
        );
        for (words, number) in rows {
            let wrapped = in_lines(&words, SIZE, false, ITEM);
            for (line, words) in (0_u8..).zip(&wrapped) {
                shapes.push(text(
                    0.0,
                    y + base + f64::from(line) * LINE,
                    words,
                    Anchor::Start,
                    false,
                ));
            }
            let mut x = ITEM;
            let mut put = |words: String| {
                x += FIGURE;
                shapes.push(text(x, y + base, &words, Anchor::End, false));
            };
            for (_, way) in self.ways {
                let step = number.and_then(|number| way.steps.get(number));
                put(step.map_or_else(String::new, |step| self.figure(step.loss, 2)));
            }
            for (_, way) in self.ways {
                let left = match number {
                    Some(number) => way.steps.get(number).map(|step| step.left),
                    None => Some(self.air.cut_in),
                };
                put(left.map_or_else(String::new, |left| self.figure(left, 1)));
            }
            tops.push(y);
            y += wrapped.iter().map(|_| LINE).sum::<f64>().max(LINE);
        }
        tops.push(y);
        let (stairs, labels) = chart.drawn(self, &tops);
        lines.push(Shape::line(
            Stroke::NARROW,
            vec![At::new(0.0, y + 0.2), At::new(right, y + 0.2)],
        ));
        Block {
            marks: vec![
                Mark::new(Layer::Dimension, lines),
                Mark::new(Layer::Pipe, stairs),
                Mark::named(
                    Layer::Note,
                    &format!("rungs-{}{}", self.tool + 1, slug(name)),
                    "What each item takes and leaves",
                    shapes,
                ),
                Mark::new(Layer::Label, labels),
            ],
            signs: key(),
            across: self.across,
            down: y + LINE + 1.4,
        }
    }

    /// An item with what it holds back.
    fn words(&self, step: &Step) -> String {
        match step.held_back.kpa() < 0.05 {
            true => step.item.clone(),
            false => format!(
                "{}, holds back {}",
                step.item,
                self.figure(step.held_back, 1)
            ),
        }
    }
}

/// `, as new` as a part of a name in links.
fn slug(name: &str) -> String {
    name.replace(", ", "-").replace(' ', "-")
}

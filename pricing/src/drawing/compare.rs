//! Several pipe systems side by side as bars: what the customer pays and what for, the
//! hours of work, and the wages at which two of them cost the same.

use crate::compare::{BreakEven, CompareOption, Comparison, Figures};
use crate::money::Money;
use bom::drawing::{
    Anchor, Area, At, Column, Entry, Field, Fill, Hatch, Layer, List, Mark, Named, Pages, Row,
    Shape, Sheet, Stroke, Text, TextSize, hatch, wrap,
};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

/// A bar of money, and one of hours.
const BAR: f64 = 6.0;
const THIN: f64 = 4.0;
/// Room for the figure behind a bar.
const FIGURE: f64 = 34.0;

/// The chart; a second sheet where there are many systems.
#[must_use]
pub fn compare(comparison: &Comparison, field: Field) -> Vec<Sheet> {
    let mut pages = Pages::new(
        field,
        Named {
            id: "compare".to_owned(),
            title: "Comparison of pipe systems".to_owned(),
            about: "Bars of what the same layout costs the customer in each pipe system, split into materials, labour and the rest; bars of the hours of work; and the wages at which two systems cost the same.".to_owned(),
        },
    );
    let chart = Chart {
        comparison,
        across: field.width - 1.0,
    };
    pages.text(&comparison.scope, false);
    chart.totals(&mut pages);
    pages.list("Figures", chart.table());
    chart.hours(&mut pages);
    chart.wages(&mut pages);
    pages.finish()
}

struct Chart<'a> {
    comparison: &'a Comparison,
    across: f64,
}

/// A bar with its words: a name above, parts in it, a figure behind.
struct Bar<'a> {
    name: &'a str,
    height: f64,
    parts: Vec<(f64, Option<Hatch>)>,
    figure: String,
}

impl Chart<'_> {
    fn built(&self) -> impl Iterator<Item = (&CompareOption, &Figures)> {
        let options = self.comparison.options.iter();
        options.filter_map(|option| Some((option, option.figures.as_ref().ok()?)))
    }

    fn totals(&self, pages: &mut Pages) {
        let code = self.comparison.currency.code();
        let most = self.built().filter_map(|(_, one)| one.total).map(amount);
        let most = most.fold(0.0, f64::max);
        pages.title(&format!("What the customer pays, {code}"));
        for option in &self.comparison.options {
            let Some((figures, total)) = whole(option) else {
                self.open(pages, option);
                continue;
            };
            let part = |money: Option<Money>| money.map_or(0.0, amount).max(0.0);
            self.bar(
                pages,
                &Bar {
                    name: &option.title,
                    height: BAR,
                    parts: vec![
                        (part(figures.materials), Some(Hatch::Rising)),
                        (part(figures.labour), None),
                        (part(figures.other), Some(Hatch::Crossed)),
                    ],
                    figure: total.show(),
                },
                most,
                &legend(),
            );
        }
    }

    /// An option that has no total is said so, never drawn.
    fn open(&self, pages: &mut Pages, option: &CompareOption) {
        let why = match &option.figures {
            Err(reason) => format!("it cannot be built: {reason}"),
            Ok(_) => "a price or hours are missing".to_owned(),
        };
        let words = format!("{}: no total and not compared; {why}.", option.title);
        let lines = wrap(&words, TextSize::Small, false, self.across);
        pages.make_room(
            lines.iter().map(|_| TextSize::Small.leading()).sum::<f64>() + 3.0,
            &[],
        );
        pages.text(&words, false);
        pages.put(Vec::new(), pages.down() + 2.2);
    }

    fn hours(&self, pages: &mut Pages) {
        let hours = |one: &Figures| one.labour_hours.map(number);
        let most = self
            .built()
            .filter_map(|(_, one)| hours(one))
            .fold(0.0, f64::max);
        pages.make_room(40.0, &[]);
        pages.title("Hours of work");
        for (option, figures) in self.built() {
            let Some(hours) = figures.labour_hours else {
                continue;
            };
            self.bar(
                pages,
                &Bar {
                    name: &option.title,
                    height: THIN,
                    parts: vec![(number(hours), None)],
                    // Tenths are enough to weigh one against another.
                    figure: format!("{hours:.1}"),
                },
                most,
                &[],
            );
        }
    }

    fn bar(&self, pages: &mut Pages, bar: &Bar<'_>, most: f64, legend: &[(&'static str, Entry)]) {
        let small = TextSize::Small;
        let height = small.leading() + bar.height + 2.2;
        pages.make_room(height, legend);
        let top = pages.down();
        let name = Text::new(At::new(0.5, top + 0.8 * small.mm()), small, bar.name);
        let scale = (self.across - FIGURE) / most.max(1e-9);
        let mut left = 0.5;
        let mut shapes = Vec::new();
        let lines = (top + small.leading(), top + small.leading() + bar.height);
        for (part, pattern) in &bar.parts {
            let right = left + part * scale;
            let area = Area::of(At::new(left, lines.0), At::new(right, lines.1));
            if let Some(pattern) = pattern {
                shapes.extend(hatch(area, *pattern));
            }
            shapes.push(Shape::rectangle(Stroke::WIDE, Fill::Open, area));
            left = right;
        }
        let at = At::new(
            left + 2.0,
            f64::midpoint(lines.0, lines.1) + 0.365 * small.mm(),
        );
        let figure = Text::new(at, small, &*bar.figure).bold();
        pages.put(
            vec![
                Mark::new(Layer::Part, shapes),
                Mark::new(Layer::Label, vec![Shape::Text(name), Shape::Text(figure)]),
            ],
            top + height,
        );
    }

    /// The figures of the bars.
    fn table(&self) -> List {
        let open = |money: Option<Money>| money.map_or_else(|| "open".to_owned(), |one| one.show());
        let rows = self.built().map(|(option, one)| {
            let dearer = match one.difference {
                Some(money) if money.minor_units() == Some(0) => "cheapest".to_owned(),
                money => open(money),
            };
            let hours = one
                .labour_hours
                .map_or_else(|| "open".to_owned(), |hours| format!("{hours:.1}"));
            Row {
                named: Some((format!("option-{}", option.system), option.title.clone())),
                cells: vec![
                    option.title.clone(),
                    open(one.materials),
                    open(one.labour),
                    open(one.other),
                    open(one.total),
                    dearer,
                    hours,
                ],
            }
        });
        let mut columns = vec![(Column::words("Pipe system"), 68.0)];
        let figures = ["Materials", "Labour", "Rest", "Total", "Dearer by", "Hours"];
        columns.extend(figures.map(|title| (Column::figures(title), 26.0)));
        List {
            columns,
            rows: rows.collect(),
        }
    }

    /// Below and above which wage which of two systems is cheaper.
    fn wages(&self, pages: &mut Pages) {
        if self.comparison.break_even.is_empty() {
            return;
        }
        pages.make_room(34.0, &[]);
        pages.title("Wage at which two systems cost the same");
        for pair in &self.comparison.break_even {
            let (_, height) = self.wage(pair, 0.0);
            pages.make_room(height, &[]);
            let top = pages.down();
            let (marks, height) = self.wage(pair, top);
            pages.put(marks, top + height);
        }
    }

    /// A system as a reader knows it.
    fn title_of<'b>(&'b self, system: &'b str) -> &'b str {
        let mut options = self.comparison.options.iter();
        let option = options.find(|option| option.system == system);
        option.map_or(system, |option| &option.title)
    }

    /// A line from low to high wages with the one that parts the two systems.
    fn wage(&self, pair: &BreakEven, top: f64) -> (Vec<Mark>, f64) {
        let small = TextSize::Small;
        let middle = self.across / 2.0;
        let at = |x: f64, y: f64| At::new(x, top + small.leading() + 2.6 + y);
        let ends = [8.0, self.across - 8.0];
        let line = Shape::line(Stroke::NARROW, ends.map(|x| at(x, 0.0)).to_vec());
        let stroke = Shape::line(Stroke::WIDE, vec![at(middle, -1.6), at(middle, 1.6)]);
        let mut shapes = vec![line, stroke];
        for (tip, way) in ends.into_iter().zip([1.0, -1.0]) {
            let back = tip + way * 2.4;
            let head = vec![at(tip, 0.0), at(back, 0.7), at(back, -0.7)];
            shapes.push(Shape::outline(Stroke::NARROW, Fill::Ink, head));
        }
        let code = self.comparison.currency.code();
        let wage = format!("{code} {} an hour", pair.wage.show());
        let wage = Text::new(at(middle, -2.6), small, wage).anchored(Anchor::Middle);
        let mut words = vec![Shape::Text(wage.bold())];
        let sides = [
            (
                format!(
                    "lower wage: {} is cheaper",
                    self.title_of(&pair.cheaper_below)
                ),
                -4.0,
                Anchor::End,
            ),
            (
                format!(
                    "higher wage: {} is cheaper",
                    self.title_of(&pair.cheaper_above)
                ),
                4.0,
                Anchor::Start,
            ),
        ];
        let mut lowest = 0.0_f64;
        for (said, off, anchor) in sides {
            let mut down = 1.2;
            for line in wrap(&said, small, false, middle - 6.0) {
                down += small.leading();
                let text = Text::new(at(middle + off, down), small, line);
                words.push(Shape::Text(text.anchored(anchor)));
            }
            lowest = lowest.max(down);
        }
        let marks = vec![
            Mark::new(Layer::Part, shapes),
            Mark::new(Layer::Label, words),
        ];
        (marks, small.leading() + 2.6 + lowest + 4.0)
    }
}

/// The figures and the total of an option that has both.
fn whole(option: &CompareOption) -> Option<(&Figures, Money)> {
    let figures = option.figures.as_ref().ok()?;
    Some((figures, figures.total?))
}

fn legend() -> Vec<(&'static str, Entry)> {
    let area = Area::of(At::new(-6.0, -2.2), At::new(6.0, 2.2));
    let entry = |pattern: Option<Hatch>, words: &str| {
        let mut sign = pattern.map_or_else(Vec::new, |pattern| hatch(area, pattern));
        sign.push(Shape::rectangle(Stroke::WIDE, Fill::Open, area));
        Entry {
            sign,
            words: words.to_owned(),
        }
    };
    vec![
        ("a-materials", entry(Some(Hatch::Rising), "materials")),
        ("b-labour", entry(None, "labour")),
        (
            "c-rest",
            entry(Some(Hatch::Crossed), "hire, other costs, rounding and tax"),
        ),
    ]
}

fn amount(money: Money) -> f64 {
    number(money.amount())
}

/// A figure as a length on paper.
fn number(figure: Decimal) -> f64 {
    figure.to_f64().unwrap_or_default()
}

use super::{compare, cut};
use crate::catalog::Catalog;
use crate::compare::{Candidate, Comparison, Facts, Inputs, Layout};
use crate::cut_sheet::{CutSheet, Heading, cut_sheet};
use crate::rates::Rates;
use bom::drawing::{Area, Field, Fill, Layer, Mark, Shape, Sheet, collisions};
use bom::library::Library;
use bom::quantity::Length;
use bom::source::Source;
use jiff::civil::date;

const JOB: &str = include_str!("../../../catalogs-demo/millrace.toml");
const LISTS: [&str; 5] = [
    include_str!("../../../catalogs-demo/iron.csv"),
    include_str!("../../../catalogs-demo/copper.csv"),
    include_str!("../../../catalogs-demo/aluminium.csv"),
    include_str!("../../../catalogs-demo/steel.csv"),
    include_str!("../../../catalogs-demo/brass.csv"),
];

fn plan(library: &Library, system: &str) -> bom::Plan {
    let mut systems = library.systems().iter();
    let system = systems.position(|one| one.name == system);
    bom::plan_by(&Source::new("job", JOB), library, system, None)
        .0
        .unwrap()
}

fn cut_of(system: &str) -> CutSheet {
    let library = Library::shipped().unwrap();
    let plan = plan(&library, system);
    let heading = Heading {
        title: plan.summary.title.clone(),
        revision: String::new(),
        fingerprint: String::new(),
        date: date(2026, 11, 2),
        units: plan.summary.units,
    };
    let place = |node| plan.network.place(node);
    cut_sheet(
        heading,
        &plan.takeoff,
        None,
        Default::default(),
        None,
        &place,
    )
    .unwrap()
}

fn comparison(lists: &[&str]) -> Comparison {
    let library = Library::shipped().unwrap();
    let systems = [
        "black-iron",
        "copper-l-soldered",
        "aluminium-push-fit",
        "stainless-10s-pressed",
    ];
    let plans = systems.map(|system| plan(&library, system));
    let rates = include_str!("../../../catalogs-demo/rates.toml");
    let rates = Rates::read(&Source::new("rates", rates)).0.unwrap();
    let lists: Vec<Source> = lists
        .iter()
        .map(|text| Source::new("list", *text))
        .collect();
    let (catalog, _) = Catalog::read(&lists, library.parts(), rates.currency);
    let candidates: Vec<Candidate<'_>> = systems
        .iter()
        .zip(&plans)
        .map(|(system, plan)| Candidate {
            system,
            title: &plan.takeoff.system_title,
            layout: Ok(Layout {
                summary: &plan.summary,
                takeoff: &plan.takeoff,
                catalog: &catalog,
                facts: Facts::default(),
            }),
        })
        .collect();
    let inputs = Inputs {
        candidates: &candidates,
        rates: &rates,
        date: date(2026, 11, 2),
        fingerprint: "",
    };
    inputs.comparison().unwrap()
}

/// The rectangles of a mark, from left to right as they are drawn.
fn rectangles(mark: &Mark) -> Vec<Area> {
    let open = mark.shapes.iter().filter(|shape| {
        matches!(shape, Shape::Path { closed: true, fill: Fill::Open, points, .. } if points.len() == 4)
    });
    open.filter_map(Shape::area).collect()
}

fn parts(sheets: &[Sheet]) -> Vec<&Mark> {
    let marks = sheets.iter().flat_map(|sheet| &sheet.marks);
    marks.filter(|mark| mark.layer == Layer::Part).collect()
}

#[test]
fn pieces_kerfs_and_what_is_left_make_up_every_stick_to_scale() {
    for system in ["black-iron", "copper-l-soldered", "aluminium-push-fit"] {
        let sheet = cut_of(system);
        let sheets = cut(&sheet, Field::COMMON);
        for one in &sheets {
            assert_eq!(collisions(one), [], "{system} {}", one.id);
        }
        let mut drawn = parts(&sheets).into_iter();
        for section in &sheet.sections {
            let longest = section
                .sticks
                .iter()
                .map(|stick| stick.stock)
                .max()
                .unwrap();
            let scale = (Field::COMMON.width - 1.0) / longest.mm();
            for stick in &section.sticks {
                let areas = rectangles(drawn.next().unwrap());
                let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-6, "{a} {b}");
                let mut left = 0.5;
                for (piece, area) in stick.pieces.iter().zip(&areas) {
                    near(area.left, left);
                    near(area.width(), piece.length.mm() * scale);
                    left = area.right + section.kerf.mm() * scale;
                }
                let whole = areas.last().unwrap();
                near(whole.width(), stick.stock.mm() * scale);
                if stick.waste > Length::ZERO {
                    let rest = areas[areas.len() - 2];
                    near(rest.width(), stick.waste.mm() * scale);
                    near(rest.right, whole.right);
                }
            }
        }
        assert!(drawn.next().is_none());
    }
}

/// Fourteen pieces of tube between sockets are too short to be written into.
#[test]
fn short_pieces_are_said_in_their_order_below_the_stick() {
    let sheets = cut(&cut_of("copper-l-soldered"), Field::COMMON);
    let texts = sheets.iter().flat_map(Sheet::texts);
    let said: Vec<&str> = texts.map(|text| text.words.as_str()).collect();
    let short: Vec<&&str> = said
        .iter()
        .filter(|text| text.starts_with("Short pieces"))
        .collect();
    assert!(!short.is_empty(), "{said:?}");
}

#[test]
fn bars_are_as_long_as_the_figures_that_the_comparison_has() {
    let comparison = comparison(&LISTS);
    let sheets = compare(&comparison, Field::COMMON);
    for one in &sheets {
        assert_eq!(collisions(one), [], "{}", one.id);
    }
    let texts: Vec<&str> = sheets
        .iter()
        .flat_map(Sheet::texts)
        .map(|text| text.words.as_str())
        .collect();
    let drawn = parts(&sheets);
    let bars: Vec<Vec<Area>> = drawn.iter().map(|mark| rectangles(mark)).collect();
    let built: Vec<_> = comparison
        .options
        .iter()
        .map(|one| one.figures.as_ref().unwrap())
        .collect();
    let cents = |money: crate::money::Money| {
        u32::try_from(money.minor_units().unwrap())
            .map(f64::from)
            .unwrap()
    };
    let most = built
        .iter()
        .map(|one| cents(one.total.unwrap()))
        .fold(0.0, f64::max);
    let longest = bars[..4]
        .iter()
        .map(|bar| bar[2].right - 0.5)
        .fold(0.0, f64::max);
    for (figures, bar) in built.iter().zip(&bars) {
        let parts = [figures.materials, figures.labour, figures.other];
        for (money, area) in parts.iter().zip(bar) {
            let wanted = cents(money.unwrap()) / most * longest;
            assert!(
                (area.width() - wanted).abs() < 1e-6,
                "{} {wanted}",
                area.width()
            );
            assert!(texts.contains(&money.unwrap().show().as_str()));
        }
        let sum: f64 = parts.iter().map(|money| cents(money.unwrap())).sum();
        assert!((sum - cents(figures.total.unwrap())).abs() < 0.5);
        assert!(texts.contains(&figures.total.unwrap().show().as_str()));
    }
    for pair in &comparison.break_even {
        let wage = format!("USD {} an hour", pair.wage.show());
        assert!(texts.contains(&wage.as_str()), "{wage}");
    }
    assert!(!comparison.break_even.is_empty());
}

/// A price that is missing is said, and no bar is drawn for it.
#[test]
fn an_option_without_a_total_has_no_bar() {
    let sheets = compare(&comparison(&LISTS[..1]), Field::COMMON);
    let bars = parts(&sheets)
        .into_iter()
        .filter(|mark| rectangles(mark).len() == 3);
    assert_eq!(bars.count(), 1);
    let texts = sheets.iter().flat_map(Sheet::texts);
    let open = texts.filter(|text| text.words.contains("no total and not compared"));
    assert_eq!(open.count(), 3);
}

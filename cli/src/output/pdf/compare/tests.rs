use super::compare;
use crate::output::pdf::Paper;
use crate::output::pdf::read_back::{self, holds};
use bom::library::Library;
use bom::source::Source;
use jiff::civil::date;
use pricing::catalog::Catalog;
use pricing::compare::{Candidate, CompareOption, Comparison, Facts, Inputs, Layout};
use pricing::rates::Rates;

const JOB: &str = include_str!("../../../../../catalogs-demo/millrace.toml");
const RATES: &str = include_str!("../../../../../catalogs-demo/rates.toml");
const IRON: &str = include_str!("../../../../../catalogs-demo/iron.csv");
const COPPER: &str = include_str!("../../../../../catalogs-demo/copper.csv");
const ALUMINIUM: &str = include_str!("../../../../../catalogs-demo/aluminium.csv");
const BRASS: &str = include_str!("../../../../../catalogs-demo/brass.csv");

/// The demo in three systems, priced by these lists.
fn comparison(prices: &[&str]) -> Comparison {
    let library = Library::shipped().unwrap();
    let rates = Rates::read(&Source::new("rates", RATES)).0.unwrap();
    let sources: Vec<Source> = prices
        .iter()
        .map(|text| Source::new("prices", *text))
        .collect();
    let (catalog, _) = Catalog::read(&sources, library.parts(), rates.currency);
    let names = ["black-iron", "copper-l-soldered", "aluminium-push-fit"];
    let systems = names.map(|name| {
        let mut all = library.systems().iter();
        all.position(|system| system.name == name).unwrap()
    });
    let job = Source::new("job", JOB);
    let plans = systems.map(|system| bom::plan_by(&job, &library, Some(system), None).0.unwrap());
    let candidates = [0, 1, 2].map(|at| Candidate {
        system: names[at],
        title: &library.systems()[systems[at]].title,
        layout: Ok(Layout {
            summary: &plans[at].summary,
            takeoff: &plans[at].takeoff,
            catalog: &catalog,
            facts: Facts::default(),
        }),
    });
    let inputs = Inputs {
        candidates: &candidates,
        rates: &rates,
        date: date(2026, 11, 2),
        fingerprint: "4F2A-91C0/83BC-11D0",
    };
    inputs.comparison().unwrap()
}

/// The text of each page, a line for each piece of it.
fn texts(comparison: &Comparison, paper: Paper) -> Vec<String> {
    let mut bytes = Vec::new();
    compare(comparison, paper, &mut bytes).unwrap();
    read_back::texts(&bytes)
}

#[test]
fn three_options_stand_on_one_page() {
    let comparison = comparison(&[IRON, COPPER, ALUMINIUM, BRASS]);
    for paper in [Paper::A4, Paper::Letter] {
        let pages = texts(&comparison, paper);
        let [page] = pages.as_slice() else {
            panic!("{} pages", pages.len())
        };
        for option in &comparison.options {
            let figures = option.figures.as_ref().unwrap();
            assert!(holds(page, &option.system));
            assert!(holds(page, &figures.total.unwrap().show()));
            for (words, sum) in [
                ("material", figures.materials),
                ("labour", figures.labour),
                ("other costs and tax", figures.other),
            ] {
                assert!(holds(page, &format!("{words} {}", sum.unwrap().show())));
            }
        }
        // The parts of a bar are read from left to right.
        let parts = ["material ", "labour ", "other costs"].map(|words| page.find(words).unwrap());
        assert!(parts.is_sorted(), "{parts:?}");
        for pair in &comparison.break_even {
            assert!(page.contains(&pair.wage.show()), "{pair:?}");
        }
        assert!(!page.contains("…"), "{page}");
    }
}

#[test]
fn a_hole_is_loud_and_has_no_bar() {
    let comparison = comparison(&[IRON, COPPER, BRASS]);
    let pages = texts(&comparison, Paper::A4);
    for page in &pages {
        assert!(holds(page, "AN OPTION HAS NO TOTAL - it is not compared"));
    }
    let first = &pages[0];
    assert!(holds(first, "open"));
    assert!(pages.iter().any(|page| holds(page, "no total")));
    let bars = pages.concat();
    let labels = bars.lines().filter(|line| line.starts_with("labour "));
    assert_eq!(labels.count(), 2);
}

#[test]
fn an_option_that_cannot_be_built_keeps_its_column() {
    let mut comparison = comparison(&[IRON, COPPER, ALUMINIUM, BRASS]);
    comparison.options[2].figures = Err("no cross is made in it".to_owned());
    let text = texts(&comparison, Paper::Letter).concat();
    assert!(holds(&text, "cannot be built: no cross is made in it"));
    assert!(holds(&text, "aluminium-push-fit"));
    assert!(holds(&text, "–"));
}

#[test]
fn many_options_and_long_texts_make_more_pages_and_nothing_worse() {
    let mut comparison = comparison(&[IRON, COPPER, ALUMINIUM, BRASS]);
    let talk = "and so on along the wall ".repeat(40);
    comparison.title.clone_from(&talk);
    comparison.options[0].title.clone_from(&talk);
    comparison.options[1].system = talk.replace(' ', "-");
    comparison.notices.push(talk.clone());
    let options: Vec<CompareOption> = comparison.options.clone();
    comparison.options = options.iter().cycle().take(13).cloned().collect();
    comparison.options[12].figures = Err(talk);
    let pages = texts(&comparison, Paper::A4);
    let count = pages.len();
    assert!(count > 3);
    for (at, page) in pages.iter().enumerate() {
        assert!(holds(page, &format!("Page {} of {count}", at + 1)));
    }
    comparison.options.clear();
    assert_eq!(texts(&comparison, Paper::A4).len(), 1);
}

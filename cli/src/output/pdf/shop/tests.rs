use super::shop;
use crate::output::pdf::Paper;
use crate::output::pdf::read_back::{self, holds};
use bom::library::Library;
use bom::source::Source;
use jiff::civil::date;
use pricing::buying::Terms;
use pricing::catalog::Catalog;
use pricing::money::Currency;
use pricing::shop::{By, Inputs, ShoppingList, Spares};

const GARAGE: &str = include_str!("../../../../../catalogs-demo/garage.toml");
const PRICES: &str = include_str!("../../../../../catalogs-demo/iron.csv");

fn list(job: &str, prices: &str) -> ShoppingList {
    let library = Library::shipped().unwrap();
    let plan = bom::plan(&Source::new("job", job), &library).0.unwrap();
    let currency = Currency::parse("USD").unwrap();
    let prices = [Source::new("prices", prices)];
    let (catalog, _) = Catalog::read(&prices, library.parts(), currency);
    Inputs {
        network: &plan.network,
        summary: &plan.summary,
        takeoff: &plan.takeoff,
        library: &library,
        spares: &Spares::shipped().unwrap(),
        catalog: &catalog,
        terms: &Terms::default(),
        currency,
        by: By::Aisle,
        date: date(2026, 11, 2),
        fingerprint: "4F2A-91C0",
    }
    .list()
    .unwrap()
}

/// The text of each page, a line for each piece of it.
fn texts(list: &ShoppingList, paper: Paper) -> Vec<String> {
    let mut bytes = Vec::new();
    shop(list, paper, &mut bytes).unwrap();
    read_back::texts(&bytes)
}

#[test]
fn every_line_is_printed_on_the_one_page() {
    let list = list(GARAGE, PRICES);
    for paper in [Paper::A4, Paper::Letter] {
        let pages = texts(&list, paper);
        let [page] = pages.as_slice() else {
            panic!("{} pages", pages.len())
        };
        assert!(holds(page, "Page 1 of 1"));
        assert!(holds(page, "Revision A · 4F2A-91C0 · 2 November 2026"));
        for group in &list.groups {
            assert!(holds(page, &group.title));
            assert!(holds(page, &format!("Subtotal {}", group.subtotal.show())));
            for line in &group.lines {
                assert!(page.contains(&line.words), "{}", line.words);
                assert!(holds(page, &line.running.unwrap().show()));
            }
        }
        assert!(holds(page, &list.total.unwrap().show()));
        assert!(holds(page, "Also needed, not counted"));
    }
}

#[test]
fn four_more_lines_still_fit_the_one_page() {
    let mut list = list(GARAGE, PRICES);
    let more = list.groups[1].lines[..4].to_vec();
    list.groups[1].lines.extend(more);
    for paper in [Paper::A4, Paper::Letter] {
        assert_eq!(texts(&list, paper).len(), 1);
    }
}

#[test]
fn the_order_number_stands_with_the_words() {
    let mut list = list(GARAGE, PRICES);
    let absurd = "N050".repeat(60);
    list.groups[1].lines[0].code.clone_from(&absurd);
    let text = texts(&list, Paper::Letter).concat();
    assert!(holds(&text, "BP-050-21"));
    assert!(!text.contains(&absurd));
    assert!(text.contains("N050N050"));
}

#[test]
fn a_missing_price_is_loud() {
    let list = list(GARAGE, "part,size,price\n");
    assert_eq!(list.missing.len(), 23);
    let pages = texts(&list, Paper::Letter);
    for page in &pages {
        assert!(holds(page, "PRICES ARE MISSING - the total is open"));
    }
    assert!(holds(&pages.concat(), "open"));
}

#[test]
fn long_texts_make_more_pages_and_nothing_worse() {
    let mut list = list(GARAGE, PRICES);
    let talk = "and so on along the wall ".repeat(80);
    list.title.clone_from(&talk);
    list.groups[1].title.clone_from(&talk);
    list.groups[1].lines[0].used.clone_from(&talk);
    list.groups[1].lines[1].words = talk.replace(' ', "");
    list.notices.push(talk);
    let lines = list.groups[1].lines.clone();
    list.groups[1].lines = lines.iter().cycle().take(200).cloned().collect();
    let pages = texts(&list, Paper::A4);
    let count = pages.len();
    assert!(count > 5);
    for (at, page) in pages.iter().enumerate() {
        assert!(holds(page, &format!("Page {} of {count}", at + 1)));
    }
}

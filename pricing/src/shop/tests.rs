use super::{By, Inputs, ShopLine, ShoppingList, Spares};
use crate::buying::Terms;
use crate::catalog::{Catalog, Sheet};
use crate::money::{Currency, Money};
use bom::library::Library;
use bom::source::Source;
use jiff::civil::date;

const GARAGE: &str = include_str!("../../../catalogs-demo/garage.toml");
const MILLRACE: &str = include_str!("../../../catalogs-demo/millrace.toml");
const PRICES: &str = include_str!("../../../catalogs-demo/iron.csv");

fn list(job: &str, prices: &str, by: By) -> ShoppingList {
    let library = Library::shipped().unwrap();
    let plan = bom::plan(&Source::new("job", job), &library).0.unwrap();
    let prices = [Sheet::from(Source::new("prices", prices))];
    let currency = Catalog::currency(&prices).unwrap();
    let (catalog, found) = Catalog::read_sheets(&prices, library.parts(), currency);
    assert!(found.is_empty(), "{found:?}");
    Inputs {
        network: &plan.network,
        summary: &plan.summary,
        takeoff: &plan.takeoff,
        library: &library,
        spares: &Spares::shipped().unwrap(),
        catalog: &catalog,
        terms: &Terms::default(),
        currency,
        by,
        date: date(2026, 11, 2),
        fingerprint: "4F2A-91C0",
    }
    .list()
    .unwrap()
}

fn lines(list: &ShoppingList) -> impl Iterator<Item = &ShopLine> {
    list.groups.iter().flat_map(|group| &group.lines)
}

fn line<'a>(list: &'a ShoppingList, words: &str) -> &'a ShopLine {
    let mut lines = lines(list);
    lines.find(|line| line.words == words).unwrap()
}

fn fact<'a>(list: &'a ShoppingList, label: &str) -> &'a str {
    let mut facts = list.heads_up.iter();
    &facts.find(|fact| fact.label == label).unwrap().text
}

/// The demo's prices without the rows that begin like this.
fn without(start: &str) -> String {
    let kept: Vec<&str> = PRICES
        .lines()
        .filter(|row| !row.starts_with(start))
        .collect();
    kept.join("\n")
}

fn usd(text: &str) -> Money {
    Money::parse(text, Currency::parse("USD").unwrap()).unwrap()
}

#[test]
fn sums_are_sums_of_lines_however_they_are_grouped() {
    for job in [GARAGE, MILLRACE] {
        let by_aisle = list(job, PRICES, By::Aisle);
        let by_supplier = list(job, PRICES, By::Supplier);
        assert_eq!(by_aisle.total, by_supplier.total);
        assert_eq!(by_aisle.without_spares, by_supplier.without_spares);
        for list in [&by_aisle, &by_supplier] {
            let mut running = Money::zero(list.currency);
            for group in &list.groups {
                let amounts = group.lines.iter().filter_map(|line| line.amount);
                assert_eq!(group.subtotal, Money::sum(list.currency, amounts).unwrap());
            }
            for line in lines(list) {
                let unit = line.unit_price.unwrap();
                assert_eq!(line.amount, Some(unit.times(line.quantity).unwrap()));
                running = running.plus(line.amount.unwrap()).unwrap();
                assert_eq!(line.running, Some(running));
            }
            assert_eq!(list.total, Some(running));
            let spares = list.spares.unwrap();
            let bare = list.without_spares.unwrap();
            assert_eq!(bare.plus(spares).unwrap(), running);
        }
    }
}

#[test]
fn a_line_says_what_how_many_and_where() {
    let list = list(MILLRACE, PRICES, By::Aisle);
    let elbow = line(&list, "3/4 in black 90 elbow, female both ends");
    // 17 of the count by hand and 2 spares: one for each ten begun.
    assert_eq!(elbow.quantity.to_string(), "19");
    assert_eq!((elbow.spare.count, elbow.spare.returnable), (2, true));
    assert_eq!(elbow.used, "main 5; every outlet 2");
    assert_eq!(elbow.amount, Some(usd("38.95")));
    assert_eq!(elbow.code, "E90-075");
    assert_eq!(elbow.aisle, "black fittings");
    let valve = line(&list, "3/4 in ball valve, full port, female both ends");
    assert_eq!(
        (valve.quantity.to_string().as_str(), valve.spare.count),
        ("10", 0)
    );
    let pipe = line(&list, "3/4 in black pipe, threaded both ends");
    assert_eq!(pipe.unit, "stick 21 ft");
    assert_eq!(pipe.used, "21 pieces: main 15; every outlet 1");
    let titles: Vec<&str> = list
        .groups
        .iter()
        .map(|group| group.title.as_str())
        .collect();
    assert_eq!(
        titles,
        [
            "Pipe",
            "Black fittings",
            "Valves",
            "Air treatment",
            "Couplers",
            "Hangers",
            "Sealants"
        ]
    );
}

#[test]
fn what_to_know_before_one_drives() {
    let list = list(GARAGE, PRICES, By::Aisle);
    assert_eq!(
        fact(&list, "Longest"),
        "stick 21 ft; longest cut piece 13'-4 3/4\". Will it fit in your car? Ask the store to cut or to deliver."
    );
    // 160.76 in of main is the longest piece. Two sticks of 21 ft at 0.85 lb/ft are 35.7 lb, or 16.2 kg.
    assert_eq!(fact(&list, "Weight"), "36 lb (17 kg), pipe only.");
    assert_eq!(
        fact(&list, "Packs"),
        "6 of 1/2 in pipe hanger left over, worth USD 18.24."
    );
    assert_eq!(
        fact(&list, "Spares"),
        // Ten, and one of each length of nipple, 1.30 and 1.35.
        "12 for USD 24.85; * can go back unused: keep the receipt."
    );
    assert_eq!(
        fact(&list, "Prices"),
        "Example Supply (invented); dated 2026-09-24 to 2026-10-15."
    );
    // 26 ft 6 in of main: one label for each 50 ft begun.
    assert!(
        list.also
            .iter()
            .any(|item| item.starts_with("1 or more labels"))
    );
    assert!(
        list.also
            .contains(&"screws or anchors for 4 hangers".to_owned())
    );
}

#[test]
fn nipples_of_one_size_stand_together() {
    let list = list(GARAGE, PRICES, By::Aisle);
    let nipples: Vec<(&str, String)> = lines(&list)
        .filter(|line| line.key.part.ends_with("nipple"))
        .map(|line| (line.words.as_str(), line.quantity.to_string()))
        .collect();
    // The count by hand and one spare of each.
    let wanted = [
        ("1/4 in black close nipple", "3"),
        ("1/2 in black close nipple", "6"),
        ("1/2 in x 5 in black nipple", "5"),
        ("1/2 in x 5-1/2 in black nipple", "3"),
        ("3/4 in black close nipple", "2"),
    ];
    assert_eq!(
        nipples,
        wanted.map(|(words, count)| (words, count.to_owned()))
    );
}

#[test]
fn pipe_bought_in_ready_lengths_is_not_cut() {
    let bought = GARAGE.replacen("[main]", "[main]\nthreading = \"bought\"", 1);
    let list = list(&bought, PRICES, By::Aisle);
    assert!(list.missing.is_empty());
    assert!(lines(&list).all(|line| line.key.part != "pipe"));
    // With 0.34 in of each coupling: the main is 48 + 11, 72 + 18 + 4 and
    // 120 + 36 + 4; the bench's down pipe 48 + 4, the bay's 36 + 7 + close.
    let ready: Vec<(&str, String)> = list.groups[0]
        .lines
        .iter()
        .map(|line| (line.words.as_str(), line.quantity.to_string()))
        .collect();
    let wanted = [
        ("1/2 in x 18 in black pipe, cut and threaded both ends", "1"),
        ("1/2 in x 36 in black pipe, cut and threaded both ends", "2"),
        ("1/2 in x 48 in black pipe, cut and threaded both ends", "2"),
        ("1/2 in x 72 in black pipe, cut and threaded both ends", "1"),
        (
            "1/2 in x 120 in black pipe, cut and threaded both ends",
            "1",
        ),
    ];
    assert_eq!(
        ready,
        wanted.map(|(words, count)| (words, count.to_owned()))
    );
    assert_eq!(
        fact(&list, "Longest"),
        "ready length 10'-0\". Will it fit in your car? Ask the store to deliver."
    );
    let also = |start: &str| list.also.iter().any(|item| item.starts_with(start));
    assert!(also("a pair of pipe wrenches") && also("soap") && also("1 or more labels"));
    assert!(!also("a threading machine"));
}

#[test]
fn a_missing_price_leaves_the_total_open() {
    let list = list(MILLRACE, &without("cross,black-iron,3/4in"), By::Supplier);
    assert_eq!(
        (list.total, list.without_spares, list.spares),
        (None, None, None)
    );
    assert_eq!(list.missing.len(), 1);
    assert_eq!(list.missing[0].key.part, "cross");
    let cross = line(&list, "3/4 in black cross, female all ends");
    assert_eq!((cross.amount, cross.running), (None, None));
    assert_eq!(cross.quantity.to_string(), "5");
    let group = list
        .groups
        .iter()
        .find(|group| group.title == "No price yet");
    assert_eq!(group.unwrap().lines.len(), 1);
    let amounts = lines(&list).filter_map(|line| line.amount);
    assert_eq!(list.priced, Money::sum(list.currency, amounts).unwrap());
}

#[test]
fn a_price_list_with_the_fewest_columns_still_makes_a_list() {
    let cells = |row: &str| {
        let mut cells = row.split(',');
        let mut next = || cells.next().unwrap_or_default().to_owned();
        (next(), next(), next())
    };
    let mut prices = "part,system,size,unit,price,currency\n".to_owned();
    for row in PRICES.lines().skip(1) {
        let (part, system, size) = cells(row);
        let unit = if part == "pipe" { "ft" } else { "" };
        let line = format!("{part},{system},{size},{unit},2.00,EUR\n");
        if !prices.contains(&line) {
            prices += &line;
        }
    }
    let list = list(GARAGE, &prices, By::Aisle);
    assert_eq!(list.currency.code(), "EUR");
    assert!(list.suppliers.is_empty());
    assert_eq!(list.groups[0].title, "Pipe and nipples");
    // 411.95 in of pieces are 34.3 ft; bought by the foot, 35, at 0.85 lb each.
    assert_eq!(list.groups[0].lines[0].quantity.to_string(), "35");
    assert_eq!(fact(&list, "Weight"), "30 lb (14 kg), pipe only.");
    assert!(fact(&list, "Longest").starts_with("longest cut piece"));
    let supplier = super::tests::list(GARAGE, &prices, By::Supplier);
    assert_eq!(supplier.groups[0].title, "Supplier not named");
    assert_eq!(supplier.total, list.total);
}

#[test]
fn several_suppliers_have_letters() {
    let prices = without("pipe,black-iron,1/2in,black steel pipe threaded both ends,21ft");
    let list = list(GARAGE, &prices, By::Aisle);
    let pipe = line(&list, "1/2 in black pipe, threaded both ends");
    // The longest piece is longer than ten feet, so the short sticks are no
    // offer and the pipe has no price.
    assert_eq!(pipe.amount, None);
    let prices = PRICES.replacen(
        "Example Supply (invented),E90-050",
        "Other Supply (invented),E90-050",
        1,
    );
    let list = super::tests::list(GARAGE, &prices, By::Aisle);
    let marks: Vec<(&str, &str)> = list
        .suppliers
        .iter()
        .map(|supplier| (supplier.mark.as_str(), supplier.name.as_str()))
        .collect();
    assert_eq!(
        marks,
        [
            ("A", "Example Supply (invented)"),
            ("B", "Other Supply (invented)")
        ]
    );
    assert_eq!(
        line(&list, "1/2 in black 90 elbow, female both ends").mark,
        "B"
    );
}

use super::{Match, part, pipe};
use crate::catalog::Catalog;
use crate::money::{Currency, Money};
use bom::library::Library;
use bom::quantity::{Length, PartSize, Size, Units};
use bom::source::Source;
use bom::takeoff::{Group, PartKey, PartLine, Piece, PipeLine};

const HEADER: &str = "part,system,size,unit,pack,price,supplier,code,from_quantity\n";

fn usd() -> Currency {
    Currency::parse("USD").unwrap()
}

fn catalog(rows: &str) -> Catalog {
    let source = Source::new("shop.csv", format!("{HEADER}{rows}"));
    let library = Library::shipped().unwrap();
    let (catalog, findings) = Catalog::read(&[source], library.parts(), usd());
    assert_eq!(findings, []);
    catalog
}

fn key(part: &str, system: &str) -> PartKey {
    PartKey {
        part: part.to_owned(),
        system: system.to_owned(),
        size: PartSize::one(Size::parse("1in").unwrap()),
    }
}

fn buy(quantity: u64, rows: &str) -> Match {
    let line = PartLine {
        key: key("hanger", "black-iron"),
        words: "pipe hanger".to_owned(),
        group: Group::Supports,
        quantity,
        unit: "each".to_owned(),
        because: Vec::new(),
    };
    part(&line, &catalog(rows), usd()).unwrap()
}

/// Quantity, unit, cost and supplier of each purchase.
fn bought(matched: &Match) -> Vec<[String; 4]> {
    match matched {
        Match::Bought(bought) => {
            let sum = bought.purchases.iter().map(|buy| buy.cost);
            assert_eq!(Money::sum(usd(), sum).unwrap(), bought.cost);
            let purchases = bought.purchases.iter().map(|buy| {
                let (quantity, cost) = (buy.quantity.to_string(), buy.cost.plain());
                [quantity, buy.unit.clone(), cost, buy.supplier.clone()]
            });
            purchases.collect()
        }
        Match::Missing(hole) => panic!("{hole:?}"),
    }
}

/// What is bought beyond the need, and its part of the cost.
fn surplus(matched: &Match) -> (String, String) {
    match matched {
        Match::Bought(bought) => (bought.surplus.to_string(), bought.surplus_cost.plain()),
        Match::Missing(hole) => panic!("{hole:?}"),
    }
}

/// Why nothing is bought, and the row to add.
fn missing(matched: &Match) -> (String, String) {
    match matched {
        Match::Missing(hole) => (hole.reason.clone(), hole.row.clone()),
        Match::Bought(bought) => panic!("{bought:?}"),
    }
}

fn expect(matched: &Match, quantity: &str, unit: &str, cost: &str, supplier: &str) {
    assert_eq!(bought(matched), [[quantity, unit, cost, supplier]]);
}

#[test]
fn whole_packs_are_bought() {
    let rows = "hanger,black-iron,1in,each,10,30.00,A";
    expect(&buy(10, rows), "1", "pack of 10", "30.00", "A");
    expect(&buy(11, rows), "2", "pack of 10", "60.00", "A");
    assert_eq!(surplus(&buy(10, rows)), ("0".to_owned(), "0.00".to_owned()));
    // Nine of twenty.
    assert_eq!(
        surplus(&buy(11, rows)),
        ("9".to_owned(), "27.00".to_owned())
    );
}

#[test]
fn the_lowest_cost_for_the_quantity_wins() {
    let rows = "hanger,black-iron,1in,each,10,30.00,A\nhanger,black-iron,1in,each,1,4.00,B";
    expect(&buy(7, rows), "7", "each", "28.00", "B");
    expect(&buy(8, rows), "1", "pack of 10", "30.00", "A");
    assert_eq!(surplus(&buy(8, rows)), ("2".to_owned(), "6.00".to_owned()));
    assert_eq!(
        bought(&buy(12, rows)),
        [
            ["1", "pack of 10", "30.00", "A"],
            ["2", "each", "8.00", "B"]
        ]
    );
    expect(&buy(18, rows), "2", "pack of 10", "60.00", "A");
}

#[test]
fn a_quantity_break_holds_from_its_quantity() {
    let rows = "hanger,black-iron,1in,each,1,4.00,A\nhanger,black-iron,1in,each,1,3.00,A,,12";
    expect(&buy(8, rows), "8", "each", "32.00", "A");
    // From 10 up a dozen costs less than what is needed.
    expect(&buy(11, rows), "12", "each", "36.00", "A");
    assert_eq!(surplus(&buy(11, rows)), ("1".to_owned(), "3.00".to_owned()));
    expect(&buy(12, rows), "12", "each", "36.00", "A");
}

#[test]
fn a_price_from_a_quantity_is_the_least_quantity_of_its_row() {
    let rows = "hanger,black-iron,1in,each,10,30.00,A,,15";
    expect(&buy(3, rows), "2", "pack of 10", "60.00", "A");
}

#[test]
fn equal_costs_go_by_supplier_whatever_the_order_of_rows() {
    for rows in [
        "hanger,black-iron,1in,each,1,4.00,B\nhanger,black-iron,1in,each,1,4.00,A",
        "hanger,black-iron,1in,each,1,4.00,A\nhanger,black-iron,1in,each,1,4.00,B",
    ] {
        expect(&buy(3, rows), "3", "each", "12.00", "A");
    }
}

#[test]
fn a_part_without_a_price_says_why_and_what_to_add() {
    let row = "hanger,black-iron,1in,pipe hanger,each,1,,USD,,,,";
    for (rows, reason) in [
        ("", "no row of the catalog has this part in this size"),
        (
            "hanger,black-iron,2in,each,1,4.00",
            "no row of the catalog has this part in this size",
        ),
        (
            "hanger,copper,1in,each,1,4.00",
            "the catalog has this part and size only for copper",
        ),
        (
            "hanger,black-iron,1in,each,1,\nhanger,black-iron,1in,each,10,",
            "line 2 of shop.csv has no price yet; line 3 of shop.csv has no price yet",
        ),
    ] {
        let expected = (reason.to_owned(), row.to_owned());
        assert_eq!(missing(&buy(3, rows)), expected);
    }
}

fn buy_pipe(feet: i64, units: Units, rows: &str) -> Match {
    let line = PipeLine {
        key: key("pipe", "black-iron"),
        words: "black iron pipe, threaded".to_owned(),
        size: Size::parse("1in").unwrap(),
        centre_to_centre: Length::from_feet(feet),
        end_to_end: Length::from_feet(feet) - Length::from_mm(1),
        more: bom::quantity::Length::ZERO,
        pieces: Vec::new(),
        stick: Length::from_feet(21),
        kerf: Length::from_64ths(8),
        mass_lb_per_ft: 1.68,
        ready: false,
    };
    pipe(&line, units, &catalog(rows), usd()).unwrap()
}

#[test]
fn pipe_by_length_is_bought_in_whole_feet_or_tenths_of_a_metre() {
    let by_foot = "pipe,black-iron,1in,ft,1,2.00,A";
    expect(
        &buy_pipe(100, Units::Feet, by_foot),
        "100",
        "ft",
        "200.00",
        "A",
    );
    // 100 ft less 1 mm are 30.479 m.
    let by_metre = "pipe,black-iron,1in,m,1,6.50,A";
    expect(
        &buy_pipe(100, Units::Metric, by_metre),
        "30.5",
        "m",
        "198.25",
        "A",
    );
    expect(
        &buy_pipe(1, Units::Metric, by_metre),
        "0.4",
        "m",
        "2.60",
        "A",
    );
    let both = "pipe,black-iron,1in,ft,21,40.00,A\npipe,black-iron,1in,ft,1,2.00,B";
    assert_eq!(
        bought(&buy_pipe(100, Units::Feet, both)),
        [
            ["4", "pack of 21 ft", "160.00", "A"],
            ["16", "ft", "32.00", "B"]
        ]
    );
    let by_bundle = "pipe,black-iron,1in,ft,21,40.00,A";
    expect(
        &buy_pipe(100, Units::Feet, by_bundle),
        "5",
        "pack of 21 ft",
        "200.00",
        "A",
    );
}

#[test]
fn missing_pipe_asks_for_the_sticks_of_its_system() {
    let row = "pipe,black-iron,1in,\"black iron pipe, threaded\",21ft,1,,USD,,,,";
    assert_eq!(missing(&buy_pipe(100, Units::Feet, "")).1, row);
    let full =
        "part,system,size,description,unit,pack,price,currency,supplier,code,aisle,priced_on";
    let priced = row.replace(",1,,USD", ",1,40.00,USD");
    let source = Source::new("added.csv", format!("{full}\n{priced}\n"));
    let library = Library::shipped().unwrap();
    let (added, findings) = Catalog::read(&[source], library.parts(), usd());
    assert_eq!(findings, []);
    assert_eq!(added.offers(&key("pipe", "black-iron")).len(), 1);
}

/// Quantities, units and costs of the sticks bought for pieces of these feet.
fn sticks(feet: &[i64], rows: &str) -> Vec<(String, String, String)> {
    let library = Library::shipped().unwrap();
    // A piece knows its places, so a real one is borrowed for each.
    let job = include_str!("../../../catalogs-demo/garage.toml");
    let plan = bom::plan(&Source::new("garage", job), &library).0.unwrap();
    let sample = plan.takeoff.pipe[0].pieces[0];
    let line = PipeLine {
        key: key("pipe", "black-iron"),
        words: "pipe".to_owned(),
        size: Size::parse("1in").unwrap(),
        centre_to_centre: Length::ZERO,
        end_to_end: feet.iter().map(|feet| Length::from_feet(*feet)).sum(),
        more: bom::quantity::Length::ZERO,
        pieces: feet
            .iter()
            .map(|feet| Piece {
                length: Length::from_feet(*feet),
                ..sample
            })
            .collect(),
        stick: Length::from_feet(21),
        kerf: Length::from_64ths(8),
        mass_lb_per_ft: 1.68,
        ready: false,
    };
    match pipe(&line, Units::Feet, &catalog(rows), usd()).unwrap() {
        Match::Bought(bought) => {
            let purchases = bought.purchases.into_iter();
            let purchases =
                purchases.map(|buy| (buy.quantity.to_string(), buy.unit, buy.cost.plain()));
            purchases.collect()
        }
        Match::Missing(hole) => vec![("none".to_owned(), hole.reason, String::new())],
    }
}

fn bought_as(quantity: &str, unit: &str, cost: &str) -> (String, String, String) {
    (quantity.to_owned(), unit.to_owned(), cost.to_owned())
}

#[test]
fn sticks_of_several_lengths_are_mixed_where_that_is_cheapest() {
    let rows = "pipe,black-iron,1in,21ft,1,30.00,A\npipe,black-iron,1in,10ft,1,16.00,B";
    // 20 ft and 9 ft: the 9 ft piece does not fit behind the other, and a
    // short stick costs less than a second long one.
    assert_eq!(
        sticks(&[20, 9], rows),
        [
            bought_as("1", "stick 21 ft", "30.00"),
            bought_as("1", "stick 10 ft", "16.00")
        ]
    );
    assert_eq!(
        sticks(&[9, 9], rows),
        [bought_as("1", "stick 21 ft", "30.00")]
    );
    assert_eq!(sticks(&[9], rows), [bought_as("1", "stick 10 ft", "16.00")]);
}

#[test]
fn sticks_are_bought_in_bundles_where_that_is_cheapest() {
    let rows = "pipe,black-iron,1in,21ft,1,30.00,A\npipe,black-iron,1in,21ft,5,100.00,A";
    assert_eq!(
        sticks(&[20; 3], rows),
        [bought_as("3", "stick 21 ft", "90.00")]
    );
    assert_eq!(
        sticks(&[20; 6], rows),
        [
            bought_as("1", "pack of 5 sticks 21 ft", "100.00"),
            bought_as("1", "stick 21 ft", "30.00")
        ]
    );
    // Of ten and more a stick costs 15.
    let rows = "pipe,black-iron,1in,21ft,1,30.00,A\npipe,black-iron,1in,21ft,1,15.00,A,,10";
    assert_eq!(
        sticks(&[20; 6], rows),
        [bought_as("10", "stick 21 ft", "150.00")]
    );
}

#[test]
fn sticks_must_be_as_long_as_the_longest_piece() {
    let rows = "pipe,black-iron,1in,10ft,1,20.00,A";
    assert_eq!(
        sticks(&[10, 4, 5], rows),
        [bought_as("2", "stick 10 ft", "40.00")]
    );
    let [(none, reason, _)] = &sticks(&[11], rows)[..] else {
        panic!("one line is expected");
    };
    assert_eq!(none, "none");
    assert!(
        reason.starts_with("the stick 10 ft on line 2 of shop.csv: a piece of 11'-0\""),
        "{reason}"
    );
}

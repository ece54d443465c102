use super::{Buying, Named, SupplierTerms, Terms, pay};
use crate::catalog::Catalog;
use crate::matching::{Asked, Match};
use crate::money::{Currency, Money};
use bom::library::Library;
use bom::quantity::{PartSize, Size};
use bom::source::{Source, Span};
use bom::takeoff::{Group, PartKey, PartLine};
use std::collections::BTreeMap;
use std::sync::OnceLock;

const SIZES: [&str; 5] = ["1/4in", "1/2in", "3/4in", "1in", "2in"];
const NAMES: [&str; 4] = ["A", "B", "C", "D"];

fn usd() -> Currency {
    Currency::parse("USD").unwrap()
}

fn library() -> &'static Library {
    static LIBRARY: OnceLock<Library> = OnceLock::new();
    LIBRARY.get_or_init(|| Library::shipped().unwrap())
}

fn cents(count: u64) -> Money {
    Money::of_minor_units(count, usd())
}

fn money(text: &str) -> Money {
    Money::parse(text, usd()).unwrap()
}

/// A row of the catalog, as small as the search sees it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Row {
    line: usize,
    seller: usize,
    pack: u64,
    cents: u64,
    from: u64,
}

/// What a seller charges, in cents.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
struct Charge {
    delivery: u64,
    free_from: Option<u64>,
    least: u64,
}

/// A small market.
#[derive(Debug, Clone)]
struct Market {
    needed: Vec<u64>,
    rows: Vec<Row>,
    charges: Vec<Charge>,
}

fn terms(charges: &[Charge]) -> Terms {
    let suppliers = charges
        .iter()
        .zip(NAMES)
        .filter(|(charge, _)| **charge != Charge::default());
    Terms {
        suppliers: suppliers
            .map(|(charge, name)| SupplierTerms {
                supplier: Named {
                    name: name.to_owned(),
                    span: Span::default(),
                },
                delivery: cents(charge.delivery),
                free_from: charge.free_from.map(cents),
                least_order: Some(cents(charge.least)),
                preferred: None,
            })
            .collect(),
        buy_from: Vec::new(),
    }
}

impl Market {
    fn buy(&self) -> Buying {
        self.buy_on(&terms(&self.charges))
    }

    fn buy_on(&self, terms: &Terms) -> Buying {
        let rows = self.rows.iter().map(|row| {
            let (size, name) = (SIZES[row.line], NAMES[row.seller]);
            let (pack, price, from) = (row.pack, cents(row.cents).plain(), row.from);
            format!("tee,black-iron,{size},{pack},{price},{name},{from}\n")
        });
        let head = "part,system,size,pack,price,supplier,from_quantity\n";
        let source = [Source::new(
            "rows",
            head.to_owned() + &rows.collect::<String>(),
        )];
        let (catalog, _) = Catalog::read(&source, library().parts(), usd());
        let lines: Vec<PartLine> = self.needed.iter().zip(SIZES).map(line).collect();
        let asked = lines.iter().map(|line| Asked::part(line, &catalog, usd()));
        pay::buy(&asked.collect::<Vec<_>>(), terms, usd()).unwrap()
    }

    /// What each line can cost at each seller: the cheapest mix by every choice
    /// of its rows, found by trying every count of packs.
    fn ways(&self, line: usize) -> Vec<Vec<u64>> {
        let rows: Vec<&Row> = self.rows.iter().filter(|row| row.line == line).collect();
        let needed = self.needed[line];
        let mut ways = Vec::new();
        for chosen in 1..1_u32 << rows.len() {
            let rows = rows
                .iter()
                .enumerate()
                .filter(|(at, _)| chosen & (1 << at) != 0);
            let mut mixes = vec![(0, vec![0; NAMES.len()])];
            for (_, row) in rows {
                let mut more = mixes.clone();
                for (units, goods) in &mixes {
                    for packs in row.from.div_ceil(row.pack)..=needed.max(row.from) {
                        let mut goods = goods.clone();
                        goods[row.seller] += packs * row.cents;
                        more.push((units + packs * row.pack, goods));
                    }
                }
                mixes = more;
            }
            mixes.retain(|(units, _)| *units >= needed);
            let least = mixes
                .iter()
                .map(|(_, goods)| goods.iter().sum::<u64>())
                .min();
            // Every mix that costs the least, since a tie may go either way.
            mixes.retain(|(_, goods)| Some(goods.iter().sum()) == least);
            ways.extend(mixes.into_iter().map(|(_, goods)| goods));
        }
        ways.sort();
        ways.dedup();
        ways
    }

    /// The least sum over every choice of a way for each line.
    fn least(&self) -> Option<u64> {
        let mut sums: Vec<Vec<u64>> = vec![vec![0; NAMES.len()]];
        for line in 0..self.needed.len() {
            let ways = self.ways(line);
            if ways.is_empty() {
                continue;
            }
            sums = sums
                .iter()
                .flat_map(|sum| {
                    ways.iter()
                        .map(move |way| sum.iter().zip(way).map(|(a, b)| a + b).collect())
                })
                .collect();
            sums.sort();
            sums.dedup();
        }
        let total = |goods: &Vec<u64>| -> u64 {
            let charged = goods.iter().zip(&self.charges).map(|(goods, charge)| {
                let delivered = charge.free_from.is_some_and(|sum| *goods >= sum);
                let delivery = if delivered { 0 } else { charge.delivery };
                match goods {
                    0 => 0,
                    _ => goods + delivery + charge.least.saturating_sub(*goods),
                }
            });
            charged.sum()
        };
        sums.iter().map(total).min()
    }
}

fn line((needed, size): (&u64, &str)) -> PartLine {
    PartLine {
        key: PartKey {
            part: "tee".to_owned(),
            system: "black-iron".to_owned(),
            size: PartSize::one(Size::parse(size).unwrap()),
        },
        words: "tee".to_owned(),
        group: Group::Fittings,
        quantity: *needed,
        unit: "each".to_owned(),
        because: Vec::new(),
    }
}

struct Luck(u64);

impl Luck {
    fn below(&mut self, most: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1);
        (self.0 >> 33) % most
    }

    fn market(&mut self) -> Market {
        let needed: Vec<u64> = (0..=self.below(5))
            .map(|_| self.below(6) + 1)
            .take(5)
            .collect();
        let mut rows: Vec<Row> = Vec::new();
        for line in 0..needed.len() {
            for _ in 0..self.below(4) {
                rows.push(self.row(line));
            }
        }
        let charges = (0..NAMES.len()).map(|_| Charge {
            delivery: self.below(3) * self.below(900),
            free_from: (self.below(3) > 0).then(|| self.below(4_000)),
            least: self.below(2) * self.below(1_500),
        });
        Market {
            charges: charges.collect(),
            needed,
            rows,
        }
    }

    fn row(&mut self, line: usize) -> Row {
        Row {
            line,
            seller: [0, 1, 2, 3][usize::try_from(self.below(4)).unwrap()],
            pack: [1, 1, 2, 4][usize::try_from(self.below(4)).unwrap()],
            cents: self.below(400) + 1,
            from: [1, 1, 1, 3][usize::try_from(self.below(4)).unwrap()],
        }
    }
}

/// Rows that no reader would take for the same offer at two prices.
fn told_apart(market: &Market) -> bool {
    let mut seen = BTreeMap::new();
    market.rows.iter().all(|row| {
        let terms = (row.line, row.seller, row.pack, row.from);
        *seen.entry(terms).or_insert(row.cents) == row.cents
    })
}

#[test]
fn no_choice_of_ways_is_cheaper() {
    let mut luck = Luck(3);
    for _ in 0..400 {
        let market = luck.market();
        if !told_apart(&market) {
            continue;
        }
        let buying = market.buy();
        assert!(buying.proven, "{market:?}");
        assert_eq!(buying.total.minor_units(), market.least(), "{market:?}");
        let orders = buying.orders.iter();
        let lines = buying.lines.iter().filter_map(Match::cost);
        assert_eq!(buying.goods, Money::sum(usd(), lines).unwrap());
        let sums = orders.map(|order| order.total);
        assert_eq!(buying.total, Money::sum(usd(), sums).unwrap());
    }
}

#[test]
fn more_offers_never_cost_more_and_the_order_of_rows_is_nothing() {
    let mut luck = Luck(11);
    for _ in 0..300 {
        let market = luck.market();
        let mut larger = market.clone();
        let covered = |line: usize| market.rows.iter().any(|row| row.line == line);
        let lines: Vec<usize> = (0..market.needed.len())
            .filter(|line| covered(*line))
            .collect();
        let Some(line) = lines.first() else {
            continue;
        };
        larger.rows.insert(0, luck.row(*line));
        if !told_apart(&larger) {
            continue;
        }
        let total = |market: &Market| market.buy().total.amount();
        assert!(total(&larger) <= total(&market), "{market:?} {larger:?}");

        let mut turned = market.clone();
        turned.rows.reverse();
        let shown = |market: &Market| {
            let buying = market.buy();
            let lines = buying.lines.iter().map(|matched| match matched {
                Match::Bought(bought) => format!("{:?}", bought.purchases),
                Match::Missing(hole) => hole.words.clone(),
            });
            (lines.collect::<Vec<_>>(), buying.orders)
        };
        assert_eq!(shown(&market), shown(&turned));

        for seller in 0..NAMES.len() {
            let mut smaller = market.clone();
            smaller.rows.retain(|row| row.seller != seller);
            let still = |line: &usize| smaller.rows.iter().any(|row| row.line == *line);
            if lines.iter().all(still) {
                assert!(
                    total(&smaller) >= total(&market),
                    "{market:?} without {seller}"
                );
            }
        }
    }
}

#[test]
fn the_order_of_lines_is_nothing() {
    let mut luck = Luck(23);
    for _ in 0..200 {
        let market = luck.market();
        let last = market.needed.len() - 1;
        let mut turned = market.clone();
        turned.needed.reverse();
        for row in &mut turned.rows {
            row.line = last - row.line;
        }
        assert_eq!(market.buy().total, turned.buy().total, "{market:?}");
    }
}

fn row(line: usize, seller: usize, cents: u64) -> Row {
    Row {
        line,
        seller,
        pack: 1,
        cents,
        from: 1,
    }
}

/// Two lines of ten at 40.00 from A, or at 41.00 and 42.50 from B.
fn two_sellers(charges: Vec<Charge>) -> Market {
    Market {
        needed: vec![10, 10],
        rows: vec![
            row(0, 0, 400),
            row(0, 1, 410),
            row(1, 0, 400),
            row(1, 1, 425),
        ],
        charges,
    }
}

/// Who sells each line, and the total.
fn sold(buying: &Buying) -> (Vec<String>, String) {
    let sellers = buying.lines.iter().map(|matched| match matched {
        Match::Bought(bought) => bought.purchases[0].supplier.clone(),
        Match::Missing(_) => String::new(),
    });
    (sellers.collect(), buying.total.plain())
}

fn expect(buying: &Buying, sellers: [&str; 2], total: &str) {
    assert_eq!(
        sold(buying),
        (sellers.map(str::to_owned).to_vec(), total.to_owned())
    );
}

#[test]
fn a_delivery_is_paid_where_it_is_worth_it() {
    let delivery = |a: u64, b: u64| {
        let charge = |delivery| Charge {
            delivery,
            ..Charge::default()
        };
        two_sellers(vec![charge(a), charge(b)]).buy()
    };
    expect(&delivery(0, 0), ["A", "A"], "80.00");
    expect(&delivery(300, 0), ["A", "A"], "83.00");
    // 41.00 and 42.50 are less than 80.00 and 4.00.
    expect(&delivery(400, 0), ["B", "B"], "83.50");
    expect(&delivery(400, 100), ["A", "A"], "84.00");
}

#[test]
fn a_dearer_line_may_reach_free_delivery() {
    let market = Market {
        needed: vec![10, 10],
        rows: vec![row(0, 0, 400), row(1, 0, 420), row(1, 1, 400)],
        charges: vec![Charge {
            delivery: 900,
            free_from: Some(8_000),
            least: 0,
        }],
    };
    // 40.00 + 42.00 from A, and not 40.00 + 9.00 from A with 40.00 from B.
    let buying = market.buy();
    expect(&buying, ["A", "A"], "82.00");
    assert!(buying.charges.amount().is_zero());
    assert_eq!(buying.saved, Some(money("0.00")));
}

#[test]
fn a_small_order_is_made_up() {
    let market = Market {
        needed: vec![10, 1],
        rows: vec![row(0, 0, 400), row(1, 1, 400), row(1, 0, 900)],
        charges: vec![
            Charge::default(),
            Charge {
                least: 1_000,
                ..Charge::default()
            },
        ],
    };
    expect(&market.buy(), ["A", "A"], "49.00");
    let mut only = market;
    only.rows.pop();
    let buying = only.buy();
    expect(&buying, ["A", "B"], "50.00");
    assert_eq!(buying.orders[1].made_up, money("6.00"));
    assert_eq!(buying.charges, money("6.00"));
}

#[test]
fn a_preferred_supplier_is_taken_within_its_percent() {
    let market = two_sellers(vec![Charge::default(); 2]);
    let prefer = |percent: i64| {
        let mut terms = terms(&[
            Charge::default(),
            Charge {
                least: 1,
                ..Charge::default()
            },
        ]);
        terms.suppliers[0].preferred = Some(percent.into());
        market.buy_on(&terms)
    };
    // 83.50 are 4.375 % more than 80.00.
    expect(&prefer(4), ["A", "A"], "80.00");
    assert_eq!(prefer(4).preferred, None);
    let taken = prefer(5);
    expect(&taken, ["B", "B"], "83.50");
    assert_eq!(taken.preferred, Some(("B".to_owned(), money("3.50"))));
    assert!(taken.proven);
    assert_eq!(taken.bound, money("80.00"));
}

#[test]
fn one_supplier_for_everything_stands_beside() {
    let mut market = two_sellers(vec![Charge::default(); 2]);
    market.rows[3].cents = 390;
    market.rows.push(row(0, 2, 100));
    let buying = market.buy();
    expect(&buying, ["C", "B"], "49.00");
    let alone: Vec<(&str, usize, Option<String>)> = buying
        .alone
        .iter()
        .map(|one| {
            (
                one.supplier.as_str(),
                one.lacks,
                one.total.map(|sum| sum.plain()),
            )
        })
        .collect();
    let sum = |text: &str| Some(text.to_owned());
    assert_eq!(
        alone,
        [
            ("A", 0, sum("80.00")),
            ("B", 0, sum("80.00")),
            ("C", 1, None)
        ]
    );
    assert_eq!(buying.saved, Some(money("31.00")));
    assert_eq!(
        buying.sentences(),
        [
            "B: 1 line for 39.00.",
            "C: 1 line for 10.00.",
            "All at one: A 80.00, B 80.00, C lacks 1 line; as listed it is 31.00 less."
        ]
    );
}

#[test]
fn one_who_sells_it_all_is_named_beside_the_others() {
    let buying = two_sellers(vec![Charge::default(); 2]).buy();
    assert_eq!(buying.orders.len(), 1);
    assert_eq!(buying.sentences(), ["All from A; at others: B 83.50."]);
}

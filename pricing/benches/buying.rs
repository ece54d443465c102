//! How long a whole purchase takes: 400 lines out of 200,000 rows.

use bom::library::Library;
use bom::quantity::{PartSize, Units};
use bom::source::{Source, Span};
use bom::takeoff::{Group, Heights, PartKey, PartLine, Takeoff};
use divan::{Bencher, black_box};
use pricing::buying::{Buying, Named, SupplierTerms, Terms, buy};
use pricing::catalog::Catalog;
use pricing::money::{Currency, Money, MoneyError};

fn main() {
    divan::main();
}

const LINES: u64 = 400;

/// SplitMix64: the same jobs on every machine.
struct Dice(u64);

impl Dice {
    fn below(&mut self, end: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (mixed ^ (mixed >> 31)) % end
    }
}

fn size(line: u64) -> String {
    format!("1in x {}in", line + 2)
}

/// Nipples by so many suppliers, singly and in tens.
fn catalog(suppliers: u64, currency: Currency) -> Option<Catalog> {
    let library = Library::shipped().ok()?;
    let mut dice = Dice(5);
    let mut text = "part,system,size,pack,price,supplier,code\n".to_owned();
    for row in 0..200_000 / 2 / suppliers {
        let fair = 200 + dice.below(2_000);
        for supplier in 0..suppliers {
            let price = Money::of_minor_units(fair * (95 + dice.below(11)) / 100, currency);
            let (size, price) = (size(row), price.plain());
            text += &format!("nipple,black-iron,{size},1,{price},S{supplier},C{row}\n");
            let price = Money::of_minor_units(fair * (80 + dice.below(11)) / 10, currency);
            let price = price.plain();
            text += &format!("nipple,black-iron,{size},10,{price},S{supplier},B{row}\n");
        }
    }
    let source = [Source::new("rows", text)];
    Some(Catalog::read(&source, library.parts(), currency).0)
}

fn takeoff() -> Takeoff {
    let mut dice = Dice(7);
    let lines = (0..LINES).filter_map(|line| {
        Some(PartLine {
            key: PartKey {
                part: "nipple".to_owned(),
                system: "black-iron".to_owned(),
                size: PartSize::parse(&size(line), true).ok()?,
            },
            words: "nipple".to_owned(),
            group: Group::Pipe,
            quantity: 1 + dice.below(40),
            unit: "each".to_owned(),
            because: Vec::new(),
        })
    });
    Takeoff {
        standing: Default::default(),
        system: "black-iron".to_owned(),
        system_title: String::new(),
        lines: lines.collect(),
        pipe: Vec::new(),
        joints: Vec::new(),
        drops: 0,
        drains: 0,
        assumptions: Vec::new(),
        cautions: Vec::new(),
        proofs: Vec::new(),
        straights: Vec::new(),
        heights: Heights::default(),
    }
}

/// A delivery of 45, free from a share of what all goods cost.
fn terms(suppliers: u64, currency: Currency) -> Terms {
    let sum = |units: u64| Money::of_minor_units(units * 100, currency);
    Terms {
        suppliers: (0..suppliers)
            .map(|supplier| SupplierTerms {
                supplier: Named {
                    name: format!("S{supplier}"),
                    span: Span::default(),
                },
                delivery: sum(45 + supplier),
                free_from: Some(sum(20_000 + 3_000 * supplier)),
                least_order: Some(sum(50)),
                preferred: None,
            })
            .collect(),
        buy_from: Vec::new(),
    }
}

/// So many suppliers, of whom so many have terms.
#[divan::bench(args = [(2, 0), (6, 0), (2, 2), (3, 3), (6, 6), (20, 2), (100, 0), (12, 12)], sample_count = 3)]
fn four_hundred_lines(bencher: Bencher<'_, '_>, (suppliers, with_terms): (u64, u64)) {
    let Ok(currency) = Currency::parse("USD") else {
        return;
    };
    let Some(catalog) = catalog(suppliers, currency) else {
        return;
    };
    let (takeoff, terms) = (takeoff(), terms(with_terms, currency));
    let run =
        || -> Result<Buying, MoneyError> { buy(&takeoff, Units::Feet, &catalog, &terms, currency) };
    bencher.bench_local(|| black_box(run()));
}

//! Invented quotes for the tests of the renderers. Names, prices and hours are
//! made up.

use bom::quantity::PartSize;
use bom::takeoff::PartKey;
use jiff::civil::date;
use pricing::money::{Currency, Money};
use pricing::quote::{
    Added, AddedDrop, Company, Level, MissingPrice, Options, OutletRow, PaymentStep, Quote,
    QuoteAlternate, QuoteLine, QuoteOption, Section, Tax, Term,
};
use pricing::rates::{Provisional, TaxOn};
use rust_decimal::Decimal;

fn usd() -> Currency {
    Currency::parse("USD").unwrap()
}

pub(crate) fn money(text: &str) -> Money {
    Money::parse(text, usd()).unwrap()
}

fn texts(items: &[&str]) -> Vec<String> {
    items.iter().map(|item| (*item).to_owned()).collect()
}

fn line((text, quantity, unit, price): &(&str, &str, &str, &str)) -> QuoteLine {
    let quantity: Decimal = quantity.parse().unwrap();
    let unit_price = money(price);
    QuoteLine {
        text: (*text).to_owned(),
        quantity,
        unit: (*unit).to_owned(),
        unit_price: Some(unit_price),
        amount: Some(unit_price.times(quantity).unwrap()),
        taxed: *unit != "hour",
    }
}

fn section(title: &str, lines: &[(&str, &str, &str, &str)]) -> Section {
    let lines: Vec<_> = lines.iter().map(line).collect();
    Section {
        title: title.to_owned(),
        subtotal: Money::sum(usd(), lines.iter().filter_map(|line| line.amount)).unwrap(),
        lines,
    }
}

const PIPE: &[(&str, &str, &str, &str)] = &[
    (
        "Black steel pipe 1in, threaded both ends",
        "9",
        "stick 21 ft",
        "46.20",
    ),
    (
        "Black steel pipe 3/4in, threaded both ends",
        "3",
        "stick 21 ft",
        "31.50",
    ),
    (
        "Black steel pipe 1/2in, threaded both ends",
        "1",
        "stick 21 ft",
        "24.75",
    ),
    ("Close nipple 1in", "4", "each", "2.10"),
    ("Close nipple 3/4in", "17", "each", "1.65"),
    ("Close nipple 1/2in", "22", "each", "1.35"),
    ("Nipple 3/4in x 6in", "12", "each", "3.05"),
];
const FITTINGS: &[(&str, &str, &str, &str)] = &[
    ("Black iron elbow 90, 1in", "6", "each", "3.85"),
    ("Black iron elbow 90, 3/4in", "12", "each", "2.35"),
    (
        "Black iron tee 1in x 1in x 3/4in, the side outlet looking up",
        "6",
        "each",
        "5.10",
    ),
    ("Black iron tee 1in", "2", "each", "5.60"),
    ("Black iron tee 3/4in", "2", "each", "3.90"),
    ("Black iron cross 3/4in", "4", "each", "8.75"),
    ("Black iron coupling 1in", "7", "each", "3.20"),
    ("Black iron union 1in", "2", "each", "11.40"),
    ("Black iron bushing 3/4in x 1/2in", "11", "each", "2.05"),
    ("Black iron bushing 1/2in x 1/4in", "10", "each", "1.55"),
    ("Black iron cap 3/4in", "1", "each", "1.80"),
];
const VALVES: &[(&str, &str, &str, &str)] = &[
    ("Ball valve 3/4in, full bore", "10", "each", "14.90"),
    ("Ball valve 1in, full bore", "1", "each", "21.30"),
    ("Drain valve 1/2in", "7", "each", "9.80"),
];
const SUPPLY: &[(&str, &str, &str, &str)] = &[(
    "Rubber hose 1in x 24in, male both ends",
    "1",
    "each",
    "38.00",
)];
const TREATMENT: &[(&str, &str, &str, &str)] = &[
    ("Filter 1/2in, 5 µm, metal bowl", "5", "each", "42.50"),
    ("Regulator 1/2in with gauge 0–160 psi", "5", "each", "39.90"),
];
const OUTLETS: &[(&str, &str, &str, &str)] = &[
    ("Coupler 1/4in", "8", "each", "7.25"),
    ("Coupler 3/8in", "2", "each", "9.10"),
    ("Plug 1/4in", "9", "each", "2.20"),
    ("Plug 3/8in", "2", "each", "2.90"),
];
const SUPPORTS: &[(&str, &str, &str, &str)] = &[
    (
        "Split-ring hanger 1in with rod and beam clamp",
        "26",
        "each",
        "6.40",
    ),
    ("Wall bracket 3/4in", "6", "each", "5.15"),
    ("Anchor and screw set", "12", "each", "0.95"),
];
const SUNDRIES: &[(&str, &str, &str, &str)] = &[
    ("Thread tape, roll of 12 m", "6", "roll", "1.20"),
    ("Thread sealant", "0.5", "l", "18.40"),
];
const WORK: &[(&str, &str, &str, &str)] = &[
    (
        "Cut, thread and make up 1in joints",
        "14.5",
        "hour",
        "68.00",
    ),
    (
        "Cut, thread and make up 3/4in joints",
        "11.25",
        "hour",
        "68.00",
    ),
    ("Make up 1/2in joints", "4", "hour", "68.00"),
    ("Hang the main at 11 ft", "9.75", "hour", "68.00"),
    ("Set and pipe six drops", "7.5", "hour", "68.00"),
    (
        "Pressure test, blow out and hand over",
        "3",
        "hour",
        "68.00",
    ),
    ("Mobilisation", "1", "visit", "180.00"),
    ("Scissor lift, hired", "2", "day", "145.00"),
];

fn outlet(number: usize, name: &str, height: &str, sides: &[&str]) -> OutletRow {
    OutletRow {
        number,
        name: name.to_owned(),
        height: height.to_owned(),
        drop: "3/4in, top".to_owned(),
        sides: texts(sides),
        drain: "drain valve".to_owned(),
    }
}

/// Six outlets and 41 lines.
pub(crate) fn full() -> Quote {
    let sections = vec![
        section("Pipe and nipples", PIPE),
        section("Fittings", FITTINGS),
        section("Valves and drains", VALVES),
        section("Connection to the tank", SUPPLY),
        section("Filters, regulators, lubricators", TREATMENT),
        section("Couplers and plugs", OUTLETS),
        section("Supports", SUPPORTS),
        section("Sealant and sundries", SUNDRIES),
        section("Work", WORK),
    ];
    let two_sided = ["valve, coupler", "valve, filter 1/2in, regulator, coupler"];
    with_sums(Quote {
        company: Company {
            name: "Exampleton Pipe & Air".to_owned(),
            lines: texts(&[
                "12 Invented Lane, Exampleton",
                "Telephone 555 0100",
                "Licence no. 0000 (invented)",
            ]),
        },
        customer: "Millrace Joinery (invented example)".to_owned(),
        title: "Millrace Joinery: new air main".to_owned(),
        revision: "A".to_owned(),
        fingerprint: "4F2A-91C0".to_owned(),
        date: date(2026, 10, 1),
        valid_until: date(2026, 10, 31),
        scope: texts(&[
            "Supply and fit a new compressed-air main in black iron, threaded, Schedule 40: a ring of 1in pipe, 164.0 ft measured along the walls, at 11'-0\" above the floor, falling 1/8in per ft both ways to one low point with a drain.",
            "Six drops of 3/4in pipe taken from the top of the main, each with a drip leg and a drain valve, and the outlets listed below. The main is fed from the compressor’s tank (24 cfm free air, 80 gal) through a ball valve and a hose.",
        ]),
        outlets: vec![
            outlet(1, "bench", "4'-0\"", &two_sided),
            outlet(2, "router", "4'-0\"", &two_sided),
            outlet(
                3,
                "spray",
                "5'-0\"",
                &["valve, filter 1/2in, regulator, coupler 3/8in"],
            ),
            outlet(4, "press", "4'-0\"", &two_sided),
            outlet(5, "assembly", "4'-0\"", &two_sided),
            outlet(6, "door", "8'-0\"", &["valve, coupler 3/8in"]),
        ],
        sections,
        level: Level::Lines,
        small_items: None,
        rounding: None,
        provisional: Vec::new(),
        subtotal: money("0.00"),
        tax: Tax {
            label: "Sales tax on materials".to_owned(),
            percent: Decimal::new(725, 2),
            on: TaxOn::Materials,
            base: money("2345.00"),
            amount: money("170.01"),
        },
        total: None,
        unrated: Vec::new(),
        missing: Vec::new(),
        payment: Vec::new(),
        added: None,
        alternates: Vec::new(),
        options: None,
        terms: Vec::new(),
        assumptions: texts(&[
            "Lengths along the walls are taken as pipe lengths.",
            "Walls and beams carry the hangers as they are; the main hangs every 7 ft.",
            "The shop is clear under the run of the pipe, and a lift can reach all of it.",
            "The tank’s port is 1in female and stands 3'-6\" above the floor.",
        ]),
        exclusions: texts(&[
            "Electrical work, the compressor itself and its foundation.",
            "Painting, patching and fire stopping of walls.",
            "Hoses and tools after the couplers.",
        ]),
        cautions: texts(&[
            "The relief valve of the tank is set at 200 psi; every part offered here is rated above that at 90 °F.",
            "The filters’ bowls must be drained by the shop’s own people, each week at least.",
        ]),
        notices: texts(&["Prices and hours come from invented samples: this is not a real offer."]),
    })
}

fn with_sums(mut quote: Quote) -> Quote {
    quote.subtotal = Money::sum(usd(), quote.sections.iter().map(|s| s.subtotal)).unwrap();
    let total = quote.subtotal.plus(quote.tax.amount).unwrap();
    quote.total = Some(total);
    let shares = total
        .allocate(&[Decimal::from(40), Decimal::from(60)])
        .unwrap();
    quote.payment = vec![
        PaymentStep {
            when: "On order".to_owned(),
            amount: shares[0],
        },
        PaymentStep {
            when: "On hand-over, after the pressure test".to_owned(),
            amount: shares[1],
        },
    ];
    quote
}

/// The same with one sum, and everything that can stand beside it.
pub(crate) fn beside() -> Quote {
    let mut quote = full();
    let talk = "and so on along the wall ".repeat(30);
    quote.level = Level::Sum;
    quote.provisional = [("Cores through the wall", true), (talk.as_str(), false)]
        .map(|(text, in_total)| Provisional {
            text: text.to_owned(),
            price: money("240.00"),
            in_total,
            taxed: false,
        })
        .into();
    let option = |name: &str, total: Result<&str, &str>| QuoteOption {
        name: name.to_owned(),
        described: name == "A",
        pipe: "Black iron, threaded, size 1in".to_owned(),
        left_out: texts(&["door"]),
        cautions: texts(&[&talk]),
        difference: total.ok().map(|_| money("-12.34")),
        total: total.map(money).map_err(str::to_owned),
        days: Some(Decimal::new(25, 1)),
    };
    quote.options = Some(Options {
        scope: talk.clone(),
        options: vec![
            option("A", Ok("5914.56")),
            option("B", Ok("5902.22")),
            option(&talk, Err("no price for black iron cross 3/4in")),
        ],
    });
    quote.alternates = vec![QuoteAlternate {
        name: "store".to_owned(),
        text: talk.clone(),
        outlets: texts(&["store: low drop", "with 18.0 ft more of the main"]),
        price: Ok(money("638.26")),
    }];
    quote.added = Some(Added {
        drops: vec![AddedDrop {
            kind: "two-sided".to_owned(),
            text: talk.clone(),
            price: Ok(money("904.84")),
        }],
        basis: vec![talk.clone()],
    });
    quote.terms = vec![Term {
        label: "Start",
        text: talk,
    }];
    quote
}

/// The same, with two parts that no catalog row prices.
pub(crate) fn incomplete() -> Quote {
    let mut quote = full();
    for (section, line) in [(1, 5), (4, 0)] {
        let line = &mut quote.sections[section].lines[line];
        line.unit_price = None;
        line.amount = None;
    }
    quote.sections[1].subtotal = money("198.10");
    quote.sections[4].subtotal = money("199.50");
    quote.subtotal = Money::sum(usd(), quote.sections.iter().map(|s| s.subtotal)).unwrap();
    quote.total = None;
    quote.payment.clear();
    let size = |text: &str| PartSize::parse(text, false).unwrap();
    quote.missing = vec![
        MissingPrice {
            key: PartKey {
                part: "cross".into(),
                system: "black-iron".into(),
                size: size("3/4in"),
            },
            words: "black iron cross".into(),
            quantity: Decimal::from(4),
            unit: "each".into(),
            reason: "the catalog has crosses of 1in only".into(),
            row: "cross,black-iron,3/4in,black iron cross,each,1,,USD,,,,".into(),
        },
        MissingPrice {
            key: PartKey {
                part: "filter".into(),
                system: String::new(),
                size: size("1/2in"),
            },
            words: "filter".into(),
            quantity: Decimal::from(5),
            unit: "each".into(),
            reason: String::new(),
            row: "filter,,1/2in,filter,each,1,,USD,,,,".into(),
        },
    ];
    quote
}

/// Nothing but what the types demand.
pub(crate) fn bare() -> Quote {
    let nothing = money("0.00");
    Quote {
        company: Company {
            name: String::new(),
            lines: Vec::new(),
        },
        customer: String::new(),
        title: String::new(),
        revision: String::new(),
        fingerprint: String::new(),
        date: date(2026, 1, 2),
        valid_until: date(2026, 1, 2),
        scope: Vec::new(),
        outlets: Vec::new(),
        sections: Vec::new(),
        level: Level::Lines,
        small_items: None,
        rounding: None,
        provisional: Vec::new(),
        subtotal: nothing,
        tax: Tax {
            label: "Tax".to_owned(),
            percent: Decimal::ZERO,
            on: TaxOn::None,
            base: nothing,
            amount: nothing,
        },
        total: Some(nothing),
        unrated: Vec::new(),
        missing: Vec::new(),
        payment: Vec::new(),
        added: None,
        alternates: Vec::new(),
        options: None,
        terms: Vec::new(),
        assumptions: Vec::new(),
        exclusions: Vec::new(),
        cautions: Vec::new(),
        notices: Vec::new(),
    }
}

/// A small job: one section of two lines.
pub(crate) fn short() -> Quote {
    let mut quote = full();
    quote.sections = vec![section("Fittings", &FITTINGS[..2])];
    quote.outlets.clear();
    quote.scope.truncate(1);
    quote.assumptions.truncate(1);
    quote.exclusions.clear();
    with_sums(quote)
}

/// Three hundred lines, long words, and every text far too long.
pub(crate) fn long() -> Quote {
    let mut quote = full();
    let word = "Donaudampfschifffahrtsgesellschaftskapitänsmützenhalterung".repeat(4);
    let talk = "and so on along the wall ".repeat(60);
    for at in 0..260 {
        let lines = &mut quote.sections[1].lines;
        let mut next = lines[at % 11].clone();
        next.quantity = Decimal::new(125, 2) + Decimal::from(at);
        lines.push(next);
    }
    quote.sections[1].lines[20].text.clone_from(&word);
    quote.sections[1].lines[30].text = talk.repeat(20);
    quote.sections[2].title = format!("{talk}{word}");
    quote.title.clone_from(&talk);
    quote.customer = format!("{word} {talk}");
    quote.company.name.clone_from(&word);
    quote.revision = format!("B {talk}");
    quote.scope.push(talk.repeat(40));
    quote.outlets[0].name.clone_from(&word);
    quote.outlets[1].sides = texts(&["valve, coupler"; 9]);
    quote.tax.label.clone_from(&talk);
    quote.sections[8].lines[0].amount = Some(money("79228162514264337593543950.33"));
    quote.payment[0].when = format!("{word}{talk}");
    quote.exclusions.push(word);
    quote
        .cautions
        .push("Мир \u{1f527}\ttab \u{7} bell \u{ad}soft\r\nnext line, a\u{a0}b".to_owned());
    quote
}

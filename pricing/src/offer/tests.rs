use super::Inputs;
use crate::catalog::Catalog;
use crate::estimate::Estimate;
use crate::money::{Currency, Money};
use crate::quote::Quote;
use crate::rates::Rates;
use bom::library::Library;
use bom::quantity::{Length, PartSize, Size, Units};
use bom::source::Source;
use bom::summary::{DrainSummary, OutletSummary, Summary};
use bom::system::Joint;
use bom::takeoff::{Group, JointCount, PartKey, PartLine, PipeLine, Takeoff};
use jiff::civil::date;

const RATES: &str = include_str!("../../../catalogs-demo/rates.toml");

/// Rates whose factor is 110 / 80 = 1.375.
fn rates() -> String {
    RATES
        .replacen("\"58.00\"", "\"40.00\"", 1)
        .replacen("\"12\"", "\"10\"", 1)
}

const CATALOG: &str = "\
part,system,size,unit,pack,price,supplier,code,priced_on
pipe,black-iron,1in,ft,1,2.00,A (invented),P1,2026-10-01
elbow-90,black-iron,1in,each,1,4.00,A (invented),E1,2026-10-08
elbow-90,black-iron,1in,each,1,4.00,B,E9,2026-09-30
ball-valve,,1in,each,1,20.01,B,V1,2026-10-15
coupler-plug,,,each,1,2.50,B,,
hanger,black-iron,1in,each,10,30.00,A (invented),H1,2026-10-08
";

fn inch() -> Size {
    Size::parse("1in").unwrap()
}

fn line(part: &str, system: &str, size: PartSize, group: Group, quantity: u64) -> PartLine {
    PartLine {
        key: PartKey {
            part: part.to_owned(),
            system: system.to_owned(),
            size,
        },
        words: part.to_owned(),
        group,
        quantity,
        unit: "each".to_owned(),
        because: Vec::new(),
    }
}

fn takeoff() -> Takeoff {
    let (one, iron) = (PartSize::one(inch()), "black-iron");
    let pipe = line("pipe", iron, one, Group::Pipe, 0);
    Takeoff {
        system: iron.to_owned(),
        system_title: "Black iron, threaded".to_owned(),
        lines: vec![
            line("elbow-90", iron, one, Group::Fittings, 5),
            line("ball-valve", "", one, Group::Valves, 2),
            line("coupler-plug", "", PartSize::NONE, Group::Outlets, 3),
            line("hanger", iron, one, Group::Supports, 12),
        ],
        pipe: vec![PipeLine {
            key: pipe.key,
            words: "pipe".to_owned(),
            size: inch(),
            centre_to_centre: Length::from_feet(104),
            end_to_end: Length::from_feet(100),
            pieces: Vec::new(),
            stick: Length::from_feet(21),
            kerf: Length::from_64ths(8),
            mass_lb_per_ft: 1.68,
            ready: false,
        }],
        joints: vec![JointCount {
            system: iron.to_owned(),
            joint: Joint::Threaded,
            size: inch(),
            count: 20,
        }],
        drops: 2,
        drains: 1,
        assumptions: vec!["The wall is taken as square.".to_owned()],
        proofs: Vec::new(),
        straights: Vec::new(),
    }
}

fn outlet(number: usize, drop: &str, drain: &str) -> OutletSummary {
    OutletSummary {
        number,
        name: format!("outlet {number}"),
        drop: drop.to_owned(),
        size: inch(),
        height: Length::from_feet(4),
        take_off: "top".to_owned(),
        sides: vec!["valve, coupler".to_owned()],
        drain: drain.to_owned(),
    }
}

fn summary() -> Summary {
    Summary {
        title: "A new main".to_owned(),
        customer: "Millrace Joinery (invented)".to_owned(),
        revision: "A".to_owned(),
        units: Units::Feet,
        system_title: "black iron".to_owned(),
        supply: vec!["compressor: 24 cfm free air".to_owned()],
        connection: vec!["ball valve 1in".to_owned(), "hose 1in x 24in".to_owned()],
        main_sizes: vec![inch()],
        main_length: Length::from_feet(104),
        rings: 1,
        main_height: Length::from_feet(11),
        fall: "1/8in per ft".to_owned(),
        drains: vec![DrainSummary {
            name: "low".to_owned(),
            height: Length::from_feet(10),
            valve: Size::parse("1/2in").unwrap(),
        }],
        outlets: vec![
            outlet(1, "reel", "none"),
            outlet(2, "two-sided", "drain valve"),
        ],
    }
}

fn priced(takeoff: &Takeoff, rows: &str, rates: &str) -> (Estimate, Quote) {
    let library = Library::shipped().unwrap();
    let (rates, findings) = Rates::read(&Source::new("rates.toml", rates));
    assert_eq!(findings, []);
    let rates = rates.unwrap();
    let source = Source::new("shop.csv", rows);
    let (catalog, findings) = Catalog::read(&[source], library.parts(), rates.currency);
    assert_eq!(findings, []);
    let summary = summary();
    let inputs = Inputs {
        summary: &summary,
        takeoff,
        catalog: &catalog,
        rates: &rates,
        date: date(2026, 10, 20),
        fingerprint: "4F2A-91C0",
    };
    (inputs.estimate().unwrap(), inputs.quote().unwrap())
}

#[test]
fn a_quote_worked_by_hand() {
    let (_, quote) = priced(&takeoff(), CATALOG, &rates());
    let lines: Vec<String> = quote
        .sections
        .iter()
        .flat_map(|section| &section.lines)
        .map(|line| {
            format!(
                "{} | {} {} | {} | {}",
                line.text,
                line.quantity,
                line.unit,
                line.unit_price.unwrap().plain(),
                line.amount.unwrap().plain()
            )
        })
        .collect();
    assert_eq!(
        lines,
        [
            "pipe 1in | 100 ft | 2.75 | 275.00",
            "elbow-90 1in | 5 each | 5.50 | 27.50",
            "ball-valve 1in | 2 each | 27.51 | 55.02",
            "coupler-plug | 3 each | 3.44 | 10.32",
            "hanger 1in | 2 pack of 10 | 41.25 | 82.50",
            "Make up joints 1in | 3.4 hour | 55.00 | 187.00",
            "Hang pipe 1in | 4.5 hour | 55.00 | 247.50",
            "Set hangers and brackets | 4.2 hour | 55.00 | 231.00",
            "Set valves and devices | 0.4 hour | 55.00 | 22.00",
            "Build drops | 1.5 hour | 55.00 | 82.50",
            "Build drains | 0.15 hour | 55.00 | 8.25",
            "Mobilise and clear up | 3 hour | 55.00 | 165.00",
            "Pressure test | 3 hour | 55.00 | 165.00",
        ]
    );
    assert_eq!(quote.subtotal.plain(), "1558.59");
    assert_eq!(quote.tax.base.plain(), "450.34");
    assert_eq!(quote.tax.amount.plain(), "29.27");
    assert_eq!(quote.total.unwrap().plain(), "1587.86");
    let payment: Vec<String> = quote
        .payment
        .iter()
        .map(|step| step.amount.plain())
        .collect();
    assert_eq!(payment, ["635.15", "635.14", "317.57"]);
    assert_eq!(quote.valid_until, date(2026, 11, 19));
}

#[test]
fn the_estimate_behind_it() {
    let (estimate, quote) = priced(&takeoff(), CATALOG, &rates());
    for (sum, expected) in [
        (estimate.materials, "327.52"),
        (estimate.labour, "806.00"),
        (estimate.overhead, "113.35"),
        (estimate.profit, "311.72"),
        (estimate.price, "1558.59"),
    ] {
        assert_eq!(sum.plain(), expected);
    }
    assert_eq!(estimate.margin_percent.unwrap().to_string(), "20.0001");
    assert_eq!(estimate.markup_percent.unwrap().to_string(), "25.0002");
    assert_eq!(
        estimate.sections[1].lines[0].origin,
        "A (invented), E1, 2026-10-08"
    );
    assert_eq!(estimate.price, quote.subtotal);
}

#[test]
fn every_sum_is_a_sum_of_printed_lines() {
    let (_, quote) = priced(&takeoff(), CATALOG, &rates());
    let usd = Currency::parse("USD").unwrap();
    for section in &quote.sections {
        let amounts = section.lines.iter().filter_map(|line| line.amount);
        assert_eq!(Money::sum(usd, amounts).unwrap(), section.subtotal);
        for line in &section.lines {
            let product = line.unit_price.unwrap().times(line.quantity).unwrap();
            assert_eq!(Some(product), line.amount, "{}", line.text);
        }
    }
    let sections = quote.sections.iter().map(|section| section.subtotal);
    assert_eq!(Money::sum(usd, sections).unwrap(), quote.subtotal);
    let whole = quote.subtotal.plus(quote.tax.amount).unwrap();
    assert_eq!(Some(whole), quote.total);
    let payment = quote.payment.iter().map(|step| step.amount);
    assert_eq!(Money::sum(usd, payment).unwrap(), whole);
}

#[test]
fn a_missing_price_leaves_the_total_open() {
    let rows = CATALOG.replacen("20.01", "", 1);
    let (_, quote) = priced(&takeoff(), &rows, &rates());
    assert!(quote.total.is_none());
    assert!(quote.payment.is_empty());
    assert_eq!(quote.subtotal.plain(), "1503.57");
    let [hole] = quote.missing.as_slice() else {
        panic!("{:?}", quote.missing);
    };
    assert_eq!(hole.reason, "line 5 of shop.csv has no price yet");
    assert_eq!(hole.row, "ball-valve,,1in,ball-valve,each,1,,USD,,,,");
    let valve = &quote.sections[2].lines[0];
    assert_eq!((valve.unit_price, valve.amount), (None, None));
}

#[test]
fn a_size_without_hours_leaves_the_total_open() {
    let mut takeoff = takeoff();
    takeoff.joints[0].size = Size::parse("4in").unwrap();
    let (estimate, quote) = priced(&takeoff, CATALOG, &rates());
    assert_eq!(estimate.unrated.len(), 1);
    assert!(quote.total.is_none());
    assert_eq!(
        quote.unrated,
        [
            "Make up joints 4in (20 joints): the rates have no hours for it; add the size under [hours.joint]"
        ]
    );
}

#[test]
fn the_order_of_the_rows_changes_nothing() {
    let mut rows: Vec<&str> = CATALOG.lines().collect();
    let expected = format!("{:?}", priced(&takeoff(), CATALOG, &rates()));
    for _ in 1..rows.len() {
        rows[1..].rotate_left(1);
        assert_eq!(
            format!("{:?}", priced(&takeoff(), &rows.join("\n"), &rates())),
            expected
        );
    }
    rows[1..].reverse();
    assert_eq!(
        format!("{:?}", priced(&takeoff(), &rows.join("\n"), &rates())),
        expected
    );
}

#[test]
fn tax_is_taken_on_its_stated_base() {
    for (on, base, tax) in [
        ("materials", "450.34", "29.27"),
        ("all", "1558.59", "101.31"),
        ("none", "0.00", "0.00"),
    ] {
        let rates = rates().replacen("\"materials\"", &format!("\"{on}\""), 1);
        let (_, quote) = priced(&takeoff(), CATALOG, &rates);
        assert_eq!(quote.tax.base.plain(), base, "{on}");
        assert_eq!(quote.tax.amount.plain(), tax, "{on}");
    }
}

#[test]
fn the_sample_jobs_are_priced_without_a_hole() {
    let library = Library::shipped().unwrap();
    let (rates, _) = Rates::read(&Source::new("rates.toml", RATES));
    let rates = rates.unwrap();
    let iron = Source::new("iron.csv", include_str!("../../../catalogs-demo/iron.csv"));
    let (catalog, _) = Catalog::read(&[iron], library.parts(), rates.currency);
    for job in [
        include_str!("../../../catalogs-demo/annex.toml"),
        include_str!("../../../catalogs-demo/garage.toml"),
        include_str!("../../../catalogs-demo/millrace.toml"),
    ] {
        let (plan, _) = bom::plan(&Source::new("job.toml", job), &library);
        let plan = plan.unwrap();
        let inputs = Inputs {
            summary: &plan.summary,
            takeoff: &plan.takeoff,
            catalog: &catalog,
            rates: &rates,
            date: date(2026, 10, 20),
            fingerprint: "4F2A-91C0",
        };
        let quote = inputs.quote().unwrap();
        assert_eq!(
            quote.missing.len(),
            0,
            "{}: {:?}",
            quote.title,
            quote.missing
        );
        assert!(
            quote.total.is_some(),
            "{}: {:?}",
            quote.title,
            quote.notices
        );
    }
}

#[test]
fn the_words_of_the_quote() {
    let (_, quote) = priced(&takeoff(), CATALOG, &rates());
    assert_eq!(
        quote.scope,
        [
            "One ring main for compressed air: black iron; size 1in; 104.0 ft in all, starting 11'-0\" above the floor.",
            "The main falls 1/8in per ft. Its low point is drained: low (1/2in valve).",
            "Connection to the tank, in this order: ball valve 1in; hose 1in x 24in.",
            "2 drops: 1 reel, 1 two-sided. Each leaves the main from the top, so that water stays in the main. 1 of them ends in a drip leg with a drain.",
            "Pressure test of the finished pipework with air, with all outlets plugged for the test.",
        ]
    );
    assert_eq!(
        quote.assumptions,
        [
            "The wall is taken as square.",
            "The air supply is as stated to us: compressor: 24 cfm free air.",
            "Material prices dated 2026-10-01 to 2026-10-15 from A (invented) and B.",
            "Material prices without a date: 1.",
        ]
    );
    assert_eq!(
        quote.notices,
        [
            "The labour rates and percentages are an invented sample, not anyone's prices.",
            "The material prices of A (invented) are invented samples.",
        ]
    );
    assert_eq!(quote.cautions.len(), 5);
    assert_eq!(quote.outlets[0].height, "4'-0\"");
    assert_eq!(quote.outlets[0].drop, "1in, top");
}

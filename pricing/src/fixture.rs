//! An invented job of a few lines for the tests of prices.

use crate::catalog::Catalog;
use crate::offer::Inputs;
use crate::rates::Rates;
use bom::library::Library;
use bom::network::NodeId;
use bom::quantity::{Length, PartSize, Size, Units};
use bom::source::Source;
use bom::summary::{Connection, DrainSummary, MainPipe, OutletSummary, Summary};
use bom::system::Joint;
use bom::takeoff::{
    Counts, Group, Heights, JointCount, PartKey, PartLine, PipeLine, Stretch, Takeoff,
};
use jiff::civil::date;

pub(crate) const RATES: &str = include_str!("../../catalogs-demo/rates.toml");

/// Rates whose factor is 110 / 80 = 1.375, with nothing that may be left out.
pub(crate) fn rates() -> String {
    let kept = RATES.split("\n\n").filter(|table| {
        let left_out = ["[adders", "[[cost]]", "# [retainage]"];
        !left_out.iter().any(|name| table.starts_with(name))
    });
    let kept: Vec<&str> = kept.collect();
    let plain = kept.join("\n\n");
    let plain = plain
        .lines()
        .filter(|line| !line.starts_with("contingency"));
    let plain: String = plain.map(|line| format!("{line}\n")).collect();
    plain
        .replacen("\"58.00\"", "\"40.00\"", 1)
        .replacen("\"12\"", "\"10\"", 1)
}

/// Those with more keys above the first table and more tables at the end.
pub(crate) fn rates_with(keys: &str, tables: &str) -> String {
    format!("{keys}\n{}\n{tables}\n", rates())
}

pub(crate) const CATALOG: &str = "\
part,system,size,unit,pack,price,supplier,code,priced_on
pipe,black-iron,1in,ft,1,2.00,A (invented),P1,2026-10-01
elbow-90,black-iron,1in,each,1,4.00,A (invented),E1,2026-10-08
elbow-90,black-iron,1in,each,1,4.00,B,E9,2026-09-30
ball-valve,,1in,each,1,20.01,B,V1,2026-10-15
coupler-plug,,,each,1,2.50,B,,
hanger,black-iron,1in,each,10,30.00,A (invented),H1,2026-10-08
";

/// What is made of this count, these prices and these rates, all of which must be
/// readable.
pub(crate) fn made<T>(
    takeoff: &Takeoff,
    rows: &str,
    rates: &str,
    of: impl FnOnce(&Inputs<'_>) -> T,
) -> T {
    let library = Library::shipped().unwrap();
    let (rates, findings) = Rates::read(&Source::new("rates.toml", rates));
    assert_eq!(findings, []);
    let rates = rates.unwrap();
    let source = Source::new("shop.csv", rows);
    let (catalog, findings) = Catalog::read(&[source], library.parts(), rates.currency);
    assert_eq!(findings, []);
    of(&Inputs {
        summary: &summary(),
        takeoff,
        catalog: &catalog,
        rates: &rates,
        date: date(2026, 10, 20),
        fingerprint: "4F2A-91C0",
    })
}

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

pub(crate) fn takeoff() -> Takeoff {
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
            more: bom::quantity::Length::ZERO,
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
            places: vec![NodeId::default().into(); 20],
        }],
        standing: Counts::default(),
        taken_out: Default::default(),
        tie_ins: 0,
        drops: 2,
        drains: 1,
        assumptions: vec!["The wall is taken as square.".to_owned()],
        cautions: Vec::new(),
        proofs: Vec::new(),
        straights: Vec::new(),
        heights: Heights {
            places: vec![Length::from_feet(11)],
            supports: vec![Length::from_feet(11); 10],
            pipe: vec![Stretch {
                system: iron.to_owned(),
                size: inch(),
                length: Length::from_feet(104),
                ends: [Length::from_feet(11), Length::from_feet(9)],
            }],
        },
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

pub(crate) fn summary() -> Summary {
    Summary {
        title: "A new main".to_owned(),
        customer: "Millrace Joinery (invented)".to_owned(),
        revision: "A".to_owned(),
        units: Units::Feet,
        supply: vec!["compressor: 24 cfm free air".to_owned()],
        connections: vec![Connection {
            supply: "compressor".to_owned(),
            items: vec!["ball valve 1in".to_owned(), "hose 1in x 24in".to_owned()],
        }],
        main_sizes: vec![inch()],
        main_pipe: vec![MainPipe {
            system_title: "black iron".to_owned(),
            sizes: vec![inch()],
            length: Length::from_feet(104),
        }],
        main_length: Length::from_feet(104),
        rings: 1,
        main_height: Length::from_feet(11),
        fall: "1/8in per ft".to_owned(),
        drains: vec![DrainSummary {
            name: "low".to_owned(),
            height: Length::from_feet(10),
            valve: Size::parse("1/2in").unwrap(),
        }],
        valves: Vec::new(),
        outlets: vec![
            outlet(1, "reel", "none"),
            outlet(2, "two-sided", "drain valve"),
        ],
    }
}

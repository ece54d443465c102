//! The card's own figures, each held against its source.

use super::holes::lost;
use super::round::water;
use super::shut::without;
use crate::air::Site;
use crate::drawing::tags;
use crate::handover::tests::{context_of, planned, text_of};
use crate::handover::{Context, Part};
use crate::quantity::{Length, Pressure, Units};
use std::collections::BTreeSet;

const MILLRACE: &str = include_str!("../../../../catalogs-demo/millrace.toml");
const RING: &str = include_str!("../../../../tests/drawing/ring-of-twenty.toml");
const TEETH: &str = include_str!("../../../../tests/practice/bad-shop.toml");
const CFM: f64 = 28.316_846_6 / 60.0;

// Isentropic flow at the speed of sound, 70 F, 14.7 psia, times 0.61 for a sharp edge;
// within 0.4 % of a public table of orifices (Cd 1) and of Moss's formula. Hole in 64ths
// of an inch, psig, cfm of free air.
#[test]
fn holes_let_out_what_tables_of_orifices_say() {
    for (sixty_fourths, psig, cfm) in [
        (4, 70.0, 2.934),
        (8, 70.0, 11.738),
        (2, 100.0, 0.993),
        (4, 100.0, 3.974),
        (8, 100.0, 15.895),
        (8, 110.0, 17.281),
        (4, 125.0, 4.840),
        (8, 125.0, 19.359),
    ] {
        let hole = Length::from_64ths(sixty_fourths);
        let (flow, _) = lost(hole, Pressure::from_psi(psig), &Site::SEA_LEVEL);
        let ours = flow.litres_per_second() / CFM;
        assert!((ours / cfm - 1.0).abs() < 5e-3, "{ours} {cfm}");
    }
}

// By hand at 100 psig: 1/8 in lets out 15.9 cfm; one stage takes 13.37 kW for 100 cfm, at
// 70 % 19.1 kW (DOE's range, from memory, is 18 to 20); 8760 hours at 0.15.
#[test]
fn a_hole_costs_what_the_sum_by_hand_does() {
    let job = MILLRACE.replace("cut_out  = \"175 psi\"", "cut_out  = \"100 psi\"");
    let job = job.replace("cut_in   = \"140 psi\"", "cut_in   = \"80 psi\"");
    let (plan, library) = planned(&job);
    let context = Context {
        asked: crate::handover::Asked {
            energy_price: Some(0.15),
            ..Default::default()
        },
        ..context_of(&plan, &library)
    };
    let card = text_of(&super::parts(&context));
    let kwh: f64 = 15.895 / 100.0 * 13.37 / 0.7 * 8_760.0;
    assert!(
        card.contains("lets out | 0.2 cfm | 1 cfm | 4 cfm | 15.9 cfm"),
        "{card}"
    );
    let told = |row: &str| -> f64 {
        let line = card.lines().find(|line| line.starts_with(row)).unwrap();
        let last = line.rsplit(" | ").next().unwrap();
        last.trim_end_matches(" kWh").parse().unwrap()
    };
    let (energy, cost) = (told("energy a year"), told("cost a year"));
    assert!((energy / kwh - 1.0).abs() < 5e-3, "{energy} {kwh}");
    assert!((cost / (kwh * 0.15) - 1.0).abs() < 5e-3, "{cost}");
    assert!(card.contains("A kWh at 0.15."));
}

// 1500 m up the air is 0.8345 as thick: the same hole at the same gauge lets out less, and
// each pound of it is more litres for the compressor to take in.
#[test]
fn up_a_mountain_a_compressor_takes_in_thin_air() {
    let hole = Length::from_64ths(8);
    let gauge = Pressure::from_psi(100.0);
    let high = Site::at_altitude(Length::from_mm(1_500_000));
    let (low_flow, low) = lost(hole, gauge, &Site::SEA_LEVEL);
    let (high_flow, high) = lost(hole, gauge, &high);
    // Mass goes with the absolute pressure: (100 + 12.26) / (100 + 14.70).
    let mass = high_flow.litres_per_second() / low_flow.litres_per_second();
    assert!((mass / (112.26 / 114.70) - 1.0).abs() < 1e-3, "{mass}");
    // Work on a kilogram goes with the ratio of pressures: r^(2/7) - 1, r 9.156 and 7.805.
    let work = (9.156_f64.powf(2.0 / 7.0) - 1.0) / (7.805_f64.powf(2.0 / 7.0) - 1.0);
    let ratio = high.unwrap() / low.unwrap();
    assert!((ratio / (mass * work) - 1.0).abs() < 2e-3, "{ratio}");
}

#[test]
fn water_is_told_as_it_is_caught_in_a_can() {
    for (litres, units, words) in [
        (0.01, Units::Feet, "drops"),
        (0.01, Units::Metric, "drops"),
        (0.03, Units::Feet, "1 fl oz"),
        (0.03, Units::Metric, "30 ml"),
        (1.0, Units::Feet, "0.26 gal"),
        (2.54, Units::Metric, "2.5 l"),
        (8.0, Units::Feet, "2.1 gal"),
    ] {
        assert_eq!(water(litres, units), words);
    }
}

fn card(job: &str) -> String {
    let (plan, library) = planned(job);
    text_of(&super::parts(&context_of(&plan, &library)))
}

#[test]
fn the_card_has_the_days_that_the_job_knows() {
    let mean = card(MILLRACE);
    assert!(mean.contains("Where | Water, mean day\n"), "{mean}");
    assert!(mean.contains("state `hottest` and `coldest` of the room"));
    let both = card(TEETH);
    assert!(
        both.contains("Where | Water, mean day | Hot damp day | Winter day"),
        "{both}"
    );
    assert!(!both.contains("not known"), "{both}");
    let cold = card(&TEETH.replace("hottest = \"95 F\"\n", ""));
    assert!(
        cold.contains("Where | Water, mean day | Winter day"),
        "{cold}"
    );
    assert!(cold.contains("state `hottest` of the room"), "{cold}");
}

#[test]
fn what_no_drain_empties_and_what_freezes_is_warned_of() {
    let bad = card(TEETH);
    assert!(
        bad.contains("Nothing drains the drops of 1, 2; the regulator at compressor;"),
        "{bad}"
    );
    assert!(
        bad.contains("the level pipe from leg 1, a corner to leg 1, its end."),
        "{bad}"
    );
    assert!(!bad.contains("this freezes"), "{bad}");
    let frost = card(&TEETH.replace("\"38 F\"", "\"10 F\""));
    assert!(
        frost.contains("In annex, as cold as 10 F, this freezes: "),
        "{frost}"
    );
    let good = card(MILLRACE);
    assert!(!good.contains("Nothing drains"), "{good}");
}

#[test]
fn oil_is_only_for_lubricators_and_never_for_spray() {
    let plain = card(MILLRACE);
    assert!(
        !plain.contains("oil;") && !plain.contains("Spray"),
        "{plain}"
    );
    let annex = card(include_str!("../../../../catalogs-demo/annex.toml"));
    assert!(
        annex.contains("Lubricators (outlets 1, 2): airline oil"),
        "{annex}"
    );
    assert!(annex.contains("drip leg of 3 end (automatic)"), "{annex}");
    let spray = MILLRACE.replacen(
        "[outlet.spray]\n",
        "[outlet.spray]\nquality = \"paint\"\n",
        1,
    );
    let spray = card(&spray);
    assert!(spray.contains("Spray (outlet 3): never oil"), "{spray}");
}

// Union-find over the links by hand: places with a shut valve join nothing.
#[test]
fn the_card_names_every_outlet_that_loses_its_air() {
    let mut beyond = 0;
    for job in [MILLRACE, RING, TWO_IN_A_ROW] {
        let (plan, library) = planned(job);
        let context = context_of(&plan, &library);
        let (network, tags) = (&plan.network, tags(&plan));
        for part in &context.sections {
            let mut live: BTreeSet<usize> = network.ports().map(|port| port.index()).collect();
            let shut: Vec<usize> = part.ends.iter().map(|end| end.index()).collect();
            live.retain(|port| !shut.contains(port));
            if part.has_tank {
                live.retain(|port| {
                    let inside = |link: &crate::network::LinkId| {
                        network
                            .ends_of(*link)
                            .iter()
                            .any(|end| end.index() == *port)
                    };
                    !part.pipe.iter().any(inside)
                });
            }
            loop {
                let before = live.len();
                for (_, from, to, _) in network.links() {
                    for (from, to) in [(from, to), (to, from)] {
                        if live.contains(&from.index()) && !shut.contains(&to.index()) {
                            live.insert(to.index());
                        }
                    }
                }
                if live.len() == before {
                    break;
                }
            }
            let dead = network.drops.iter();
            let dead = dead.filter(|drop| !live.contains(&drop.foot_at.index()));
            let dead: BTreeSet<usize> = dead.map(|drop| tags.outlet(&drop.name)).collect();
            let told: BTreeSet<usize> = without(&context, part).into_iter().collect();
            assert_eq!(told, dead, "{}", part.letter);
            beyond += told.len() - part.outlets.len();
        }
    }
    // All 20 of the ring behind its feed, and the far one of two in a row.
    assert_eq!(beyond, 21);
}

/// A line with a valve in its middle: what lies behind it has its air through the first.
const TWO_IN_A_ROW: &str = r#"
[job]
title = "Two in a row (invented)"
units = "feet"
[supply.compressor]
port    = "3/4in female"
height  = "3-0"
connect = ["hose 24in"]
[main]
system = "black-iron"
size   = "3/4in"
height = "10-0"
fall   = "level"
[[leg]]
from  = "compressor"
go    = ["up 7-0", "east 40-0"]
marks = { near = "17-0", middle = "27-0", far = "47-0" }
[valve.middle]
[drop.plain]
size  = "3/4in"
foot  = "tee"
sides = [["valve", "coupler 1/4in"]]
[outlet.near]
drop   = "plain"
height = "4-0"
[outlet.far]
drop   = "plain"
height = "4-0"
"#;

#[test]
fn a_tank_without_a_valve_is_emptied() {
    let said = card(TWO_IN_A_ROW);
    let row = "1 near | its own valve | V1; stop the compressor, empty the tank | 1, 2";
    assert!(said.contains(row), "{said}");
    assert!(said.contains("2 far | its own valve | V1 | 2"), "{said}");
}

#[test]
fn a_log_stands_last() {
    let (plan, library) = planned(MILLRACE);
    let parts = super::parts(&context_of(&plan, &library));
    assert!(matches!(parts.last(), Some(Part::Log(heads)) if heads.len() == 3));
}

// 24 outlets along a line, with automatic drains and others by turns: more rows than a card
// has room for.
#[test]
fn many_drip_legs_are_told_together() {
    let names: Vec<String> = (1..=24).map(|number| format!("o{number}")).collect();
    let marks = names
        .iter()
        .zip(1..)
        .map(|(name, at)| format!("{name} = \"{}-0\"", 7 + 5 * at));
    let marks = marks.collect::<Vec<_>>().join(", ");
    let outlets = names.iter().zip(0..).map(|(name, at)| {
        let kind = ["plain", "own"][at % 2];
        format!("[outlet.{name}]\ndrop = \"{kind}\"\nheight = \"4-0\"\n")
    });
    let kind = |name: &str, drain: &str| {
        format!(
            "[drop.{name}]\nsize = \"3/4in\"\nfoot = \"tee\"\ndrip_leg = \"8in\"\ndrain = \"{drain}\"\nsides = [[\"valve\", \"coupler 1/4in\"]]\n"
        )
    };
    let head = TWO_IN_A_ROW.split("[[leg]]").next().unwrap();
    let job = format!(
        "{head}[[leg]]\nfrom = \"compressor\"\ngo = [\"up 7-0\", \"east 130-0\"]\nmarks = {{ {marks} }}\n{}{}{}",
        kind("plain", "valve 1/2in"),
        kind("own", "automatic 1/2in"),
        outlets.collect::<String>()
    );
    let said = card(&job);
    let round = said.split("Every week").next().unwrap();
    assert_eq!(round.matches("drip legs of").count(), 2, "{round}");
    assert!(round.contains("drip legs of 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24 (automatic)"));
    assert!(round.contains("Automatic: press its button"), "{round}");
}

//! The generator keeps its own promises before anything is held against it.

use super::generate::Way;
use super::{Form, Plan, Shop};

fn forms() -> Vec<Form> {
    let mut forms = Vec::new();
    for rotate in 0..4 {
        for bits in 0..16 {
            forms.push(Form {
                rotate,
                mirror: bits & 1 != 0,
                metric: bits & 2 != 0,
                reorder: bits & 4 != 0,
                rename: bits & 8 != 0,
            });
        }
    }
    forms
}

#[test]
fn every_form_is_toml_with_every_outlet_marked_once() {
    for plan in Plan::ALL {
        for outlets in [1, 2, 7, 40] {
            let shop = Shop::new(plan, outlets, 11);
            for form in forms() {
                let text = shop.job(form);
                let job: toml::Table = text.parse().expect(&text);
                let written = job["outlet"].as_table().unwrap();
                assert_eq!(written.len(), outlets);
                let marks: Vec<&String> = job["leg"]
                    .as_array()
                    .unwrap()
                    .iter()
                    .filter_map(|leg| leg.get("marks"))
                    .flat_map(|marks| marks.as_table().unwrap().keys())
                    .collect();
                let valves = job.get("valve").and_then(toml::Value::as_table);
                for name in written
                    .keys()
                    .chain(valves.into_iter().flat_map(|all| all.keys()))
                {
                    assert_eq!(marks.iter().filter(|mark| **mark == name).count(), 1);
                }
            }
        }
    }
}

#[test]
fn the_same_seed_gives_the_same_shop() {
    for plan in Plan::ALL {
        for form in forms() {
            let job = Shop::new(plan, 30, 5).job(form);
            assert_eq!(job, Shop::new(plan, 30, 5).job(form));
            assert_ne!(job, Shop::new(plan, 30, 6).job(form));
        }
    }
}

#[test]
fn a_ring_closes() {
    for (plan, round) in [(Plan::Ring, 5), (Plan::Rungs, 7)] {
        for outlets in 1..60 {
            let shop = Shop::new(plan, outlets, 3);
            let along = |wanted| -> u64 {
                let straights = shop.legs[1..=round].iter().flat_map(|leg| &leg.go);
                straights
                    .filter(|(way, _)| *way == wanted)
                    .map(|(_, length)| length)
                    .sum()
            };
            assert_eq!(along(Way::East), along(Way::West));
            assert_eq!(along(Way::North), along(Way::South));
        }
    }
}

#[test]
fn marks_stand_clear_of_each_other_and_of_turns() {
    for plan in Plan::ALL {
        let shop = Shop::new(plan, 100, 8);
        for leg in &shop.legs {
            let mut before = 0;
            for (_, at) in &leg.marks {
                assert!(*at >= before + 36);
                before = *at;
            }
            let end: u64 = leg.go.iter().map(|(_, length)| length).sum();
            assert!(before == end || before + 36 <= end);
        }
    }
}

#[test]
fn ten_thousand_outlets_are_written() {
    for plan in Plan::ALL {
        let text = Shop::new(plan, 10_000, 1).job(Form::default());
        assert_eq!(text.matches("[outlet.").count(), 10_000);
    }
}

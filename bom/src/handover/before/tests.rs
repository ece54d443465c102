//! What the sheet claims of the test, and what it does not.

use crate::handover::tests::{context_of, planned, text_of};
use crate::handover::{Asked, Context, rules};
use crate::quantity::Pressure;

const MILLRACE: &str = include_str!("../../../../catalogs-demo/millrace.toml");
const TWO: &str = include_str!("../../../../tests/cases/two-compressors/job.toml");
const BAD: &str = include_str!("../../../../tests/practice/bad-shop.toml");
const METRIC: &str = include_str!("../../../../tests/cases/metric/job.toml");

fn before(job: &str, rule: Option<&str>) -> String {
    let (plan, library) = planned(job);
    let known = rules().unwrap();
    let rule = rule.map(|name| known.iter().find(|rule| rule.name == name).unwrap());
    let context = context_of(&plan, &library);
    let asked = Asked {
        rule,
        ..Asked::default()
    };
    let context = Context {
        asked,
        figures: crate::handover::figures(&plan, &context.sections, rule),
        ..context
    };
    text_of(&super::parts(&context))
}

fn without(job: &str, keys: &[&str]) -> String {
    let kept = job
        .lines()
        .filter(|line| !keys.iter().any(|key| line.starts_with(key)));
    kept.map(|line| format!("{line}\n")).collect()
}

#[test]
fn nothing_is_claimed_of_a_test_where_nothing_says_the_pressure() {
    let bare = without(MILLRACE, &["relief", "cut_out", "cut_in"]);
    for rule in [None, Some("110-percent")] {
        let said = before(&bare, rule);
        assert!(said.contains("No pressure of a test follows"), "{said}");
        assert!(said.contains("What it stores is not worked out"), "{said}");
        assert!(!said.contains(" psi") && !said.contains(" kJ"), "{said}");
    }
}

// 1.1 times 175 psi of the cut-out, and 1.1 times that: 211.75 psi.
#[test]
fn a_relief_valve_that_is_taken_is_to_be_read_off() {
    let said = before(&without(MILLRACE, &["relief"]), Some("110-percent"));
    assert!(said.contains("can see is 192.5 psi"), "{said}");
    assert!(
        said.contains("That is taken (common practice, no source): read"),
        "{said}"
    );
    assert!(said.contains("Held at 211.8 psi"), "{said}");
    assert!(!before(MILLRACE, Some("110-percent")).contains("That is taken"));
}

// The highest relief valve counts whatever its place in the file; a compressor that states
// none may go to 1.1 times its cut-out.
#[test]
fn of_several_compressors_the_highest_relief_valve_counts() {
    let higher = |which: usize, by: &str| {
        let mut at = 0;
        let lines = TWO.lines().map(|line| {
            let relief = line.starts_with("relief");
            at += usize::from(relief);
            match relief && at == which {
                true => format!("{by}\n"),
                false => format!("{line}\n"),
            }
        });
        lines.collect::<String>()
    };
    for which in [1, 2] {
        let said = before(&higher(which, "relief = \"175 psi\""), Some("110-percent"));
        assert!(said.contains("can see is 175 psi"), "{said}");
        assert!(said.contains("the highest counts"), "{said}");
        assert!(said.contains("Held at 192.5 psi"), "{said}");
    }
    let said = before(&higher(1, ""), Some("110-percent"));
    assert!(said.contains("can see is 154 psi"), "{said}");
    assert!(said.contains("left not stated, right 150 psi"), "{said}");
    assert!(!before(TWO, Some("110-percent")).contains("the highest counts"));
}

// No rule: both with what they come to, and their sources. By hand: 150 psi x 1.1, x 1.5;
// B31.3 345.5.2 lets the relief valve go the lesser of 50 psi and a tenth above.
#[test]
fn each_rule_has_its_pressures() {
    let none = before(BAD, None);
    assert!(none.contains("110-percent | 165 psi |") && none.contains("150-percent | 225 psi |"));
    for rule in rules().unwrap() {
        assert!(none.contains(&rule.source));
    }
    for (rule, held, relief, steps) in [
        (
            "110-percent",
            "Held at 165 psi",
            "no more than 181.5 psi",
            "80, 95, 115, 130, 145, 165 psi",
        ),
        (
            "150-percent",
            "Held at 225 psi for 4 hours",
            "no more than 247.5 psi",
            "110, 135, 155, 180, 200, 225 psi",
        ),
    ] {
        let said = before(BAD, Some(rule));
        for words in [held, relief, steps, "First step 25 psi"] {
            assert!(said.contains(words), "{words} in {said}");
        }
    }
    // 12 bar: 13.2 and 14.52 bar, down to a tenth; 170 kPa is B31.3's first step (memory).
    let said = before(METRIC, Some("110-percent"));
    for words in [
        "Held at 13.2 bar",
        "no more than 14.5 bar",
        "First step 1.7 bar",
        "6.5, 7.5, 9, 10.5, 11.5, 13.2 bar",
    ] {
        assert!(said.contains(words), "{words} in {said}");
    }
}

#[test]
fn a_limit_is_never_rounded_the_wrong_way() {
    let (plan, library) = planned(MILLRACE);
    let context = context_of(&plan, &library);
    for (psi, least, most) in [
        (192.5, "192.5 psi", "192.5 psi"),
        (211.75, "211.8 psi", "211.7 psi"),
        (200.0, "200 psi", "200 psi"),
        (137.51, "137.6 psi", "137.5 psi"),
    ] {
        assert_eq!(context.at_least(Pressure::from_psi(psi)), least);
        assert_eq!(context.at_most(Pressure::from_psi(psi)), most);
    }
}

/// A main that stands, a drop on it, and one to come.
const OLD: &str = r#"
[job]
title = "One more drop (invented)"
units = "feet"
[supply.compressor]
port    = "3/4in female"
height  = "3-0"
connect = ["valve", "hose 24in"]
[main]
system = "black-iron"
size   = "3/4in"
height = "10-0"
fall   = "level"
[[leg]]
from  = "compressor"
go    = ["up 7-0", "east 30-0"]
marks = { lathe = "12-0", last = "27-0" }
state = "existing"
[drop.plain]
size  = "3/4in"
foot  = "cross"
drain = "none"
sides = [["valve", "coupler 1/4in"], ["valve", "filter", "coupler 1/4in"]]
[outlet.last]
drop   = "plain"
height = "4-0"
[outlet.lathe]
drop   = "plain"
height = "4-0"
state  = "later"
"#;

#[test]
fn every_open_end_is_named_and_old_pipe_is_warned_of() {
    let said = before(OLD, None);
    for words in [
        "Pipe that stands already (leg 1) takes part in the test",
        "The outlet plugged: 1 last (2 sides)",
        "Plug for lathe, which comes later, at leg 1, at lathe: made up",
        "Cap made up: leg 1, its end",
        "Caps made up on the drip legs of 1",
        "Every filter and gauge that is rated for less",
    ] {
        assert!(said.contains(words), "{words} in {said}");
    }
    let new = before(MILLRACE, None);
    assert!(
        !new.contains("stands already") && !new.contains("Cap made up"),
        "{new}"
    );
}

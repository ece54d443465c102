//! Every rule of good practice in a small job that breaks it and in its twin.

use crate::support::{read, root, run};
use bom::practice::RULES;
use dripleg::Exit;
use serde_json::Value;

/// What `check` says of a job, in JSON.
fn checked(job: &str) -> Value {
    let path = root().join("tests/practice").join(job);
    let outcome = run(&["check", &path.display().to_string(), "--format", "json"]);
    let json: Value = serde_json::from_str(&outcome.out).unwrap();
    let findings = json["findings"].as_array().unwrap();
    let stops = |one: &Value| one["severity"] == "error" && one["accepted"] == false;
    let exit = match findings.iter().any(stops) {
        true => Exit::Stopped,
        false => Exit::Done,
    };
    assert_eq!(outcome.exit, exit, "{job}: {}{}", outcome.out, outcome.err);
    json
}

/// Rules and lines of what `check` finds.
fn found(job: &str) -> Vec<(String, u64)> {
    checked(job)["findings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| {
            let rule = one["rule"].as_str().unwrap().to_owned();
            (rule, one["line"].as_u64().unwrap())
        })
        .collect()
}

/// The line below the comment that names the rule.
fn expected(job: &str, rule: &str) -> u64 {
    let text = read(root().join("tests/practice").join(job));
    let comment = format!("# expect: {rule}");
    let at = text.lines().position(|line| line.trim() == comment);
    at.unwrap_or_else(|| panic!("{job} does not say `{comment}`")) as u64 + 2
}

#[test]
fn every_rule_fires_in_its_bad_job_and_is_silent_in_its_good_one() {
    for rule in RULES {
        let (bad, good) = (
            format!("{}/bad.toml", rule.name),
            format!("{}/good.toml", rule.name),
        );
        let line = expected(&bad, rule.name);
        let in_bad = found(&bad);
        assert!(
            in_bad.contains(&(rule.name.to_owned(), line)),
            "{bad}: {line} {in_bad:?}"
        );
        assert_eq!(found(&good), [], "{good}");
    }
}

/// A capped end that the water runs to, and a drip leg that ends in a cap, have one
/// cause each.
#[test]
fn a_cap_is_said_once() {
    let of = |job: &str, rules: [&str; 2]| -> Vec<String> {
        let found = found(job).into_iter().map(|(rule, _)| rule);
        found
            .filter(|rule| rules.contains(&rule.as_str()))
            .collect()
    };
    let end = ["main-ends-in-cap", "main-end-without-drain"];
    assert_eq!(of("main-end-without-drain/bad.toml", end), [end[1]]);
    let leg = ["low-point-without-drain", "no-drip-leg"];
    assert_eq!(of("no-drip-leg/bad.toml", leg), [leg[1]]);
}

#[test]
fn the_bad_shop_makes_the_classic_mistakes_and_the_good_one_none() {
    let mut rules: Vec<String> = found("bad-shop.toml")
        .into_iter()
        .map(|(rule, _)| rule)
        .collect();
    rules.sort();
    rules.dedup();
    for classic in [
        "level-main",
        "wet-take-off",
        "no-drip-leg",
        "hard-piped-supply",
        "regulator-at-head",
    ] {
        assert!(
            rules.iter().any(|rule| rule == classic),
            "{classic}: {rules:?}"
        );
    }
    assert_eq!(found("good-shop.toml"), []);
}

#[test]
fn what_the_job_accepts_carries_its_reason_and_stops_nothing() {
    let json = checked("accepted.toml");
    let findings = json["findings"].as_array().unwrap();
    let said: Vec<(&str, &str, bool, Option<&str>)> = findings
        .iter()
        .map(|one| {
            let text = |key: &str| one[key].as_str();
            let accepted = one["accepted"].as_bool().unwrap();
            (
                text("rule").unwrap(),
                text("severity").unwrap(),
                accepted,
                text("reason"),
            )
        })
        .collect();
    assert_eq!(
        said,
        [
            (
                "level-main",
                "warning",
                true,
                Some("existing beam, drained at both ends")
            ),
            ("accepts-nothing", "note", false, None),
            ("no-shut-off", "warning", false, None),
            (
                "lubricator-before-paint",
                "error",
                true,
                Some("oil-based undercoat only")
            ),
        ]
    );

    let path = root().join("tests/practice/accepted.toml");
    let path = path.display().to_string();
    let text = run(&["check", &path]);
    assert_eq!(text.exit, Exit::Done);
    for line in [
        "1 warning, 1 note; 2 accepted",
        "accepted[level-main]: 22'-0\" of main is level and holds its water",
        "reason: existing beam, drained at both ends",
        "Drain the tank every working day",
    ] {
        assert!(text.out.contains(line), "{line}: {}", text.out);
    }
    // The open warning comes first, what is accepted last.
    let rules: Vec<&str> = text
        .out
        .lines()
        .filter_map(|line| line.split_once("]: ")?.0.split_once('['))
        .map(|(_, rule)| rule)
        .collect();
    assert_eq!(
        rules,
        [
            "no-shut-off",
            "accepts-nothing",
            "level-main",
            "lubricator-before-paint"
        ]
    );
    assert_eq!(run(&["parts", &path]).exit, Exit::Done);
}

#[test]
fn an_error_of_practice_stops_the_count_and_says_how_to_accept_it() {
    let path = root().join("tests/practice/lubricator-before-paint/bad.toml");
    let parts = run(&["parts", &path.display().to_string()]);
    assert_eq!(parts.exit, Exit::Stopped);
    assert_eq!(parts.out, "");
    for words in [
        "error[lubricator-before-paint]: `saw` is for paint, and a lubricator stands on its own side",
        "or write why it stays so: lubricator-before-paint = \"…\" under [accept]",
    ] {
        assert!(parts.err.contains(words), "{}", parts.err);
    }
}

#[test]
fn findings_stand_by_table_with_the_worst_first_and_a_place_is_shown_once() {
    let path = root().join("tests/practice/bad-shop.toml");
    let text = run(&["check", &path.display().to_string()]);
    let bench: Vec<&str> = text
        .out
        .lines()
        .filter(|line| line.contains("bad-shop.toml:40:9"))
        .collect();
    assert_eq!(bench.len(), 3, "{}", text.out);
    assert_eq!(text.out.matches("| [outlet.bench]").count(), 1);
    assert!(text.out.contains("bad-shop.toml: 12 warnings\n"));
}

#[test]
fn every_rule_can_be_explained() {
    let names: Vec<&str> = RULES.iter().map(|rule| rule.name).collect();
    assert!(names.is_sorted());
    let list = run(&["explain"]);
    for rule in RULES {
        assert!(list.out.contains(rule.name), "{}", list.out);
        let one = run(&["explain", rule.name]);
        assert_eq!(one.exit, Exit::Done);
        for part in [
            "Weight",
            "What it finds",
            "Why it matters",
            "What to do",
            "Source",
        ] {
            assert!(one.out.contains(part), "{}", one.out);
        }
        for text in [rule.finds, rule.why, rule.cure, rule.source] {
            assert!(!text.trim().is_empty(), "{}", rule.name);
        }
    }
    let typo = run(&["explain", "level-mian"]);
    assert_eq!(typo.exit, Exit::Unreadable);
    assert!(
        typo.err.contains("did you mean `level-main`?"),
        "{}",
        typo.err
    );
}

//! Every rule of good practice in a small job that breaks it and in its twin.

use crate::support::{read, root, run};
use bom::practice::RULES;
use dripleg::Exit;
use serde_json::Value;

/// Rules and lines of what `check` finds in a job that can be built.
fn found(job: &str) -> Vec<(String, u64)> {
    let path = root().join("tests/practice").join(job);
    let outcome = run(&["check", &path.display().to_string(), "--format", "json"]);
    assert_eq!(
        outcome.exit,
        Exit::Done,
        "{job}: {}{}",
        outcome.out,
        outcome.err
    );
    let json: Value = serde_json::from_str(&outcome.out).unwrap();
    let findings = json["findings"].as_array().unwrap().iter();
    findings
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
        let in_good = found(&good);
        assert!(
            in_good.iter().all(|(name, _)| name != rule.name),
            "{good}: {in_good:?}"
        );
    }
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
fn every_rule_can_be_explained() {
    let names: Vec<&str> = RULES.iter().map(|rule| rule.name).collect();
    assert!(names.is_sorted());
    let list = run(&["explain"]);
    for rule in RULES {
        assert!(list.out.contains(rule.name), "{}", list.out);
        let one = run(&["explain", rule.name]);
        assert_eq!(one.exit, Exit::Done);
        for part in ["What it finds", "Why it matters", "What to do", "Source"] {
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

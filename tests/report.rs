//! The report as a user asks for it: a whole page that a browser reads as it was meant.

mod page;

use crate::support::{Outcome, files, folder, path, read, run};
use dripleg::Exit;
use page::Page;
use serde_json::Value;
use std::collections::BTreeSet;

const JOBS: [&str; 3] = ["millrace", "garage", "annex"];

/// A demo job's report with more words behind it, each name of a file whole.
fn report(job: &str, more: &[&str]) -> Outcome {
    let job = path(&format!("catalogs-demo/{job}.toml"));
    let more: Vec<String> = more.iter().map(|word| whole(word)).collect();
    let words = ["report", &job].into_iter();
    let words: Vec<&str> = words.chain(more.iter().map(String::as_str)).collect();
    run(&words)
}

fn whole(word: &str) -> String {
    match word.starts_with("catalogs-demo/") {
        true => path(word),
        false => word.to_owned(),
    }
}

const PRICES: [&str; 2] = ["--catalog", "catalogs-demo/iron.csv"];
const CREW: [&str; 4] = [
    "--catalog",
    "catalogs-demo/iron.csv",
    "--rates",
    "catalogs-demo/rates.toml",
];

fn page(job: &str, more: &[&str]) -> Page {
    let outcome = report(job, more);
    assert_eq!(outcome.exit, Exit::Done, "{job}: {}", outcome.err);
    Page::read(&outcome.out)
}

/// What a command says in JSON of a demo job.
fn json(command: &str, job: &str, more: &[&str]) -> Value {
    let job = path(&format!("catalogs-demo/{job}.toml"));
    let more: Vec<String> = more.iter().map(|word| whole(word)).collect();
    let words = [command, &job, "--format", "json"].into_iter();
    let words: Vec<&str> = words.chain(more.iter().map(String::as_str)).collect();
    let outcome = run(&words);
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    serde_json::from_str(&outcome.out).unwrap()
}

#[test]
fn every_page_is_whole() {
    for job in JOBS {
        for more in [&[][..], &PRICES, &CREW] {
            page(job, more).is_whole();
        }
    }
    let mut read = 0;
    for folder in std::fs::read_dir(path("tests/cases")).unwrap() {
        let job = folder.unwrap().path().join("job.toml");
        if job.is_file() {
            let outcome = run(&["report", &job.display().to_string()]);
            assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
            Page::read(&outcome.out).is_whole();
            read += 1;
        }
    }
    assert!(read > 20, "{read}");
}

#[test]
fn every_outlet_part_and_piece_is_on_it() {
    for job in JOBS {
        let (owner, bare) = (page(job, &PRICES), page(job, &[]));
        let check = |page: &Page, catalog: &[&str]| {
            let text = read(path(&format!("catalogs-demo/{job}.toml")));
            let heads = text
                .lines()
                .filter_map(|line| line.strip_prefix("[outlet."));
            let outlets: Vec<&str> = heads.map(|head| head.trim_end_matches(']')).collect();
            assert_eq!(page.count("<tr role=\"row\" id=\"outlet-"), outlets.len());
            for name in outlets {
                assert!(page.says(&format!("\u{a0}{name}")), "{job}: {name}");
            }
            if !catalog.is_empty() {
                let shop = json("shop", job, catalog);
                let groups = shop["groups"].as_array().unwrap();
                let lines: Vec<&Value> = groups
                    .iter()
                    .flat_map(|group| group["lines"].as_array().unwrap())
                    .collect();
                assert_eq!(page.count("checkbox\" id=\"buy-"), lines.len());
                for line in lines {
                    let (words, quantity) = (&line["words"], &line["quantity"]);
                    let quantity = quantity.to_string().replace('"', "");
                    let said = format!("{quantity} {}", words.as_str().unwrap());
                    assert!(page.says(&said), "{job}: {said}");
                }
                let total = shop["total"].as_str().unwrap().to_owned();
                assert!(
                    page.text.replace(',', "").contains(&total),
                    "{job}: {total}"
                );
            }
            let cut = json("cut", job, catalog);
            let mut pieces = 0;
            for stick in cut["sticks"].as_array().unwrap() {
                for label in stick["labels"].as_array().unwrap() {
                    let label = label.as_str().unwrap();
                    assert!(page.says(&format!(" {label} ")), "{job}: {label}");
                    pieces += 1;
                }
            }
            assert!(pieces > 0, "{job}");
            assert_eq!(page.count("checkbox\" id=\"cut-"), pieces);
        };
        check(&owner, &PRICES);
        check(&bare, &[]);
    }
}

/// Every amount in a JSON, with its cents.
fn amounts(value: &Value, found: &mut BTreeSet<String>) {
    match value {
        Value::Array(all) => all.iter().for_each(|one| amounts(one, found)),
        Value::Object(all) => all.values().for_each(|one| amounts(one, found)),
        Value::String(text) => {
            let cents = text
                .rsplit_once('.')
                .is_some_and(|(_, cents)| cents.len() == 2);
            if cents && text.parse::<f64>().is_ok_and(|amount| amount > 0.0) {
                found.insert(text.clone());
            }
        }
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

#[test]
fn the_crew_sees_no_money_and_nobody_sees_who_sells() {
    for job in JOBS {
        let mut money = BTreeSet::new();
        amounts(&json("estimate", job, &CREW), &mut money);
        amounts(&json("shop", job, &PRICES), &mut money);
        assert!(money.len() > 80, "{}", money.len());
        let figures = |page: &Page| -> BTreeSet<String> {
            let text = page.text.replace(',', "");
            let figures = text.split(|one: char| !one.is_ascii_digit() && one != '.');
            figures.map(str::to_owned).collect()
        };
        for page in [page(job, &CREW), page(job, &[])] {
            let figures = figures(&page);
            let leaked: Vec<&String> = money.intersection(&figures).collect();
            assert!(leaked.is_empty(), "{job}: {leaked:?}");
            for word in ["USD", "no price", "Subtotal"] {
                assert!(!page.says(word), "{job}: {word}");
            }
        }
        for page in [page(job, &CREW), page(job, &PRICES), page(job, &[])] {
            for word in [
                "Example Supply",
                "Second Supply",
                "margin",
                "wage",
                "BP-075",
            ] {
                assert!(!page.says(word), "{job}: {word}");
            }
        }
    }
}

#[test]
fn an_owners_rates_leave_the_prices_on_it() {
    let folder = folder("report-owner");
    let rates = folder.join("rates.toml");
    let demo = read(path("catalogs-demo/rates.toml"));
    std::fs::write(&rates, format!("owner = true\n{demo}")).unwrap();
    let rates = rates.display().to_string();
    let owner = page("garage", &[PRICES[0], PRICES[1], "--rates", &rates]);
    assert!(owner.says("TOTAL USD, spares included"), "{}", owner.text);
}

#[test]
fn hostile_names_stay_words() {
    let hostile = "<script>alert('1')</script> & \\\"on\\\" <b id='job'>";
    let shown = "<script>alert('1')</script> & \"on\" <b id='job'>";
    let folder = folder("report-hostile");
    let job = folder.join("job.toml");
    let text = read(path("catalogs-demo/garage.toml"));
    let hurt = |line: &str| match line.split(' ').next() {
        Some(key @ ("title" | "customer" | "revision")) => format!("{key} = \"{hostile}\"\n"),
        _ => format!("{line}\n"),
    };
    let text: String = text.lines().map(hurt).collect();
    let text = text.replace("bench", "\"<i>&\"");
    std::fs::write(&job, text).unwrap();
    let outcome = run(&["report", &job.display().to_string()]);
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    let page = Page::read(&outcome.out);
    page.is_whole();
    assert_eq!(page.count("<script"), 1);
    assert!(page.says(shown), "{}", page.text);
    assert!(page.says("1\u{a0}<i>&"), "{}", page.text);
    assert_eq!(page.count("<i>"), 0);
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    let folder = folder("report-bytes");
    let write = |name: &str| {
        let file = folder.join(name);
        let out = file.display().to_string();
        let outcome = report("millrace", &[&PRICES[..], &["--out", &out]].concat());
        assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
        assert!(
            outcome.err.ends_with(&format!("wrote {out}\n")),
            "{}",
            outcome.err
        );
        std::fs::read(file).unwrap()
    };
    let first = write("a.html");
    assert_eq!(first, write("b.HTM"));
    assert_eq!(first, report("millrace", &PRICES).out.into_bytes());
    let later = report(
        "millrace",
        &[&PRICES[..], &["--date", "2026-11-03"]].concat(),
    );
    assert!(later.out.contains("3 November 2026"));
}

#[test]
fn a_missing_price_stands_over_the_list_and_stops() {
    let folder = folder("report-missing");
    let prices = folder.join("prices.csv");
    let all = read(path("catalogs-demo/iron.csv"));
    let few: Vec<&str> = all
        .lines()
        .filter(|line| !line.starts_with("union,"))
        .collect();
    std::fs::write(&prices, few.join("\n")).unwrap();
    let prices = prices.display().to_string();
    let owner = report("garage", &["--catalog", &prices]);
    assert_eq!(owner.exit, Exit::Stopped);
    assert!(
        owner.err.contains("a price is missing: the total is open"),
        "{}",
        owner.err
    );
    let page = Page::read(&owner.out);
    page.is_whole();
    assert!(page.says("PRICES ARE MISSING - the total is open"));
    assert!(page.says("TOTAL USD open"), "{}", page.text);
    // The crew builds with what there is.
    let crew = report("garage", &["--catalog", &prices, CREW[2], CREW[3]]);
    assert_eq!(crew.exit, Exit::Done, "{}", crew.err);
    assert!(!crew.out.contains("PRICES ARE MISSING"));
}

#[test]
fn what_cannot_be_written_is_refused_and_leaves_nothing() {
    let folder = folder("report-refused");
    let out = |name: &str| folder.join(name).display().to_string();
    let refused = |name: &str, exit: Exit, said: &str| {
        let outcome = report("garage", &["--out", &out(name)]);
        assert_eq!(outcome.exit, exit, "{name}: {}", outcome.err);
        assert!(outcome.err.contains(said), "{name}: {}", outcome.err);
    };
    for ending in ["pdf", "txt", "toml"] {
        let said = format!(
            "a file ending in `.{ending}` cannot be written here; the formats are html (or name one with --format)"
        );
        refused(&format!("a.{ending}"), Exit::Unreadable, &said);
    }
    std::fs::create_dir(folder.join("there")).unwrap();
    refused("there", Exit::Outside, "could not be written");
    refused("nowhere/a.html", Exit::Outside, "could not be written");
    let left: Vec<_> = std::fs::read_dir(&folder).unwrap().collect();
    assert_eq!(left.len(), 1, "{left:?}");
    let rates_alone = report("garage", &CREW[2..]);
    assert_eq!(rates_alone.exit, Exit::Unreadable, "{}", rates_alone.err);
}

#[test]
fn a_job_that_cannot_be_counted_has_no_page() {
    for job in files("tests/bad", "toml").into_iter().take(12) {
        let outcome = run(&["report", &job.display().to_string()]);
        if outcome.exit != Exit::Done {
            assert_eq!(outcome.out, "", "{}", job.display());
            assert!(outcome.err.contains("problem"), "{}", outcome.err);
        }
    }
}

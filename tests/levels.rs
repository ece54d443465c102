//! How much of its prices a quote shows, and what it offers beside the job.

use crate::support::{Outcome, folder, path, read, root, run};
use dripleg::Exit;
use serde_json::Value;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

const LISTS: [&str; 3] = ["iron", "copper", "brass"];
const RATES: &str = "catalogs-demo/rates.toml";

/// What an annex offers besides: a branch, and the end of the main.
const BESIDE: &str = "
[alternate.store]
text = \"Air in the store\"
add  = [\"store\"]

[alternate.end]
add  = [\"end\"]

[[option]]
name = \"A\"

[[option]]
name   = \"B\"
system = \"copper-l-soldered\"

[[option]]
name      = \"C\"
leave_out = [\"lathe\"]
";

fn written(folder: &Path, name: &str, text: &str) -> PathBuf {
    let file = folder.join(name);
    std::fs::write(&file, text).unwrap();
    file
}

fn annex() -> String {
    read(root().join("catalogs-demo/annex.toml"))
}

/// The annex as a careful hand would write it without these.
fn annex_without(texts: &[&str]) -> String {
    let mut job = annex();
    for text in texts {
        assert!(job.contains(text), "{text}");
        job = job.replacen(text, "", 1);
    }
    job
}

const STORE: [&str; 3] = [
    ", tap = \"45-6\"",
    "[[leg]]                           # the branch to the store
from  = \"tap\"
size  = \"3/4in\"
go    = [\"north 10-0\", \"east 8-0\"]
marks = { store = \"18-0\" }
",
    "[outlet.store]
drop   = \"low\"
height = \"4-0\"
",
];
const END: [&str; 2] = [
    ", end = \"22-0\"",
    "[outlet.end]
drop   = \"plain\"
height = \"4-6\"
",
];

/// The rates with everything that a quote can hold, and odd figures in them.
fn full_rates() -> String {
    let rates = read(root().join(RATES));
    let keys = "small_items = \"5.00\"\n";
    let tables = "
[allowance]
text = \"Lengths that could not be measured\"
percent = \"2.93\"

[[provisional]]
text = \"Cores through the wall\"
price = \"241.07\"
in_total = true

[[provisional]]
text = \"Night work\"
price = \"317.00\"
in_total = false
";
    format!("{keys}{rates}{tables}")
        .replacen("\"58.00\"", "\"57.13\"", 1)
        .replacen("\"85.00\"", "\"83.17\"", 1)
}

fn with(command: &str, job: &Path, rates: &Path, more: &[&str]) -> Outcome {
    let (job, rates) = (job.display().to_string(), rates.display().to_string());
    let lists = LISTS.map(|list| path(&format!("catalogs-demo/{list}.csv")));
    let mut words = vec![command, &job, "--rates", &rates, "--date", "2026-11-02"];
    for list in &lists {
        words.extend(["--catalog", list]);
    }
    words.extend(more);
    run(&words)
}

fn json(job: &Path, rates: &Path, more: &[&str]) -> Value {
    let more: Vec<&str> = ["--format", "json"].iter().chain(more).copied().collect();
    let outcome = with("quote", job, rates, &more);
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    serde_json::from_str(&outcome.out).unwrap()
}

fn cents(value: &Value) -> i64 {
    let text = value.as_str().unwrap();
    text.replace('.', "").parse().unwrap()
}

/// The one of a list whose key has this value.
fn one<'a>(list: &'a Value, key: &str, value: &str) -> &'a Value {
    let mut items = list.as_array().unwrap().iter();
    items.find(|item| item[key] == value).unwrap()
}

#[test]
fn an_alternate_is_the_difference_of_two_jobs_written_by_hand() {
    let folder = folder("levels-alternates");
    let rates = root().join(RATES);
    let job = written(&folder, "job.toml", &format!("{}{BESIDE}", annex()));
    let quote = json(&job, &rates, &[]);
    let by_hand = |name: &str, text: &str| {
        // The leg ends at its last outlet, the lathe.
        let text = match text.contains("[outlet.end]") {
            true => text.to_owned(),
            false => text.replacen("\"north 22-0\"", "\"north 9-0\"", 1),
        };
        cents(&json(&written(&folder, name, &text), &rates, &[])["total"])
    };
    let both: Vec<&str> = STORE.iter().chain(&END).copied().collect();
    let base = by_hand("base.toml", &annex_without(&both));
    assert_eq!(cents(&quote["total"]), base);
    for (name, without) in [("store", &END[..]), ("end", &STORE[..])] {
        let with = by_hand("with.toml", &annex_without(without));
        let adds = &one(&quote["alternates"], "name", name)["adds"];
        assert_eq!(cents(adds), with - base, "{name}");
        assert!(with > base + 10_000, "{name}: {with} {base}");
    }
    let store = &one(&quote["alternates"], "name", "store")["outlets"];
    assert_eq!(store[1], "with 18.0 ft more of the main", "{store}");

    // Every other paper is of the job without them.
    let outlets = quote["outlets"].as_array().unwrap();
    assert_eq!(outlets.len(), 2);
    let base = folder.join("base.toml").display().to_string();
    let job = job.display().to_string();
    let parts = |job: &str| run(&["parts", job, "--format", "csv"]).out;
    let quantities = |text: &str| -> Vec<String> {
        let lines = text.lines().map(|line| line.split(',').take(4));
        lines
            .map(|cells| cells.collect::<Vec<_>>().join(","))
            .collect()
    };
    assert_eq!(quantities(&parts(&job)), quantities(&parts(&base)));
}

#[test]
fn an_alternate_that_cannot_be_built_stops_the_job() {
    let folder = folder("levels-alternate-bad");
    let text = format!("{}{BESIDE}", annex()).replacen("store = \"18-0\"", "stor = \"18-0\"", 1);
    let job = written(&folder, "job.toml", &text).display().to_string();
    let outcome = run(&["check", &job]);
    assert_eq!(outcome.exit, Exit::Unreadable, "{}", outcome.err);
    let told = outcome.out + &outcome.err;
    assert!(
        told.contains("there is no outlet, drain or valve `stor`"),
        "{told}"
    );
}

#[test]
fn an_option_is_the_quote_of_its_own_job() {
    let folder = folder("levels-options");
    let rates = root().join(RATES);
    let own = BESIDE.split_once("[[option]]").unwrap().1;
    let job = written(
        &folder,
        "job.toml",
        &format!("{}\n[[option]]{own}", annex()),
    );
    let quote = json(&job, &rates, &[]);
    let options = &quote["options"]["options"];
    let base = cents(&quote["total"]);
    // In another system it is what `compare` says of it: sizes that carry the air as well.
    let compared = ["--systems", "copper-l-soldered", "--format", "json"];
    let compared = with("compare", &job, &rates, &compared);
    let compared: Value = serde_json::from_str(&compared.out).unwrap();
    let copper = cents(&compared["options"][0]["total"]);
    let by_hand =
        |text: &str| cents(&json(&written(&folder, "own.toml", text), &rates, &[])["total"]);
    let lathe = "[outlet.lathe]\ndrop   = \"machine\"\nheight = \"4-0\"\ntools  = [{ tool = \"orbital sander\" }]\n";
    let without = annex_without(&["lathe = \"9-0\", ", lathe]);
    for (name, own) in [
        ("A", by_hand(&annex())),
        ("B", copper),
        ("C", by_hand(&without)),
    ] {
        let option = one(options, "name", name);
        assert_eq!(cents(&option["total"]), own, "{name}");
        assert_eq!(cents(&option["difference"]), own - base, "{name}");
        assert_eq!(option["described"], name == "A");
    }
    assert_eq!(
        one(options, "name", "C")["left_out"],
        serde_json::json!(["lathe"])
    );
    assert_eq!(one(options, "name", "B")["left_out"], serde_json::json!([]));
    let scope = quote["options"]["scope"].as_str().unwrap();
    assert!(
        scope.contains("but for those that an option says it leaves out"),
        "{scope}"
    );

    // On the command line, in place of the job's; the job itself stands first.
    let asked = ["--option", "copper=copper-l-soldered"];
    let quote = json(&job, &rates, &asked);
    let names: Vec<&str> = quote["options"]["options"]
        .as_array()
        .unwrap()
        .iter()
        .map(|option| option["name"].as_str().unwrap())
        .collect();
    assert_eq!(names, ["As described", "copper"]);
    let scope = quote["options"]["scope"].as_str().unwrap();
    assert!(scope.contains("the same 4 outlets."), "{scope}");
    for wrong in ["copper", "A=", "A=coper-l-soldered", "A=pvc"] {
        let outcome = with("quote", &job, &rates, &["--option", wrong]);
        assert_eq!(outcome.exit, Exit::Unreadable, "{wrong}: {}", outcome.err);
    }
}

#[test]
fn an_option_without_a_price_is_told_and_stops() {
    let folder = folder("levels-option-hole");
    let job = written(&folder, "job.toml", &annex());
    let outcome = with(
        "quote",
        &job,
        &root().join(RATES),
        &["--option", "steel=stainless-10s-pressed"],
    );
    assert_eq!(outcome.exit, Exit::Stopped, "{}", outcome.err);
    assert!(
        outcome
            .err
            .contains("option steel has no price: no price for "),
        "{}",
        outcome.err
    );
    assert!(outcome.out.contains("no price"), "{}", outcome.out);
}

#[test]
fn one_more_drop_is_the_difference_of_two_jobs_written_by_hand() {
    let folder = folder("levels-added");
    let rates = root().join(RATES);
    let job = root().join("catalogs-demo/millrace.toml");
    let quote = json(&job, &rates, &[]);
    let base = cents(&quote["total"]);
    let basis = quote["one_more_drop"]["basis"].as_array().unwrap();
    let place = basis.last().unwrap().as_str().unwrap();
    assert!(
        place.contains("leg 5 (south wall), 25'-0\" from its start, the middle of 22'-0\""),
        "{place}"
    );
    for (kind, height) in [("two-sided", "4-0"), ("paint", "5-0"), ("reel", "8-0")] {
        let text = read(&job).replacen(
            "marks = { assembly = \"14-0\"",
            "marks = { assembly = \"14-0\", more = \"25-0\"",
            1,
        );
        let text = format!("{text}\n[outlet.more]\ndrop = \"{kind}\"\nheight = \"{height}\"\n");
        let with = json(&written(&folder, "with.toml", &text), &rates, &[]);
        let adds = &one(&quote["one_more_drop"]["drops"], "drop", kind)["adds"];
        assert_eq!(cents(adds), cents(&with["total"]) - base, "{kind}");
    }
}

/// Where sizes are left open, one more drop changes none of them.
#[test]
fn one_more_drop_keeps_the_sizes_that_were_chosen() {
    let folder = folder("levels-auto");
    let rates = root().join(RATES);
    let open =
        read(root().join("catalogs-demo/millrace.toml")).replace("= \"3/4in\"", "= \"auto\"");
    let quote = json(&written(&folder, "open.toml", &open), &rates, &[]);
    let chosen = quote["one_more_drop"]["drops"].as_array().unwrap();
    assert_eq!(chosen.len(), 3);
    for drop in chosen {
        assert!(cents(&drop["adds"]) > 30_000, "{drop}");
    }
}

/// Every figure that stands in a text, without its thousands.
fn figures(text: &str) -> BTreeSet<String> {
    let figures = text.split(|one: char| !one.is_ascii_digit() && one != '.' && one != ',');
    figures
        .map(|figure| figure.trim_matches(['.', ',']).replace(',', ""))
        .collect()
}

/// What a paper says, and its figures.
fn said(file: &Path) -> (String, BTreeSet<String>) {
    let bytes = std::fs::read(file).unwrap();
    let ending = file.extension().unwrap().to_str().unwrap();
    let text = match ending {
        "pdf" => {
            let document = lopdf::Document::load_mem(&bytes).unwrap();
            let pages: Vec<u32> = document.get_pages().keys().copied().collect();
            document.extract_text(&pages).unwrap()
        }
        _ => String::from_utf8(bytes).unwrap(),
    };
    let found = match ending {
        "csv" | "json" => figures(&text.replace(',', " ")),
        _ => figures(&text),
    };
    (text, found)
}

#[test]
fn a_level_shows_its_sums_and_no_finer_ones_and_no_level_a_cost() {
    let folder = folder("levels-forms");
    let rates = written(&folder, "rates.toml", &full_rates());
    let job = written(&folder, "job.toml", &format!("{}{BESIDE}", annex()));
    let internal = with("estimate", &job, &rates, &["--format", "json"]);
    assert_eq!(internal.exit, Exit::Done, "{}", internal.err);
    let internal: Value = serde_json::from_str(&internal.out).unwrap();
    let text = |value: &Value| value.as_str().unwrap().to_owned();
    let mut costs: BTreeSet<String> = ["57.13", "83.17", "2.93"].map(str::to_owned).into();
    let [mut lines, mut sections] = [BTreeSet::new(), BTreeSet::new()];
    for section in internal["sections"].as_array().unwrap() {
        costs.insert(text(&section["cost"]));
        sections.insert(text(&section["price"]));
        for line in section["lines"].as_array().unwrap() {
            for part in ["unit", "amount"] {
                costs.insert(text(&line["cost"][part]));
                lines.insert(text(&line["price"][part]));
            }
        }
    }
    for key in ["profit", "margin_percent", "markup_percent"] {
        costs.insert(text(&internal[key]));
    }
    let full = json(&job, &rates, &[]);
    let mut shown: BTreeSet<String> = ["241.07", "317.00"].map(str::to_owned).into();
    shown.insert(text(&full["total"]));
    for (list, key) in [
        (&full["options"]["options"], "total"),
        (&full["alternates"], "adds"),
        (&full["one_more_drop"]["drops"], "adds"),
    ] {
        shown.extend(list.as_array().unwrap().iter().map(|one| text(&one[key])));
    }
    let before_tax = [&full["subtotal"], &full["tax"], &full["tax_basis"]["base"]].map(text);
    let sections: BTreeSet<String> = sections.into_iter().chain(before_tax).collect();
    // A line alone in its section has the section's sum; a figure may be a size or a day.
    let lines: BTreeSet<String> = lines.difference(&sections).cloned().collect();
    let lines: BTreeSet<String> = lines.difference(&shown).cloned().collect();
    costs.retain(|cost| !sections.contains(cost) && !lines.contains(cost));
    assert!(costs.len() > 60 && lines.len() > 60 && sections.len() > 10);

    for level in ["sum", "sections", "lines"] {
        for ending in ["txt", "csv", "json", "pdf"] {
            let file = folder.join(format!("{level}.{ending}"));
            let shown_file = file.display().to_string();
            let outcome = with(
                "quote",
                &job,
                &rates,
                &["--level", level, "--out", &shown_file],
            );
            assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
            let (words, found) = said(&file);
            let at = format!("{level}.{ending}");
            let unsaid: Vec<&String> = shown.difference(&found).collect();
            assert!(unsaid.is_empty(), "{at} lacks {unsaid:?}");
            let leaked: Vec<&String> = costs.intersection(&found).collect();
            assert!(leaked.is_empty(), "{at} says {leaked:?}");
            if level != "lines" {
                let leaked: Vec<&String> = lines.intersection(&found).collect();
                assert!(leaked.is_empty(), "{at} says {leaked:?}");
            }
            if level == "sum" {
                let leaked: Vec<&String> = sections.intersection(&found).collect();
                assert!(leaked.is_empty(), "{at} says {leaked:?}");
                let in_total = match ending {
                    "json" => "\"tax\": null",
                    _ => "with Sales tax on materials of 6.5 %",
                };
                assert!(words.contains(in_total), "{at}: {words}");
            } else {
                let unsaid: Vec<&String> = sections.difference(&found).collect();
                assert!(unsaid.is_empty(), "{at} lacks {unsaid:?}");
            }
            for word in ["overhead", "margin", "markup", "contingency", "profit"] {
                assert!(!words.to_lowercase().contains(word), "{at} says {word}");
            }
            // Quantities of materials are on every level, hours on that of lines.
            assert!(words.contains("flexible connector hose"), "{at}: {words}");
            assert_eq!(words.contains("hour"), level == "lines", "{at}: {words}");
        }
    }
}

#[test]
fn small_items_are_gathered_and_every_sum_stays() {
    let folder = folder("levels-small");
    let job = root().join("catalogs-demo/millrace.toml");
    let plain = read(root().join(RATES));
    let file = |name: &str, small: &str| {
        written(
            &folder,
            name,
            &format!("small_items = \"{small}\"\n{plain}"),
        )
    };
    let all = json(&job, &root().join(RATES), &[]);
    let gathered = json(&job, &file("five.toml", "5.00"), &[]);
    assert_eq!(all["total"], gathered["total"]);
    let count = |quote: &Value| -> usize {
        let sections = quote["sections"].as_array().unwrap().iter();
        sections
            .map(|section| section["lines"].as_array().unwrap().len())
            .sum()
    };
    // Two bushings; the nipple of 2.18 is alone in its section and keeps its name.
    assert_eq!(count(&all) - 1, count(&gathered));
    let small = one(
        &one(&gathered["sections"], "title", "Fittings")["lines"],
        "unit",
        "lot",
    );
    assert_eq!(small["text"], "Small items of 2 kinds");
    assert_eq!(small["amount"], "4.06");
    // Nothing of the work is a small item.
    let most = json(&job, &file("most.toml", "900000.00"), &[]);
    assert_eq!(most["total"], all["total"]);
    for quote in [&all, &gathered, &most] {
        for section in quote["sections"].as_array().unwrap() {
            let lines = section["lines"].as_array().unwrap().iter();
            let sum: i64 = lines.map(|line| cents(&line["amount"])).sum();
            assert_eq!(sum, cents(&section["subtotal"]), "{section}");
        }
    }
    let labour = one(&most["sections"], "title", "Labour");
    assert_eq!(labour, one(&all["sections"], "title", "Labour"));
}

#[test]
fn allowance_and_provisional_sums_add_up() {
    let folder = folder("levels-provisional");
    let job = root().join("catalogs-demo/millrace.toml");
    let rates = written(&folder, "rates.toml", &full_rates());
    let quote = json(&job, &rates, &[]);
    let sections = quote["sections"].as_array().unwrap();
    let sum: i64 = sections
        .iter()
        .map(|section| cents(&section["subtotal"]))
        .sum();
    assert_eq!(sum + 24_107, cents(&quote["subtotal"]));
    assert_eq!(
        cents(&quote["subtotal"]) + cents(&quote["tax"]),
        cents(&quote["total"])
    );
    let allowance = sections.last().unwrap();
    assert_eq!(allowance["title"], "Allowance");
    let without = read(&rates).replacen("percent = \"2.93\"", "percent = \"0\"", 1);
    let without = json(&job, &written(&folder, "without.toml", &without), &[]);
    assert_eq!(
        cents(&quote["total"]) - cents(&allowance["subtotal"]),
        cents(&without["total"])
    );
    let estimate = with("estimate", &job, &rates, &["--format", "json"]);
    let estimate: Value = serde_json::from_str(&estimate.out).unwrap();
    assert_eq!(estimate["total"], quote["total"]);
    let last = estimate["steps"].as_array().unwrap().last().unwrap();
    assert_eq!(last["text"], "With provisional sums, before tax");
    assert_eq!(last["amount"], quote["subtotal"]);
    // The comparison's column of that system adds up to the same.
    let systems = ["--systems", "black-iron", "--format", "json"];
    let compared = with("compare", &job, &rates, &systems);
    assert!(
        compared.out.contains(quote["total"].as_str().unwrap()),
        "{}",
        compared.out
    );
}

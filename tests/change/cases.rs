//! `change` on the demo, as a user runs it.

use super::demo;
use crate::support::{Outcome, folder, path, run};
use dripleg::Exit;
use serde_json::Value;
use std::path::Path;

/// The demo's next revision with these replacements, each of which is there.
fn revised(swaps: &[(&str, &str)], more: &str) -> String {
    let mut job = demo("millrace.toml");
    for (from, to) in [("revision = \"A\"", "revision = \"B\"")]
        .iter()
        .chain(swaps)
    {
        assert!(job.contains(from), "{from}");
        job = job.replacen(from, to, 1);
    }
    job + more
}

const SAW: &str = "\n[outlet.saw]\ndrop = \"two-sided\"\nheight = \"4-0\"\n";

fn saw() -> String {
    revised(
        &[("bench = \"10-0\"", "bench = \"10-0\", saw = \"20-0\"")],
        SAW,
    )
}

/// From the demo to this job, with more words behind it.
fn change(folder: &Path, job: &str, more: &[&str]) -> Outcome {
    let new = folder.join("new.toml");
    std::fs::write(&new, job).unwrap();
    let (old, new) = (
        path("catalogs-demo/millrace.toml"),
        new.display().to_string(),
    );
    let (catalog, rates) = (
        path("catalogs-demo/iron.csv"),
        path("catalogs-demo/rates.toml"),
    );
    let mut words = vec!["change", &old, &new];
    if !more.contains(&"--catalog") {
        words.extend(["--catalog", &catalog]);
    }
    words.extend(["--rates", &rates, "--reason", "customer wish"]);
    words.extend(more);
    run(&words)
}

fn json(folder: &Path, job: &str, more: &[&str]) -> Value {
    let mut words = vec!["--format", "json"];
    words.extend(more);
    let outcome = change(folder, job, &words);
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    serde_json::from_str(&outcome.out).unwrap()
}

/// What became of every thing: `outlet saw: added`.
fn fates(change: &Value) -> Vec<String> {
    let items = change["layout"].as_array().unwrap().iter();
    let words = items.map(|item| {
        let word = |key: &str| item[key].as_str().unwrap().to_owned();
        format!("{} {}: {}", word("kind"), word("name"), word("fate"))
    });
    words.collect()
}

fn facts(item: &Value) -> Vec<String> {
    let facts = item["facts"].as_array().unwrap().iter();
    let words = |value: &Value| value.as_str().unwrap_or("-").to_owned();
    facts
        .map(|fact| {
            let [what, old, new] = ["what", "old", "new"].map(|key| words(&fact[key]));
            format!("{what}: {old} > {new}")
        })
        .collect()
}

fn part<'a>(change: &'a Value, kind: &str) -> Option<&'a Value> {
    let mut parts = change["parts"].as_array().unwrap().iter();
    parts.find(|part| part["kind"] == kind)
}

fn cents(value: &Value) -> i64 {
    let text = value
        .as_str()
        .unwrap_or_else(|| panic!("{value} is no sum"));
    text.replace('.', "").parse().unwrap()
}

#[test]
fn an_outlet_that_is_added() {
    let folder = folder("change-added");
    let change = json(&folder, &saw(), &[]);
    assert_eq!(fates(&change), ["outlet saw: added"]);
    assert_eq!(
        facts(&change["layout"][0]),
        [
            "place: - > 24'-0\" east, 16'-0\" north of the tank",
            "height: - > 4'-0\"",
            "size: - > 3/4in",
            "drop: - > from the top, with a cross",
            "side 1: - > valve 3/4in, coupler 1/4in",
            "side 2: - > valve 3/4in, filter 1/2in, regulator 1/2in, coupler 1/4in",
            "drain: - > valve 1/2in",
        ]
    );
    let parts = part(&change, "parts").unwrap()["lines"].as_array().unwrap();
    let more = |text: &str| {
        let line = parts.iter().find(|line| line["text"] == text).unwrap();
        line["more"].as_str().unwrap().to_owned()
    };
    assert_eq!(more("black iron cross female 3/4in"), "1");
    assert_eq!(more("air filter female 1/2in"), "1");
    assert_eq!(more("ball valve full port female 3/4in"), "2");
    assert_eq!(more("quick coupler male thread 1/4in"), "2");
    let work = part(&change, "work").unwrap()["lines"].as_array().unwrap();
    let drops = work
        .iter()
        .find(|line| line["text"] == "Build drops")
        .unwrap();
    assert_eq!(drops["more"], "0.75");
    assert_eq!(part(&change, "prices"), None);
    assert_eq!(change["days_on_site"]["old"].as_f64(), Some(4.0));
    assert_eq!(change["days_on_site"]["change"].as_f64(), Some(0.5));
    // No tool hangs on it, so none is worse off.
    let worst = &change["worst_outlet"];
    assert_eq!(worst["old"], worst["new"]);
    assert_eq!(worst["new"]["outlet"], "door");
    assert_eq!(change["warnings"], serde_json::json!([]));
    assert_eq!(change["new_findings"], serde_json::json!([]));
    // By its own kinds, then in all.
    let sum: i64 = change["parts"]
        .as_array()
        .unwrap()
        .iter()
        .map(|part| cents(&part["change"]))
        .sum();
    assert_eq!(sum, cents(&change["before_tax"]["change"]));
    assert_eq!(
        sum + cents(&change["tax"]["change"]),
        cents(&change["total"]["change"])
    );
    for (key, job) in [("old", demo("millrace.toml")), ("new", saw())] {
        let file = folder.join("one.toml");
        std::fs::write(&file, job).unwrap();
        let quote = run(&[
            "quote",
            &file.display().to_string(),
            "--catalog",
            &path("catalogs-demo/iron.csv"),
            "--rates",
            &path("catalogs-demo/rates.toml"),
            "--format",
            "json",
        ]);
        let quote: Value = serde_json::from_str(&quote.out).unwrap();
        assert_eq!(change["total"][key], quote["total"]);
        assert_eq!(change["fingerprint"][key], quote["fingerprint"]);
    }
}

#[test]
fn an_outlet_that_is_moved_raised_and_built_otherwise() {
    let job = revised(
        &[
            ("router = \"30-6\"", "router = \"32-6\""),
            ("left  = \"17-6\"", "left  = \"15-6\""),
            (
                "[outlet.router]\ndrop   = \"two-sided\"\nheight = \"4-0\"",
                "[outlet.router]\ndrop   = \"reel\"\nheight = \"4-6\"",
            ),
        ],
        "",
    );
    let change = json(&folder("change-moved"), &job, &[]);
    assert_eq!(fates(&change), ["outlet router: changed"]);
    let router = &change["layout"][0];
    assert_eq!(router["moved"], "2'-0\" east");
    assert_eq!(
        facts(router),
        [
            "place: 34'-6\" east, 16'-0\" north of the tank > 36'-6\" east, 16'-0\" north of the tank",
            "height: 4'-0\" > 4'-6\"",
            "drop: from the top, with a cross > from the top, with a tee",
            "side 1: valve 3/4in, coupler 1/4in > valve 3/4in, coupler 3/8in",
            "side 2: valve 3/4in, filter 1/2in, regulator 1/2in, coupler 1/4in > -",
        ]
    );
}

#[test]
fn an_outlet_that_is_removed_and_one_that_is_renamed() {
    let job = revised(
        &[
            (", door = \"12-0 back\"", ""),
            (
                "[outlet.door]\ndrop   = \"reel\"\nheight = \"8-0\"\ntools  = [{ tool = \"tyre inflator\", share = 0.05, hose = \"50ft x 3/8in\" }]   # for the vans\n",
                "",
            ),
            ("bench = \"10-0\"", "sanding = \"10-0\""),
            ("[outlet.bench]", "[outlet.sanding]"),
            (
                "[drop.reel]                       # feeds a hose reel at line pressure\ntake_off = \"top\"\nsize     = \"3/4in\"\nfoot     = \"tee\"\nsides    = [[\"valve\", \"coupler 3/8in\"]]\ndrip_leg = \"8in\"\ndrain    = \"valve\"\n",
                "",
            ),
        ],
        "",
    );
    let change = json(&folder("change-removed"), &job, &[]);
    assert_eq!(
        fates(&change),
        ["outlet door: removed", "outlet sanding: changed"]
    );
    assert_eq!(change["layout"][1]["old_name"], "bench");
    assert_eq!(facts(&change["layout"][1]), Vec::<String>::new());
    assert!(cents(&change["total"]["change"]) < 0);
}

#[test]
fn a_tank_that_is_moved_moves_no_outlet() {
    let job = revised(&[("\"east 4-0\"", "\"east 6-0\"")], "");
    let change = json(&folder("change-tank"), &job, &[]);
    assert_eq!(
        fates(&change),
        ["main : changed", "leg up 7'-6\", east 6'-0\": changed"]
    );
    assert_eq!(facts(&change["layout"][0]), ["length: 171.5 ft > 173.5 ft"]);
    assert_eq!(
        facts(&change["layout"][1]),
        ["run: up 7'-6\", east 4'-0\" > up 7'-6\", east 6'-0\""]
    );
}

#[test]
fn another_pipe_system() {
    let job = revised(&[("\"black-iron\"", "\"copper-l-soldered\"")], "");
    let copper = path("catalogs-demo/copper.csv");
    let (iron, brass) = (
        path("catalogs-demo/iron.csv"),
        path("catalogs-demo/brass.csv"),
    );
    let more = [
        "--catalog",
        &iron,
        "--catalog",
        &copper,
        "--catalog",
        &brass,
    ];
    let change = json(&folder("change-system"), &job, &more);
    let main = &change["layout"][0];
    assert_eq!(main["kind"], "main");
    assert!(facts(main)[0].starts_with("pipe: Black iron"), "{main}");
    let parts = part(&change, "parts").unwrap()["lines"].as_array().unwrap();
    let line = |word: &str| {
        parts
            .iter()
            .find(|line| line["text"].as_str().unwrap().starts_with(word))
            .unwrap()
    };
    assert_eq!(line("black iron elbow 90")["new"], Value::Null);
    assert_eq!(line("copper elbow 90")["old"], Value::Null);
    let other = part(&change, "other").unwrap()["lines"].as_array().unwrap();
    let hire = other
        .iter()
        .find(|line| line["section"] == "Tool hire")
        .unwrap();
    assert_eq!(
        (&hire["text"], &hire["more"]),
        (&"Hire of threading machine".into(), &"-1".into())
    );
}

#[test]
fn another_price_list_changes_prices_and_nothing_else() {
    let folder = folder("change-prices");
    let dearer = folder.join("dearer.csv");
    std::fs::write(&dearer, super::raised(&demo("iron.csv"))).unwrap();
    let dearer = dearer.display().to_string();
    let old = path("catalogs-demo/iron.csv");
    let more = ["--catalog", &dearer, "--old-catalog", &old];
    let change = json(&folder, &demo("millrace.toml"), &more);
    assert_eq!(fates(&change), Vec::<String>::new());
    let kinds: Vec<&Value> = change["parts"]
        .as_array()
        .unwrap()
        .iter()
        .map(|part| &part["kind"])
        .collect();
    assert_eq!(kinds, ["prices"]);
    // The layout is the same, so that the same revision is no fault.
    assert_eq!(change["warnings"], serde_json::json!([]));

    let change = json(&folder, &saw(), &more);
    let (parts, prices) = (
        part(&change, "parts").unwrap(),
        part(&change, "prices").unwrap(),
    );
    // A part that stays and gets dearer stands in both: what is more at the new
    // price, what was there at the difference.
    let of = |part: &Value, text: &str| {
        let mut lines = part["lines"].as_array().unwrap().iter();
        lines.find(|line| line["text"] == text).cloned()
    };
    let both: Vec<&Value> = parts["lines"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|line| of(prices, line["text"].as_str().unwrap()).is_some())
        .collect();
    assert!(both.len() > 3, "{both:?}");
    for more in both {
        let dearer = of(prices, more["text"].as_str().unwrap()).unwrap();
        assert_eq!(dearer["old"]["quantity"], dearer["new"]["quantity"]);
        assert_eq!(more["old"]["unit_price"], more["new"]["unit_price"]);
        assert_eq!(more["old"]["amount"], dearer["new"]["amount"]);
    }
    assert!(
        change["notes"][0]
            .as_str()
            .unwrap()
            .starts_with("Freight: "),
        "{}",
        change["notes"]
    );
}

#[test]
fn the_same_revision_of_two_layouts_is_told() {
    let folder = folder("change-letter");
    let job = saw().replace("revision = \"B\"", "revision = \"A\"");
    let outcome = change(&folder, &job, &[]);
    assert_eq!(outcome.exit, Exit::Done);
    let told = "Both job files are revision A and differ: raise `revision` under [job]";
    assert!(outcome.err.contains(told), "{}", outcome.err);
    assert!(outcome.out.contains(told), "{}", outcome.out);
    let nameless = job.replace("revision = \"A\"\n", "");
    let old = folder.join("old.toml");
    std::fs::write(
        &old,
        demo("millrace.toml").replace("revision = \"A\"\n", ""),
    )
    .unwrap();
    let new = folder.join("nameless.toml");
    std::fs::write(&new, nameless).unwrap();
    let outcome = run(&[
        "change",
        &old.display().to_string(),
        &new.display().to_string(),
        "--catalog",
        &path("catalogs-demo/iron.csv"),
        "--rates",
        &path("catalogs-demo/rates.toml"),
        "--reason",
        "found on site",
    ]);
    assert!(
        outcome.err.contains("Neither job file has a revision"),
        "{}",
        outcome.err
    );
}

#[test]
fn nothing_that_changes_is_said() {
    let outcome = change(&folder("change-none"), &demo("millrace.toml"), &[]);
    assert_eq!(outcome.exit, Exit::Done);
    assert!(
        outcome
            .out
            .contains("Nothing changes: both revisions have the same layout"),
        "{}",
        outcome.out
    );
    assert!(!outcome.out.contains("Acceptance"), "{}", outcome.out);
}

#[test]
fn a_missing_price_states_no_difference() {
    let folder = folder("change-hole");
    let prices = demo("iron.csv");
    let lacking: Vec<&str> = prices
        .lines()
        .filter(|row| !row.starts_with("filter,,1/2in,"))
        .collect();
    let file = folder.join("lacking.csv");
    std::fs::write(&file, lacking.join("\n")).unwrap();
    let (file, iron) = (file.display().to_string(), path("catalogs-demo/iron.csv"));
    for more in [
        ["--catalog", &file, "--old-catalog", &iron],
        ["--catalog", &iron, "--old-catalog", &file],
    ] {
        let which = if more[1] == file { "new" } else { "old" };
        let outcome = change(&folder, &saw(), &more);
        assert_eq!(outcome.exit, Exit::Stopped);
        assert!(
            outcome
                .err
                .contains(&format!("the {which} revision lacks:")),
            "{}",
            outcome.err
        );
        assert!(
            outcome.err.contains("filter,,1/2in,air filter female"),
            "{}",
            outcome.err
        );
        assert!(outcome.out.contains("PRICE INCOMPLETE"));
        assert!(
            outcome.out.contains("black iron cross female 3/4in"),
            "{}",
            outcome.out
        );
        assert!(!outcome.out.contains("Total USD") && !outcome.out.contains("Sum of the changes"));
        let mut words = more.to_vec();
        words.extend(["--format", "json"]);
        let outcome = change(&folder, &saw(), &words);
        let json: Value = serde_json::from_str(&outcome.out).unwrap();
        assert_eq!(json["total"], Value::Null);
        assert_eq!(json["missing"][which][0]["part"], "filter");
        let pdf = folder.join("hole.pdf").display().to_string();
        let mut words = more.to_vec();
        words.extend(["--out", &pdf]);
        assert_eq!(change(&folder, &saw(), &words).exit, Exit::Stopped);
        let text = pdf_text(&pdf);
        assert!(
            text.contains("PRICE INCOMPLETE") && !text.contains("Signature"),
            "{text}"
        );
    }
}

fn pdf_text(file: &str) -> String {
    let document = lopdf::Document::load(file).unwrap();
    let pages: Vec<u32> = document.get_pages().keys().copied().collect();
    document.extract_text(&pages).unwrap()
}

#[test]
fn all_forms_say_the_same_and_none_a_cost() {
    let folder = folder("change-forms");
    let out = |name: &str| {
        let file = folder.join(name).display().to_string();
        let outcome = change(&folder, &saw(), &["--out", &file]);
        assert_eq!(outcome.exit, Exit::Done, "{name}: {}", outcome.err);
        file
    };
    let json: Value = serde_json::from_slice(&std::fs::read(out("a.json")).unwrap()).unwrap();
    let total = json["total"]["change"].as_str().unwrap().to_owned();
    let csv = crate::support::read(out("a.csv"));
    assert!(
        csv.lines()
            .last()
            .unwrap()
            .ends_with(&format!(",{total},USD")),
        "{csv}"
    );
    let text = crate::support::read(out("a.txt"));
    let pdf = out("a.pdf");
    let first = std::fs::read(&pdf).unwrap();
    let printed = pdf_text(&pdf);
    for said in [&text, &printed] {
        assert!(said.contains(&format!("+{total}")), "{said}");
        for mark in [&json["fingerprint"]["old"], &json["fingerprint"]["new"]] {
            assert!(said.contains(mark.as_str().unwrap()), "{said}");
        }
        assert!(said.contains("customer wish"));
        assert!(
            said.contains("Work on this change starts after both have signed."),
            "{said}"
        );
    }
    let same = out("a.pdf");
    assert!(first == std::fs::read(same).unwrap());
    let all = [text, printed, csv, json.to_string()]
        .concat()
        .to_lowercase();
    for secret in ["58.00", "31.90", "margin", "markup", "overhead", "profit"] {
        assert!(!all.contains(secret), "the change order says {secret}");
    }
}

#[test]
fn what_cannot_be_is_refused() {
    let folder = folder("change-refused");
    let outcome = change(&folder, &saw(), &["--format", "pdf"]);
    assert_eq!(outcome.exit, Exit::Unreadable);
    assert!(outcome.err.contains("--out change.pdf"), "{}", outcome.err);
    let (job, catalog, rates) = (
        path("catalogs-demo/millrace.toml"),
        path("catalogs-demo/iron.csv"),
        path("catalogs-demo/rates.toml"),
    );
    let words = [
        "change",
        &job,
        &job,
        "--catalog",
        &catalog,
        "--rates",
        &rates,
    ];
    let with = |more: &[&str]| run(&[&words[..], more].concat());
    assert_eq!(with(&[]).exit, Exit::Unreadable);
    let outcome = with(&["--reason", "  "]);
    assert!(
        outcome.err.contains("say why the job changes"),
        "{}",
        outcome.err
    );

    let own = folder.join("own.toml");
    std::fs::write(
        &own,
        demo("rates.toml").replace("sample        = true", "owner = true"),
    )
    .unwrap();
    let own = own.display().to_string();
    let outcome = with(&["--reason", "our error", "--old-rates", &own]);
    assert_eq!(outcome.exit, Exit::Stopped);
    assert!(
        outcome
            .err
            .contains("own work is not offered to a customer"),
        "{}",
        outcome.err
    );

    let euro = folder.join("euro.toml");
    std::fs::write(&euro, demo("rates.toml").replace("\"USD\"", "\"EUR\"")).unwrap();
    let prices = folder.join("euro.csv");
    std::fs::write(&prices, demo("iron.csv").replace("USD", "EUR")).unwrap();
    let (euro, prices) = (euro.display().to_string(), prices.display().to_string());
    let outcome = with(&[
        "--reason",
        "our error",
        "--old-rates",
        &euro,
        "--old-catalog",
        &prices,
    ]);
    assert_eq!(outcome.exit, Exit::Stopped);
    assert!(
        outcome.err.contains("EUR and USD cannot be added up"),
        "{}",
        outcome.err
    );

    // Both jobs tell what is wrong with them.
    let bad = path("tests/bad/55-outlet-not-placed.toml");
    let outcome = run(&[
        "change",
        &bad,
        &bad,
        "--catalog",
        &catalog,
        "--rates",
        &rates,
        "--reason",
        "our error",
    ]);
    assert_eq!(outcome.exit, Exit::Unreadable);
    assert_eq!(
        outcome.err.matches("stands nowhere").count(),
        2,
        "{}",
        outcome.err
    );
}

#[test]
fn drains_valves_and_legs_that_change() {
    let job = revised(
        &[
            ("low = \"16-0\"", "low = \"20-0\""),
            (
                "[drain.low]\nvalve = \"1/2in\"",
                "[drain.low]\nvalve = \"3/4in\"\n\n[valve.north]",
            ),
            (
                "router = \"30-6\" }",
                "router = \"30-6\", north = \"20-0\" }",
            ),
            (
                "go    = \"east 48-0\"",
                "go    = \"east 48-0\"\nsize  = \"1in\"",
            ),
        ],
        "",
    );
    let change = json(&folder("change-things"), &job, &[]);
    assert_eq!(
        fates(&change),
        [
            "main : changed",
            "drain low: changed",
            "line valve north: added",
            "leg east 48'-0\" (north wall): changed",
        ]
    );
    let of = |at: usize| facts(&change["layout"][at]);
    assert_eq!(of(0), ["size: 3/4in > 1in, 3/4in"]);
    assert_eq!(
        of(1),
        [
            "place: 52'-0\" east of the tank > 52'-0\" east, 4'-0\" south of the tank",
            "valve: 1/2in > 3/4in",
        ]
    );
    assert_eq!(of(2)[1], "size: - > 1in");
    assert_eq!(of(3), ["size: 3/4in > 1in"]);
}

/// Two tanks: a place is seen from the first one, by its name.
#[test]
fn a_place_says_from_which_of_two_tanks() {
    let folder = folder("change-tanks");
    let old = path("tests/cases/two-compressors/job.toml");
    let job = crate::support::read(&old);
    assert!(job.contains("11-6"));
    let new = folder.join("new.toml");
    std::fs::write(&new, job.replace("11-6", "13-6")).unwrap();
    let outcome = run(&[
        "change",
        &old,
        &new.display().to_string(),
        "--catalog",
        &path("catalogs-demo/iron.csv"),
        "--rates",
        &path("catalogs-demo/rates.toml"),
        "--reason",
        "found on site",
        "--format",
        "json",
    ]);
    let change: Value = serde_json::from_str(&outcome.out).unwrap();
    assert_eq!(fates(&change), ["outlet bench: changed"]);
    assert_eq!(
        facts(&change["layout"][0]),
        ["place: 6'-0\" east of the tank of left > 8'-0\" east of the tank of left"]
    );
}

//! The papers as files: how many pages the demo's have, that they say what the model says,
//! and what no customer's paper says.

use crate::support::{Outcome, folder, path, read, root, run};
use dripleg::Exit;
use serde_json::Value;
use std::path::{Path, PathBuf};

const PRICED: [&str; 4] = [
    "--catalog",
    "catalogs-demo/iron.csv",
    "--rates",
    "catalogs-demo/rates.toml",
];

/// The words of a command, with the files of the demo where they are.
fn words(command: &[&str]) -> Vec<String> {
    let demo = |word: &&str| match word.strip_prefix("catalogs-demo/") {
        Some(_) => path(word),
        None => (*word).to_owned(),
    };
    let dated = ["--date", "2026-11-02"];
    command.iter().chain(&dated).map(demo).collect()
}

fn told(command: &[&str]) -> Outcome {
    let words = words(command);
    run(&words.iter().map(String::as_str).collect::<Vec<_>>())
}

/// The file that a command writes.
fn written(command: &[&str], file: &Path) -> Vec<u8> {
    let out = file.display().to_string();
    let outcome = told(&[command, &["--out", &out]].concat());
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    std::fs::read(file).unwrap()
}

/// The text of each page, a line for each piece of it.
fn texts(bytes: &[u8]) -> Vec<String> {
    let file = lopdf::Document::load_mem(bytes).unwrap();
    let numbers = file.get_pages().into_keys();
    numbers
        .map(|number| file.extract_text(&[number]).unwrap())
        .collect()
}

fn with_prices<'a>(command: &[&'a str], more: &[&'a str]) -> Vec<&'a str> {
    [command, &PRICED, more].concat()
}

/// A job with alternates and options, in the folder.
fn choices(folder: &Path) -> PathBuf {
    let job = read(root().join("catalogs-demo/annex.toml"));
    let beside = "
[alternate.store]
text = \"Air in the store\"
add  = [\"store\"]

[[option]]
name = \"A\"

[[option]]
name   = \"B\"
system = \"copper-l-soldered\"
";
    let file = folder.join("choices.toml");
    std::fs::write(&file, job + beside).unwrap();
    file
}

#[test]
fn the_demo_papers_have_so_many_pages_and_the_same_bytes_each_time() {
    let folder = folder("papers-pages");
    let millrace = "catalogs-demo/millrace.toml";
    let iron = ["--catalog", "catalogs-demo/iron.csv"];
    let quote = |level| with_prices(&["quote", millrace], &["--level", level]);
    let lists = ["copper.csv", "aluminium.csv", "brass.csv"]
        .map(|list| path(&format!("catalogs-demo/{list}")));
    let systems = "black-iron,copper-l-soldered,aluminium-push-fit";
    let compared: Vec<&str> = lists.iter().flat_map(|list| ["--catalog", list]).collect();
    let compare = with_prices(&["compare", millrace, "--systems", systems], &compared);
    let choices = choices(&folder).display().to_string();
    let offered = with_prices(&["quote", &choices], &compared);
    let papers = [
        ("quote-lines", quote("lines"), [6, 6]),
        ("quote-sections", quote("sections"), [6, 6]),
        ("quote-sum", quote("sum"), [6, 6]),
        ("quote-choices", offered, [8, 8]),
        (
            "estimate",
            with_prices(&["estimate", millrace], &[]),
            [4, 4],
        ),
        ("shop", [&["shop", millrace][..], &iron].concat(), [2, 2]),
        (
            "shop-garage",
            [&["shop", "catalogs-demo/garage.toml"][..], &iron].concat(),
            [1, 1],
        ),
        ("cut", [&["cut", millrace][..], &iron].concat(), [2, 2]),
        ("compare", compare, [1, 1]),
    ];
    for (name, command, counts) in papers {
        for (paper, count) in ["a4", "letter"].into_iter().zip(counts) {
            let file = folder.join(format!("{name}-{paper}.pdf"));
            let command = [command.as_slice(), &["--paper", paper]].concat();
            let first = written(&command, &file);
            assert_eq!(texts(&first).len(), count, "{name} on {paper}");
            let read = lopdf::Document::load_mem(&first).unwrap();
            assert!(
                read.catalog().unwrap().has(b"Outlines"),
                "{name} on {paper}"
            );
            assert!(first == written(&command, &file), "{name} on {paper}");
        }
    }
}

/// The names of the files in a folder.
fn files(folder: &Path) -> Vec<String> {
    let files = std::fs::read_dir(folder).unwrap();
    let mut files: Vec<String> = files
        .map(|file| file.unwrap().file_name().into_string().unwrap())
        .collect();
    files.sort();
    files
}

#[test]
fn all_papers_at_once_are_those_of_their_commands() {
    let folder = folder("papers-all");
    let (all, alone) = (folder.join("all"), folder.join("alone"));
    std::fs::create_dir(&alone).unwrap();
    let job = "catalogs-demo/millrace.toml";
    let tube = ["copper.csv", "aluminium.csv", "brass.csv"]
        .map(|list| path(&format!("catalogs-demo/{list}")));
    let tube: Vec<&str> = tube.iter().flat_map(|list| ["--catalog", list]).collect();
    let systems = ["--systems", "black-iron,copper-l-soldered"];
    let out = all.display().to_string();
    let command = with_prices(&["papers", job], &tube);
    let test = ["--rule", "110-percent", "--energy-price", "0.15"];
    let outcome = told(&[&command[..], &systems, &test, &["--out", &out]].concat());
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    let one_by_one: [(&str, &[&str]); 7] = [
        ("compare.pdf", &["compare"]),
        ("crew.pdf", &["crew"]),
        ("estimate.pdf", &["estimate"]),
        ("handover.pdf", &["handover"]),
        ("quote.pdf", &["quote"]),
        ("report.html", &["report"]),
        ("shop.pdf", &["shop"]),
    ];
    assert_eq!(files(&all), one_by_one.map(|(file, _)| file));
    for (file, command) in one_by_one {
        let command = with_prices(&[command, &[job]].concat(), &tube);
        let more: &[&str] = match file {
            "compare.pdf" => &systems,
            "handover.pdf" => &test,
            _ => &[],
        };
        let alone = written(&[&command[..], more].concat(), &alone.join(file));
        assert!(alone == std::fs::read(all.join(file)).unwrap(), "{file}");
    }
}

#[test]
fn what_keeps_a_quote_back_keeps_no_other_paper_back() {
    let folder = folder("papers-unmeasured");
    let job = read(root().join("catalogs-demo/garage.toml"));
    let unmeasured = job.replacen("height = \"4-0\"", "height = \"?\"", 1);
    assert_ne!(job, unmeasured);
    let file = folder.join("job.toml").display().to_string();
    std::fs::write(&file, unmeasured).unwrap();
    let out = folder.join("out");
    let papers = with_prices(&["papers", &file], &["--out"]);
    let outcome = told(&[&papers[..], &[&out.display().to_string()]].concat());
    assert_eq!(outcome.exit, Exit::Stopped, "{}", outcome.err);
    assert!(
        outcome.err.contains("length-not-measured"),
        "{}",
        outcome.err
    );
    assert_eq!(
        files(&out),
        [
            "crew.pdf",
            "estimate.pdf",
            "handover.pdf",
            "report.html",
            "shop.pdf"
        ]
    );

    let owner = folder.join("owner");
    let papers = [
        "papers",
        &file,
        "--catalog",
        "catalogs-demo/iron.csv",
        "--out",
    ];
    let outcome = told(&[&papers[..], &[&owner.display().to_string()]].concat());
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    assert_eq!(
        files(&owner),
        ["crew.pdf", "handover.pdf", "report.html", "shop.pdf"]
    );
}

#[test]
fn a_quote_on_paper_says_what_the_model_says() {
    let folder = folder("papers-text");
    let quote = with_prices(&["quote", "catalogs-demo/millrace.toml"], &[]);
    let json = told(&[&quote[..], &["--format", "json"]].concat());
    let model: Value = serde_json::from_str(&json.out).unwrap();
    let pages = texts(&written(&quote, &folder.join("quote.pdf")));
    let pieces: Vec<String> = pages
        .iter()
        .flat_map(|page| page.lines())
        .map(|piece| piece.trim().replace(',', ""))
        .collect();
    let says = |wanted: &[&str]| {
        let wanted: Vec<String> = wanted.iter().map(|word| word.replace(',', "")).collect();
        let at = pieces
            .windows(wanted.len())
            .position(|found| found == wanted);
        at.unwrap_or_else(|| panic!("{wanted:?} is not there"))
    };
    let text = |value: &Value| value.as_str().unwrap().to_owned();
    let mut last = 0;
    for section in model["sections"].as_array().unwrap() {
        for line in section["lines"].as_array().unwrap() {
            let row = ["text", "quantity", "unit", "unit_price", "amount"];
            let row = row.map(|key| text(&line[key]));
            let at = says(&row.each_ref().map(String::as_str));
            assert!(at > last, "{row:?}");
            last = at;
        }
        let [title, sum] = ["title", "subtotal"].map(|key| text(&section[key]));
        says(&[&title, &sum]);
        says(&["Subtotal", &sum]);
    }
    says(&["Total before tax", &text(&model["subtotal"])]);
    says(&["Total USD", &text(&model["total"])]);
    for step in model["payment"].as_array().unwrap() {
        says(&[&text(&step["when"]), &text(&step["amount"])]);
    }
    for outlet in model["outlets"].as_array().unwrap() {
        let number = outlet["number"].to_string();
        let row = ["name", "height", "drop"].map(|key| text(&outlet[key]));
        says(&[&number, &row[0], &row[1], &row[2]]);
    }
    let front: Vec<&str> = pages[0].lines().map(str::trim).collect();
    for heading in ["Scope", "Price", "Payment", "To go ahead"] {
        assert!(front.contains(&heading), "{heading}");
    }
    assert!(front.contains(
        &"Sign the last page and send it back by 2 December 2026: until then these prices hold."
    ));
}

#[test]
fn no_paper_of_the_customers_says_where_the_parts_are_bought() {
    let folder = folder("papers-suppliers");
    let millrace = "catalogs-demo/millrace.toml";
    let new = folder.join("new.toml");
    let job = read(root().join(millrace)).replace("\"10-0\", router", "\"12-0\", router");
    std::fs::write(&new, job.replace("revision = \"A\"", "revision = \"B\"")).unwrap();
    let new = new.display().to_string();
    let copper = path("catalogs-demo/copper.csv");
    let brass = path("catalogs-demo/brass.csv");
    let papers = [
        with_prices(&["quote", millrace], &[]),
        with_prices(&["quote", millrace], &["--level", "sections"]),
        with_prices(&["change", millrace, &new], &["--reason", "customer wish"]),
        with_prices(
            &[
                "compare",
                millrace,
                "--systems",
                "black-iron,copper-l-soldered",
            ],
            &["--catalog", &copper, "--catalog", &brass],
        ),
    ];
    for command in papers {
        for format in ["text", "csv", "json"] {
            let outcome = told(&[&command[..], &["--format", format]].concat());
            assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
            assert!(
                !outcome.out.contains("Supply"),
                "{command:?}: {}",
                outcome.out
            );
        }
        let pages = texts(&written(&command, &folder.join("paper.pdf"))).concat();
        assert!(!pages.contains("Supply"), "{command:?}: {pages}");
        assert!(pages.contains("Material prices are invented samples."));
    }
    let own = told(&with_prices(&["estimate", millrace], &[]));
    for words in [
        "Material prices dated 2026-09-24 to 2026-10-15 from",
        "The material prices of Example Supply (invented) and Second",
    ] {
        assert!(own.out.contains(words), "{}", own.out);
    }
}

#[test]
fn prices_of_a_wrong_day_are_told_to_the_contractor_alone() {
    let millrace = path("catalogs-demo/millrace.toml");
    let lists = PRICED.map(|word| match word.starts_with("--") {
        true => word.to_owned(),
        false => path(word),
    });
    let on = |command: &str, day: &str| {
        let mut words = vec![command, &millrace, "--date", day];
        words.extend(lists.iter().map(String::as_str));
        let outcome = run(&words);
        assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
        outcome
    };
    for (day, warning) in [
        (
            "2026-12-04",
            "2 prices of 2026-09-24: 71 days old, and more than 60 is old.",
        ),
        (
            "2026-10-14",
            "4 prices of 2026-10-15, which is after 2026-10-14.",
        ),
    ] {
        let (own, quote) = (on("estimate", day), on("quote", day));
        assert!(own.out.contains(warning), "{}", own.out);
        for outcome in [&own, &quote] {
            let told = format!("warning: {warning}\n");
            assert!(outcome.err.contains(&told), "{}", outcome.err);
        }
        assert!(!quote.out.contains("is old") && !quote.out.contains("which is after"));
    }
    for command in ["estimate", "quote"] {
        assert_eq!(on(command, "2026-11-02").err, "");
    }
}

#[test]
fn where_there_is_no_tax_no_paper_has_a_line_of_it() {
    let folder = folder("papers-tax");
    let rates = folder.join("rates.toml");
    let text = read(root().join("catalogs-demo/rates.toml"));
    std::fs::write(
        &rates,
        text.replace("on      = \"materials\"", "on      = \"none\""),
    )
    .unwrap();
    let rates = rates.display().to_string();
    let millrace = "catalogs-demo/millrace.toml";
    let new = folder.join("new.toml");
    let job = read(root().join(millrace)).replace("\"10-0\", router", "\"12-0\", router");
    std::fs::write(&new, job).unwrap();
    let new = new.display().to_string();
    let iron = path("catalogs-demo/iron.csv");
    let priced = ["--catalog", &iron, "--rates", &rates];
    let papers = [
        [&["quote", millrace][..], &priced].concat(),
        [&["quote", millrace, "--level", "sum"][..], &priced].concat(),
        [&["change", millrace, &new, "--reason", "wish"][..], &priced].concat(),
        [
            &["compare", millrace, "--systems", "black-iron"][..],
            &priced,
        ]
        .concat(),
    ];
    for command in &papers {
        let text = told(command).out;
        let pages = texts(&written(command, &folder.join("paper.pdf"))).concat();
        for text in [text, pages] {
            assert!(!text.contains("before tax"), "{command:?}: {text}");
            assert!(!text.contains("Sales tax"), "{command:?}: {text}");
            assert!(!text.contains("with tax"), "{command:?}: {text}");
        }
    }
    let own = told(&[&["estimate", millrace][..], &priced].concat()).out;
    assert!(!own.contains("Sales tax"), "{own}");
}

#[test]
fn work_without_its_price_has_no_quantity() {
    let quote = with_prices(
        &["quote", "catalogs-demo/millrace.toml"],
        &["--level", "sections", "--format", "json"],
    );
    let model: Value = serde_json::from_str(&told(&quote).out).unwrap();
    for section in model["sections"].as_array().unwrap() {
        let title = section["title"].as_str().unwrap();
        let work = ["Labour", "Tool hire", "Other costs"].contains(&title);
        for line in section["lines"].as_array().unwrap() {
            assert_eq!(line["quantity"].is_null(), work, "{line}");
            assert_eq!(line["unit"] == "", work, "{line}");
        }
    }
}

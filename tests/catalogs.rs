//! Price lists of any form: suppliers' own sheets, workbooks, their check, and
//! the request for prices.

use crate::support::workbook::{row, workbook};
use crate::support::{Outcome, folder, path, read, run};
use dripleg::Exit;
use serde_json::Value;
use std::path::Path;

fn quote(catalogs: &[&str], more: &[&str]) -> Outcome {
    let (job, rates) = (
        path("catalogs-demo/millrace.toml"),
        path("catalogs-demo/rates.toml"),
    );
    let mut words = vec!["quote", &job, "--rates", &rates];
    for catalog in catalogs {
        words.extend(["--catalog", catalog]);
    }
    words.extend(more);
    run(&words)
}

fn json(outcome: &Outcome) -> Value {
    serde_json::from_str(&outcome.out).unwrap()
}

fn written(folder: &Path, name: &str, content: impl AsRef<[u8]>) -> String {
    let file = folder.join(name);
    std::fs::write(&file, content).unwrap();
    file.display().to_string()
}

#[test]
fn a_foreign_sheet_prices_the_whole_demo() {
    let north = path("catalogs-demo/north.toml");
    let outcome = quote(&[&north], &["--format", "json"]);
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    assert_eq!(
        outcome.err,
        "catalogs-demo/north.csv: 2 of 31 rows name no part that is known; `dripleg catalog check` lists them\n"
    );
    let quote = json(&outcome);
    assert_eq!(quote["missing"], Value::Array(Vec::new()));
    let assumptions = quote["assumptions"].to_string();
    assert!(
        assumptions.contains("Material prices dated 2026-10-12."),
        "{assumptions}"
    );
    // The stick is 21 ft at 1.48.
    let shop = run(&[
        "shop",
        &path("catalogs-demo/millrace.toml"),
        "--catalog",
        &north,
        "--format",
        "json",
    ]);
    assert!(
        shop.out.contains("\"unit_price\": \"31.08\""),
        "{}",
        shop.out
    );
}

#[test]
fn lists_of_both_forms_compete() {
    let (iron, north) = (
        path("catalogs-demo/iron.csv"),
        path("catalogs-demo/north.toml"),
    );
    let total = |lists: &[&str]| -> f64 {
        let quote = json(&quote(lists, &["--format", "json"]));
        quote["total"].as_str().unwrap().parse().unwrap()
    };
    let both = total(&[&iron, &north]);
    assert!(both < total(&[&iron]) && both < total(&[&north]));
}

#[test]
fn a_mapping_moves_the_mark_of_the_figures() {
    let folder = folder("mapping-mark");
    written(&folder, "north.csv", read(path("catalogs-demo/north.csv")));
    let mapping = read(path("catalogs-demo/north.toml"));
    let mark = |mapping: &str| {
        let file = written(&folder, "north.toml", mapping);
        json(&quote(&[&file], &["--format", "json"]))["fingerprint"].to_string()
    };
    let before = mark(&mapping);
    assert_ne!(
        before,
        mark(&mapping.replacen("North Supply", "South Supply", 1))
    );
    // The sheet that a mapping names is an input like any other.
    let out = folder.join("north.csv").display().to_string();
    let file = folder.join("north.toml").display().to_string();
    let outcome = quote(&[&file], &["--out", &out]);
    assert_eq!(outcome.exit, Exit::Unreadable);
    assert!(
        outcome.err.contains("is an input of this command"),
        "{}",
        outcome.err
    );
}

#[test]
fn the_check_says_what_is_old_and_what_is_unknown() {
    let north = path("catalogs-demo/north.toml");
    let check = |more: &[&str]| run(&[&["catalog", "check", &north], more].concat());
    let fresh = check(&[]);
    assert_eq!(fresh.exit, Exit::Done, "{}", fresh.err);
    assert!(!fresh.out.contains("catalog-old"), "{}", fresh.out);
    assert!(
        fresh.out.ends_with(
            "catalogs-demo/north.csv: 31 rows, 29 prices, 1 supplier, 2 of parts that are not known\n\
             2 notes; a price is old after 60 days\n"
        ),
        "{}",
        fresh.out
    );
    assert!(
        fresh
            .out
            .contains("no parts of ours: `Hydraulic adaptor`, `Safety goggles` (lines 11, 22)")
    );
    let old = check(&["--date", "2026-12-12"]);
    assert!(
        old.out
            .contains("29 prices of 2026-10-12: 61 days old, and more than 60 is old"),
        "{}",
        old.out
    );
    assert!(!check(&["--date", "2026-12-11"]).out.contains("catalog-old"));
    let early = check(&[
        "--date",
        "2026-10-11",
        "--older-than",
        "5",
        "--format",
        "json",
    ]);
    let early = json(&early);
    assert_eq!(early["findings"][0]["rule"], "catalog-future");
    assert_eq!(early["findings"][0]["line"], 2);
    assert_eq!(early["findings"][0]["file"], "catalogs-demo/north.csv");
    assert_eq!(early["lists"][0]["priced"], 29);
    assert_eq!(early["missing"], Value::Null);
}

#[test]
fn the_check_says_what_a_job_lacks() {
    let folder = folder("check-job");
    let sheet = read(path("catalogs-demo/north.csv"));
    let sheet = sheet.replace("Regulator;", "Regulater;");
    written(&folder, "north.csv", sheet);
    let file = written(
        &folder,
        "north.toml",
        read(path("catalogs-demo/north.toml")),
    );
    let job = path("catalogs-demo/millrace.toml");
    let check = |more: &[&str]| run(&[&["catalog", "check", &file, "--job", &job], more].concat());
    let outcome = check(&[]);
    assert_eq!(outcome.exit, Exit::Stopped, "{}", outcome.err);
    for said in [
        "`Regulater` is not a part (line 26)",
        "did you mean `regulator`? then add \"Regulater\" = \"regulator\" to the mapping's words for `part`",
        "catalogs-demo/millrace.toml: no price for 1 part\n  5 air regulator with gauge female 1/2in: no row of the catalog has this part in this size\n    regulator,,1/2in,air regulator with gauge female,each,1,,USD,,,,\n",
    ] {
        assert!(outcome.out.contains(said), "{said}\n{}", outcome.out);
    }
    let missing = &json(&check(&["--format", "json"]))["missing"];
    assert_eq!(missing[0]["part"], "regulator");
    assert_eq!(missing[0]["quantity"], "5");
}

#[test]
fn the_check_knows_the_pipe_systems() {
    let folder = folder("check-system");
    let file = written(
        &folder,
        "a.csv",
        "part,system,size,price\ntee,blak-iron,1in,2.00\ntee,black-iron,1in,\n",
    );
    let outcome = run(&["catalog", "check", &file]);
    assert_eq!(outcome.exit, Exit::Done);
    for said in [
        "there is no pipe system `blak-iron` (line 2)",
        "did you mean `black-iron`?",
        "1 price without a date (line 2)",
        "2 rows, 1 price, 1 still open, no supplier named, 0 of parts that are not known",
    ] {
        assert!(outcome.out.contains(said), "{said}\n{}", outcome.out);
    }
}

/// The demo's request for prices with a price in every row.
fn answered(blank: &str) -> String {
    let mut answer = String::new();
    let mut reader = csv::Reader::from_reader(blank.as_bytes());
    let heads = reader.headers().unwrap().clone();
    answer += &heads.iter().collect::<Vec<_>>().join(",");
    let price = heads.iter().position(|head| head == "price").unwrap();
    for record in reader.records() {
        let cells: Vec<String> = record
            .unwrap()
            .iter()
            .enumerate()
            .map(|(at, cell)| {
                if at == price {
                    "1.25".to_owned()
                } else {
                    cell.to_owned()
                }
            })
            .collect();
        answer += &format!("\n{}", cells.join(","));
    }
    answer
}

#[test]
fn a_request_comes_back_as_a_price_list() {
    let job = path("catalogs-demo/millrace.toml");
    let folder = folder("blank");
    let blank = run(&[
        "catalog",
        "blank",
        &job,
        "--supplier",
        "West (invented)",
        "--currency",
        "USD",
    ]);
    assert_eq!(blank.exit, Exit::Done, "{}", blank.err);
    let lines: Vec<&str> = blank.out.lines().collect();
    assert_eq!(lines.len(), 30);
    assert_eq!(
        lines[..3],
        [
            "part,system,size,description,quantity,unit,pack,price,currency,supplier,code,priced_on,from_quantity",
            "pipe,black-iron,3/4in,black iron pipe threaded both ends,11,21ft,1,,USD,West (invented),,,1",
            "close-nipple,black-iron,1/2in,black iron close nipple,17,each,1,,USD,West (invented),,,1",
        ]
    );
    // As it stands it is a list without a price, and no part is unknown in it.
    let file = written(&folder, "west.csv", &blank.out);
    let empty = run(&["catalog", "check", &file, "--job", &job]);
    assert_eq!(empty.exit, Exit::Stopped);
    assert!(
        empty
            .out
            .contains("29 rows, 0 prices, 29 still open, 1 supplier, 0 of"),
        "{}",
        empty.out
    );
    // The workbook is the same list.
    let book = folder.join("west.xlsx").display().to_string();
    let words = ["--supplier", "West (invented)", "--currency", "USD"];
    let asked = run(&[&["catalog", "blank", &job, "--out", &book], &words[..]].concat());
    assert_eq!(asked.exit, Exit::Done, "{}", asked.err);
    let same = run(&["catalog", "check", &book, "--job", &job]);
    assert_eq!(
        same.out.replace("west.xlsx", "west.csv"),
        empty.out,
        "{}",
        same.err
    );
    let file = written(&folder, "west.csv", answered(&blank.out));
    let outcome = quote(&[&file], &["--format", "json"]);
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    assert_eq!(json(&outcome)["missing"], Value::Array(Vec::new()));
}

#[test]
fn each_supplier_gets_a_sheet_with_its_own_codes() {
    let job = path("catalogs-demo/millrace.toml");
    let (iron, north) = (
        path("catalogs-demo/iron.csv"),
        path("catalogs-demo/north.toml"),
    );
    let folder = folder("blank-each");
    let out = folder.join("ask.csv").display().to_string();
    let words = [
        "catalog",
        "blank",
        &job,
        "--catalog",
        &iron,
        "--catalog",
        &north,
    ];
    let several = run(&words);
    assert_eq!(several.exit, Exit::Unreadable);
    assert!(
        several.err.contains("there are 3 suppliers to ask"),
        "{}",
        several.err
    );
    let outcome = run(&[&words[..], &["--out", &out]].concat());
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    let sheet = |name: &str| std::fs::read_to_string(folder.join(name)).unwrap();
    let north = sheet("ask-north-supply-invented.csv");
    assert!(
        north.contains(",11,21ft,1,,USD,North Supply (invented),N4107,,1\n"),
        "{north}"
    );
    let second = sheet("ask-second-supply-invented.csv");
    assert!(
        second.contains(",21,10ft,1,,USD,Second Supply (invented),P07510,,1\n"),
        "{second}"
    );
    assert!(sheet("ask-example-supply-invented.csv").contains(",22,each,10,,USD,"));
    let wrong = run(&[&words[..], &["--supplier", "North Suply (invented)"]].concat());
    assert!(
        wrong
            .err
            .contains("did you mean `North Supply (invented)`?"),
        "{}",
        wrong.err
    );
    let workbook = run(&["catalog", "blank", &job, "--out", "ask.pdf"]);
    assert!(
        workbook.err.contains("the formats are csv, xlsx"),
        "{}",
        workbook.err
    );
}

#[test]
fn a_workbook_is_read_like_text() {
    let folder = folder("workbook");
    let rows = [
        row(1, &["'Prices of October"]),
        row(3, &["'Article", "'Dim", "'List", "'Date"]),
        row(4, &["'Ball valve", "'3/4", "11.8", "@46296"]),
        row(5, &["'Ball valve", "@46115", "15.65", "@46296"]),
    ];
    let file = |rows: &[String]| workbook(&[("Notes", ""), ("Prices", &rows.concat())]);
    let mapping = "file = \"north.xlsx\"\nsheet = \"Prices\"\nsizes = \"in\"\n\
                   columns = { part = \"Article\", size = \"Dim\", price = \"List\", priced_on = \"Date\" }\n";
    let mapping = written(&folder, "north.toml", mapping);
    written(&folder, "north.xlsx", file(&rows[1..]));
    let outcome = run(&["catalog", "check", &mapping]);
    assert_eq!(outcome.exit, Exit::Unreadable);
    assert!(
        outcome
            .out
            .contains("the size `2026-04-03` in cell B5 is a date"),
        "{}",
        outcome.out
    );
    assert!(outcome.out.contains("north.xlsx:5:1"), "{}", outcome.out);
    written(&folder, "north.xlsx", file(&rows[1..3]));
    let outcome = run(&["catalog", "check", &mapping]);
    assert_eq!(outcome.exit, Exit::Done, "{}{}", outcome.out, outcome.err);
    assert!(outcome.out.contains("1 row, 1 price,"), "{}", outcome.out);
    let broken = written(&folder, "broken.xlsx", "part,size,price\n");
    let outcome = run(&["catalog", "check", &broken]);
    assert_eq!(outcome.exit, Exit::Unreadable);
    assert!(
        outcome.err.contains("it is not a workbook"),
        "{}",
        outcome.err
    );
}

#[test]
fn hostile_lists_end_in_words() {
    let folder = folder("hostile");
    let many = ",".repeat(1_000_000);
    let rows = format!("part,size,price\n{}\n", "bal-valve,1in,2\n".repeat(3_000));
    let large = vec![b'x'; (64 << 20) + 1];
    for (name, content, said) in [
        (
            "nul.csv",
            &b"part,size,price\nball\0valve,1in,2\n"[..],
            "line 2 holds a zero byte",
        ),
        (
            "latin.csv",
            b"part,size,price\nball-valve,1in,2,\xfc\n",
            "line 2 is not UTF-8",
        ),
        (
            "wide.csv",
            format!("part,size,price{many}\n").as_bytes(),
            "the list has 1000003 columns",
        ),
        (
            "row.csv",
            format!("part,size,price\nball-valve,1in,2{many}x\n").as_bytes(),
            "more cells than the header has columns",
        ),
        ("bad.csv", rows.as_bytes(), "971 more, not shown"),
        ("large.csv", &large, "is larger than 64 MB"),
        (
            "open.csv",
            b"part,size,price\n\"ball-valve,1in,2\ncap,1in,2\n",
            "a quotation mark opens here",
        ),
    ] {
        let file = written(&folder, name, content);
        let outcome = run(&["catalog", "check", &file]);
        assert_eq!(outcome.exit, Exit::Unreadable, "{name}");
        let told = outcome.out + &outcome.err;
        assert!(
            told.contains(said),
            "{name}: {}",
            &told[..told.len().min(2_000)]
        );
        assert!(told.len() < 40_000, "{name}: {} bytes", told.len());
    }
}

#[test]
fn what_looks_like_a_formula_goes_out_and_comes_back() {
    let folder = folder("formula");
    let file = written(
        &folder,
        "a.csv",
        "part,size,price,supplier,code\nball-valve,3/4in,2.00,=cmd(),-17\n",
    );
    let job = path("catalogs-demo/millrace.toml");
    let blank = run(&[
        "catalog",
        "blank",
        &job,
        "--catalog",
        &file,
        "--currency",
        "USD",
    ]);
    assert_eq!(blank.exit, Exit::Done, "{}", blank.err);
    assert!(blank.out.contains(",USD,'=cmd(),-17,,1\n"), "{}", blank.out);
    let back = written(&folder, "back.csv", answered(&blank.out));
    let outcome = run(&["catalog", "check", &back, "--format", "json"]);
    assert_eq!(json(&outcome)["lists"][0]["suppliers"][0], "=cmd()");
}

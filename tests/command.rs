//! The commands as a user runs them.

use crate::support::{Outcome, folder, path, read, root, run};
use dripleg::{Exit, Io};
use serde_json::Value;
use std::io::{self, Write};

const QUOTE: [&str; 6] = [
    "quote",
    "catalogs-demo/millrace.toml",
    "--catalog",
    "catalogs-demo/iron.csv",
    "--rates",
    "catalogs-demo/rates.toml",
];

/// The demo's quote with more words behind it.
fn quote(more: &[&str]) -> Outcome {
    let words: Vec<String> = QUOTE
        .iter()
        .map(|word| {
            if word.starts_with("catalogs-demo") {
                path(word)
            } else {
                (*word).to_owned()
            }
        })
        .chain(more.iter().map(|word| (*word).to_owned()))
        .collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    run(&words)
}

fn pdf_text(bytes: &[u8]) -> String {
    let document = lopdf::Document::load_mem(bytes).unwrap();
    let pages: Vec<u32> = document.get_pages().keys().copied().collect();
    document.extract_text(&pages).unwrap()
}

#[test]
fn all_forms_of_a_quote_say_the_same_total() {
    let folder = folder("forms");
    let out = |name: &str| {
        let file = folder.join(name);
        let outcome = quote(&["--out", &file.display().to_string()]);
        assert_eq!(outcome.exit, Exit::Done, "{name}: {}", outcome.err);
        std::fs::read(file).unwrap()
    };
    let json: Value = serde_json::from_slice(&out("quote.json")).unwrap();
    let total = json["total"].as_str().unwrap().to_owned();
    let csv = String::from_utf8(out("quote.csv")).unwrap();
    let printed = csv.lines().last().unwrap();
    assert_eq!(printed, format!("Sums,Total,,,,{total},USD"));

    let (whole, cents) = total.split_once('.').unwrap();
    let grouped = format!(
        "{},{}.{cents}",
        &whole[..whole.len() - 3],
        &whole[whole.len() - 3..]
    );
    let text = String::from_utf8(out("quote.txt")).unwrap();
    assert!(text.contains(&grouped), "{text}");
    let pdf = pdf_text(&out("quote.pdf"));
    assert!(pdf.contains(&grouped), "{pdf}");

    // The JSON's sums are sums of its lines, to the cent.
    let cents =
        |value: &Value| -> i64 { value.as_str().unwrap().replace('.', "").parse().unwrap() };
    let mut subtotal = 0;
    for section in json["sections"].as_array().unwrap() {
        let lines = section["lines"].as_array().unwrap();
        let sum: i64 = lines.iter().map(|line| cents(&line["amount"])).sum();
        assert_eq!(sum, cents(&section["subtotal"]), "{}", section["title"]);
        subtotal += sum;
    }
    assert_eq!(subtotal, cents(&json["subtotal"]));
    assert_eq!(subtotal + cents(&json["tax"]), cents(&json["total"]));
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let folder = folder("bytes");
    let mut papers = Vec::new();
    for name in ["a.pdf", "b.pdf"] {
        let file = folder.join(name);
        quote(&["--out", &file.display().to_string()]);
        papers.push(std::fs::read(file).unwrap());
    }
    assert!(papers[0] == papers[1]);
    assert_eq!(quote(&[]).out, quote(&[]).out);
}

#[test]
fn the_customer_never_sees_a_cost() {
    // The wage and the cost of a stick of pipe stand in the demo's files and
    // nowhere in the quote.
    let folder = folder("costs");
    let file = folder.join("quote.pdf");
    quote(&["--out", &file.display().to_string()]);
    let mut said = quote(&[]).out + &quote(&["--format", "json"]).out;
    said += &pdf_text(&std::fs::read(file).unwrap());
    for secret in ["58.00", "31.90", "margin", "markup", "overhead"] {
        assert!(
            !said.to_lowercase().contains(secret),
            "the quote says {secret}"
        );
    }
}

/// Quotes the demo by its own price list without the rows that begin so.
fn quote_without(name: &str, lost: &str, more: &[&str]) -> Outcome {
    let catalog = folder(name).join("prices.csv");
    let without: String = read(root().join("catalogs-demo/iron.csv"))
        .lines()
        .filter(|line| !line.starts_with(lost))
        .fold(String::new(), |text, line| text + line + "\n");
    std::fs::write(&catalog, without).unwrap();
    let catalog = catalog.display().to_string();
    let (job, rates) = (path(QUOTE[1]), path(QUOTE[5]));
    let mut words = vec!["quote", &job, "--catalog", &catalog, "--rates", &rates];
    words.extend(more);
    run(&words)
}

#[test]
fn a_missing_price_is_loud() {
    let ask = |more: &[&str]| quote_without("missing", "filter,,1/2in,", more);
    let text = ask(&[]);
    assert_eq!(text.exit, Exit::Stopped);
    assert!(text.out.contains("PRICE INCOMPLETE"));
    assert!(
        text.err
            .contains("filter,,1/2in,air filter female,each,1,,USD,,,,"),
        "{}",
        text.err
    );
    let json: Value = serde_json::from_str(&ask(&["--format", "json"]).out).unwrap();
    assert_eq!(json["total"], Value::Null);
    assert_eq!(json["missing"][0]["part"], "filter");
    assert_eq!(json["missing"][0]["quantity"], "5");
    let pdf = folder("missing-pdf").join("quote.pdf");
    let outcome = ask(&["--out", &pdf.display().to_string()]);
    assert_eq!(outcome.exit, Exit::Stopped);
    assert!(pdf_text(&std::fs::read(pdf).unwrap()).contains("PRICE INCOMPLETE"));
}

#[test]
fn a_part_that_the_price_list_lacks_is_made_of_others() {
    let outcome = quote_without("stand-in", "cross,black-iron,3/4in,", &["--format", "json"]);
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    let json: Value = serde_json::from_str(&outcome.out).unwrap();
    let said = json["assumptions"].to_string();
    assert!(
        said.contains("lacks black iron cross female 3/4in: each of the 4 is made of tee 3/4in + close-nipple 3/4in + tee 3/4in, with 2 more joints."),
        "{said}"
    );
    let lines: Vec<&str> = json["sections"][1]["lines"]
        .as_array()
        .unwrap()
        .iter()
        .map(|line| line["text"].as_str().unwrap())
        .collect();
    assert!(
        !lines.iter().any(|line| line.contains("cross")),
        "{lines:?}"
    );
}

#[test]
fn why_names_the_places_and_their_lines() {
    let job = path("catalogs-demo/garage.toml");
    let outcome = run(&["parts", &job, "--why", "tee"]);
    assert_eq!(
        outcome.out,
        "3 black iron tee female 1/2in\n  \
         leg 1, at bench (line 30): the pipes that meet here\n  \
         outlet bench, foot (line 51): the pipes that meet here\n  \
         outlet bay, foot (line 56): the pipes that meet here\n"
    );
    let outcome = run(&["parts", &job, "--why", "tea"]);
    assert_eq!(outcome.exit, Exit::Unreadable);
    assert!(
        outcome.err.contains("did you mean `tee`?"),
        "{}",
        outcome.err
    );
}

#[test]
fn proofs_are_printed_on_demand() {
    let outcome = run(&["parts", &path("catalogs-demo/millrace.toml"), "--proof"]);
    assert_eq!(outcome.exit, Exit::Done);
    assert!(
        outcome
            .out
            .contains("3/4in: 112 female, 112 male, 112 joints"),
        "{}",
        outcome.out
    );
    assert!(
        outcome.out.contains("rings: 1, unions in them: 1"),
        "{}",
        outcome.out
    );
}

#[test]
fn json_of_parts_has_the_promised_shape() {
    let outcome = run(&[
        "parts",
        &path("catalogs-demo/garage.toml"),
        "--format",
        "json",
    ]);
    let json: Value = serde_json::from_str(&outcome.out).unwrap();
    let tee = json["lines"]
        .as_array()
        .unwrap()
        .iter()
        .find(|line| line["part"] == "tee")
        .unwrap();
    assert_eq!(tee["system"], "black-iron");
    assert_eq!(tee["size"], "1/2in");
    assert_eq!(tee["quantity"], 3);
    assert_eq!(tee["unit"], "each");
    assert_eq!(tee["because"].as_array().unwrap().len(), 3);
    assert_eq!(json["joints"]["1/2in"], 34);
    assert_eq!(json["pipe"][0]["size"], "1/2in");
    // 417.85 in.
    assert_eq!(json["pipe"][0]["length_mm"].to_string(), "10613.39");
    assert_eq!(json["pipe"][0]["pieces"].as_array().unwrap().len(), 5);
}

#[test]
fn failures_outside_leave_nothing_behind() {
    let missing = run(&["check", "no-such-job.toml"]);
    assert_eq!(missing.exit, Exit::Unreadable);
    assert!(missing.err.contains("no-such-job.toml"));

    let folder = folder("outside");
    let nowhere = folder.join("no-such-folder/quote.pdf");
    let outcome = quote(&["--out", &nowhere.display().to_string()]);
    assert_eq!(outcome.exit, Exit::Outside);

    // A folder stands where the file should go.
    let taken = folder.join("taken.pdf");
    std::fs::create_dir(&taken).unwrap();
    let outcome = quote(&["--out", &taken.display().to_string()]);
    assert_eq!(outcome.exit, Exit::Outside);
    let left: Vec<_> = std::fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name())
        .collect();
    assert_eq!(left, ["taken.pdf"]);
}

#[test]
fn wrong_words_are_exit_2() {
    assert_eq!(run(&["quote"]).exit, Exit::Unreadable);
    assert_eq!(run(&["qoute"]).exit, Exit::Unreadable);
    assert_eq!(quote(&["--format", "pdf"]).exit, Exit::Unreadable);
    let outcome = quote(&["--out", "quote.docx"]);
    assert_eq!(outcome.exit, Exit::Unreadable);
    assert!(
        outcome.err.contains("text, csv, json, pdf"),
        "{}",
        outcome.err
    );
    assert_eq!(run(&["--version"]).exit, Exit::Done);
    assert!(run(&["--help"]).out.contains("Exit codes"));
}

#[test]
fn problems_of_all_files_show_at_once() {
    let folder = folder("all");
    let catalog = folder.join("prices.csv");
    std::fs::write(
        &catalog,
        "part,system,size,price\ntea,black-iron,1in,2.00\n",
    )
    .unwrap();
    let rates = folder.join("rates.toml");
    std::fs::write(
        &rates,
        read(root().join("catalogs-demo/rates.toml")).replace("wage ", "wages"),
    )
    .unwrap();
    let outcome = run(&[
        "quote",
        &path("tests/bad/55-outlet-not-placed.toml"),
        "--catalog",
        &catalog.display().to_string(),
        "--rates",
        &rates.display().to_string(),
    ]);
    assert_eq!(outcome.exit, Exit::Unreadable);
    assert!(outcome.err.contains("stands nowhere"), "{}", outcome.err);
    assert!(outcome.err.contains("wages"), "{}", outcome.err);
}

/// A reader that has gone away.
struct Closed;

impl Write for Closed {
    fn write(&mut self, _: &[u8]) -> io::Result<usize> {
        Err(io::ErrorKind::BrokenPipe.into())
    }
    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[test]
fn a_reader_that_goes_away_is_no_failure() {
    for format in ["text", "csv", "json"] {
        let mut err = Vec::new();
        let job = path("catalogs-demo/garage.toml");
        let exit = dripleg::run(
            ["dripleg", "parts", &job, "--format", format].map(Into::into),
            &mut Io {
                out: &mut Closed,
                err: &mut err,
                input: &mut io::empty(),
                at_terminal: false,
                width: 100,
                today: || jiff::civil::date(2026, 11, 2),
            },
        );
        assert_eq!(exit, Exit::Done, "{format}");
        assert!(err.is_empty());
    }
}

#[test]
fn an_output_never_falls_on_an_input() {
    let folder = folder("input");
    let prices = folder.join("prices.csv");
    std::fs::copy(root().join("catalogs-demo/iron.csv"), &prices).unwrap();
    let (job, rates) = (path(QUOTE[1]), path(QUOTE[5]));
    let prices_word = prices.display().to_string();
    let outcome = run(&[
        "quote",
        &job,
        "--catalog",
        &prices_word,
        "--rates",
        &rates,
        "--out",
        &prices_word,
    ]);
    assert_eq!(outcome.exit, Exit::Unreadable);
    assert!(outcome.err.contains("is an input"), "{}", outcome.err);
    assert_eq!(read(&prices), read(root().join("catalogs-demo/iron.csv")));
}

#[cfg(unix)]
#[test]
fn links_are_followed_and_read_only_files_kept() {
    let folder = folder("links");
    let (real, link) = (folder.join("real.csv"), folder.join("link.csv"));
    std::fs::write(&real, "old").unwrap();
    std::os::unix::fs::symlink(&real, &link).unwrap();
    let outcome = quote(&["--out", &link.display().to_string()]);
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    assert!(link.is_symlink());
    assert!(read(&real).starts_with("section,text"));

    let kept = folder.join("kept.csv");
    std::fs::write(&kept, "mine").unwrap();
    let mut permissions = std::fs::metadata(&kept).unwrap().permissions();
    permissions.set_readonly(true);
    std::fs::set_permissions(&kept, permissions).unwrap();
    let outcome = quote(&["--out", &kept.display().to_string()]);
    assert_eq!(outcome.exit, Exit::Outside);
    assert_eq!(read(&kept), "mine");

    // A device is written to as it is, and stays one.
    let outcome = quote(&["--format", "csv", "--out", "/dev/null"]);
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    assert!(!std::fs::metadata("/dev/null").unwrap().is_file());
}

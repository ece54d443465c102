//! The contractor's own paper, and that nothing of it reaches a customer.

use crate::support::{Outcome, folder, path, read, root, run, same_cases};
use bom::source::Source;
use dripleg::Exit;
use pricing::catalog::Catalog;
use pricing::money::{Currency, Money, MoneyError};
use proptest::prelude::{any, prop_assert, prop_assert_eq, proptest};
use proptest::sample::select;
use rust_decimal::Decimal;
use serde_json::Value;
use std::collections::BTreeSet;
use std::path::Path;

const LISTS: [&str; 4] = ["iron", "copper", "aluminium", "brass"];

fn demo_rates() -> String {
    read(root().join("catalogs-demo/rates.toml"))
}

/// A command about the demo with these rates and all demo price lists.
fn with_rates(command: &str, rates: &Path, more: &[&str]) -> Outcome {
    let (job, rates) = (
        path("catalogs-demo/millrace.toml"),
        rates.display().to_string(),
    );
    let lists = LISTS.map(|list| path(&format!("catalogs-demo/{list}.csv")));
    let mut words = vec![command, &job, "--rates", &rates];
    for list in &lists {
        words.extend(["--catalog", list]);
    }
    words.extend(more);
    run(&words)
}

fn estimate(more: &[&str]) -> Outcome {
    with_rates("estimate", &root().join("catalogs-demo/rates.toml"), more)
}

fn json(outcome: &Outcome) -> Value {
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    serde_json::from_str(&outcome.out).unwrap()
}

fn pdf_text(bytes: &[u8]) -> String {
    let document = lopdf::Document::load_mem(bytes).unwrap();
    let pages: Vec<u32> = document.get_pages().keys().copied().collect();
    document.extract_text(&pages).unwrap()
}

fn cents(value: &Value) -> i64 {
    let text = value.as_str().unwrap();
    text.replace('.', "").parse().unwrap()
}

#[test]
fn every_form_says_whose_it_is_and_the_same_figures() {
    let folder = folder("estimate-forms");
    let out = |name: &str| {
        let file = folder.join(name);
        let outcome = estimate(&["--out", &file.display().to_string()]);
        assert_eq!(outcome.exit, Exit::Done, "{name}: {}", outcome.err);
        std::fs::read(file).unwrap()
    };
    let text = String::from_utf8(out("a.txt")).unwrap();
    let csv = String::from_utf8(out("a.csv")).unwrap();
    let pdf = out("a.pdf");
    assert!(pdf == out("b.pdf"));
    let pages = lopdf::Document::load_mem(&pdf).unwrap();
    for page in pages.get_pages().keys() {
        let page = pages.extract_text(&[*page]).unwrap();
        assert!(page.contains("INTERNAL: not for the customer"), "{page}");
    }
    let pdf = pdf_text(&pdf);
    let json: Value = serde_json::from_slice(&out("a.json")).unwrap();
    assert_eq!(json["internal"], "INTERNAL: not for the customer");
    assert!(text.starts_with("INTERNAL: not for the customer\n"));
    assert!(csv.starts_with("INTERNAL: not for the customer,text,"));
    for step in json["steps"].as_array().unwrap() {
        let plain = step["amount"].as_str().unwrap();
        assert!(csv.contains(plain), "{step}");
        let money = Money::parse(plain, Currency::parse("USD").unwrap()).unwrap();
        let shown = money.show();
        assert!(text.contains(&shown) && pdf.contains(&shown), "{step}");
    }
    // To one decimal for reading, and as far as it is worked out for programs.
    assert_eq!(json["margin_percent"], "20.0084");
    let margin = "is a margin of 20.0 % of the price";
    assert!(text.contains(margin) && pdf.contains(margin), "{text}");
}

#[test]
fn every_printed_line_adds_up() {
    let json = json(&estimate(&["--format", "json"]));
    let [mut cost, mut price] = [0, 0];
    for section in json["sections"].as_array().unwrap() {
        let lines = section["lines"].as_array().unwrap();
        for (side, sum) in [("cost", &mut cost), ("price", &mut price)] {
            let of_lines: i64 = lines.iter().map(|line| cents(&line[side]["amount"])).sum();
            assert_eq!(of_lines, cents(&section[side]), "{section}");
            *sum += of_lines;
        }
    }
    let mut so_far = 0;
    for step in json["steps"].as_array().unwrap() {
        match step["is_sum"].as_bool().unwrap() {
            true => assert_eq!(cents(&step["amount"]), so_far, "{step}"),
            false => so_far += cents(&step["amount"]),
        }
    }
    let of = |text: &str| {
        let mut steps = json["steps"].as_array().unwrap().iter();
        cents(&steps.find(|step| step["text"] == text).unwrap()["amount"])
    };
    assert_eq!(of("Cost"), cost);
    assert_eq!(of("Price before tax"), price);
    assert_eq!(so_far, price);
    assert_eq!(price + cents(&json["tax"]), cents(&json["total"]));
    let payment = json["payment"].as_array().unwrap().iter();
    let payment: i64 = payment.map(|step| cents(&step["amount"])).sum();
    assert_eq!(payment, cents(&json["total"]));
    // It is the quote's other side.
    let quote = self::json(&with_rates(
        "quote",
        &root().join("catalogs-demo/rates.toml"),
        &["--format", "json"],
    ));
    assert_eq!(quote["total"], json["total"]);
}

/// Figures that nothing else on the paper could be by chance.
const ODD: [(&str, &str); 6] = [
    ("\"58.00\"", "\"57.13\""),
    (
        "\"12\"              # percent of cost",
        "\"11.37\"  # percent of cost",
    ),
    ("\"4\" ", "\"3.91\" "),
    ("\"20\"              #", "\"21.43\" #"),
    ("\"85.00\"", "\"83.17\""),
    ("\"10-0\"", "\"9-0\""),
];

/// Every figure that stands in a text, without its thousands.
fn figures(text: &str) -> BTreeSet<String> {
    let figures = text.split(|one: char| !one.is_ascii_digit() && one != '.' && one != ',');
    figures
        .map(|figure| figure.trim_matches(['.', ',']).replace(',', ""))
        .collect()
}

#[test]
fn no_cost_and_no_margin_is_on_any_paper_of_the_customers() {
    let folder = folder("estimate-secrets");
    let mut rates = demo_rates();
    for (from, to) in ODD {
        assert!(rates.contains(from), "{from}");
        rates = rates.replacen(from, to, 1);
    }
    for (name, policy) in [("line", "\"line\" "), ("total", "\"total\" ")] {
        let file = folder.join(format!("{name}.toml"));
        std::fs::write(&file, rates.replacen("\"line\" ", policy, 1)).unwrap();
        let internal = json(&with_rates("estimate", &file, &["--format", "json"]));
        let mut secret: BTreeSet<String> = ["57.13", "11.37", "3.91", "21.43", "83.17"]
            .map(str::to_owned)
            .into();
        let mut sold: BTreeSet<String> = BTreeSet::new();
        let text = |value: &Value| value.as_str().unwrap().to_owned();
        for section in internal["sections"].as_array().unwrap() {
            secret.insert(text(&section["cost"]));
            sold.insert(text(&section["price"]));
            for line in section["lines"].as_array().unwrap() {
                for part in ["unit", "amount"] {
                    secret.insert(text(&line["cost"][part]));
                    sold.insert(text(&line["price"][part]));
                }
            }
        }
        for step in internal["steps"].as_array().unwrap() {
            let amount = text(&step["amount"]);
            if step["text"] == "Price before tax" || step["text"] == "Rounding" {
                sold.insert(amount);
            } else {
                secret.insert(amount);
            }
        }
        for key in ["profit", "margin_percent", "markup_percent"] {
            secret.insert(text(&internal[key]));
        }
        // A cost that is also someone's price tells nothing.
        let chance = secret.intersection(&sold).count();
        assert!(chance <= 4, "{:?}", secret.intersection(&sold));
        secret.retain(|figure| !sold.contains(figure));
        assert!(secret.len() > 80, "{}", secret.len());

        for command in ["quote", "compare"] {
            for ending in ["txt", "csv", "json", "pdf"] {
                let out = folder.join(format!("{name}-{command}.{ending}"));
                let shown = out.display().to_string();
                let mut more = vec!["--out", &shown];
                if command == "compare" {
                    more.extend([
                        "--systems",
                        "black-iron,copper-l-soldered,aluminium-push-fit",
                    ]);
                }
                let outcome = with_rates(command, &file, &more);
                assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
                let bytes = std::fs::read(&out).unwrap();
                let said = match ending {
                    "pdf" => pdf_text(&bytes),
                    _ => String::from_utf8(bytes).unwrap(),
                };
                // Only people's papers have commas in their thousands.
                let machine = ["csv", "json"].contains(&ending);
                let found = match machine {
                    true => figures(&said.replace(',', " ")),
                    false => figures(&said),
                };
                assert!(found.len() > 40, "{command}.{ending}: {said}");
                // What is sold for is said, so what it costs would be found.
                let unsaid = sold.difference(&found).count();
                assert!(command == "compare" || unsaid == 0, "{command}.{ending}");
                let leaked: Vec<&String> = secret.intersection(&found).collect();
                assert!(leaked.is_empty(), "{command}.{ending} says {leaked:?}");
                let said = said.to_lowercase();
                for word in [
                    "overhead",
                    "margin",
                    "markup",
                    "contingency",
                    "profit",
                    "floor of",
                ] {
                    assert!(!said.contains(word), "{command}.{ending} says {word}");
                }
            }
        }
    }
}

#[test]
fn own_work_is_estimated_and_never_offered() {
    let folder = folder("estimate-owner");
    let file = folder.join("rates.toml");
    std::fs::write(&file, demo_rates().replacen("wage ", "# wage ", 1)).unwrap();
    let own = json(&with_rates("estimate", &file, &["--format", "json"]));
    assert_eq!(own["owner"], true);
    let labour = own["sections"].as_array().unwrap().last().unwrap();
    assert_eq!(labour["price"], "0.00");
    assert_eq!(own["hours"].to_string(), "62.8");
    let quote = with_rates("quote", &file, &[]);
    assert_eq!(quote.exit, Exit::Stopped);
    assert!(quote.out.is_empty());
    assert!(
        quote.err.contains("own work is not offered to a customer"),
        "{}",
        quote.err
    );
    let both = ["--systems", "black-iron,copper-l-soldered"];
    let compared = with_rates("compare", &file, &both);
    assert_eq!(compared.exit, Exit::Done, "{}", compared.err);
}

#[test]
fn an_estimate_with_a_hole_says_so_and_stops() {
    let folder = folder("estimate-hole");
    let prices = folder.join("prices.csv");
    let without: String = read(root().join("catalogs-demo/iron.csv"))
        .lines()
        .filter(|line| !line.starts_with("filter,,1/2in,"))
        .map(|line| format!("{line}\n"))
        .collect();
    std::fs::write(&prices, without).unwrap();
    let (job, rates) = (
        path("catalogs-demo/millrace.toml"),
        path("catalogs-demo/rates.toml"),
    );
    let prices = prices.display().to_string();
    let pdf = folder.join("a.pdf").display().to_string();
    for more in [&[][..], &["--out", &pdf]] {
        let mut words = vec!["estimate", &job, "--catalog", &prices, "--rates", &rates];
        words.extend(more);
        let outcome = run(&words);
        assert_eq!(outcome.exit, Exit::Stopped, "{}", outcome.err);
        assert!(outcome.err.contains("filter,,1/2in,air filter female,each"));
        let said = match more {
            [] => outcome.out,
            _ => pdf_text(&std::fs::read(&pdf).unwrap()),
        };
        assert!(said.contains("PRICE INCOMPLETE"), "{said}");
        let so_far = said.to_lowercase().contains("priced so far, before tax");
        assert!(so_far && !said.contains("markup"), "{said}");
        assert!(said.contains("5 each air filter female 1/2in"), "{said}");
    }
}

/// A rounding may be below nought, and stays a figure for spreadsheets.
#[test]
fn a_rounded_total_is_a_line_of_every_paper() {
    let file = folder("estimate-rounded").join("rates.toml");
    let to = "\"total\"\nround_to = 10 ";
    std::fs::write(&file, demo_rates().replacen("\"line\" ", to, 1)).unwrap();
    // The demo's lines come to 7882.63.
    for command in ["quote", "estimate"] {
        let text = with_rates(command, &file, &["--format", "csv"]).out;
        let of_rounding = text.lines().find(|line| line.contains(",Rounding,"));
        assert!(of_rounding.unwrap().contains(",-2.63,"), "{text}");
        let json = json(&with_rates(command, &file, &["--format", "json"]));
        assert_eq!(json["total"], "8039.53");
        let text = with_rates(command, &file, &[]).out;
        let of_rounding = text.lines().find(|line| line.starts_with("Rounding "));
        assert!(of_rounding.unwrap().ends_with(" -2.63"), "{text}");
    }
}

/// A lift is paid for where the pipe is that high.
#[test]
fn a_lift_is_hired_for_high_pipe_only() {
    let rates = path("catalogs-demo/rates.toml");
    let iron = path("catalogs-demo/iron.csv");
    let job = folder("estimate-high").join("job.toml");
    let low = read(root().join("catalogs-demo/millrace.toml"));
    let high = low
        .replacen("height = \"11-0\"", "height = \"13-0\"", 1)
        .replacen("up 7-6", "up 9-6", 1);
    for (text, lift) in [(low, false), (high, true)] {
        std::fs::write(&job, text).unwrap();
        let job = job.display().to_string();
        let words = ["estimate", &job, "--catalog", &iron, "--rates", &rates];
        let outcome = run(&words);
        assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
        let none = outcome
            .out
            .contains("scissor lift: none, no pipe is above 12'-0\"");
        assert_eq!(none, !lift, "{}", outcome.out);
        let paid = outcome.out.lines();
        let paid = paid.filter(|line| line.starts_with("Hire of a scissor lift "));
        assert_eq!(paid.count(), usize::from(lift));
    }
}

fn of(cents: i64, code: &str) -> Money {
    let currency = Currency::parse(code).unwrap();
    Money::new(Decimal::new(cents, currency.decimals()), currency)
}

proptest! {
    #![proptest_config(same_cases(512))]

    #[test]
    fn shares_add_up_to_the_whole_and_are_a_cent_from_exact(
        sum in -1_000_000_000_i64..1_000_000_000,
        weights in proptest::collection::vec(0_u32..100_000, 1..12),
        code in select(&["USD", "JPY", "KWD"][..]),
    ) {
        let whole = of(sum, code);
        let exact: Vec<Decimal> = weights.iter().map(|weight| Decimal::from(*weight)).collect();
        let shares = whole.allocate(&exact).unwrap();
        prop_assert_eq!(Money::sum(whole.currency(), shares.iter().copied()).unwrap(), whole);
        let all: Decimal = exact.iter().copied().sum();
        if !all.is_zero() {
            let coin = Decimal::new(1, whole.currency().decimals());
            for (share, weight) in shares.iter().zip(&exact) {
                let off = share.amount() - whole.amount() * *weight / all;
                prop_assert!(off.abs() <= coin, "{}", share.plain());
            }
        }
    }

    #[test]
    fn a_sum_does_not_mind_the_order(
        sums in proptest::collection::vec(-1_000_000_i64..1_000_000, 1..20), turn in any::<usize>(),
    ) {
        let usd = Currency::parse("USD").unwrap();
        let mut turned = sums.clone();
        turned.rotate_left(turn % sums.len());
        let add = |sums: &[i64]| Money::sum(usd, sums.iter().map(|one| of(*one, "USD"))).unwrap();
        prop_assert_eq!(add(&sums), add(&turned));
    }

    #[test]
    fn currencies_never_mix(a in any::<i32>(), b in any::<i32>()) {
        let (dollars, yen) = (of(i64::from(a), "USD"), of(i64::from(b), "JPY"));
        let mixed = MoneyError::Mixed(dollars.currency(), yen.currency());
        prop_assert_eq!(dollars.plus(yen), Err(mixed));
        prop_assert_eq!(dollars.minus(yen), Err(mixed));
        prop_assert_eq!(dollars.percent_of(yen), Err(mixed));
        prop_assert_eq!(Money::sum(dollars.currency(), [dollars, yen]), Err(mixed));
    }
}

/// A price list in another currency than the rates is refused as a whole.
#[test]
fn a_price_in_another_currency_is_refused() {
    let library = bom::library::Library::shipped().unwrap();
    let rows = "part,system,size,price,currency\nball-valve,,1in,20.00,EUR\n";
    let usd = Currency::parse("USD").unwrap();
    let (_, findings) = Catalog::read(&[Source::new("a.csv", rows)], library.parts(), usd);
    assert!(bom::finding::stops(
        &findings.into_iter().map(|(_, one)| one).collect::<Vec<_>>()
    ));
}

//! The shopping list as a user asks for it.

use crate::support::{Outcome, folder, path, read, root, run};
use dripleg::Exit;
use serde_json::Value;

const JOBS: [&str; 2] = ["garage", "millrace"];

fn shop(job: &str, more: &[&str]) -> Outcome {
    let (job, prices) = (
        path(&format!("catalogs-demo/{job}.toml")),
        path("catalogs-demo/iron.csv"),
    );
    let mut words = vec!["shop", &job, "--catalog", &prices];
    words.extend(more);
    run(&words)
}

/// The bytes of a file that the command writes, in the folder of one test.
fn written(test: &str, job: &str, name: &str, more: &[&str]) -> Vec<u8> {
    let file = folder(test).join(name);
    let out = file.display().to_string();
    let outcome = shop(job, &[&["--out", &out], more].concat());
    assert_eq!(outcome.exit, Exit::Done, "{job} {name}: {}", outcome.err);
    std::fs::read(file).unwrap()
}

fn pages(bytes: &[u8]) -> Vec<String> {
    let document = lopdf::Document::load_mem(bytes).unwrap();
    let numbers = document.get_pages().into_keys();
    numbers
        .map(|number| document.extract_text(&[number]).unwrap())
        .collect()
}

#[test]
fn all_forms_say_the_same_total() {
    for (job, total, printed) in [
        ("garage", "376.25", "376.25"),
        ("millrace", "1613.30", "1,613.30"),
    ] {
        for by in ["aisle", "supplier"] {
            let by = ["--by", by];
            let json: Value =
                serde_json::from_slice(&written("shop-forms", job, "a.json", &by)).unwrap();
            assert_eq!(json["total"], total);
            let csv = String::from_utf8(written("shop-forms", job, "a.csv", &by)).unwrap();
            let last = csv.lines().last().unwrap();
            assert_eq!(last, format!("Sums,,,,Total,,,,,,,{total},,USD,,,,"));
            let text = String::from_utf8(written("shop-forms", job, "a.txt", &by)).unwrap();
            let mut sums = text.lines().filter(|line| line.contains("TOTAL USD"));
            assert!(sums.next().unwrap().ends_with(printed), "{text}");
            let pdf = pages(&written("shop-forms", job, "a.pdf", &by)).concat();
            let mut found = pdf.lines().map(str::trim);
            assert!(found.any(|line| line == printed), "{pdf}");
        }
    }
}

#[test]
fn ready_lengths_leave_no_pipe_to_cut_in_any_form() {
    let folder = folder("shop-bought");
    let job = folder.join("garage.toml").display().to_string();
    let garage = std::fs::read_to_string(path("catalogs-demo/garage.toml")).unwrap();
    let bought = garage.replacen("[main]", "[main]\nthreading = \"bought\"", 1);
    std::fs::write(&job, bought).unwrap();
    let prices = path("catalogs-demo/iron.csv");
    let form = |name: &str| {
        let out = folder.join(name);
        let out_text = out.display().to_string();
        let outcome = run(&["shop", &job, "--catalog", &prices, "--out", &out_text]);
        assert_eq!(outcome.exit, Exit::Done, "{name}: {}", outcome.err);
        std::fs::read(out).unwrap()
    };
    let text = |name| String::from_utf8(form(name)).unwrap();
    let pdf = pages(&form("a.pdf")).concat();
    for list in [&text("a.txt"), &text("a.csv"), &text("a.json"), &pdf] {
        assert!(list.contains("1/2 in x 120 in black pipe, cut and threaded both ends"));
        assert!(!list.contains("pipe, threaded both ends"), "{list}");
        assert!(!list.contains(" pieces:"), "{list}");
        assert!(list.contains("419.25"), "{list}");
    }
    let parts = run(&["parts", &job]).out;
    let wanted = "black iron pipe threaded both ends, built of ready-threaded";
    assert!(parts.contains(wanted), "{parts}");
    assert!(!parts.contains("0 pieces"), "{parts}");
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    for job in JOBS {
        for name in ["a.pdf", "a.csv", "a.json", "a.txt"] {
            assert!(
                written("shop-bytes", job, name, &[]) == written("shop-bytes", job, name, &[]),
                "{job} {name}"
            );
        }
    }
}

/// A metric job says no foot and no inch of its own, and kilograms first.
#[test]
fn a_metric_list_is_metric() {
    let job = std::fs::read_to_string(path("tests/cases/metric/job.toml")).unwrap();
    let open = job
        .replace("drip_leg = \"200mm\"\n", "")
        .replace("size     = \"DN20\"\nreach", "reach");
    assert_ne!(job, open);
    let file = folder("shop-metric").join("job.toml");
    std::fs::write(&file, open).unwrap();
    let file = file.display().to_string();
    let parts = run(&["parts", &file]).out;
    let parts = parts.split_whitespace().collect::<Vec<_>>().join(" ");
    for said in ["get a drip leg of 203 mm (common", "l/s and 7.62 m, and"] {
        assert!(parts.contains(said), "{said}\n{parts}");
    }
    let prices = path("catalogs-demo/iron.csv");
    let list = run(&["shop", &file, "--catalog", &prices]).out;
    let weight = list.lines().find(|line| line.contains("Weight")).unwrap();
    let (kilograms, pounds) = weight.split_once(" kg (").unwrap();
    assert!(kilograms.trim_start().starts_with("Weight"), "{weight}");
    assert!(pounds.ends_with(" lb), pipe only."), "{weight}");
}

/// Cautions that run on are told apart.
#[test]
fn cautions_of_the_pipe_end_in_a_full_stop() {
    let job = std::fs::read_to_string(path("catalogs-demo/garage.toml")).unwrap();
    let copper = job.replace("\"black-iron\"", "\"copper-l-soldered\"");
    let folder = folder("shop-copper");
    let (job, out) = (folder.join("job.toml"), folder.join("a.pdf"));
    std::fs::write(&job, copper).unwrap();
    let (job, out) = (job.display().to_string(), out.display().to_string());
    let prices = path("catalogs-demo/copper.csv");
    run(&["shop", &job, "--catalog", &prices, "--out", &out]);
    let text = pages(&std::fs::read(&out).unwrap()).concat();
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("no source). ASME B31.9"), "{text}");
}

#[test]
fn a_small_job_is_one_sheet() {
    for paper in ["letter", "a4"] {
        let sheets = |job| pages(&written("shop-sheets", job, "a.pdf", &["--paper", paper])).len();
        assert_eq!(sheets("garage"), 1, "{paper}");
        assert_eq!(sheets("millrace"), 2, "{paper}");
    }
}

#[test]
fn a_missing_price_leaves_the_total_open() {
    let prices = folder("shop-missing").join("prices.csv");
    std::fs::write(&prices, "part,size,price\nball-valve,1/2in,9.60\n").unwrap();
    let outcome = run(&[
        "shop",
        &path("catalogs-demo/garage.toml"),
        "--catalog",
        &prices.display().to_string(),
    ]);
    assert_eq!(outcome.exit, Exit::Stopped);
    assert!(outcome.out.contains("PRICES ARE MISSING"));
    assert!(outcome.err.contains("the total is open"));
    assert!(
        outcome.err.contains("tee,black-iron,1/2in,"),
        "{}",
        outcome.err
    );
    let total = outcome.out.lines().find(|line| line.contains("TOTAL USD"));
    assert!(total.unwrap().ends_with(" open"), "{}", outcome.out);
}

#[test]
fn wrong_words_are_exit_2() {
    assert_eq!(shop("garage", &["--format", "pdf"]).exit, Exit::Unreadable);
    assert_eq!(
        shop("garage", &["--currency", "eur"]).exit,
        Exit::Unreadable
    );
    let outcome = shop("garage", &["--currency", "EUR"]);
    assert_eq!(outcome.exit, Exit::Stopped);
    assert!(outcome.err.contains("the job is priced in EUR"));
}

#[test]
fn ready_lengths_are_priced_beside_threading_for_the_owner_only() {
    let folder = std::path::PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("beside");
    std::fs::create_dir_all(&folder).unwrap();
    let job = folder.join("job.toml");
    let garage = read(root().join("catalogs-demo/garage.toml"));
    std::fs::write(
        &job,
        garage.replace("[main]\n", "[main]\nthreading = \"bought\"\n"),
    )
    .unwrap();
    let job = job.display().to_string();
    let catalog = path("catalogs-demo/iron.csv");
    let list = run(&["shop", &job, "--catalog", &catalog]);
    assert_eq!(list.exit, Exit::Done, "{}", list.err);
    let said = list.out.split_whitespace().collect::<Vec<_>>().join(" ");
    // 351.40 is the total without spares of the garage as it is.
    let wanted = "USD 351.40 with pipe that is cut and threaded to measure";
    assert!(said.contains(wanted), "{said}");
    let rates = path("catalogs-demo/rates.toml");
    let quote = run(&["quote", &job, "--catalog", &catalog, "--rates", &rates]);
    assert_eq!(quote.exit, Exit::Done, "{}", quote.err);
    assert!(!quote.out.contains("351.40"));
}

/// The garage's list with a rates file of these terms.
fn on_terms(test: &str, terms: &str, more: &[&str]) -> Outcome {
    let rates = folder(test).join("rates.toml");
    let sample = read(root().join("catalogs-demo/rates.toml"));
    std::fs::write(
        &rates,
        sample.replacen("[company]", &format!("{terms}\n\n[company]"), 1),
    )
    .unwrap();
    let rates = rates.display().to_string();
    shop("millrace", &[&["--rates", &rates], more].concat())
}

#[test]
fn suppliers_bring_what_is_bought_at_their_charge() {
    let second = "[supplier.\"Second Supply (invented)\"]\n";
    let example = "[supplier.\"Example Supply (invented)\"]\n";
    let ask = |terms: &str| {
        let outcome = on_terms("shop-terms", terms, &["--format", "json"]);
        assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
        let json: Value = serde_json::from_str(&outcome.out).unwrap();
        json
    };
    // 1,613.30 of which 16.40 are of the second supplier; 1,628.80 without it.
    let free = ask(&format!("{example}delivery = 45\nfree_from = 1500"));
    assert_eq!(free["total"], "1613.30");
    let charged = ask(&format!("{example}delivery = 45\n{second}delivery = 15"));
    assert_eq!(charged["total"], "1673.30");
    assert_eq!(charged["orders"][0]["delivery"], "45.00");
    let groups = charged["groups"].as_array().unwrap();
    assert_eq!(groups.last().unwrap()["title"], "Delivery");
    assert_eq!(groups.last().unwrap()["subtotal"], "60.00");
    let dear = ask(&format!("{example}delivery = 45\n{second}delivery = 16"));
    assert_eq!(dear["total"], "1673.80");
    assert_eq!(dear["orders"].as_array().unwrap().len(), 1);
    // From 1,597 of goods the first delivers free: without the second 1,628.80.
    let reached = ask(&format!("{example}delivery = 45\nfree_from = 1597"));
    assert_eq!(reached["total"], "1628.80");
}

#[test]
fn nothing_is_bought_elsewhere() {
    let only = [
        "--only-from",
        "Example Supply (invented)",
        "--format",
        "json",
    ];
    let outcome = shop("millrace", &only);
    let json: Value = serde_json::from_str(&outcome.out).unwrap();
    assert_eq!(json["total"], "1628.80");
    assert_eq!(json["orders"].as_array().unwrap().len(), 1);
    let all: Value = serde_json::from_str(&shop("millrace", &["--format", "json"]).out).unwrap();
    assert_ne!(json["fingerprint"], all["fingerprint"]);

    let other = shop("millrace", &["--only-from", "Second Supply (invented)"]);
    assert_eq!(other.exit, Exit::Stopped);
    let said = "it is sold by Example Supply (invented), where nothing is to be bought";
    assert!(other.out.contains("PRICES ARE MISSING"));
    assert!(other.err.contains(said), "{}", other.err);

    let mistyped = shop("millrace", &["--only-from", "Exmple Supply (invented)"]);
    assert_eq!(mistyped.exit, Exit::Unreadable);
    assert!(
        mistyped
            .err
            .contains("did you mean `Example Supply (invented)`?"),
        "{}",
        mistyped.err
    );
}

#[test]
fn a_supplier_whom_no_price_list_has_is_told() {
    let outcome = on_terms(
        "shop-stranger",
        "[supplier.\"Exmple Supply (invented)\"]\ndelivery = 9",
        &[],
    );
    assert_eq!(outcome.exit, Exit::Done);
    assert!(
        outcome
            .err
            .contains("did you mean `Example Supply (invented)`?"),
        "{}",
        outcome.err
    );
    let outcome = on_terms("shop-stranger", "", &["--currency", "USD"]);
    assert_eq!(outcome.exit, Exit::Unreadable);
}

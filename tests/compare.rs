//! `compare` as a user runs it.

use crate::support::{Outcome, folder, path, read, root, run};
use dripleg::Exit;
use serde_json::Value;

const LISTS: [&str; 5] = ["iron", "copper", "aluminium", "brass", "steel"];

/// The demo in these systems, priced by the demo's own lists.
fn compare(systems: &str, lists: &[&str], more: &[&str]) -> Outcome {
    let (job, rates) = (
        path("catalogs-demo/millrace.toml"),
        path("catalogs-demo/rates.toml"),
    );
    let lists: Vec<String> = lists
        .iter()
        .map(|list| path(&format!("catalogs-demo/{list}.csv")))
        .collect();
    let mut words = vec!["compare", &job, "--systems", systems, "--rates", &rates];
    for list in &lists {
        words.extend(["--catalog", list]);
    }
    words.extend(more);
    run(&words)
}

const THREE: &str = "black-iron,copper-l-soldered,aluminium-push-fit";

fn cents(value: &Value) -> i64 {
    value.as_str().unwrap().replace('.', "").parse().unwrap()
}

#[test]
fn all_forms_say_the_same_totals() {
    let folder = folder("compare-forms");
    let out = |name: &str| {
        let file = folder.join(name);
        let outcome = compare(THREE, &LISTS, &["--out", &file.display().to_string()]);
        assert_eq!(outcome.exit, Exit::Done, "{name}: {}", outcome.err);
        std::fs::read(file).unwrap()
    };
    let json: Value = serde_json::from_slice(&out("a.json")).unwrap();
    let text = String::from_utf8(out("a.txt")).unwrap();
    let csv = String::from_utf8(out("a.csv")).unwrap();
    let pdf = lopdf::Document::load_mem(&out("a.pdf")).unwrap();
    let pdf = pdf.extract_text(&[1]).unwrap();
    let options = json["options"].as_array().unwrap();
    assert_eq!(options.len(), 3);
    // The demo names its tools.
    let words: Vec<&str> = text.split_whitespace().collect();
    assert!(
        words.join(" ").contains("take on the way to any tool"),
        "{text}"
    );
    for option in options {
        let sum: i64 = ["materials", "hire", "other_costs", "labour", "tax"]
            .iter()
            .map(|part| cents(&option[part]))
            .sum();
        assert_eq!(sum, cents(&option["total"]), "{option}");
        assert!(option["worst_outlet_kpa"].as_f64().unwrap() > 1.0);
        assert_eq!(option["movers"].as_array().unwrap().len(), 3);
        let total = option["total"].as_str().unwrap();
        assert!(csv.contains(total), "{total}");
        let (thousands, rest) = total.split_at(total.len() - 6);
        let shown = format!("{thousands},{rest}");
        assert!(text.contains(&shown) && pdf.contains(&shown), "{shown}");
    }
    for pair in json["break_even_wage"].as_array().unwrap() {
        let wage = pair["wage"].as_str().unwrap();
        assert!(text.contains(wage) && pdf.contains(wage), "{wage}");
        assert!(csv.contains(wage), "{wage}");
    }
}

/// What the comparison says of a system is what its own quote says.
#[test]
fn an_option_costs_what_its_quote_costs() {
    let json: Value =
        serde_json::from_str(&compare(THREE, &LISTS, &["--format", "json"]).out).unwrap();
    let quote = run(&[
        "quote",
        &path("catalogs-demo/millrace.toml"),
        "--catalog",
        &path("catalogs-demo/iron.csv"),
        "--rates",
        &path("catalogs-demo/rates.toml"),
        "--format",
        "json",
    ]);
    let quote: Value = serde_json::from_str(&quote.out).unwrap();
    assert_eq!(json["options"][0]["total"], quote["total"]);
    assert_eq!(json["options"][0]["joints"]["threaded"], 165);
}

/// The whole way: on either side of the break-even wage another system is the
/// cheaper one.
#[test]
fn the_break_even_wage_holds_in_the_totals() {
    let folder = folder("compare-wage");
    let json: Value =
        serde_json::from_str(&compare(THREE, &LISTS, &["--format", "json"]).out).unwrap();
    let text = read(root().join("catalogs-demo/rates.toml"));
    let pairs = json["break_even_wage"].as_array().unwrap();
    assert_eq!(pairs.len(), 2);
    for pair in pairs {
        let meets = cents(&pair["wage"]);
        for (wage, cheaper) in [
            (meets - 100, &pair["cheaper_below"]),
            (meets + 100, &pair["cheaper_above"]),
        ] {
            let wage = format!("\"{}.{:02}\"", wage / 100, wage % 100);
            let rates = folder.join("rates.toml");
            std::fs::write(&rates, text.replacen("\"58.00\"", &wage, 1)).unwrap();
            let both = format!(
                "{},{}",
                pair["a"].as_str().unwrap(),
                pair["b"].as_str().unwrap()
            );
            let job = path("catalogs-demo/millrace.toml");
            let rates = rates.display().to_string();
            let mut words = vec!["compare", &job, "--systems", &both, "--rates", &rates];
            let lists = LISTS.map(|list| path(&format!("catalogs-demo/{list}.csv")));
            for list in &lists {
                words.extend(["--catalog", list]);
            }
            words.extend(["--format", "json"]);
            let json: Value = serde_json::from_str(&run(&words).out).unwrap();
            let options = json["options"].as_array().unwrap();
            let best = options.iter().min_by_key(|option| cents(&option["total"]));
            assert_eq!(best.unwrap()["system"], *cheaper, "{wage}: {pair}");
        }
    }
}

#[test]
fn a_missing_price_leaves_its_option_out() {
    let outcome = compare(THREE, &["iron", "copper", "brass"], &[]);
    assert_eq!(outcome.exit, Exit::Stopped);
    assert!(outcome.out.contains("AN OPTION HAS NO TOTAL"));
    let say = "aluminium-push-fit has no total and is not compared";
    assert!(outcome.err.contains(say), "{}", outcome.err);
    assert!(
        outcome.err.contains("tee,aluminium-push-fit,25mm,"),
        "{}",
        outcome.err
    );
    let outcome = compare(THREE, &["iron", "copper", "brass"], &["--format", "json"]);
    let json: Value = serde_json::from_str(&outcome.out).unwrap();
    let aluminium = &json["options"][2];
    for open in ["materials", "tax", "total", "difference"] {
        assert_eq!(aluminium[open], Value::Null, "{open}");
    }
    assert!(!aluminium["missing"].as_array().unwrap().is_empty());
    assert!(json["options"][0]["total"].is_string());
}

#[test]
fn names_that_cannot_be_compared_are_exit_2() {
    for (systems, says) in [
        ("black-irn", "did you mean `black-iron`?"),
        ("pvc", "`pvc` is refused for compressed air: PVC shatters"),
        ("black-iron,pvc-sch40", "is refused"),
        ("brass", "no main is built of `brass`"),
        ("black-iron,black-iron", "`black-iron` stands twice"),
        ("", "there is no pipe system ``"),
    ] {
        let outcome = compare(systems, &LISTS, &[]);
        assert_eq!(outcome.exit, Exit::Unreadable, "{systems}");
        assert!(outcome.err.contains(says), "{systems}: {}", outcome.err);
        assert_eq!(outcome.out, "");
    }
    let job = path("catalogs-demo/millrace.toml");
    assert_eq!(run(&["compare", &job]).exit, Exit::Unreadable);
    let pdf = compare("black-iron", &LISTS, &["--format", "pdf"]);
    assert_eq!(pdf.exit, Exit::Unreadable);
}

#[test]
fn a_job_that_cannot_be_built_at_all_stops() {
    let rates = path("catalogs-demo/rates.toml");
    let iron = path("catalogs-demo/iron.csv");
    let ask = |job: &str| {
        let job = path(job);
        let both = "black-iron,galvanised";
        run(&[
            "compare",
            &job,
            "--systems",
            both,
            "--catalog",
            &iron,
            "--rates",
            &rates,
        ])
    };
    let outcome = ask("tests/bad/01-syntax-quote.toml");
    assert_eq!(outcome.exit, Exit::Unreadable);
    let outcome = ask("tests/bad/76-outlet-above-main.toml");
    assert_eq!(outcome.exit, Exit::Stopped);
    // Both systems find it, and it is told once.
    assert!(
        outcome.err.contains("1 problem: nothing was compared"),
        "{}",
        outcome.err
    );
}

/// The fittings of aluminium leave no room for a drip leg of 8 in under so
/// large a main, and those of iron do.
#[test]
fn an_option_that_cannot_be_built_says_why() {
    let job = folder("compare-built").join("job.toml");
    let text = read(root().join("catalogs-demo/millrace.toml"));
    let large = text.replacen("size   = \"3/4in\"", "size   = \"4in\"", 1);
    std::fs::write(&job, large).unwrap();
    let outcome = run(&[
        "compare",
        &job.display().to_string(),
        "--systems",
        "black-iron,aluminium-push-fit",
        "--catalog",
        &path("catalogs-demo/iron.csv"),
        "--rates",
        &path("catalogs-demo/rates.toml"),
        "--format",
        "json",
    ]);
    assert_eq!(outcome.exit, Exit::Stopped);
    let json: Value = serde_json::from_str(&outcome.out).unwrap();
    let [iron, aluminium] = json["options"].as_array().unwrap().as_slice() else {
        panic!("{json}")
    };
    let reason = aluminium["reason"].as_str().unwrap();
    assert!(reason.contains("the fittings need at least"), "{reason}");
    assert_eq!(aluminium["total"], Value::Null);
    // The sample rates have no hours for 4in.
    assert_eq!(iron["reason"], Value::Null);
    assert_eq!(iron["labour_hours"], Value::Null);
    assert_eq!(iron["unrated"].as_array().unwrap().len(), 2);
    assert!(
        outcome
            .err
            .contains(&format!("it cannot be built: {reason}")),
        "{}",
        outcome.err
    );
}

#[test]
fn the_paper_shows_no_cost() {
    let folder = folder("compare-costs");
    let file = folder.join("a.pdf");
    compare(THREE, &LISTS, &["--out", &file.display().to_string()]);
    let pdf = lopdf::Document::load_mem(&std::fs::read(file).unwrap()).unwrap();
    let mut said = pdf.extract_text(&[1]).unwrap();
    for format in ["text", "json", "csv"] {
        said += &compare(THREE, &LISTS, &["--format", format]).out;
    }
    let said = said.to_lowercase();
    for secret in ["58.00", "85.00", "margin", "markup", "overhead", "profit"] {
        assert!(!said.contains(secret), "the comparison says {secret}");
    }
}

/// A branch with a system of its own keeps it, and the comparison says so.
#[test]
fn legs_with_their_own_system_keep_it() {
    let job = path("tests/cases/iron-and-copper/job.toml");
    let rates = path("catalogs-demo/rates.toml");
    let iron = path("catalogs-demo/iron.csv");
    let said = "Legs that name their own pipe system keep it.";
    for systems in ["copper-l-soldered,black-iron", "galvanised"] {
        let outcome = run(&[
            "compare",
            &job,
            "--systems",
            systems,
            "--catalog",
            &iron,
            "--rates",
            &rates,
        ]);
        let words: Vec<&str> = outcome.out.split_whitespace().collect();
        assert!(words.join(" ").contains(said), "{}", outcome.out);
    }
}

//! Sizes that a job leaves open, as a user asks for them.

use crate::support::{folder, path, read, root, run};
use dripleg::Exit;
use serde_json::Value;

/// Millrace with every size left open.
fn open_job(name: &str) -> String {
    let text = read(root().join("catalogs-demo/millrace.toml"));
    let job = folder(name).join("job.toml");
    std::fs::write(&job, text.replace("\"3/4in\"", "\"auto\"")).unwrap();
    job.display().to_string()
}

fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

// By hand: while the sander at assembly runs, 27.4 cfm less its 7.2 and more its
// 18 pass the entry: 38.2 cfm. At 154.7 psi absolute that is 3.63 cfm, which runs at
// 28.7 ft/s in 1/2in (0.304 sq in), 28.8 once that has taken 0.6 psi, and at 16.3 in
// 3/4in. Half of it goes either way round the ring.
#[test]
fn a_size_is_explained() {
    let job = open_job("air-why");
    let why = |asked: &str| {
        let outcome = run(&["air", &job, "--why-size", asked]);
        assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
        flat(&outcome.out)
    };
    let leg =
        "Leg 1 is 3/4in: in 1/2in the air would run at 28.8 ft/s, and the limit there is 20 ft/s.";
    assert!(why("1").contains(leg), "{}", why("1"));
    let smallest = "is 1/2in: no smaller size is chosen, or can be had.";
    assert!(why("leg 3").contains(&format!("Leg 3 (north wall) {smallest}")));
    assert!(why("bench").contains(&format!("The drop of bench {smallest}")));
    let outcome = run(&["air", &job, "--why-size", "benhc"]);
    assert_eq!(outcome.exit, Exit::Unreadable);
    assert!(
        outcome.err.contains("did you mean `bench`?"),
        "{}",
        outcome.err
    );
    let given = run(&[
        "air",
        &path("catalogs-demo/millrace.toml"),
        "--why-size",
        "1",
    ]);
    let said = "Leg 1 has the size that the job gives it";
    assert!(flat(&given.out).contains(said), "{}", given.out);
}

#[test]
fn every_paper_says_how_sizes_were_chosen() {
    let job = open_job("air-papers");
    let (prices, rates) = (
        path("catalogs-demo/iron.csv"),
        path("catalogs-demo/rates.toml"),
    );
    let quote = ["quote", &job, "--catalog", &prices, "--rates", &rates];
    let parts = run(&["parts", &job]);
    let by = |basis: &str| format!("are the cheapest by {basis} at which every tool gets");
    assert!(flat(&parts.out).contains(&by("the mass of metal")));
    let quote = run(&quote);
    assert_eq!(quote.exit, Exit::Done, "{}", quote.err);
    assert!(
        flat(&quote.out).contains(&by("the price list and the work")),
        "{}",
        quote.out
    );
    let shop = run(&["shop", &job, "--catalog", &prices]);
    assert_eq!(shop.exit, Exit::Done, "{}", shop.err);
    // The entry in 3/4in, the ring and the drops in 1/2in.
    let json = run(&["parts", &job, "--format", "json"]);
    let json: Value = serde_json::from_str(&json.out).unwrap();
    let sizes = json["pipe"].as_array().unwrap().iter();
    let sizes: Vec<&str> = sizes.filter_map(|line| line["size"].as_str()).collect();
    assert_eq!(sizes, ["3/4in", "1/2in"]);
}

#[test]
fn the_main_is_set_beside_its_neighbours() {
    let (prices, rates) = (
        path("catalogs-demo/iron.csv"),
        path("catalogs-demo/rates.toml"),
    );
    let demo = path("catalogs-demo/millrace.toml");
    let asked = [
        "air",
        &demo,
        "--sizes",
        "--catalog",
        &prices,
        "--rates",
        &rates,
    ];
    let outcome = run(&asked);
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    let row = |start: &str| {
        let mut lines = outcome.out.lines();
        let line = lines.find(|line| line.starts_with(start));
        line.unwrap_or_else(|| panic!("{}", outcome.out)).to_owned()
    };
    assert!(row("3/4in, as planned").contains("16.3 ft/s"));
    assert!(row("1/2in ").contains("28.8 ft/s"));
    assert!(row("1in ").contains("10.1 ft/s"));
    let json = run(&[&asked[..], &["--format", "json"]].concat());
    let json: Value = serde_json::from_str(&json.out).unwrap();
    let mains = json["main_sizes"].as_array().unwrap();
    let takes: Vec<f64> = mains
        .iter()
        .map(|main| main["takes_kpa"].as_f64().unwrap())
        .collect();
    assert!(takes.is_sorted_by(|a, b| a > b), "{takes:?}");
    let about: Vec<f64> = mains
        .iter()
        .map(|main| main["about"].as_str().unwrap().parse().unwrap())
        .collect();
    assert!(about.is_sorted_by(|a, b| a < b), "{about:?}");
    assert_eq!(mains[1]["planned"], true);
    assert_eq!(mains[0]["currency"], "USD");
    let alone = run(&["air", &demo, "--rates", &rates]);
    assert_eq!(alone.exit, Exit::Unreadable, "{}", alone.err);
}

use super::{Demand, SaidBy, demand};
use crate::job::{Job, read};
use crate::library::Library;
use crate::source::Source;

const GARAGE: &str = include_str!("../../../../catalogs-demo/garage.toml");
const MILLRACE: &str = include_str!("../../../../catalogs-demo/millrace.toml");
const BENCH: &str = r#"[{ tool = "impact wrench" }, { tool = "ratchet" }]"#;
const BAY: &str = r#"[{ tool = "tyre inflator", hose = "25ft x 1/4in" }]"#;

fn job(text: &str) -> Job {
    let library = Library::shipped().unwrap();
    let (job, findings) = read(&Source::new("job", text), &library);
    assert_eq!(findings, []);
    job.unwrap()
}

/// The garage with other tools at its bench, and none in its bay.
fn bench(tools: &str, people: Option<u8>) -> Demand {
    assert!(GARAGE.contains(BENCH) && GARAGE.contains(BAY));
    let mut job = job(&GARAGE.replace(BENCH, tools).replace(BAY, "[]"));
    job.people = people;
    demand(&job, &Library::shipped().unwrap())
}

fn cfm(demand: &Demand) -> [f64; 3] {
    let total = demand.total;
    [total.average, total.peak, total.connected].map(|flow| flow.cfm())
}

fn close(found: [f64; 3], wanted: [f64; 3]) {
    for (found, wanted) in found.iter().zip(wanted) {
        assert!((found - wanted).abs() < 1e-6, "{found} is not {wanted}");
    }
}

// The list's 18 cfm for half of the time, and 20 cfm for 15 % of it.
#[test]
fn a_share_is_taken_off_what_a_tool_takes_while_it_runs() {
    let two = bench(
        r#"[{ tool = "orbital sander" }, { tool = "wrench" }]"#,
        None,
    );
    close(cfm(&two), [9.0 + 3.0, 38.0, 38.0]);
    let stated = bench(
        r#"[{ tool = "sander", air = "10 cfm", share = 0.3 }]"#,
        None,
    );
    close(cfm(&stated), [3.0, 10.0, 10.0]);
    let figures = &stated.tools[0];
    assert_eq!(figures.running.said_by, SaidBy::Job);
    assert_eq!(figures.share.said_by, SaidBy::Job);
    assert_eq!(figures.best.unwrap().said_by, SaidBy::List);
    assert_eq!(
        (figures.outlet, figures.side, figures.by_hand),
        (0, 0, true)
    );
    assert_eq!(stated.without_tool, [1]);
}

#[test]
fn an_average_is_never_taken_off_twice() {
    // Beside the list's 18 cfm while it runs.
    let known = bench(r#"[{ tool = "sander", average = "6 cfm" }]"#, None);
    close(cfm(&known), [6.0, 18.0, 18.0]);
    assert!((known.tools[0].share.value - 6.0 / 18.0).abs() < 1e-9);
    let both = bench(r#"[{ air = "20 cfm", average = "5 cfm" }]"#, None);
    close(cfm(&both), [5.0, 20.0, 20.0]);
    let more = bench(r#"[{ tool = "clamp station", average = "5 cfm" }]"#, None);
    close(cfm(&more), [5.0, 5.0, 5.0]);
    let alone = bench(r#"[{ average = "5 cfm" }]"#, None);
    close(cfm(&alone), [5.0, 20.0, 20.0]);
    assert_eq!(alone.tools[0].running.said_by, SaidBy::Nobody);
    assert_eq!(
        alone.assumptions,
        [
            "the tool at `bench` takes 5 cfm on average: while it runs, 4 times as much is taken, 20 cfm (common practice: 3 to 5 times, no source).",
            "No tool is named at bay: nothing is added for what may hang there.",
        ]
    );
}

#[test]
fn a_tool_of_which_nobody_knows_the_share_runs_all_the_time() {
    let gun = bench(r#"[{ air = "14 cfm", note = "finish gun" }]"#, None);
    close(cfm(&gun), [14.0; 3]);
    assert_eq!(
        gun.assumptions[0],
        "Nothing says for which share of the time finish gun at `bench` runs: it is taken to run all the time."
    );
    assert_eq!(gun.tools[0].best, None);
}

// Three sanders of 18 cfm for half of the time: all three run in an eighth of
// it. One person holds one; the shares are 1.5 people, so each is cut to 1/3.
#[test]
fn nobody_holds_two_tools() {
    const SANDERS: &str = r#"[{ tool = "sander" }, { tool = "sander" }, { tool = "sander" }]"#;
    close(cfm(&bench(SANDERS, None)), [27.0, 54.0, 54.0]);
    close(cfm(&bench(SANDERS, Some(3))), [27.0, 54.0, 54.0]);
    close(cfm(&bench(SANDERS, Some(2))), [27.0, 36.0, 54.0]);
    let one = bench(SANDERS, Some(1));
    close(cfm(&one), [18.0, 18.0, 54.0]);
    assert!(one.assumptions.contains(
        &"The hand tools' shares of the time add up to 1.5 people, and 1 use air: each share is cut by the same factor.".to_owned()
    ));
    close(cfm(&bench(SANDERS, Some(0))), [0.0, 0.0, 54.0]);
    // A clamp needs no hand.
    close(
        cfm(&bench(r#"[{ tool = "clamp station" }]"#, Some(0))),
        [0.3, 1.0, 1.0],
    );
}

#[test]
fn no_tools_want_nothing() {
    let none = bench("[]", Some(3));
    close(cfm(&none), [0.0; 3]);
    assert_eq!(none.without_tool, [0, 1]);
}

// By hand: 18 × 0.6 + 6 × 0.2 + 14 × 0.5 + 2 × 0.3 + 18 × 0.4 + 0.3 + 0.04 +
// 0.05 + 4 × 0.05 = 27.39; all triggers down 64 and 0.9.
#[test]
fn the_demo_wants_more_than_it_has() {
    let job = job(MILLRACE);
    let shop = demand(&job, &Library::shipped().unwrap());
    let [average, peak, connected] = cfm(&shop);
    assert!((average - 27.39).abs() < 1e-6, "{average}");
    assert!((connected - 63.9).abs() < 1e-6, "{connected}");
    assert!((50.0..60.0).contains(&peak), "{peak}");
    let sum: f64 = shop.outlets.iter().map(|load| load.average.cfm()).sum();
    assert!((sum - average).abs() < 1e-6);
    let sides: Vec<usize> = shop.tools.iter().map(|tool| tool.side).collect();
    assert_eq!(sides, [1, 1, 0, 1, 1, 1, 1, 1, 1, 0]);
}

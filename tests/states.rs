//! Jobs in which not all is new: what stands is not bought, what comes out is counted
//! apart, what comes later is a plugged tee.

use crate::assembly::uncounted;
use crate::support::{Form, Outcome, Shop, folder, path, read, root, run, same_cases, shops};
use bom::assembly::assembly;
use bom::job::State;
use bom::library::Library;
use bom::network::Owner;
use bom::source::Source;
use bom::takeoff::{Counts, Of, PartLine, Seat};
use bom::{Plan, plan, plan_job};
use dripleg::Exit;
use proptest::prelude::{any, prop_assert, prop_assert_eq, proptest};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// A main of 20 ft that stands, with a drop at its end.
const STANDS: &str = r#"
[job]
title = "One more drop"
units = "feet"

[supply.compressor]
port    = "3/4in female"
height  = "3-0"
connect = ["valve", "hose 24in"]

[main]
system = "black-iron"
size   = "3/4in"
height = "10-0"
fall   = "level"

[[leg]]
from  = "compressor"
go    = ["up 7-0", "east 20-0"]
marks = { lathe = "12-0", last = "27-0" }
state = "existing"

[drop.plain]
take_off = "top"
size     = "3/4in"
foot     = "tee"
sides    = [["valve", "coupler 1/4in"]]
drip_leg = "8in"
drain    = "valve 1/2in"

[outlet.last]
drop   = "plain"
height = "4-0"
state  = "existing"
"#;

const LATHE: &str = "
[outlet.lathe]
drop   = \"plain\"
height = \"4-0\"
";

fn planned(job: &str) -> Plan {
    let library = Library::shipped().unwrap();
    let (plan, findings) = plan(&Source::new("job", job), &library);
    plan.unwrap_or_else(|| panic!("{findings:#?}\n{job}"))
}

/// Parts and joints with how many there are; pipe as its pieces.
fn count(counts: &Counts) -> BTreeMap<String, u64> {
    let mut count = BTreeMap::new();
    let mut add = |name: String, more: u64| *count.entry(name).or_default() += more;
    for line in &counts.lines {
        let name = format!("{} {}", line.key.part, line.key.size);
        add(name.trim().to_owned(), line.quantity);
    }
    for line in &counts.pipe {
        add(format!("pieces {}", line.size), line.pieces.len() as u64);
    }
    for joints in &counts.joints {
        add(format!("joints {}", joints.size), joints.count);
    }
    count
}

fn bought(plan: &Plan) -> BTreeMap<String, u64> {
    count(&Counts {
        lines: plan.takeoff.lines.clone(),
        pipe: plan.takeoff.pipe.clone(),
        joints: plan.takeoff.joints.clone(),
    })
}

fn by_hand(count: &[(&str, u64)]) -> BTreeMap<String, u64> {
    let count = count.iter();
    count
        .map(|(name, count)| ((*name).to_owned(), *count))
        .collect()
}

// The main is cut at the lathe: a tee, on one side of it a close nipple and a union. Up
// and over are two nipples of 4-1/2 in and two elbows; under the second a close nipple
// and the isolating valve, then the down pipe. At the foot: close nipple, valve,
// bushing, coupler; nipple 7 in, reducer, close nipple, drain valve.
// Joints of 3/4 in: 1 + 3 at the tee's run, 2 + 2 of the nipples, 2 to the valve, 2 of
// the down pipe, 3 to the bushing, 2 of the drip leg.
#[test]
fn a_drop_is_tied_into_iron() {
    let plan = planned(&format!("{STANDS}{LATHE}"));
    let hand = [
        ("ball-valve 3/4in", 2),
        ("bushing 3/4in x 1/4in", 1),
        ("close-nipple 1/2in", 1),
        ("close-nipple 3/4in", 3),
        ("quick-coupler 1/4in", 1),
        ("coupler-plug", 2),
        ("drain-valve 1/2in", 1),
        ("elbow-90 3/4in", 2),
        ("joints 1/2in", 2),
        ("joints 1/4in", 1),
        ("joints 3/4in", 17),
        ("nipple 3/4in x 4-1/2in", 2),
        ("nipple 3/4in x 7in", 1),
        ("pieces 3/4in", 1),
        ("reducer 3/4in x 1/2in", 1),
        ("tee 3/4in", 2),
        ("thread-tape", 1),
        ("union 3/4in", 1),
        ("wall-bracket 3/4in", 1),
    ];
    assert_eq!(bought(&plan), by_hand(&hand));
    let ties = plan.network.tie_ins();
    assert_eq!(ties.len(), 1);
    assert!(ties[0].cut);
    // 10 ft and the rise of 6 in, less 4 ft, less elbow, nipple and valve:
    // 1.3125 + 1.375 - 3 x 0.5625 + 2.625 in.
    // Outlets stand in the order of the file: `last`, then the lathe.
    assert_eq!(plan.network.drops[1].down.to_mm_text(), "1889.062");
}

// What is closed by a plug is as old as its pipe, and takes what goes on there: then
// nothing of the main is bought or cut.
#[test]
fn a_branch_that_the_job_says_is_plugged_takes_a_drop() {
    let plug = "\n[plug.lathe]\nway = \"up\"\n";
    let standing = planned(&format!("{STANDS}{plug}"));
    assert_eq!(bought(&standing), BTreeMap::new());
    assert_eq!(standing.network.plugged.len(), 1);
    let built =
        planned(&format!("{STANDS}{plug}").replace("state = \"existing\"\n\n[drop", "\n[drop"));
    assert_eq!(bought(&built)["tee 3/4in"], 1);
    assert_eq!(bought(&built)["pipe-plug 3/4in"], 1);
    let taken = bought(&planned(&format!("{STANDS}{plug}{LATHE}")));
    assert_eq!(taken["tee 3/4in"], 1);
    assert_eq!(taken.get("union 3/4in"), None);
}

// A new drop on main that stands has a valve at its head unless the job says otherwise.
#[test]
fn a_valve_at_the_head_of_a_drop_is_as_the_job_says() {
    let valves = |more: &str| {
        let plan = planned(&format!("{STANDS}{LATHE}{more}"));
        bought(&plan)["ball-valve 3/4in"]
    };
    assert_eq!(
        [
            valves(""),
            valves("head = \"valve\"\n"),
            valves("head = \"none\"\n")
        ],
        [2, 2, 1]
    );
}

// Copper has no unions: the tee takes a short piece and a coupling that slides. Valves
// have threads, and an adapter on each side that meets tube; where that is a socket, a
// short piece more.
#[test]
fn a_drop_is_tied_into_copper() {
    let job = format!("{STANDS}{LATHE}").replace("black-iron", "copper-l-soldered");
    let plan = planned(&job);
    let count = bought(&plan);
    let of = |name: &str| count.get(name).copied().unwrap_or_default();
    assert_eq!(of("coupling 3/4in"), 1, "{count:#?}");
    assert_eq!(of("union 3/4in"), 0);
    assert_eq!(of("tee 3/4in"), 2);
    assert_eq!(of("elbow-90 3/4in"), 2);
    assert_eq!(of("ball-valve 3/4in"), 2);
    // Above and below the isolating valve, and before the foot's.
    assert_eq!(of("adapter-male 3/4in"), 3);
    // Rise, reach, down pipe, drip leg; short pieces at the tee, above the isolating
    // valve and before the foot's.
    assert_eq!(of("pieces 3/4in"), 7);
}

// The drop comes out, its tee stays and is plugged.
#[test]
fn a_drop_is_taken_out() {
    let plan = planned(&format!("{STANDS}{LATHE}state = \"remove\"\n"));
    let plug = [
        ("joints 3/4in", 1),
        ("pipe-plug 3/4in", 1),
        ("thread-tape", 1),
    ];
    assert_eq!(bought(&plan), by_hand(&plug));
    let out = [
        ("ball-valve 3/4in", 1),
        ("bushing 3/4in x 1/4in", 1),
        ("close-nipple 1/2in", 1),
        ("close-nipple 3/4in", 1),
        ("quick-coupler 1/4in", 1),
        ("drain-valve 1/2in", 1),
        ("elbow-90 3/4in", 2),
        ("joints 1/2in", 2),
        ("joints 1/4in", 1),
        ("joints 3/4in", 11),
        ("nipple 3/4in x 4-1/2in", 2),
        ("nipple 3/4in x 7in", 1),
        ("pieces 3/4in", 1),
        ("reducer 3/4in x 1/2in", 1),
        ("tee 3/4in", 1),
        ("wall-bracket 3/4in", 1),
    ];
    assert_eq!(count(&plan.takeoff.taken_out), by_hand(&out));
}

// The new tee cuts the main once: a piece and two joints more, and the plug's.
#[test]
fn what_comes_later_is_a_plugged_tee_now() {
    let new = STANDS
        .replace("state = \"existing\"\n", "")
        .replace("state  = \"existing\"\n", "");
    let mut hand = bought(&planned(&new.replace("lathe = \"12-0\", ", "")));
    for (name, more) in [
        ("joints 3/4in", 3),
        ("pieces 3/4in", 1),
        ("pipe-plug 3/4in", 1),
        ("tee 3/4in", 1),
    ] {
        *hand.entry(name.to_owned()).or_default() += more;
    }
    let later = planned(&format!("{new}{LATHE}state = \"later\"\n"));
    assert_eq!(bought(&later), hand);
    assert_eq!(later.network.drops.len(), 1);
}

#[test]
fn what_comes_later_on_pipe_that_stands_is_plugged_already() {
    let plan = planned(&format!("{STANDS}{LATHE}state = \"later\"\n"));
    assert_eq!(bought(&plan), BTreeMap::new());
    assert_eq!(plan.network.plugged.len(), 1);
}

// The old main comes out as a whole; the drop at its end stays and is screwed to the
// new one: an elbow new, a union on the drop's nipple.
#[test]
fn a_main_is_replaced_under_a_drop_that_stays() {
    let old = "[[leg]]\nfrom  = \"compressor\"\ngo    = [\"up 7-0\", \"east 20-0\"]\nmarks = { lathe = \"12-0\", last = \"27-0\" }\nstate = \"existing\"\n";
    assert!(STANDS.contains(old));
    let old = old.replace("lathe = \"12-0\", ", "");
    let out = old.replace("\"existing\"", "\"remove\"");
    let new = old.replace("state = \"existing\"\n", "size = \"1in\"\n");
    let at = STANDS.find("[[leg]]").unwrap();
    let rest = STANDS.find("[drop.plain]").unwrap();
    let job = format!("{}{out}\n{new}\n{}", &STANDS[..at], &STANDS[rest..]);
    let plan = planned(&job);
    let gone = count(&plan.takeoff.taken_out);
    let of =
        |count: &BTreeMap<String, u64>, name: &str| count.get(name).copied().unwrap_or_default();
    // The riser and the level straight, with the elbow between them and the one under the drop.
    assert_eq!(of(&gone, "pieces 3/4in"), 2, "{gone:#?}");
    assert_eq!(of(&gone, "elbow-90 3/4in"), 1);
    let new = bought(&plan);
    assert_eq!(of(&new, "pieces 1in"), 2, "{new:#?}");
    assert_eq!(of(&new, "union 3/4in"), 1);
    assert_eq!(of(&new, "wall-bracket 3/4in"), 0);
    assert_eq!(plan.network.tie_ins().len(), 1);
}

#[test]
fn a_new_branch_has_a_valve_where_it_leaves_pipe_that_stands() {
    let branch = "[[leg]]\nfrom = \"lathe\"\ngo = \"north 10-0\"\nto = \"saw\"\n\n[outlet.saw]\ndrop = \"plain\"\nheight = \"4-0\"\n";
    let plan = planned(&format!("{STANDS}{branch}"));
    let names: Vec<&str> = plan
        .network
        .valves
        .iter()
        .map(|valve| valve.name.as_str())
        .collect();
    assert_eq!(names, ["lathe branch"]);
    assert_eq!(plan.network.tie_ins().len(), 1);
    let said = plan.takeoff.assumptions.join("\n");
    // Nor does what is taken out elsewhere know it.
    let out = format!("{STANDS}{branch}").replace(
        "height = \"4-0\"\nstate  = \"existing\"",
        "height = \"4-0\"\nstate  = \"remove\"",
    );
    assert_eq!(planned(&out).network.valves.len(), 1);
    assert!(
        said.contains("isolating valve 1'-0\" from where it leaves"),
        "{said}"
    );
}

#[test]
fn what_is_not_measured_on_pipe_that_stands_holds_no_quote_back() {
    let paced = STANDS
        .replace("east 20-0", "east ?")
        .replace("marks = { lathe = \"12-0\", last = \"27-0\" }\n", "")
        .replace(
            "state = \"existing\"\n\n[drop",
            "to = \"last\"\nstate = \"existing\"\n\n[drop",
        );
    assert!(planned(&paced).job.unmeasured.is_empty());
    let new = paced.replace("to = \"last\"\nstate = \"existing\"", "to = \"last\"");
    assert_eq!(planned(&new).job.unmeasured.len(), 1);
}

/// A generated job with what becomes of its parts, by the bits of a number.
fn mixed(shop: &Shop, bits: u64) -> bom::job::Job {
    let library = Library::shipped().unwrap();
    let job = bom::job::read(&Source::new("job", shop.job(Form::default())), &library)
        .0
        .unwrap();
    let plan = plan_job(job, &library, None).0.unwrap();
    let mut job = plan.job.clone().sized_as(&plan.network);
    let mut bit = 0;
    let mut state = |span| {
        bit += 1;
        let state = if bits >> (bit % 64) & 1 == 1 {
            State::Existing
        } else {
            State::New
        };
        Some(bom::source::Spanned::new(state, span))
    };
    for leg in &mut job.legs {
        leg.state = state(leg.span);
    }
    for outlet in &mut job.outlets {
        outlet.state = state(outlet.name.span);
    }
    for drain in &mut job.drains {
        drain.state = state(drain.name.span);
    }
    for valve in &mut job.valves {
        valve.state = state(valve.name.span);
    }
    for supply in &mut job.supplies {
        supply.state = state(supply.name.span);
    }
    job
}

/// Every reason of a list but those of what is only kept at hand.
fn reasons<'a>(lines: impl IntoIterator<Item = &'a PartLine>) -> Vec<(String, Seat)> {
    let mut all: Vec<(String, Seat)> = lines
        .into_iter()
        .flat_map(|line| {
            let name = format!("{} {}", line.words, line.key.size);
            line.because
                .iter()
                .map(move |because| (name.clone(), because.seat()))
        })
        .filter(|(_, seat)| seat.of != Of::AtHand)
        .collect();
    all.sort();
    all
}

/// A job and what its commands read, in a folder of its own.
fn written(name: &str, job: &str) -> String {
    let file = folder(name).join("job.toml");
    std::fs::write(&file, job).unwrap();
    file.display().to_string()
}

/// A tie-in and what is taken out have their hours; what the rates lack stays open.
#[test]
fn work_on_what_stands_has_its_hours_and_its_holes() {
    let saw = "\n[outlet.saw]\ndrop = \"plain\"\nheight = \"4-0\"\nstate = \"remove\"\n";
    let job = format!("{STANDS}{LATHE}{saw}")
        .replace("last = \"27-0\"", "last = \"27-0\", saw = \"20-0\"");
    let job = written("states-hours", &job);
    let rates = read(root().join("catalogs-demo/rates.toml"));
    let own = folder("states-rates").join("rates.toml");
    let catalog = path("catalogs-demo/iron.csv");
    let estimate = |rates: &str| {
        std::fs::write(&own, rates).unwrap();
        let own = own.display().to_string();
        let figures = [
            "--catalog",
            &catalog,
            "--rates",
            &own,
            "--date",
            "2026-11-02",
        ];
        run(&[&["estimate", &job, "--format", "csv"][..], &figures].concat())
    };
    let all = estimate(&rates);
    assert_eq!(all.exit, Exit::Done, "{}", all.err);
    // One tie-in; a drop with a down pipe of 6 ft 4.5 in, at 1.13 lb a foot, its bracket
    // and its 14 joints.
    for line in [
        "1 tie-in at 1.5 hours",
        "7 ft at 0.02 hours",
        "1 support at 0.10 hours",
        "14 joints at 0.05 hours",
        "Disposal of old pipe",
    ] {
        assert!(all.out.contains(line), "{line}\n{}", all.out);
    }
    let rates = rates.replace("tie_in ", "# tie_in ");
    let holes = estimate(&rates.replace("disposal_lb ", "# disposal_lb "));
    assert_eq!(holes.exit, Exit::Stopped);
    for hole in ["add `tie_in` under [hours]", "add `disposal_lb`"] {
        assert!(holes.err.contains(hole), "{hole}\n{}", holes.err);
    }
}

/// A shop in which all stands has nothing to be paid.
#[test]
fn what_all_stands_costs_nothing() {
    let job = written("states-free", &STANDS.replace("lathe = \"12-0\", ", ""));
    let figures = [
        path("catalogs-demo/iron.csv"),
        path("catalogs-demo/rates.toml"),
    ];
    let [catalog, rates] = &figures;
    let words = ["quote", &job, "--catalog", catalog, "--rates", rates];
    let quote = run(&[&words[..], &["--date", "2026-11-02", "--format", "json"]].concat());
    assert_eq!(quote.exit, Exit::Done, "{}", quote.err);
    let quote: Value = serde_json::from_str(&quote.out).unwrap();
    assert_eq!(quote["total"], "0.00");
}

fn add_drop(job: &str, more: &[&str]) -> Outcome {
    run(&[&["add-drop", job], more].concat())
}

/// How many of a part an answer lists.
fn listed(said: &Value, part: &str) -> u64 {
    let lines = said["lines"].as_array().unwrap().iter();
    let of_part = lines.filter(|line| line["part"] == part);
    of_part.map(|line| line["quantity"].as_u64().unwrap()).sum()
}

#[test]
fn one_more_drop_is_answered() {
    let figures = ["millrace.toml", "iron.csv", "rates.toml"]
        .map(|file| path(&format!("catalogs-demo/{file}")));
    let [job, catalog, rates] = &figures;
    let more = [
        "--name",
        "lathe",
        "--on",
        "north wall",
        "--at",
        "20-0",
        "--tool",
        "orbital sander",
    ];
    let figures = [
        "--catalog",
        catalog,
        "--rates",
        rates,
        "--date",
        "2026-11-02",
        "--format",
        "json",
    ];
    let said = add_drop(job, &[&more[..], &figures].concat());
    assert_eq!(said.exit, Exit::Done, "{}", said.err);
    let said: Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(said["shut"], json!(["V1 (at the tank compressor)"]));
    let without = ["bench", "router", "spray", "press", "assembly", "door"];
    assert_eq!(said["without_air"], json!(without));
    assert_eq!(said["worst_before"]["outlet"], "door");
    assert_eq!(said["plugged_tee"], false);
    let parts = ["tee", "cross", "union", "ball-valve"].map(|part| listed(&said, part));
    assert_eq!(parts, [1, 1, 1, 3]);
    assert!(said["price"]["total"].is_string());
}

#[test]
fn what_one_more_drop_is_asked_wrongly_is_told() {
    let millrace = path("catalogs-demo/millrace.toml");
    for (more, says) in [
        (&["--name", "bench"][..], "the job has it already"),
        (
            &["--name", "x", "--on", "attic"],
            "there is no leg `attic`: known are leg 1",
        ),
        (&["--name", "x", "--at", "4-0"], "say on which leg"),
        (
            &["--name", "x", "--on", "3", "--at", "20"],
            "a bare number is never a length",
        ),
        (
            &["--name", "x", "--on", "3", "--at", "60-0"],
            "48'-0\" long",
        ),
        (&["--name", "x", "--drop", "pant"], "did you mean `paint`?"),
        (
            &["--name", "x", "--tool", "orbitl sander"],
            "did you mean `orbital sander`?",
        ),
    ] {
        let said = add_drop(&millrace, more);
        assert_eq!(said.exit, Exit::Unreadable, "{more:?}");
        assert!(said.err.contains(says), "{more:?}\n{}", said.err);
    }
}

// The plug comes out of the tee that stands: neither a tee nor a union is bought but that
// of the foot.
#[test]
fn a_drop_goes_into_the_plugged_tee_that_waits_for_it() {
    let job = written(
        "states-plugged",
        &format!("{STANDS}{LATHE}state = \"later\"\n"),
    );
    let said = add_drop(&job, &["--name", "lathe", "--format", "json"]);
    assert_eq!(said.exit, Exit::Done, "{}", said.err);
    let said: Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(said["plugged_tee"], true);
    let parts = ["tee", "union", "ball-valve"].map(|part| listed(&said, part));
    assert_eq!(parts, [1, 0, 2]);
}

proptest! {
    #![proptest_config(same_cases(24))]

    #[test]
    fn every_mixture_counts_and_each_part_is_bought_or_stands(shop in shops(1..9), bits in any::<u64>()) {
        let library = Library::shipped().unwrap();
        let (plan, findings) = plan_job(mixed(&shop, bits), &library, None);
        prop_assert!(plan.is_some(), "{:#?}\n{:#x}\n{}", findings, bits, shop.job(Form::default()));
        let plan = plan.unwrap();
        let built = assembly(&plan.job, &plan.network, &library, &plan.takeoff);
        prop_assert_eq!(uncounted(&plan, &built), Vec::<String>::new());
        for line in &plan.takeoff.lines {
            prop_assert_eq!(line.quantity, line.because.len() as u64);
        }
    }

    #[test]
    fn what_all_stands_buys_nothing_and_is_as_much(shop in shops(1..9)) {
        let library = Library::shipped().unwrap();
        let new = plan_job(mixed(&shop, 0), &library, None).0.unwrap();
        let stands = plan_job(mixed(&shop, u64::MAX), &library, None).0.unwrap();
        prop_assert!(stands.takeoff.lines.is_empty() && stands.takeoff.pipe.is_empty());
        prop_assert!(stands.takeoff.joints.is_empty() && stands.network.tie_ins().is_empty());
        prop_assert_eq!(reasons(&new.takeoff.lines), reasons(&stands.takeoff.standing.lines));
    }

    #[test]
    fn one_outlet_that_stands_takes_its_own_reasons_along(shop in shops(1..9), which in 0_usize..9) {
        let library = Library::shipped().unwrap();
        let job = mixed(&shop, 0);
        let which = which % job.outlets.len();
        let new = plan_job(job.clone(), &library, None).0.unwrap();
        let mut stands = job;
        let span = stands.outlets[which].name.span;
        stands.outlets[which].state = Some(bom::source::Spanned::new(State::Existing, span));
        let plan = plan_job(stands, &library, None).0.unwrap();
        let owner = Owner::Outlet(which);
        let own = |place| plan.network.node(place).origin.owner == owner;
        // What joins the drop to the main is made anew, perhaps with a union.
        let take_off = plan.network.drops[which].take_off_at;
        let beside = |seat: &Seat| match seat.of {
            Of::End(link) => seat.place == take_off && plan.network.ends_of(link).into_iter().any(own),
            _ => false,
        };
        let mut all = reasons(&new.takeoff.lines);
        all.retain(|(_, seat)| !own(seat.place) && !beside(seat));
        let mut bought = reasons(&plan.takeoff.lines);
        prop_assert!(bought.iter().all(|(_, seat)| !own(seat.place)));
        bought.retain(|(_, seat)| !beside(seat));
        prop_assert_eq!(all, bought);
    }
}

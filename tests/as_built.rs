//! The job frozen as it was built: it buys nothing, and answers as the job that it was
//! frozen from.

use crate::support::{Form, Shop, folder, path, read, root, run, same_cases, shops};
use bom::handover::{Asked, done_with, freeze, handover, misfit};
use bom::job::AsBuilt;
use bom::library::Library;
use bom::source::Source;
use bom::{Plan, plan};
use dripleg::Exit;
use dripleg::output::frozen::frozen;
use pricing::change::worst;
use proptest::prelude::{any, prop_assert_eq, proptest};
use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

fn planned(text: &str, library: &Library) -> Plan {
    let (plan, findings) = plan(&Source::new("job", text), library);
    plan.unwrap_or_else(|| panic!("{findings:#?}\n{text}"))
}

/// The frozen text of a job, before anything of what was accepted is taken out.
fn freeze_text(text: &str, plan: &Plan, library: &Library) -> String {
    let from = AsBuilt {
        mark: "4F2A-91C0".to_owned(),
        date: "2026-11-02".to_owned(),
    };
    let source = Source::new("job", text);
    frozen(text, &freeze(&source, plan, library, &from), &[]).unwrap()
}

/// How often each rule finds something, of what is not accepted.
fn found(text: &str, plan: &Plan, library: &Library) -> BTreeMap<String, usize> {
    let (_, findings) = bom::plan(&Source::new("job", text), library);
    let mut count = BTreeMap::new();
    for finding in findings.iter().chain(&plan.practice) {
        *count.entry(finding.rule.to_owned()).or_default() += 1;
    }
    count
}

/// What differs between a job and the frozen one: nothing.
fn differences(text: &str, library: &Library) -> Vec<String> {
    let whole = planned(text, library);
    let text_after = freeze_text(text, &whole, library);
    let after = planned(&text_after, library);
    let mut wrong = Vec::new();
    wrong.extend(misfit(&whole, &after));
    let mut same = |what: &str, a: String, b: String| {
        if a != b {
            wrong.push(format!("{what}:\n{a}\n{b}\n{text_after}"));
        }
    };
    let tool = |plan: &Plan| format!("{:?}", worst(plan, library));
    same("worst tool", tool(&whole), tool(&after));
    let water = |plan: &Plan| {
        let amounts = format!("{:?} {:?}", plan.amounts, plan.freezing.len());
        let ends: Vec<_> = plan.water.ends.iter().map(|end| &end.kind).collect();
        format!("{amounts} {ends:?}")
    };
    same("water", water(&whole), water(&after));
    let sheets = |plan: &Plan| {
        // What stands takes part in a test, which that sheet says.
        let wanted = |word: &str| !["before", "as-built"].contains(&word);
        let made = handover(plan, library, Asked::default(), wanted);
        format!("{:#?} {:?}", made.sheets, made.figures)
    };
    same("handover", sheets(&whole), sheets(&after));
    let before = found(text, &whole, library);
    for (rule, count) in found(&text_after, &after, library) {
        if count > before.get(&rule).copied().unwrap_or_default() {
            wrong.push(format!("{rule} is new:\n{text_after}"));
        }
    }
    // Frozen once more it is itself, but for what it says of where it is from.
    let again = freeze_text(&text_after, &after, library);
    if again != text_after {
        wrong.push(format!("frozen again it differs:\n{text_after}\n{again}"));
    }
    wrong
}

/// The jobs of the demo, of the counted cases and of the drawings.
fn jobs() -> Vec<PathBuf> {
    let mut jobs = Vec::new();
    for folder in ["catalogs-demo", "tests/drawing"] {
        jobs.extend(crate::support::files(folder, "toml"));
    }
    for case in std::fs::read_dir(root().join("tests/cases")).unwrap() {
        jobs.push(case.unwrap().path().join("job.toml"));
    }
    jobs.retain(|job| job.is_file() && read(job).contains("[[leg]]"));
    // The largest adds minutes and nothing that the ring of twenty does not have.
    jobs.retain(|job| !job.ends_with("hall-of-a-hundred.toml"));
    jobs.sort();
    jobs
}

#[test]
fn every_job_of_the_repository_answers_as_before_when_it_stands() {
    let library = Library::shipped().unwrap();
    let mut wrong = Vec::new();
    for job in jobs() {
        let found = differences(&read(&job), &library);
        wrong.extend(
            found
                .into_iter()
                .map(|one| format!("{}: {one}", job.display())),
        );
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A generated shop of which some outlets stand and some come later.
fn mixed(shop: &Shop, bits: u64) -> String {
    let mut bit = 0;
    let lines: Vec<String> = shop
        .job(Form::default())
        .lines()
        .map(|line| {
            if !line.starts_with("[outlet.") {
                return line.to_owned();
            }
            bit += 1;
            match bits >> (bit % 64) & 1 {
                1 => format!("{line}\nstate = \"later\""),
                _ => line.to_owned(),
            }
        })
        .collect();
    lines.join("\n")
}

proptest! {
    #![proptest_config(same_cases(12))]

    #[test]
    fn a_generated_shop_answers_as_before_when_it_stands(
        shop in shops(1..6),
        bits in any::<u64>(),
    ) {
        let library = Library::shipped().unwrap();
        for text in [shop.job(Form::default()), mixed(&shop, bits & !2)] {
            let wrong = differences(&text, &library);
            prop_assert_eq!(wrong, Vec::<String>::new());
        }
    }
}

// The old drop, the old drain and the old branch leave plugs; the new branch has got a
// valve, and the lathe's drop one at its head; the alternate was not built; what is to come
// on pipe that is to come keeps its open size.
#[test]
fn what_comes_out_leaves_its_plug_and_what_was_given_stays() {
    let library = Library::shipped().unwrap();
    let text = read(root().join("tests/as_built/every-state.toml"));
    let whole = planned(&text, &library);
    let after_text = freeze_text(&text, &whole, &library);
    let after = planned(&after_text, &library);
    assert_eq!(misfit(&whole, &after), None);
    assert_eq!(worst(&whole, &library), worst(&after, &library));
    let file: toml::Table = after_text.parse().unwrap();
    let names = |key: &str| -> BTreeSet<&str> {
        let table = file[key].as_table().unwrap();
        table.keys().map(String::as_str).collect()
    };
    assert_eq!(names("plug"), BTreeSet::from(["old", "oldd", "tee2"]));
    assert_eq!(names("valve"), BTreeSet::from(["tee branch"]));
    assert!(!names("outlet").contains("old"));
    assert!(!names("outlet").contains("gone"));
    for gone in ["alternate", "option", "drain"] {
        assert!(!file.contains_key(gone), "{gone}");
    }
    let at = |path: &[&str]| {
        let mut value = &toml::Value::Table(file.clone());
        for key in path {
            value = match key.parse::<usize>() {
                Ok(index) => &value[index],
                Err(_) => &value[*key],
            };
        }
        value.as_str().unwrap_or_default().to_owned()
    };
    assert_eq!(at(&["main", "size"]), "1in");
    assert_eq!(at(&["leg", "1", "go"]), "north ?");
    assert_eq!(at(&["leg", "1", "size"]), "3/4in");
    assert_eq!(at(&["leg", "4", "size"]), "auto");
    assert_eq!(at(&["leg", "3", "state"]), "later");
    assert_eq!(at(&["outlet", "lathe", "head"]), "valve");
    assert_eq!(at(&["outlet", "lathe", "drop"]), "plain 1/2in");
    assert_eq!(at(&["outlet", "rack", "height"]), "?");
    assert_eq!(at(&["outlet", "spare", "state"]), "later");
    let stand_ins = |plan: &Plan| {
        let said = plan.network.assumptions.iter();
        said.filter(|one| one.starts_with("To confirm")).count()
    };
    assert_eq!(stand_ins(&whole), 2);
    assert_eq!(stand_ins(&after), 2);
    // Nobody has to measure for a quote what is not bought.
    let accepted = [(
        "length-not-measured".to_owned(),
        "nobody could get behind the rack".to_owned(),
    )];
    assert_eq!(done_with(&whole, &after), accepted);
}

// Tables in braces, keys with dots, ends of lines of another system.
#[test]
fn a_job_in_another_form_of_toml_is_frozen_alike() {
    let library = Library::shipped().unwrap();
    let text = read(root().join("tests/as_built/every-state.toml"));
    let table = |text: &str| text.parse::<toml::Table>().unwrap();
    let frozen = freeze_text(&text, &planned(&text, &library), &library);
    let lines = table(&text);
    let lines = lines
        .iter()
        .map(|(key, value)| format!("{key} = {value}\n"));
    let dotted = text.replace("[alternate.store]\nadd", "[alternate]\nstore.add");
    for form in [lines.collect(), dotted, text.replace('\n', "\r\n")] {
        let of_form = freeze_text(&form, &planned(&form, &library), &library);
        assert_eq!(table(&frozen), table(&of_form), "{of_form}");
        let ends = |text: &str| text.matches("\r\n").count();
        assert_eq!(ends(&form) > 0, ends(&of_form) == of_form.lines().count());
    }
}

fn flat(said: &str) -> String {
    said.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What one more drop takes, without the lines of the file.
fn one_more(job: &str, more: &[&str]) -> String {
    let said = run(&[&["add-drop", job], more].concat());
    assert_eq!(said.exit, Exit::Done, "{}", said.err);
    let said = flat(&said.out);
    let mut pieces = said.split(" (line ");
    let first = pieces.next().unwrap().to_owned();
    pieces.fold(first, |text, piece| text + piece.split_once(')').unwrap().1)
}

// A place that is plugged already, and a new one.
#[test]
fn one_more_drop_takes_the_same_from_the_frozen_job() {
    let library = Library::shipped().unwrap();
    let text = read(root().join("tests/as_built/every-state.toml"));
    let frozen = freeze_text(&text, &planned(&text, &library), &library);
    let after = folder("as-built-one-more").join("job.toml");
    std::fs::write(&after, frozen).unwrap();
    let (before, after) = (
        path("tests/as_built/every-state.toml"),
        after.display().to_string(),
    );
    for more in [
        &["--name", "spare"][..],
        &["--name", "extra", "--on", "1", "--at", "30-0"],
    ] {
        // Where legs come out, those behind them are counted anew.
        let renumbered = |said: String| said.split("Assumptions").next().unwrap().to_owned();
        let [one, other] = [&before, &after].map(|job| renumbered(one_more(job, more)));
        assert_eq!(one, other);
        assert!(one.contains("tool-side plug"), "{one}");
    }
}

#[test]
fn the_folder_is_whole_and_can_be_moved() {
    let folder = folder("as-built");
    let tools = folder.join("own tools.csv");
    let own = "tool,air,share,least,best,source\nedge bander,9 cfm,20 %,70 psi,90 psi,its plate\n";
    std::fs::write(&tools, own).unwrap();
    let tools = tools.display().to_string();
    let out = folder.join("frozen");
    let job = path("catalogs-demo/millrace.toml");
    let asked = |out: &std::path::Path| {
        run(&[
            "handover",
            &job,
            "--as-built",
            &out.display().to_string(),
            "--date",
            "2026-11-02",
            "--tool-file",
            &tools,
        ])
    };
    let done = asked(&out);
    assert_eq!(done.exit, Exit::Done, "{}", done.err);
    assert_eq!(done.out, "");
    let mut names: Vec<String> = std::fs::read_dir(&out)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    let wanted = [
        "README.txt",
        "checksums.txt",
        "crew.pdf",
        "data",
        "handover.pdf",
        "job.toml",
        "report.html",
    ];
    assert_eq!(names, wanted);
    assert_eq!(read(out.join("data/own tools.csv")), own);
    let page = read(out.join("report.html"));
    assert!(page.contains("Water and drains"));
    for buying in ["Parts to buy", "Pieces to cut", "before any pipe is cut"] {
        assert!(!page.contains(buying), "{buying}");
    }
    let said = read(out.join("README.txt"));
    assert!(said.contains("--tool-file"), "{said}");
    let sums = read(out.join("checksums.txt"));
    assert_eq!(sums.lines().count(), wanted.len() - 1);
    assert!(
        sums.lines()
            .all(|line| line.len() > 66 && line[64..66] == *"  ")
    );

    // A second time, and where something stands already.
    let again = asked(&folder.join("again"));
    assert_eq!(again.exit, Exit::Done);
    assert_eq!(read(folder.join("again/checksums.txt")), sums);
    let there = asked(&out);
    assert_eq!(there.exit, Exit::Unreadable);
    assert!(there.err.contains("not an empty folder"), "{}", there.err);

    let moved = folder.join("elsewhere");
    std::fs::rename(&out, &moved).unwrap();
    let frozen = moved.join("job.toml").display().to_string();
    let tools = moved.join("data/own tools.csv").display().to_string();
    let parts = run(&["parts", &frozen, "--format", "json"]);
    assert_eq!(parts.exit, Exit::Done, "{}", parts.err);
    assert_eq!(parts.err, "");
    let parts: serde_json::Value = serde_json::from_str(&parts.out).unwrap();
    assert_eq!(parts["lines"], serde_json::json!([]));
    assert_eq!(parts["pipe"], serde_json::json!([]));
    let more = ["--name", "extra", "--tool-file", &tools];
    assert_eq!(one_more(&job, &more), one_more(&frozen, &more));
    let mark = |said: &str| {
        let (_, mark) = said.split_once("mark ").unwrap();
        mark.chars().take("4F2A-91C0".len()).collect::<String>()
    };
    let sheet = ["--sheet", "as-built", "--tool-file", &tools];
    let before = run(&[&["handover", &job][..], &sheet].concat());
    let after = run(&[&["handover", &frozen][..], &sheet].concat());
    let from = format!(
        "Frozen as built on 2026-11-02 from the job of the mark {}:",
        mark(&before.out)
    );
    assert!(flat(&after.out).contains(&from), "{from}\n{}", after.out);
    let mine = format!("made of job.toml have the mark {}.", mark(&after.out));
    assert!(flat(&said).contains(&mine), "{mine}\n{said}");
}

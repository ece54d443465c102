//! Every bad job and every bad pipe system is refused, at its place, in words that help.

use crate::support::{files, matches_file, path, read, run};
use dripleg::Exit;
use std::fmt::Write as _;
use std::path::PathBuf;

/// What the first line of a bad job promises.
struct Promise {
    lines: Option<Vec<usize>>,
    says: Vec<String>,
}

fn promise(text: &str) -> Promise {
    let first = text.lines().next().unwrap_or_default();
    let (rest, says) = match first.split_once("Must say: ") {
        Some((rest, says)) => (
            rest,
            says.split(" / ").map(|say| say.trim().to_owned()).collect(),
        ),
        None => (first, Vec::new()),
    };
    let lines = [". Line ", ". Lines "]
        .into_iter()
        .find_map(|word| rest.split_once(word))
        .map(|(_, rest)| rest.split('.').next().unwrap_or_default())
        .map(|numbers| {
            let numbers = numbers.split(", ");
            numbers
                .map(|number| number.trim().parse().unwrap())
                .collect()
        });
    Promise { lines, says }
}

#[test]
fn bad_jobs_are_refused_at_their_place_in_words_that_help() {
    let jobs = files("tests/bad", "toml");
    assert!(jobs.len() >= 40, "only {} bad jobs", jobs.len());
    refused(&jobs, &["check"]);
}

#[test]
fn bad_systems_are_refused_at_their_place_in_words_that_help() {
    let systems = files("tests/bad-systems", "toml");
    assert!(systems.len() >= 15, "only {} bad systems", systems.len());
    let job = path("catalogs-demo/garage.toml");
    refused(&systems, &["check", &job, "--system-file"]);
}

#[test]
fn bad_lists_of_tools_are_refused_at_their_place_in_words_that_help() {
    let lists = files("tests/bad-tools", "csv");
    assert!(lists.len() >= 3, "only {} bad lists of tools", lists.len());
    let job = path("catalogs-demo/garage.toml");
    refused(&lists, &["check", &job, "--tool-file"]);
}

#[test]
fn bad_price_lists_are_refused_at_their_place_in_words_that_help() {
    let mut lists = files("tests/bad-catalogs", "csv");
    lists.extend(files("tests/bad-catalogs", "toml"));
    assert!(lists.len() >= 10, "only {} bad price lists", lists.len());
    refused(&lists, &["catalog", "check"]);
}

#[test]
fn bad_run_sheets_are_refused_at_their_place_in_words_that_help() {
    let sheets = files("tests/bad-sheets", "csv");
    assert!(sheets.len() >= 12, "only {} bad run sheets", sheets.len());
    refused(&sheets, &["import"]);
}

#[test]
fn bad_records_of_readings_are_refused_at_their_place_in_words_that_help() {
    let records = files("tests/bad-readings", "toml");
    assert!(records.len() >= 5, "only {} bad records", records.len());
    let job = path("catalogs-demo/millrace.toml");
    refused(&records, &["handover", &job, "--readings"]);
}

/// Runs the command on each file, and holds what it says against the first
/// line of the file and against what is expected.
fn refused(files: &[PathBuf], command: &[&str]) {
    let mut wrong = String::new();
    for file in files {
        let name = file.file_stem().unwrap().to_string_lossy().into_owned();
        let promise = promise(&read(file));
        let outcome = run(&[command, &[&file.display().to_string()]].concat());
        let said = format!(
            "exit {}\n{}{}",
            outcome.exit.code(),
            outcome.out,
            outcome.err
        );

        if !matches!(outcome.exit, Exit::Stopped | Exit::Unreadable) {
            let _ = writeln!(wrong, "{name}: exit {:?}", outcome.exit);
        }
        for say in &promise.says {
            if !said.contains(say.as_str()) {
                let _ = writeln!(wrong, "{name}: does not say `{say}`");
            }
        }
        let found: Vec<usize> = said
            .lines()
            .filter_map(|line| line.trim_start().strip_prefix("--> "))
            .filter_map(|place| place.rsplit(':').nth(1)?.parse().ok())
            .collect();
        if promise.lines.is_some_and(|lines| lines != found) {
            let _ = writeln!(wrong, "{name}: points at lines {found:?}");
        }
        let expected = file.with_file_name("expected").join(format!("{name}.txt"));
        matches_file(&expected, &said, &mut wrong);
    }
    assert!(wrong.is_empty(), "{wrong}");
}

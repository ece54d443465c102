//! What a job file may say, as a list and as a schema; files laid out evenly; the manual.

use crate::support::{folder, read, root, run};
use dripleg::Exit;
use dripleg::output::tidy::tidy;
use serde_json::Value;
use std::path::PathBuf;

/// Every job file of the repository.
fn jobs() -> Vec<PathBuf> {
    let mut folders = vec![root().join("catalogs-demo"), root().join("tests")];
    let mut jobs = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "toml")
                && read(&path).contains("[[leg]]")
            {
                jobs.push(path);
            }
        }
    }
    jobs.sort();
    jobs
}

#[test]
fn the_list_names_every_table_and_one_alone_when_asked() {
    let all = run(&["keys"]);
    assert_eq!(all.exit, Exit::Done, "{}", all.err);
    for table in [
        "[job], in every job",
        "[[leg]], in every job",
        "[outlet.NAME]",
        "{ … }, a tool",
    ] {
        assert!(all.out.contains(table), "{table}");
    }
    let one = run(&["keys", "drain"]);
    assert!(one.out.starts_with("[drain.NAME]"), "{}", one.out);
    assert!(!one.out.contains("[[leg]]"));
    let none = run(&["keys", "drian"]);
    assert_eq!(none.exit, Exit::Unreadable);
    assert!(none.err.contains("did you mean `drain`?"), "{}", none.err);
}

#[test]
fn the_schema_has_the_tables_their_words_and_what_must_be_there() {
    let schema = run(&["keys", "--format", "schema"]);
    let schema: Value = serde_json::from_str(&schema.out).unwrap();
    assert_eq!(
        schema["required"],
        serde_json::json!(["job", "supply", "main", "leg"])
    );
    let outlet = &schema["properties"]["outlet"]["additionalProperties"];
    assert_eq!(outlet["required"], serde_json::json!(["drop", "height"]));
    let tool = &outlet["properties"]["tools"]["items"]["properties"]["tool"]["anyOf"][0]["enum"];
    assert!(
        tool.as_array()
            .unwrap()
            .contains(&Value::from("orbital sander"))
    );
    let systems = &schema["properties"]["main"]["properties"]["system"]["enum"];
    assert!(
        systems
            .as_array()
            .unwrap()
            .contains(&Value::from("black-iron"))
    );
}

#[test]
fn a_tidied_job_says_what_it_said_with_all_of_its_comments_and_is_tidy() {
    for job in jobs() {
        let text = read(&job);
        let Some(tidied) = tidy(&text) else {
            assert!(text.parse::<toml::Table>().is_err(), "{}", job.display());
            continue;
        };
        let values = |text: &str| text.parse::<toml::Table>().unwrap();
        assert_eq!(values(&text), values(&tidied), "{}", job.display());
        let comments = |text: &str| text.matches('#').count();
        assert_eq!(comments(&text), comments(&tidied), "{}", job.display());
        assert_eq!(tidy(&tidied).unwrap(), tidied, "{}", job.display());
    }
}

#[test]
fn a_job_is_laid_out_in_columns() {
    let untidy = "# The shop\r\n\r\n\r\n[job] # head\r\ntitle=\"A\" # what it is\r\n   units   =  \"feet\"  # how\r\n\r\n\r\n# more\r\nrevision = \"B\"\r\n[[leg]]\r\ngo=[\"up 1-0\",\r\n \"east 2-0\"]\r\n\r\n\r\n# the end\r\n";
    let tidied = "# The shop\r\n\r\n[job]              # head\r\ntitle    = \"A\"     # what it is\r\nunits    = \"feet\"  # how\r\n\r\n# more\r\nrevision = \"B\"\r\n\r\n[[leg]]\r\ngo = [\"up 1-0\",\r\n \"east 2-0\"]\r\n\r\n# the end\r\n";
    assert_eq!(tidy(untidy).unwrap(), tidied);
}

#[test]
fn a_file_is_tidied_in_its_place_and_a_broken_one_stays() {
    let folder = folder("tidy");
    let job = folder.join("job.toml");
    let file = job.display().to_string();
    std::fs::write(&job, "[job]\ntitle=\"A\"\n").unwrap();
    assert_eq!(run(&["tidy", &file]).out, "[job]\ntitle = \"A\"\n");
    assert_eq!(run(&["tidy", &file, "--in-place"]).exit, Exit::Done);
    assert_eq!(read(&job), "[job]\ntitle = \"A\"\n");
    let again = run(&["tidy", &file, "--in-place"]);
    assert!(again.err.ends_with("is tidy\n"), "{}", again.err);
    std::fs::write(&job, "[job]\ntitle=\"A\n").unwrap();
    let broken = run(&["tidy", &file, "--in-place"]);
    assert_eq!(broken.exit, Exit::Unreadable, "{}", broken.err);
    assert!(broken.err.contains(":2:"), "{}", broken.err);
    assert_eq!(read(&job), "[job]\ntitle=\"A\n");
}

#[test]
fn every_command_has_its_page_and_its_words_for_the_shell() {
    let folder = folder("manual");
    let out = folder.display().to_string();
    let written = run(&["manual", "--out", &out]);
    assert_eq!(written.exit, Exit::Done, "{}", written.err);
    for page in [
        "dripleg.1",
        "dripleg-quote.1",
        "dripleg-catalog-blank.1",
        "dripleg-papers.1",
    ] {
        assert!(read(folder.join(page)).contains(".SH NAME"), "{page}");
    }
    for shell in ["bash", "zsh", "fish"] {
        let words = run(&["completions", shell]);
        assert_eq!(words.exit, Exit::Done, "{}", words.err);
        assert!(words.out.contains("papers"), "{shell}");
    }
}

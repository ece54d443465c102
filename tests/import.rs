//! From a run sheet to a job file, as a user goes.

use crate::support::workbook::{row, workbook};
use crate::support::{folder, path, read, root, run};
use dripleg::Exit;

const MILLRACE: &str = "catalogs-demo/millrace-walk.csv";

#[test]
fn a_sheet_becomes_a_job_file_that_is_kept() {
    let folder = folder("import");
    let job = folder.join("job.toml").display().to_string();
    let outcome = run(&["import", &path(MILLRACE), "--out", &job]);
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    assert_eq!(
        outcome.out,
        format!(
            "{MILLRACE}: 6 legs, 6 outlets, 1 drain; 171.5 ft of main\nnext: dripleg check {job}\n"
        )
    );
    // Without a file the job goes to the terminal, and the answer beside it.
    let printed = run(&["import", &path(MILLRACE)]);
    assert_eq!(printed.out, read(&job));
    assert!(
        printed.err.ends_with("next: dripleg check JOB.toml\n"),
        "{}",
        printed.err
    );

    // Somebody goes on with the file, and it is not written over.
    std::fs::write(&job, "# mine").unwrap();
    let again = run(&["import", &path(MILLRACE), "--out", &job]);
    assert_eq!(again.exit, Exit::Unreadable);
    assert_eq!(
        again.err,
        format!(
            "dripleg: `{job}` is there already: name another --out, or add --replace to write over it\n"
        )
    );
    assert_eq!(read(&job), "# mine");
    let replaced = run(&["import", &path(MILLRACE), "--out", &job, "--replace"]);
    assert_eq!(replaced.exit, Exit::Done);
    assert_eq!(read(&job), printed.out);
}

#[test]
fn what_the_sheet_does_not_say_is_told() {
    let sheet = folder("import-half").join("walk.csv");
    let text = "leg;row;way;ft;in;name\n;start;;3;6;compressor\nfeed;leg;up;6;6;\n;leg;east;?;;\n;drop;;~12;;bench\n";
    std::fs::write(&sheet, text).unwrap();
    let outcome = run(&["import", &sheet.display().to_string()]);
    assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
    assert_eq!(
        outcome.err,
        format!(
            "{}: 1 leg, 1 outlet; 6.5 ft of main
  and 1 straight that nobody has measured yet
taken, since the sheet does not say it:
  - the main starts 10'-0\" above the floor: the port's 3'-6\" and the way up of 6'-6\"
  - drops with one side, filtered and regulated: bench
  - nothing is known to hang on: bench
next: dripleg check JOB.toml
",
            sheet.display()
        )
    );
    for line in [
        "go    = [\"up 6-6\", \"east ?\"] ",
        "marks = { bench = \"~12-0\" } ",
        "height = \"?\" ",
    ] {
        assert!(outcome.out.contains(line), "{}", outcome.out);
    }
}

/// The Millrace sheet as rows of a workbook: figures as figures, the rest as text.
fn rows() -> Vec<String> {
    let text = read(root().join(MILLRACE));
    let lines = text.lines().filter(|line| !line.starts_with('#'));
    lines
        .zip(1..)
        .map(|(line, number)| {
            let cells: Vec<String> = line
                .split(',')
                .map(|cell| match cell {
                    "" => String::new(),
                    figure if figure.chars().all(|letter| letter.is_ascii_digit()) => {
                        figure.to_owned()
                    }
                    text => format!("'{text}"),
                })
                .collect();
            let cells: Vec<&str> = cells.iter().map(String::as_str).collect();
            row(number, &cells)
        })
        .collect()
}

#[test]
fn a_workbook_is_read_as_its_cells() {
    let folder = folder("import-workbook");
    let from = |name: &str, pages: &[(&str, &str)]| {
        let file = folder.join(name);
        std::fs::write(&file, workbook(pages)).unwrap();
        run(&["import", &file.display().to_string()])
    };
    let sheet = rows().concat();
    let wanted = run(&["import", &path(MILLRACE)]).out;
    let first = from("first.xlsx", &[("Walk", &sheet), ("Notes", "")]);
    assert_eq!(first.out, wanted, "{}", first.err);
    let named = from("named.xlsx", &[("Notes", ""), ("Run sheet", &sheet)]);
    assert_eq!(named.out, wanted, "{}", named.err);

    // 11-6 became the 6th of November, which is kept as the number of a day.
    let mut mangled = rows();
    mangled[15] = row(16, &["'feed", "'leg", "'up", "@46332", "", "", "", ""]);
    let dated = from("dated.xlsx", &[("Walk", &mangled.concat())]);
    assert_eq!(dated.exit, Exit::Unreadable);
    let said = "row 16, column ft: `2026-11-06`: the spreadsheet turned 6-11 (or 11-6) into a date";
    assert!(dated.err.contains(said), "{}", dated.err);

    let broken = folder.join("broken.xlsx");
    std::fs::write(&broken, "leg,row").unwrap();
    let outcome = run(&["import", &broken.display().to_string()]);
    assert_eq!(outcome.exit, Exit::Unreadable);
    assert!(
        outcome.err.contains("it is not a workbook"),
        "{}",
        outcome.err
    );
}

#[test]
fn the_empty_sheet_comes_back_in_every_form() {
    let folder = folder("import-blank");
    for (more, unit) in [(None, ",ft,in,"), (Some("--metric"), ",mm,")] {
        for name in ["blank.csv", "blank.xlsx"] {
            let file = folder.join(name).display().to_string();
            let mut words = vec!["import", "--blank", "--replace", "--out", &file];
            words.extend(more);
            let outcome = run(&words);
            assert_eq!(outcome.exit, Exit::Done, "{}", outcome.err);
            let back = run(&["import", &file]);
            assert_eq!(back.exit, Exit::Unreadable);
            assert_eq!(back.err.matches("error[").count(), 1, "{}", back.err);
            assert!(back.err.contains("the sheet has no leg"), "{}", back.err);
        }
        let mut words = vec!["import", "--blank"];
        words.extend(more);
        let csv = run(&words).out;
        assert!(csv.contains(unit), "{csv}");
        assert!(csv.starts_with("\"# Stand in the main door"), "{csv}");
    }
    let pdf = folder.join("blank.pdf").display().to_string();
    assert_eq!(
        run(&["import", "--blank", "--out", &pdf]).exit,
        Exit::Unreadable
    );
    // Somebody may have filled it in.
    let csv = folder.join("blank.csv").display().to_string();
    let again = run(&["import", "--blank", "--out", &csv]);
    assert_eq!(again.exit, Exit::Unreadable);
    assert!(again.err.contains("is there already"), "{}", again.err);
}

#[test]
fn a_sheet_that_goes_on_and_on_is_refused() {
    let sheet = folder("import-long").join("walk.csv");
    std::fs::write(
        &sheet,
        format!("leg,row,way,ft,in,name\n{}", "x,".repeat(300_000)),
    )
    .unwrap();
    let outcome = run(&["import", &sheet.display().to_string()]);
    assert_eq!(outcome.exit, Exit::Unreadable);
    assert!(outcome.err.contains("[sheet-too-much]"), "{}", outcome.err);
}

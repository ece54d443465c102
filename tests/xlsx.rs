//! Workbooks read back: what stands in them is what the JSON of the same command
//! says, amounts are formulas, and a customer's workbook holds nothing else.

use crate::support::{folder, path, read, run};
use calamine::{Data, Reader, SheetVisible, Xlsx, open_workbook};
use dripleg::Exit;
use serde_json::Value;
use std::collections::BTreeSet;
use std::fs::File;
use std::io::BufReader;
use std::path::{Path, PathBuf};

const JOBS: [&str; 3] = ["millrace", "garage", "annex"];

/// The files that a command writes, of which the last words name the inputs.
struct Papers {
    folder: PathBuf,
    command: &'static str,
    inputs: Vec<String>,
    exit: Exit,
}

impl Papers {
    fn of(command: &'static str, test: &str, job: &str) -> Self {
        let mut inputs = vec![path(&format!("catalogs-demo/{job}.toml"))];
        if command != "parts" {
            inputs.extend(["--catalog".to_owned(), path("catalogs-demo/iron.csv")]);
        }
        if ["quote", "estimate"].contains(&command) {
            inputs.extend(["--rates".to_owned(), path("catalogs-demo/rates.toml")]);
        }
        Self {
            folder: folder(&format!("xlsx-{test}-{command}-{job}")),
            command,
            inputs,
            exit: Exit::Done,
        }
    }

    /// The same with an input edited.
    fn with(mut self, which: usize, edit: impl Fn(&str) -> String) -> Self {
        let file = self.folder.join(format!("input-{which}.txt"));
        let text = read(&self.inputs[which]);
        let edited = edit(&text);
        assert_ne!(edited, text);
        std::fs::write(&file, edited).unwrap();
        self.inputs[which] = file.display().to_string();
        self
    }

    fn write(&self, name: &str) -> PathBuf {
        let file = self.folder.join(name);
        let out = file.display().to_string();
        let mut words = vec![self.command];
        words.extend(self.inputs.iter().map(String::as_str));
        words.extend(["--out", &out]);
        let outcome = run(&words);
        assert_eq!(outcome.exit, self.exit, "{}", outcome.err);
        file
    }

    fn book(&self) -> Book {
        Book::open(&self.write("paper.xlsx"))
    }

    fn json(&self) -> Value {
        serde_json::from_str(&read(self.write("paper.json"))).unwrap()
    }
}

/// A sheet's cells, with their formulas.
struct Sheet {
    name: String,
    cells: Vec<(u32, u32, Data)>,
    formulas: BTreeSet<(u32, u32)>,
}

struct Book {
    sheets: Vec<Sheet>,
}

impl Book {
    fn open(file: &Path) -> Self {
        let mut book: Xlsx<BufReader<File>> = open_workbook(file).unwrap();
        for sheet in book.sheets_metadata() {
            assert_eq!(sheet.visible, SheetVisible::Visible, "{}", sheet.name);
        }
        for (name, _) in book.defined_names() {
            assert!(
                ["_xlnm.Print_Area", "_xlnm.Print_Titles"].contains(&name.as_str()),
                "{name}"
            );
        }
        let sheets = book.sheet_names().into_iter().map(|name| {
            let range = book.worksheet_range(&name).unwrap();
            let start = range.start().unwrap_or_default();
            let cells = range.used_cells().map(|(row, column, cell)| {
                let (row, column) = (u32::try_from(row).unwrap(), u32::try_from(column).unwrap());
                (row + start.0, column + start.1, cell.clone())
            });
            let cells = cells.collect();
            let formulas = book.worksheet_formula(&name).unwrap();
            let start = formulas.start().unwrap_or_default();
            let formulas = formulas.used_cells().map(|(row, column, _)| {
                let (row, column) = (u32::try_from(row).unwrap(), u32::try_from(column).unwrap());
                (row + start.0, column + start.1)
            });
            Sheet {
                cells,
                formulas: formulas.collect(),
                name,
            }
        });
        Self {
            sheets: sheets.collect(),
        }
    }

    fn sheet(&self, name: &str) -> &Sheet {
        let mut sheets = self.sheets.iter();
        sheets.find(|sheet| sheet.name == name).unwrap()
    }
}

impl Sheet {
    /// The numbers of a column, in their order, as they are printed; all of them
    /// formulas, but those of these rows' words.
    fn formulas(&self, column: u32, decimals: usize, but: &[&str]) -> Vec<String> {
        let numbers = self.cells.iter().filter(|(_, at, _)| *at == column);
        let numbers = numbers.filter_map(|(row, _, cell)| match cell {
            Data::Float(number) => {
                let words = self.words(*row);
                assert!(
                    self.formulas.contains(&(*row, column))
                        || but.iter().any(|but| words.contains(but)),
                    "{}: {words}",
                    self.name
                );
                Some(format!("{number:.decimals$}"))
            }
            _ => None,
        });
        numbers.collect()
    }

    fn words(&self, row: u32) -> String {
        let cells = self.cells.iter().filter(|(at, _, _)| *at == row);
        let texts = cells.filter_map(|(_, _, cell)| match cell {
            Data::String(text) => Some(text.as_str()),
            _ => None,
        });
        texts.collect::<Vec<_>>().join(" | ")
    }

    fn texts(&self, column: u32) -> Vec<&str> {
        let cells = self.cells.iter().filter(|(_, at, _)| *at == column);
        let texts = cells.filter_map(|(_, _, cell)| match cell {
            Data::String(text) => Some(text.as_str()),
            _ => None,
        });
        texts.collect()
    }
}

fn list<'a>(value: &'a Value, key: &str) -> impl Iterator<Item = &'a Value> {
    value[key].as_array().unwrap().iter()
}

fn said(value: &Value) -> String {
    value.as_str().unwrap().to_owned()
}

#[test]
fn a_quote_holds_what_is_printed_as_formulas() {
    for job in JOBS {
        let papers = Papers::of("quote", "printed", job);
        let (book, json) = (papers.book(), papers.json());
        let mut amounts = Vec::new();
        let mut front = Vec::new();
        for section in list(&json, "sections") {
            amounts.extend(list(section, "lines").map(|line| said(&line["amount"])));
            amounts.push(said(&section["subtotal"]));
            front.push(said(&section["subtotal"]));
        }
        for sums in [&mut amounts, &mut front] {
            sums.extend(["subtotal", "tax", "total"].map(|key| said(&json[key])));
        }
        let payment: Vec<String> = list(&json, "payment")
            .map(|one| said(&one["amount"]))
            .collect();
        front.extend(payment);
        front.push(said(&json["total"]));
        assert_eq!(book.sheet("Lines").formulas(4, 2, &[]), amounts, "{job}");
        // Payments stand as they are printed.
        let steps: Vec<String> = list(&json, "payment")
            .map(|one| said(&one["when"]))
            .collect();
        let steps: Vec<&str> = steps.iter().map(String::as_str).collect();
        assert_eq!(book.sheet("Quote").formulas(2, 2, &steps), front, "{job}");
    }
}

#[test]
fn an_estimate_holds_both_sides_and_the_way_to_the_price() {
    for job in JOBS {
        let papers = Papers::of("estimate", "printed", job);
        let (book, json) = (papers.book(), papers.json());
        for (side, column) in [("cost", 5), ("price", 7)] {
            let mut amounts = Vec::new();
            for section in list(&json, "sections") {
                amounts.extend(list(section, "lines").map(|line| said(&line[side]["amount"])));
                amounts.push(said(&section[side]));
            }
            assert_eq!(
                book.sheet("Lines").formulas(column, 2, &[]),
                amounts,
                "{job} {side}"
            );
        }
        let mut front: Vec<String> = list(&json, "steps")
            .map(|step| said(&step["amount"]))
            .collect();
        front.extend(["tax", "total"].map(|key| said(&json[key])));
        let steps: Vec<String> = list(&json, "payment")
            .map(|one| said(&one["when"]))
            .collect();
        let steps: Vec<&str> = steps.iter().map(String::as_str).collect();
        let found = book.sheet("Estimate").formulas(2, 2, &steps);
        assert_eq!(found[..front.len()], front, "{job}");
        for sheet in &book.sheets {
            assert!(sheet.words(0).contains("INTERNAL: not for the customer"));
        }
    }
}

#[test]
fn a_shopping_list_holds_what_is_printed_as_formulas() {
    for job in JOBS {
        let papers = Papers::of("shop", "printed", job);
        let (book, json) = (papers.book(), papers.json());
        let (mut amounts, mut running) = (Vec::new(), Vec::new());
        for group in list(&json, "groups") {
            for line in list(group, "lines") {
                amounts.push(said(&line["amount"]));
                running.push(said(&line["running_total"]));
            }
            amounts.push(said(&group["subtotal"]));
        }
        amounts.extend([said(&json["without_spares"]), said(&json["total"])]);
        let sheet = book.sheet("List");
        assert_eq!(sheet.formulas(7, 2, &["Without spares"]), amounts, "{job}");
        assert_eq!(sheet.formulas(8, 2, &[]), running, "{job}");
    }
}

#[test]
fn sizes_are_text_and_nothing_is_a_date() {
    let papers = Papers::of("parts", "sizes", "millrace");
    let (book, json) = (papers.book(), papers.json());
    let sizes: BTreeSet<&str> = book.sheet("Parts").texts(4).into_iter().collect();
    for size in ["3/4in", "1/2in", "3/4in x 1/2in"] {
        assert!(sizes.contains(size), "{size}");
    }
    for sheet in &book.sheets {
        assert!(sheet.formulas.is_empty());
        for (_, _, cell) in &sheet.cells {
            assert!(matches!(cell, Data::String(_) | Data::Float(_)), "{cell:?}");
        }
    }
    let reasons: usize = list(&json, "lines")
        .map(|line| line["because"].as_array().unwrap().len())
        .sum();
    assert_eq!(book.sheet("Reasons").texts(3).len(), reasons + 1);
}

#[test]
fn texts_that_look_like_formulas_are_texts() {
    for odd in ["=1+1", "+1", "-1", "@SUM(A1)"] {
        let papers = Papers::of("quote", "formulas", "millrace");
        let title = "\"Millrace Joinery: new air main\"";
        let papers = papers.with(0, |job| job.replace(title, &format!("\"{odd}\"")));
        let book = papers.book();
        let front = book.sheet("Quote");
        let mut cells = front.cells.iter();
        let (row, column, _) = cells
            .find(|(_, _, cell)| *cell == Data::String(odd.to_owned()))
            .unwrap();
        assert!(!front.formulas.contains(&(*row, *column)), "{odd}");
    }
}

#[test]
fn a_customers_workbook_holds_no_number_that_the_quote_does_not() {
    for job in JOBS {
        let papers = Papers::of("quote", "customer", job);
        let (book, json) = (papers.book(), papers.json());
        let mut printed: Vec<f64> = Vec::new();
        numbers(&json, &mut printed);
        let costs = Papers::of("estimate", "customer", job).json();
        let mut unlike = 0;
        for line in list(&costs, "sections").flat_map(|section| list(section, "lines")) {
            let cost: f64 = said(&line["cost"]["amount"]).parse().unwrap();
            unlike += u32::from(!printed.iter().any(|one| one.to_bits() == cost.to_bits()));
        }
        assert!(unlike > 10, "the test can see costs");
        for sheet in &book.sheets {
            for (row, _, cell) in &sheet.cells {
                if let Data::Float(number) = cell {
                    let known = printed.iter().any(|one| one.to_bits() == number.to_bits());
                    assert!(
                        known,
                        "{job}, {}: {number} {}",
                        sheet.name,
                        sheet.words(*row)
                    );
                }
            }
        }
    }
}

/// Every number in a JSON value, also those in texts of their own.
fn numbers(value: &Value, found: &mut Vec<f64>) {
    match value {
        Value::Array(values) => values.iter().for_each(|value| numbers(value, found)),
        Value::Object(values) => values.values().for_each(|value| numbers(value, found)),
        Value::String(text) => found.extend(text.parse::<f64>().ok()),
        Value::Number(number) => found.extend(number.as_f64()),
        Value::Null | Value::Bool(_) => {}
    }
}

#[test]
fn holes_have_no_total() {
    let without_filters = |prices: &str| {
        let rows = prices.lines().filter(|row| !row.starts_with("filter,"));
        rows.collect::<Vec<_>>().join("\n")
    };
    for (command, sheet) in [("quote", "Lines"), ("estimate", "Lines"), ("shop", "List")] {
        let mut papers = Papers::of(command, "holes", "millrace");
        papers.exit = Exit::Stopped;
        let papers = papers.with(2, without_filters);
        let book = papers.book();
        let all: Vec<String> = (0..400).map(|row| book.sheet(sheet).words(row)).collect();
        assert!(all.iter().any(|row| row.contains("no price")), "{command}");
        let whole: Vec<String> = book
            .sheets
            .iter()
            .flat_map(|sheet| (0..400).map(|row| sheet.words(row)))
            .collect();
        let wanted = |row: &&String| row.to_lowercase().contains("total usd");
        let total: Vec<&String> = whole.iter().filter(wanted).collect();
        assert!(!total.is_empty(), "{command}");
        for row in total {
            assert!(row.ends_with("| incomplete"), "{command}: {row}");
        }
    }
}

#[test]
fn same_input_same_bytes() {
    for command in ["quote", "estimate", "shop", "parts"] {
        let papers = Papers::of(command, "bytes", "garage");
        let bytes = |name| std::fs::read(papers.write(name)).unwrap();
        assert!(bytes("one.xlsx") == bytes("two.xlsx"), "{command}");
    }
}

#[test]
fn a_workbook_needs_a_file_and_a_command_that_has_one() {
    let job = path("catalogs-demo/garage.toml");
    let none = run(&["parts", &job, "--format", "xlsx"]);
    assert_eq!(none.exit, Exit::Unreadable);
    assert_eq!(
        none.err.trim(),
        "dripleg: a workbook needs a file: add --out parts.xlsx"
    );
    let cut = run(&["cut", &job, "--out", "cut.xlsx"]);
    assert_eq!(cut.exit, Exit::Unreadable);
    assert!(
        cut.err.contains("the formats are text, csv, json, pdf"),
        "{}",
        cut.err
    );
}

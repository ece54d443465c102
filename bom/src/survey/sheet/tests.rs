//! One sheet in many dresses, and what cells may hold.

use super::columns::{Column, Columns};
use super::grid::Grid;
use super::{Read, blank, length, read};
use crate::finding::Finding;
use crate::library::Library;
use crate::quantity::{Length, Units};
use crate::source::Source;
use crate::survey::as_written;
use std::sync::LazyLock;

pub(super) static LIBRARY: LazyLock<Library> = LazyLock::new(|| Library::shipped().unwrap());
const MILLRACE: &str = include_str!("../../../../catalogs-demo/millrace-walk.csv");

fn sheet(text: &str) -> (Option<Read>, Vec<Finding>) {
    read(&Source::new("walk.csv", text), &LIBRARY)
}

/// A sheet in which nothing is wrong.
fn whole(text: &str) -> Read {
    let (read, findings) = sheet(text);
    assert_eq!(findings, [], "{text}");
    read.unwrap()
}

/// The cells of the Millrace sheet, its remarks left out.
fn cells() -> Vec<Vec<&'static str>> {
    let rows = MILLRACE.lines().filter(|line| !line.starts_with('#'));
    rows.map(|line| line.split(',').collect()).collect()
}

#[test]
fn a_sheet_means_the_same_in_every_dress() {
    let plain = whole(MILLRACE);
    assert_eq!(plain.survey.legs.len(), 6);
    assert_eq!(plain.survey.outlets.len(), 6);
    assert_eq!(plain.length, Length::parse("171-6", Units::Feet).unwrap());
    assert_eq!((plain.open, plain.assumed.len()), (0, 0));
    let join = |between: &str, end: &str| {
        let lines = cells().into_iter().map(|row| row.join(between) + end);
        lines.collect::<String>()
    };
    let backwards = cells().into_iter().map(|mut row| {
        row.reverse();
        row.join(",") + "\n"
    });
    let quoted = cells().into_iter().map(|row| {
        let row = row.iter().map(|cell| format!("\"{cell}\""));
        row.collect::<Vec<_>>().join(";") + "\n\n"
    });
    let merged = cells().into_iter().scan("", |above, mut row| {
        if row[0] == *above {
            row[0] = "";
        } else if !row[0].is_empty() {
            *above = row[0];
        }
        Some(row.join(",") + "\n")
    });
    let mut dresses = vec![
        join(";", "\r\n"),
        join("\t", "\n"),
        join(",", "\r"),
        format!("\u{feff}{}", join(",", ";;;\n,,,,,,,\n").replace(";;;", "")),
        backwards.collect(),
        quoted.collect(),
        merged.collect(),
    ];
    let loud = [
        ",start,",
        ",leg,",
        ",drop,",
        ",north,",
        ",end,",
        ",two-sided",
        ",north wall",
    ];
    let upper = |text: String, word: &&str| text.replace(word, &word.to_uppercase());
    dresses.push(loud.iter().fold(MILLRACE.to_owned(), upper));
    dresses.push(
        MILLRACE
            .replace(",read_from,", ",Read from,")
            .replace(",30,6,", ",30', 6.0 in,"),
    );
    for dress in dresses {
        assert_eq!(whole(&dress).survey, plain.survey, "{dress}");
    }
}

#[test]
fn a_column_of_somebody_s_own_is_told_and_not_read() {
    let own: String = cells()
        .into_iter()
        .enumerate()
        .map(|(at, row)| format!("{},{}\n", row.join(","), if at == 0 { "photo" } else { "" }))
        .collect();
    let (read, findings) = sheet(&own);
    assert_eq!(read.unwrap().survey, whole(MILLRACE).survey);
    assert_eq!(findings.len(), 1);
    assert_eq!(findings[0].rule, "sheet-column-not-read");
}

#[test]
fn the_empty_sheet_is_read_and_asks_for_its_legs_alone() {
    for units in [Units::Feet, Units::Metric] {
        let blank = blank(units);
        let heads: Vec<&str> = blank.heads.iter().map(|column| column.head()).collect();
        let lines = |rows: &[Vec<String>]| {
            let line = |row: &Vec<String>| {
                let cells: Vec<String> = row.iter().map(|cell| format!("\"{cell}\"")).collect();
                cells.join(",") + "\n"
            };
            rows.iter().map(line).collect::<String>()
        };
        let heads = heads.join(",") + "\n";
        // Every way of the example is one that is read.
        let example = whole(&(heads.clone() + &lines(&blank.example)));
        assert_eq!(
            (example.survey.legs.len(), example.survey.outlets.len()),
            (4, 3)
        );
        let text = lines(&blank.remarks()) + &heads + &lines(&blank.rows);
        let (read, findings) = sheet(&text);
        assert!(read.is_none());
        let rules: Vec<&str> = findings.iter().map(|finding| finding.rule).collect();
        assert_eq!(rules, ["sheet-without-legs"], "{findings:?}");
    }
}

/// What the cells of a length are read as, or what is said of them.
fn reads(heads: &str, cells: &str) -> String {
    let source = Source::new(
        "walk.csv",
        format!("leg;row;way;name;{heads}\nx;;;;{cells}"),
    );
    let grid = Grid::of(source.text());
    let mut findings = Vec::new();
    let columns = Columns::read(&grid.rows[0], &mut findings).unwrap();
    assert_eq!(findings, []);
    match length::read(&grid.rows[1], &columns, &source, &mut findings) {
        Ok(reading) => reading.map_or_else(|| "nothing".to_owned(), |reading| reading.text),
        Err(()) => format!("{}: {}", findings[0].message, findings[0].help),
    }
}

#[test]
fn feet_and_inches_are_read_as_tapes_say_them() {
    for (cells, text) in [
        ("12;6", "12-6"),
        ("12;", "12-0"),
        (";6", "0-6"),
        ("12.0;6,5", "12-6 1/2"),
        ("12 ft;6.25 in", "12-6 1/4"),
        ("12';6 3/16\"", "12-6 3/16"),
        ("12;6-1/2", "12-6 1/2"),
        ("12;½", "12-0 1/2"),
        ("0;11 63/64", "0-11 63/64"),
        ("1;0.1", "307.34mm"),
        ("?;", "?"),
        (";?", "?"),
        ("?;?", "?"),
        ("~36;", "~36-0"),
        ("~ 36;6", "~36-6"),
        ("36;~6", "~36-6"),
    ] {
        assert_eq!(reads("ft;in", cells), text, "{cells}");
    }
}

#[test]
fn feet_and_inches_that_can_be_read_two_ways_are_refused() {
    for (cells, words) in [
        (
            "12;12",
            "row 2, column in: `12` is a foot or more: write whole feet in ft",
        ),
        (
            "12;11.999999999999",
            "row 2, column in: `11.999999999999` is no number of inches: the length is finer",
        ),
        (
            "-3;",
            "column ft: a length has no sign, and this one is `-3`: write the distance",
        ),
        (
            "12.5;",
            "column ft: `12.5` is not whole feet: write whole feet here, and the inches in",
        ),
        (
            "12-6;",
            "column ft: `12-6` is not whole feet: write 12 in ft and 6 in in",
        ),
        (
            "12' 6\";",
            "column ft: `12' 6\"` is not whole feet: write 12 in ft and 6 in in",
        ),
        (
            "twelve;",
            "column ft: `twelve` is not whole feet: write a whole number like 12",
        ),
        (
            "?;6",
            "row 2: one half of the length is a figure, the other is not measured",
        ),
        (
            "=B2+1;",
            "column ft: `=B2+1` is a formula, and none is worked out",
        ),
        (
            "46184;",
            "column ft: `46184` is longer than any shop: check the figure: spreadsheets also keep a date",
        ),
        (
            "12;six",
            "column in: `six` is no number of inches: a number is missing",
        ),
    ] {
        let said = reads("ft;in", cells);
        assert!(said.contains(words), "{cells}: {said}");
    }
}

#[test]
fn cells_that_became_dates_say_what_they_were() {
    let either = "the spreadsheet turned 11-6 (or 6-11) into a date: write 11 in ft and 6 in in; or 6 and 11: the tape knows which";
    let other = "the spreadsheet turned 6-11 (or 11-6) into a date: write 6 in ft and 11 in in; or 11 and 6: the tape knows which";
    for (cell, words) in [
        ("Jun-11", either),
        ("11-Jun", either),
        ("11. Juni", either),
        ("2011-06-01", either),
        ("2011-06-01 00:00:00", either),
        ("2026-06-11", either),
        ("6-Nov", other),
        ("6-Nov-26", other),
        ("11/6/2026", either),
        ("06.11.26", other),
        (
            "25-Jun",
            "the spreadsheet turned 25-6 into a date: write 25 in ft and 6 in in",
        ),
        (
            "12-Dec",
            "the spreadsheet turned what was typed into a date: write feet in ft and inches in in",
        ),
    ] {
        let said = reads("ft;in", &format!("{cell};"));
        assert_eq!(
            said.split_once("`: ").unwrap().1.find(words),
            Some(0),
            "{cell}: {said}"
        );
    }
    for (cell, words) in [
        (
            "3-Apr",
            "the spreadsheet turned 3/4 into a date: write 0.75",
        ),
        ("2-Jan", "the spreadsheet turned 1/2 into a date: write 0.5"),
        (
            "2026-05-08",
            "the spreadsheet turned 5/8 into a date: write 0.625",
        ),
    ] {
        let said = reads("ft;in", &format!("3;{cell}"));
        assert!(said.contains(words), "{cell}: {said}");
    }
    let said = reads("mm", "2011-06-01");
    assert!(
        said.contains("the spreadsheet turned the figure into a date: write whole millimetres"),
        "{said}"
    );
}

#[test]
fn millimetres_have_no_mark_between_them() {
    for (cell, text) in [
        ("3810", "3810mm"),
        ("3810 mm", "3810mm"),
        ("3 810", "3810mm"),
        ("3810,5", "3810.5mm"),
        ("~11000", "~11000mm"),
        ("?", "?"),
        ("", "nothing"),
    ] {
        assert_eq!(reads("mm", cell), text, "{cell}");
    }
    for (cell, words) in [
        ("3.810", "`3.810` can be read two ways"),
        ("3.8", "`3.8` can be read two ways"),
        ("12-6", "`12-6` is no number of millimetres"),
        ("3.8m", "`3.8m` is no number of millimetres"),
    ] {
        let said = reads("mm", cell);
        assert!(said.contains(words), "{cell}: {said}");
    }
}

#[test]
fn what_is_written_is_read_as_the_same_length() {
    for sixteenths_of_64 in 0..2_000 {
        let length = Length::from_64ths(sixteenths_of_64 * 7);
        for units in [Units::Feet, Units::Metric] {
            let text = as_written(length, units);
            assert_eq!(Length::parse(&text, units).unwrap(), length, "{text}");
        }
    }
    let odd = Length::from_nm(123_456_789);
    assert_eq!(as_written(odd, Units::Feet), "123.456789mm");
    assert_eq!(Length::parse("123.456789mm", Units::Feet).unwrap(), odd);
}

#[test]
fn columns_have_the_order_in_which_we_write_them() {
    let heads = |units| {
        Column::of(units)
            .iter()
            .map(|column| column.head())
            .collect::<Vec<_>>()
            .join(",")
    };
    assert_eq!(
        heads(Units::Feet),
        "leg,row,way,ft,in,read_from,name,remark"
    );
    assert_eq!(heads(Units::Metric), "leg,row,way,mm,read_from,name,remark");
}
